"""Kept set: delimited and fixed-width text."""

from __future__ import annotations

from copy import deepcopy
from random import Random

from . import cast
from .truth import Made, made
from .writers import columns, delimited


def pipe_marks(rng: Random, variant: int) -> Made:
    lab = "Sycamore Gap Feed Testing"
    found = cast.samples(rng, 4, "SG.{}", reported=True, method=None)
    order = ["dm", "cp", "adf", "ndf", "ca", "p", "cu", "rfv"]
    lines = ["LAB|BAG LABEL|TAKEN|OUT|DM[r]|CP[d]|ADF[d]|NDF[d]|CA[d]|P[d]|CU[d]|RFV"]
    for place, one in enumerate(found):
        one.more["meta_any"] = ["reported_on"]
        cells = []
        for name in order:
            if name == "cu" and place == 1:
                cells.append(one.below("cu", "2.0", "<"))
            elif name == "cu" and place == 2:
                cells.append(one.nothing("cu", "-"))
            else:
                cells.append(one.put(name) + ("*" if name in ("ca", "p") and variant == 1 else ""))
        day = [one.sampled_on.strftime("%Y%m%d"), one.reported_on.strftime("%Y%m%d")]
        lines.append("|".join([one.lab_no, one.id, *day, *cells]))
    lines += ["", "[r] percent of the sample as received", "[d] percent of dry matter; CU in mg/kg"]
    if variant == 1:
        lines.append("* measured twice, mean of both")
    return made(
        f"pipe-marks-{variant}.txt",
        "\n".join(lines).encode(),
        "bars between, basis by "
        "code letters with a legend, marks on numbers, dates as eight figures",
        lab,
        found,
    )


def units_in_cells(rng: Random, variant: int) -> Made:
    lab = "Old Ferry Laboratory"
    found = cast.samples(rng, 4, "OF{}")
    lines = ["Sample No,Description,Sampled,Moisture,Protein (dry),ADF (dry),NDF (dry),"
             "NEl (dry),Zn (dry),Remark"]  # fmt: skip
    for place, one in enumerate(found):
        remark = ('"round bales, good color"', 'cut with 9" stubble', '"says ""top stack"""',
                  '"net wrap, "tight"')[place]  # fmt: skip
        cells = [f"{one.put(name)} %" for name in ("moisture", "cp", "adf", "ndf")]
        unit = "mj_per_kg" if variant == 2 else "mcal_per_lb"
        word = "MJ/kg" if variant == 2 else "Mcal/lb"
        cells += [f"{one.put('nel', unit)} {word}", f"{one.put('zn')} mg/kg"]
        lines.append(",".join([one.lab_no, one.id.replace(",", ""), one.sampled_on.isoformat(),
                               *cells, remark]))  # fmt: skip
        one.id = one.id.replace(",", "")
    return made(
        f"units-in-cells-{variant}.csv",
        "\r\n".join(lines).encode(),
        "CSV; unit within each cell, broken quotes in remarks",
        lab,
        found,
    )


def across_rerun(rng: Random, variant: int) -> Made:
    lab = "Nine Elms Forage Room"
    found = cast.samples(rng, 3, "NE{}", received=True)
    again = cast.samples(rng, 1, "NE{}", first=9100, received=True)[0]
    again.id, again.sampled_on = found[0].id, found[0].sampled_on
    again.forage = deepcopy(found[0].forage)
    again.forage.dm = round(again.forage.dm + 0.3, 1)
    again.forage.dry["cp"] += 0.4
    again.received_on = found[0].received_on
    if variant == 1:
        again.id = again.id[:2] + again.id[3] + again.id[2] + again.id[4:]
    found.append(again)
    order = [("dm", "Dry matter, % as rec'd"), ("cp", "Crude protein, % DM"),
             ("adf", "ADF, % DM"), ("ndf", "NDF, % DM"), ("ash", "Ash, % DM"),
             ("starch", "Starch, % DM"), ("wsc", "Sugar (WSC), % DM")]  # fmt: skip
    kinds = ["first run", "first run", "first run", "re-run of the first"]
    rows = [["Lab number", *(one.lab_no for one in found)], ["Sample", *(one.id for one in found)],
            ["Run", *kinds], ["Sampled", *(cast.worded(one.sampled_on) for one in found)],
            ["Received", *(cast.worded(one.received_on) for one in found)]]  # fmt: skip
    for name, word in order:
        rows.append([word, *(one.put(name) for one in found)])
    if variant == 2:
        twin = deepcopy(found[1])
        twin.more["exact_duplicate"] = True
        found.append(twin)
        for row in rows:
            row.append(row[2])
    note = ["Each column is one sample."]
    return made(
        f"across-rerun-{variant}.csv",
        delimited([[lab], [], *rows, [], note]).encode(),
        "CSV; samples across, one run again"
        + (" and one column printed twice" if variant == 2 else ""),
        lab,
        found,
    )


