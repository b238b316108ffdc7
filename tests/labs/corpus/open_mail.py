"""Open set: mail, prose, and lists of results in words."""

from __future__ import annotations

from random import Random

from . import cast
from .truth import Made, Sample, made


def prose(rng: Random, variant: int) -> Made:
    lab = "Lantern Hill Feed Lab"
    found = cast.samples(rng, 2, "LH{}", kinds=("alfalfa", "cool_grass"))
    parts = ["Subject: your hay\n\nHello,\n\nthe two samples are done.\n"]
    for one in found:
        words = {"alfalfa": "alfalfa", "cool_grass": "grass hay"}[one.forage.kind]
        day = f"{one.sampled_on:%B} {one.sampled_on.day}, {one.sampled_on.year}"
        figures = {name: one.put(name) for name in ("moisture", "cp", "adf", "ndf", "tdn", "rfv")}
        parts.append(
            f'The {words} you call "{one.id}" (our number {one.lab_no}, sampled on {day}) came\n'
            f"back at {figures['moisture']} percent moisture. On a dry matter basis it has\n"
            f"{figures['cp']} percent crude protein, {figures['adf']} percent ADF and "
            f"{figures['ndf']} percent NDF.\nTDN works out to {figures['tdn']}% of dry matter, and "
            f"the relative feed value is {figures['rfv']}.\n"
        )
    if variant == 2:
        one = found[1]
        nitrate = one.put("nitrate_no3n")
        parts.append(
            f"We also ran nitrate on {one.id}: {nitrate} ppm nitrate-nitrogen, dry basis. A level\n"
            "above 1000 ppm would be reason to call your extension office before feeding.\n"
        )
    parts.append("Most grass hay around here runs 9 to 11 percent protein this year.\n\n"
                 "Regards,\nthe lab, extension 214\n")  # fmt: skip
    return made(
        f"prose-{variant}.txt",
        "\n".join(parts).encode(),
        "mail in whole sentences",
        lab,
        found,
        not_samples=["9 to 11 percent protein", "1000 ppm"],
    )


def prose_unsure(rng: Random, variant: int) -> Made:
    lab = "Coldwater Samples"
    found = cast.samples(rng, 1, "", kinds=("cool_grass", "legume_grass"), sampled=False)
    one = found[0]
    why = "the mail does not say whether it is dry or as received"
    cells = {
        name: one.put(name, basis=None, expect="ask", why=why) for name in ("cp", "adf", "ndf")
    }
    dry = one.put("dm")
    if variant == 1:
        text = (f"Hi, quick answer by phone notes: the {one.id} sample: dry matter {dry} percent, "
                f"protein {cells['cp']} percent, ADF {cells['adf']} percent, NDF {cells['ndf']} "
                "percent. Paper copy follows.\n")  # fmt: skip
    else:
        text = (f"Results for {one.id}\n\nDM {dry} %\nProtein {cells['cp']} %\n"
                f"ADF {cells['adf']} %\nNDF {cells['ndf']} %\n\nSent from my phone\n")  # fmt: skip
    one.more["meta_any"] = ["sampled_on", "received_on", "reported_on"]
    return made(
        f"phone-notes-{variant}.txt",
        text.encode(),
        "a few figures in a mail, basis not said",
        lab,
        found,
        ambiguous=[{"where": "all values", "why": why}],
        file_questions_wanted=["basis"],
    )


def silage_list(rng: Random, variant: int) -> Made:
    lab = "Stillwater Ferment Bench"
    found = cast.samples(rng, 2, "SW-{}", kinds=("corn_silage",), reported=True)
    parts = [f"{lab}\nMoisture, dry matter, pH and counts are of the sample as received.\n"
             "Everything else is reported on a dry matter basis.\n"]  # fmt: skip
    for place, one in enumerate(found):
        rich = place == (variant - 1)
        lines = [
            ("Dry matter", one.put("dm"), "%"),
            ("pH", one.put("ph"), ""),
            ("Crude protein", one.put("cp"), "%"),
            ("aNDF", one.put("ndf"), "%"),
            ("Starch", one.put("starch"), "%"),
            ("Lactic acid", one.put("lactic"), "%"),
            ("Acetic acid", one.put("acetic"), "%"),
            ("Butyric acid", one.nothing("butyric", "ND", "nd") if rich
             else one.below("butyric", "0.05"), "%"),
            ("Yeast", one.nothing("yeast", "TNTC", "tntc", unit="cfu_per_g", basis="ar")
             if rich else _count(one, "yeast", "12,000"), "CFU/g"),
            ("Mold", _count(one, "mold", "4,300"), "CFU/g"),
            ("Vomitoxin (DON)", one.put("don", "ppm", number=rng.uniform(0.4, 1.1), places=2),
             "ppm"),
            ("Aflatoxin", one.nothing("aflatoxin", "not detected", "nd", unit="ppb"), "ppb"),
        ]  # fmt: skip
        body = "\n".join(f"  {word:24}{cell:>14}  {unit}".rstrip() for word, cell, unit in lines)
        parts.append(
            f"Sample {one.lab_no}   {one.id}\n"
            f"Sampled {cast.worded(one.sampled_on)}; reported {cast.worded(one.reported_on)}\n"
            f"{body}\n"
        )
    parts.append("TNTC = too numerous to count. ND = not detected.\n")
    return made(
        f"silage-list-{variant}.txt",
        "\n".join(parts).encode(),
        "silage: acids, counts and toxins, with ND and TNTC",
        lab,
        found,
    )


def _count(one: Sample, name: str, text: str) -> str:
    number = float(text.replace(",", ""))
    return one.put(name, "cfu_per_g", "ar", number=number, places=0, group=",")


LAYOUTS = (prose, prose_unsure, silage_list)