def form_feeds(rng: Random, variant: int) -> Made:
    lab = "Harvest Moon Chemists"
    found = cast.samples(rng, 3, "{}-HM", received=True, reported=True, method="NIR")
    order = [("cp", "PROTEIN, CRUDE"), ("adf", "FIBER, ACID DETERGENT"),
             ("ndf", "FIBER, NEUTRAL DETERGENT"), ("ee", "FAT"), ("ash", "ASH"),
             ("starch", "STARCH"), ("ca", "CALCIUM"), ("p", "PHOSPHORUS"),
             ("n", "NITROGEN"), ("na", "SODIUM")]  # fmt: skip
    pages = []
    for place, one in enumerate(found):
        lines = [f"{lab.upper():^64}", f"{'FORAGE ANALYSIS':^64}", "",
                 f"SAMPLE: {one.id:<28}LAB NO: {one.lab_no}",
                 f"SAMPLED: {one.sampled_on!s:<27}RECEIVED: {one.received_on}",
                 f"METHOD: NIR{'':<25}REPORTED: {one.reported_on}", "",
                 f"{'':28}{'DRY BASIS':>16}{'AS RECEIVED':>16}",
                 f"{'':28}{'%':>16}{'%':>16}", f"{'':28}{'-' * 9:>16}{'-' * 11:>16}",
                 f"{'MOISTURE':28}{'':>16}{one.put('moisture'):>16}"]  # fmt: skip
        for name, word in order:
            bad = variant == 2 and place == 1 and name == "cp"
            dry = one.put(name)
            wet = one.put(name, basis="ar", times=1.25 if bad else 1)
            lines.append(f"{word:28}{dry:>16}{wet:>16}")
        if variant == 2 and place == 1:
            one.plant("bases_apart", ("cp",), "protein as received is more than dry allows")
        lines.append(f"{'DIGESTIBILITY, IN VITRO DM':28}{rng.uniform(55, 68):>16.1f}")
        lines.append(f"{'WEIGHT OF SAMPLE, G':28}{'':>16}{rng.randrange(150, 300):>16}")
        lines.append(f"{'RELATIVE FEED VALUE':28}{one.put('rfv'):>16}")
        pages.append("\n".join(lines) + "\n")
    return made(
        f"form-feeds-{variant}.txt",
        "\f".join(pages).encode(),
        "printer pages in capitals, a page a sample, dry before as received",
        lab,
        found,
        not_ours=["DIGESTIBILITY, IN VITRO DM", "WEIGHT OF SAMPLE, G"],
    )


def stacked_tables(rng: Random, variant: int) -> Made:
    lab = "Paddock Lane Reference Bench"
    found = cast.samples(rng, 4, "{}", first=rng.randrange(7001, 7900))
    parts = [
        ("FIBER AND PROTEIN (dry matter basis, %)", ["cp", "adf", "ndf", "lignin"],
         ["CP", "ADF", "NDF", "ADL"]),
        ("MACRO MINERALS (dry matter basis, %)", ["ca", "p", "mg", "k"], ["Ca", "P", "Mg", "K"]),
        ("TRACE MINERALS (dry matter basis, ppm)", ["fe", "mn", "zn", "cu"],
         ["Fe", "Mn", "Zn", "Cu"]),
    ]  # fmt: skip
    rows = [[lab], [], ["SAMPLES"], ["Lab no.", "Sample", "Sampled", "Moisture (%)"]]
    rows += [[one.lab_no, one.id, one.sampled_on.isoformat(), one.put("moisture")] for one in found]
    for title, names, words in parts:
        rows += [[], [title], ["Lab no.", *words]]
        for place, one in enumerate(found):
            wild = variant == 2 and place == 3 and names[0] == "fe"
            cells = [
                one.put(name, places=4, times=1e-4) if wild and name == "zn" else one.put(name)
                for name in names
            ]
            if wild:
                one.plant("unit", ("zn",), "zinc is a percentage in a table of ppm")
            rows.append([one.lab_no, *cells])
    return made(
        f"stacked-tables-{variant}.csv",
        delimited(rows).encode("utf-8-sig"),
        "CSV with four tables one below the other, joined by number; unit and basis in titles",
        lab,
        found,
    )


def big_endian(rng: Random, variant: int) -> Made:
    lab = "Prüfstelle Lindenhof (invented)"
    found = cast.samples(rng, 3, "L/{}", kinds=("cool_grass", "legume_grass", "alfalfa"))
    for one, name in zip(found, ("Große Wiese", "Kälberweide", "Süßklee 2"), strict=True):
        one.id = name
    order = [("dm", "Dry matter", "pct", "%"), ("cp", "Crude protein", "pct", "%"),
             ("adf", "ADF", "pct", "%"), ("ndf", "aNDF", "pct", "%"),
             ("k", "Potassium", "g_per_kg", "g/kg"), ("mg", "Magnesium", "g_per_kg", "g/kg"),
             ("mn", "Manganese", "ppm", "mg/kg"), ("nel", "NEL", "mj_per_kg", "MJ/kg")]  # fmt: skip
    rows = [["Order", "Sample", "Taken on", "Parameter", "Result", "Unit", "Related to"]]
    for place, one in enumerate(found):
        for name, word, unit, shown in order:
            if name == "mg" and place == 2:
                text = one.below("mg", "1,0", "< ", unit="g_per_kg")
            else:
                text = one.put(name, unit, comma=True)
            fresh = "fresh matter" if name == "dm" else "dry matter"
            rows.append([one.lab_no, one.id, cast.dotted(one.sampled_on), word, text, shown, fresh])
    encoding = "utf-16-be" if variant == 1 else "utf-8"
    mark = "\ufeff" if variant == 1 else ""
    return made(
        f"big-endian-{variant}.csv",
        (mark + delimited(rows, ";", "\r\n")).encode(encoding),
        "semicolons, decimal comma, one row an analyte"
        + (", UTF-16 big end first" if variant == 1 else ""),
        lab,
        found,
    )


def coded_heads(rng: Random, variant: int) -> Made:
    lab = "Hickory Knob Data Service"
    found = cast.samples(rng, 5, "HK{}")
    legend = [("dm", "V1", "dry matter, percent as received"),
              ("cp", "V2", "crude protein, percent"),
              ("adf", "V3", "acid detergent fiber, percent"),
              ("ndf", "V4", "neutral detergent fiber, percent"),
              ("nem", "V5", "net energy for maintenance, Mcal per pound"),
              ("ca", "V6", "calcium, percent"), ("p", "V7", "phosphorus, percent")]  # fmt: skip
    lines = ["ID LAB DATE " + " ".join(code for _, code, _ in legend)]
    for one in found:
        one.more["id_also"] = [one.id]
        one.id = one.id.replace(" ", "_")
        cells = " ".join(one.put(name) for name, _, _ in legend)
        lines.append(f"{one.id} {one.lab_no} {one.sampled_on.isoformat()} {cells}")
    keys = [f"{code} = {words}" for _, code, words in legend]
    tail = ["", "DATE = day the sample was taken", *keys, "V2 to V7 on a dry matter basis"]
    text = "\n".join([*keys, tail[1], tail[-1], "", *lines] if variant == 2 else [*lines, *tail])
    return made(
        f"coded-heads-{variant}.txt",
        text.encode(),
        "columns named by codes, their meaning " + ("above" if variant == 2 else "below"),
        lab,
        found,
    )


def one_result_column(rng: Random, variant: int) -> Made:
    lab = "Gooseberry Bend Labs"
    found = cast.samples(rng, 2, "GB-{}", reported=True)
    why = "the column Result does not say whether it is dry or as received"
    order = [("cp", "Crude Protein"), ("adf", "ADF"), ("ndf", "NDF"), ("k", "Potassium")]
    parts = []
    for one in found:
        lines = [
            f"Sample ......... {one.id}",
            f"Lab number ..... {one.lab_no}",
            f"Date sampled ... {cast.worded(one.sampled_on)}",
            f"Date reported .. {cast.worded(one.reported_on)}",
            "",
            f"{'Test':28}{'Result':>10}",
            f"{'Dry Matter':28}{one.put('dm') + '%':>10}",
        ]
        for name, word in order:
            cell = one.put(name, basis=None, expect="ask", why=why)
            lines.append(f"{word:28}{cell + '%':>10}")
        if variant == 2:
            lines.append(f"{'Nitrate-N, dry basis':28}{one.put('nitrate_no3n') + ' ppm':>10}")
        parts.append("\n".join(lines) + "\n")
    return made(
        f"one-result-column-{variant}.txt",
        "\n\n".join(parts).encode(),
        "text blocks with one result column, basis not said",
        lab,
        found,
        ambiguous=[{"where": "Result", "why": why}],
        file_questions_wanted=["basis"],
    )


def short_dates(rng: Random, variant: int) -> Made:
    lab = "Cobblestone Hay Bench"
    found = cast.samples(rng, 5, "{}", first=rng.randrange(610, 690), day=(2, 4))
    if variant == 2:
        found[3].sampled_on = found[3].sampled_on.replace(day=28)
    order = ["dm", "cp", "adf", "ndf", "nitrate"]
    rows = [["No.", "Sample", "Sampled", "DM", "CP", "ADF", "NDF", "Nitrate"],
            ["", "", "", "% AR", "% DM", "% DM", "% DM", "ppm DM"]]  # fmt: skip
    for one in found:
        cells = [one.put(name, expect="any" if name == "nitrate" else "sure") for name in order]
        rows.append([one.lab_no, one.id, f"{one.sampled_on:%d/%m/%y}", *cells])
        if variant == 1:
            one.sampled_on, one.ask = None, ["sampled_on"]
    text = columns(rows, [5, 28, 9, 6, 6, 6, 6, 8], range(3, 8))
    ambiguous = [{"where": "Nitrate", "why": "the form of nitrate is not stated"}]
    if variant == 1:
        ambiguous.append({"where": "Sampled", "why": "day or month first cannot be told"})
    return made(
        f"short-dates-{variant}.txt",
        text.encode(),
        "fixed width with rows of units, dates of two figures each, nitrate of unknown form",
        lab,
        found,
        ambiguous=ambiguous,
    )


def name_pairs(rng: Random, variant: int) -> Made:
    lab = "Silver Maple Assay"
    found = cast.samples(rng, 5, "SM{}", sampled=False)
    both = ["cp", "adf", "ndf", "ee", "ash", "starch"]
    head = ["lab_number", "sample_name", "moisture_pct", "dry_matter_pct"]
    head += [f"{name}_{basis}_pct" for name in both for basis in ("asfed", "dry")]
    head += ["rfv", "kno3_dry_pct"]
    rows = [head]
    for place, one in enumerate(found):
        fault = {(1, 0): "rfv", (1, 3): "sum", (2, 1): "water"}.get((variant, place), "")
        if fault == "sum":
            one.forage.dry["ndf"] += one.forage.dry["nfc"] + 12
        wet = one.put("moisture", number=100 - one.forage.dm + 6 if fault == "water" else None)
        cells = [wet, one.put("dm")]
        for name in both:
            cells += [one.put(name, basis="ar"), one.put(name)]
        if fault == "sum":
            one.forage.dry["rfv"] = ((88.9 - 0.779 * round(one.forage.dry["adf"], 1))
                                     * 120 / round(one.forage.dry["ndf"], 1) / 1.29)  # fmt: skip
        cells.append(one.put("rfv", times=1.35 if fault == "rfv" else 1))
        cells.append(one.put("nitrate_kno3", "pct"))
        if fault == "rfv":
            one.plant("index", ("rfv",), "RFV does not follow from its ADF and NDF", "adf ndf")
        if fault == "sum":
            parts = ("cp", "ndf", "ee", "ash")
            one.plant("sum", parts, "protein, fiber, fat and ash are over 100 %", "adf rfv starch")
        if fault == "water":
            one.plant("dm_moisture", ("dm", "moisture"), "dry matter and moisture are not 100 %")
        rows.append([one.lab_no, one.id, *cells])
    return made(
        f"name-pairs-{variant}.csv",
        delimited(rows).encode(),
        "CSV of a database; unit and basis in short column names",
        lab,
        found,
    )


def marked_basis(rng: Random, variant: int) -> Made:
    lab = "Tin Roof Forage Analysis"
    found = cast.samples(rng, 4, "TR{}")
    order = ["dm", "cp", "adf", "ndf", "nitrate_no3", "nitrate_no3n"]
    mark = "\u2020" if variant == 1 else "(1)"
    head = ["Sample", "Lab number", "Sampled", "Dry matter %", "Protein %", "ADF %", "NDF %",
            "Nitrate NO3 ppm" + mark, "Nitrate-N ppm" + mark]  # fmt: skip
    rows = []
    for one in found:
        cells = [
            one.put(name, basis="ar" if name.startswith("nitrate") or name == "dm" else "dm")
            for name in order
        ]
        rows.append([one.id, one.lab_no, one.sampled_on.isoformat(), *cells])
    tail = [[], [f"{mark} as received"], ["Protein and fiber in the dry matter."]]
    return made(
        f"marked-basis-{variant}.csv",
        delimited([head, *rows, *tail]).encode(),
        "CSV; two bases in one table, told apart by a mark and notes; two forms of nitrate",
        lab,
        found,
    )


LAYOUTS = (
    pipe_marks, units_in_cells, across_rerun, form_feeds, stacked_tables, big_endian, coded_heads,
    one_result_column, short_dates, name_pairs,
    marked_basis,
)  # fmt: skip
