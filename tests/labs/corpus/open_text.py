"""Open set: delimited and fixed-width text."""

from __future__ import annotations

from random import Random

from . import cast
from .truth import Made, made
from .writers import columns, delimited

#: Moisture of the dry matter: printed by some, of no use, and no harm if it is read.
DRY_OF_WATER = {
    "analyte": "moisture", "printed": "0.0", "value": 0.0, "op": "=", "unit": "pct",
    "basis": "dm", "expect": "any", "flags": [],
}  # fmt: skip


def _mean(rows: list[list[str]], place: int) -> str:
    cells = [float(row[place]) for row in rows]
    places = len(rows[0][place].partition(".")[2])
    return f"{sum(cells) / len(cells):.{places}f}"


def title_basis(rng: Random, variant: int) -> Made:
    lab = "Bramblecroft Feed Room"
    found = cast.samples(rng, 5, "B{}", reported=True, method="NIR")
    show = cast.us if variant == 1 else lambda day: day.isoformat()
    order = ["dm", "cp", "adf", "ndf", "tdn", "ca", "p", "mg", "k", "rfv"]
    rows = []
    for place, one in enumerate(found):
        bad = variant == 2 and place == 1
        cells = [
            one.put(name, times=0.1, places=2) if bad and name == "ndf" else one.put(name)
            for name in order
        ]
        if bad:
            one.plant("decimal_slip", ("ndf",), "NDF a tenth of what it is", "adf rfv")
        rows.append([one.lab_no, one.id, show(one.sampled_on), show(one.reported_on), *cells])
    head = ["Lab #", "Your sample", "Taken", "Reported", "DM as rec'd", "C. Protein", "A.D. Fiber",
            "N.D. Fiber", "T.D.N.", "Ca", "Phos.", "Mg", "K", "RFV"]  # fmt: skip
    mean = ["Average", "", "", ""] + [_mean(rows, place) for place in range(4, 14)]
    text = delimited(
        [
            [lab],
            ["Batch results. All figures are percent of dry matter unless the heading says so."],
            ["Method: NIR"],
            [],
            head,
            *rows,
            mean,
            [],
            ["RFV has no unit. Thank you for your business."],
        ]
    )
    return made(
        f"title-basis-{variant}.csv",
        text.encode(),
        "CSV; junk above the header, basis in a title line, row of averages, notes below",
        lab,
        found,
        not_samples=["Average"],
    )


def paired_headers(rng: Random, variant: int) -> Made:
    lab = "Twelve Mile Analysis"
    found = cast.samples(rng, 4, "TM-{}", sampled=False)
    order = ["cp", "adf", "ndf", "ee", "ash", "tdn", "ca", "p"]
    words = ["Crude Protein %", "ADF %", "aNDF %", "Fat (EE) %", "Ash %", "TDN %", "Calcium %",
             "Phosphorus %"]  # fmt: skip
    top, below = ["Sample", "Lab no.", "Moisture %"], ["", "", "as rec'd"]
    for word in words:
        top += [word, ""]
        below += ["as rec'd", "dry"]
    rows = []
    for place, one in enumerate(found):
        swapped = variant == 2 and place == 2
        cells = [one.put("moisture")]
        for name in order:
            if swapped:
                wet = one.put(name, basis="ar", number=one.forage.value(name, "dm"))
                dry = one.put(name, basis="dm", number=one.forage.value(name, "ar"))
            else:
                wet, dry = one.put(name, basis="ar"), one.put(name, basis="dm")
            cells += [wet, dry]
        if swapped:
            one.plant("basis_swapped", tuple(order), "as received and dry are exchanged")
        rows.append([one.id, one.lab_no, *cells])
    return made(
        f"paired-headers-{variant}.tsv",
        delimited([top, below, *rows], "\t").encode(),
        "TSV; each analyte over two columns, as received and dry",
        lab,
        found,
    )


def spaced_thousands(rng: Random, variant: int) -> Made:
    lab = "Laboratoire du Vieux Pré (invented)"
    found = cast.samples(rng, 4, "VP {}", kinds=("cool_grass", "alfalfa", "legume_grass"))
    for one, name in zip(found, ("Pré d'en bas", "Côte 3", "Étang n° 2", "Grange – nord"),
                         strict=True):  # fmt: skip
        one.id = name
    head = ["Reference", "Lot name", "Sampled", "DM (% as received)", "CP (g/kg DM)",
            "ADF (g/kg DM)", "NDF (g/kg DM)", "ME (MJ/kg DM)", "Fe (mg/kg DM)",
            "NO3 (mg/kg DM)", "RFV"]  # fmt: skip
    mark = " " if variant == 1 else "\u00a0"
    rows = []
    for one in found:
        cells = [one.put("dm", comma=True)]
        cells += [one.put(name, "g_per_kg", comma=True) for name in ("cp", "adf", "ndf")]
        cells.append(one.put("me", "mj_per_kg", comma=True, places=1))
        cells.append(one.put("fe", comma=True))
        cells.append(one.put("nitrate_no3", comma=True, group=mark))
        cells.append(one.put("rfv", comma=True))
        rows.append([one.lab_no, one.id, cast.dotted(one.sampled_on), *cells])
    text = delimited([head, *rows], ";", "\r\n")
    return made(
        f"spaced-thousands-{variant}.csv",
        text.encode("cp1252"),
        "semicolons, decimal comma, space between thousands, Windows-1252",
        lab,
        found,
    )


def ruled_columns(rng: Random, variant: int) -> Made:
    lab = "Three Gates Hay Check"
    found = cast.samples(rng, 6, "{}", method=None)
    widths = [6, 26, 10, 6, 6, 6, 6, 6, 8, 8, 5]
    order = ["dm", "cp", "adf", "ndf", "tdn", "nem", "neg", "rfv"]
    rows = []
    for one in found:
        cells = [one.put(name) for name in order]
        rows.append([one.lab_no, one.id, f"{one.sampled_on:%m/%d/%y}", *cells])
    top = ["Lab", "Sample", "Date", "Dry", "Crude", "", "", "", "NE-m", "NE-g", ""]
    low = ["no.", "identification", "sampled", "matter", "prot.", "ADF", "NDF", "TDN", "Mcal/lb",
           "Mcal/lb", "RFV"]  # fmt: skip
    rule = ["-" * width for width in widths]
    right = range(3, 11)
    body = columns([top, low, rule, *rows], widths, right)
    body += columns([rule], widths)
    mean = ["", "Batch mean", ""] + [_mean(rows, place) for place in range(3, 11)]
    body += columns([mean], widths, right)
    note = "Dry matter in percent of the sample as received; all else in percent of dry matter,\n"
    note += "net energy per pound of dry matter.\n"
    text = f"{lab}\nForage listing{' ' * 20}page 1\n\n{body}\n{note}"
    return made(
        f"ruled-columns-{variant}.txt",
        text.encode(),
        "fixed width, heading on two lines, rules, mean below, basis in a note",
        lab,
        found,
        not_samples=["Batch mean"],
    )


def misspelled_long(rng: Random, variant: int) -> Made:
    lab = "Halfway House Test Bench"
    found = cast.samples(rng, 4, "H{}", sampled=False, reported=True)
    rows = [["LabID", "Field", "Determination", "Value", "Unit", "Expressed on", "Finished"]]
    asked = [
        ("dm", "Dry mater"), ("cp", "Crude protien"), ("adf", "Acid Deterg. Fiber"),
        ("ndf", "Neutral Deterg. Fiber"), ("ca", "Calcuim"), ("p", "Phosphorous"),
        ("mg", "Magnesuim"), ("nitrate_no3n", "Nitrate-N"), ("zn", "Zinc"), ("se", "Selenium"),
    ]  # fmt: skip
    units = {"pct": "%", "ppm": "ppm"}
    for place, one in enumerate(found):
        one.more["meta_any"] = ["reported_on"]
        for name, word in asked:
            basis = "as rec." if name == "dm" else "DM"
            unit = "pct" if name == "nitrate_no3n" and variant == 2 else None
            if name == "se" and place == 0:
                cell, shown = one.below("se", "0.05"), "ppm"
            elif name == "se" and place == 1:
                cell, shown = one.nothing("se", "n/a"), "ppm"
            elif unit:
                cell, shown = one.put(name, unit), "%"
            else:
                cell = one.put(name)
                shown = units[one.values[-1]["unit"]]
            rows.append([one.lab_no, one.id, word, cell, shown, basis,
                         one.reported_on.isoformat()])  # fmt: skip
    text = delimited(rows, "\t", "\r\n")
    return made(
        f"misspelled-long-{variant}.txt",
        text.encode("utf-16"),
        "UTF-16, tabs, one row an analyte, analytes misspelled",
        lab,
        found,
    )


def year_beside(rng: Random, variant: int) -> Made:
    lab = "Saltbox Forage Service"
    found = cast.samples(rng, 3, "SB-{}", received=True, reported=True, method="wet chemistry")
    order = [
        ("cp", "Crude Protein, %"), ("adf", "Acid Detergent Fiber, %"),
        ("ndf", "Neutral Detergent Fiber, %"), ("lignin", "Lignin, %"), ("tdn", "TDN, %"),
        ("nel", "NEl, Mcal/lb"), ("ca", "Calcium, %"), ("p", "Phosphorus, %"),
        ("k", "Potassium, %"),
    ]  # fmt: skip
    parts = [f"{lab}\n{'=' * 60}\n"]
    for one in found:
        last = cast.draw(rng, one.forage.kind)
        lines = [
            f"Sample ID:    {one.id}",
            f"Lab number:   {one.lab_no}",
            f"Sampled:      {cast.dashed(one.sampled_on)}",
            f"Received:     {cast.dashed(one.received_on)}",
            f"Reported:     {cast.dashed(one.reported_on)}",
            "Method:       wet chemistry",
            "",
            f"{'':32}{'As fed':>10}{'Dry':>10}{'2024 dry':>12}",
            f"{'Moisture, %':32}{one.put('moisture'):>10}",
            f"{'Dry Matter, %':32}{one.put('dm'):>10}",
        ]
        for name, word in order:
            wet, dry = one.put(name, basis="ar"), one.put(name)
            was = last.value(name, "dm") / (2.20462 if name == "nel" else 1)
            places = len(dry.partition(".")[2])
            lines.append(f"{word:32}{wet:>10}{dry:>10}{was:>12.{places}f}")
        lines.append(f"{'Milk per ton of DM, lb':32}{'':>10}{rng.randrange(2300, 3100):>10}")
        lines.append(f"{'Weight of sample, g':32}{rng.randrange(150, 300):>10}")
        if variant == 1:
            lines.append(f"{'Relative Feed Value':32}{'':>10}{one.put('rfv'):>10}")
        parts.append("\n".join(lines) + "\n\n" + "-" * 60 + "\n")
    return made(
        f"year-beside-{variant}.txt",
        "\n".join(parts).encode(),
        "text blocks, as fed and dry in columns, last year's dry values beside them",
        lab,
        found,
        not_samples=["the column 2024 dry"],
        not_ours=["Milk per ton of DM, lb", "Weight of sample, g"],
    )


def no_basis(rng: Random, variant: int) -> Made:
    lab = "Cooper's Bottom Testing"
    found = cast.samples(rng, 4, "CB{}")
    order = ["dm", "cp", "adf", "ndf", "ca", "p", "k"]
    why = "nothing in the file says whether it is dry or as received"
    rows = []
    for one in found:
        cells = [one.put("dm")]
        cells += [one.put(name, basis=None, expect="ask", why=why) for name in order[1:]]
        rows.append([one.lab_no, one.id, one.sampled_on.isoformat(), *cells])
    head = ["LabNo", "SampleName", "SampleDate", "DM%", "CP%", "ADF%", "NDF%", "Ca%", "P%", "K%"]
    if variant == 2:
        head = ["Lab number", "Sample", "Date sampled", "Dry matter, %", "Protein, %",
                "Acid detergent fiber, %", "Neutral detergent fiber, %", "Calcium, %",
                "Phosphorus, %", "Potassium, %"]  # fmt: skip
        for row in rows:
            row.append("see your contract")
        head.append("Reporting basis")
    return made(
        f"no-basis-{variant}.csv",
        delimited([head, *rows]).encode(),
        "CSV; basis of the values not stated anywhere",
        lab,
        found,
        ambiguous=[{"where": "all values", "why": why}],
        file_questions_wanted=["basis"],
    )


def two_way_dates(rng: Random, variant: int) -> Made:
    lab = "Wicket Lane Laboratory"
    day = (5, 9) if variant == 1 else (6, 21)
    found = cast.samples(rng, 5, "{}/25", day=day)
    if variant == 2:
        found[0].sampled_on = found[0].sampled_on.replace(day=23)
    else:
        for one in found:
            if one.sampled_on.day == one.sampled_on.month:
                one.sampled_on = one.sampled_on.replace(day=10)
    rows = [["Lab ref", "Sample", "Date sampled", "Basis", "DM (% as received)", "CP (%)",
             "ADF (%)", "NDF (%)", "NEm (Mcal/kg)", "NEg (Mcal/kg)", "NO3-N (%)"]]  # fmt: skip
    for one in found:
        cells = [one.put("dm"), one.put("cp"), one.put("adf"), one.put("ndf")]
        cells += [one.put("nem", "mcal_per_kg"), one.put("neg", "mcal_per_kg")]
        cells.append(one.put("nitrate_no3n", "pct"))
        shown = f"{one.sampled_on:%m/%d/%Y}"
        if variant == 1:
            one.sampled_on, one.ask = None, ["sampled_on"]
        rows.append([one.lab_no, one.id, shown, "dry matter", *cells])
    why = "every date can be read with the day or the month first"
    ambiguous = [{"where": "Date sampled", "why": why}] if variant == 1 else []
    return made(
        f"slash-dates-{variant}.csv",
        delimited(rows).encode(),
        "CSV; basis in a column, energy per kilogram, nitrate nitrogen in percent, slash dates",
        lab,
        found,
        ambiguous=ambiguous,
    )


def row_pairs(rng: Random, variant: int) -> Made:
    lab = "Pinch Creek Analytical"
    found = cast.samples(rng, 4, "PC{}", reported=True)
    order = ["cp", "adf", "ndf", "tdn", "nem", "ca", "p"]
    rows = [["Lab No", "Client ID", "Sampled", "Reported", "Reported as", "Moisture %", "CP %",
             "ADF %", "NDF %", "TDN %", "NEm Mcal/lb", "Ca %", "P %"]]  # fmt: skip
    for place, one in enumerate(found):
        water = one.put("moisture")
        head = [one.lab_no, one.id, one.sampled_on.isoformat(), one.reported_on.isoformat()]
        for basis, word in (("ar", "As received"), ("dm", "100% dry matter")):
            cells = []
            for name in order:
                unit = "mcal_per_kg" if variant == 1 and place == 1 and name == "nem" else "usual"
                number = None
                if variant == 2 and place == 2 and name in ("adf", "ndf"):
                    other = {"adf": "ndf", "ndf": "adf"}[name]
                    number = one.forage.value(other, basis)
                cells.append(one.put(name, unit, basis, number=number))
                if unit != "usual":
                    one.values[-1]["unit"] = "mcal_per_lb"
            dry = "" if variant == 1 else "0.0"
            rows.append([*head, word, water if basis == "ar" else dry, *cells])
        if variant == 2:
            one.optional.append(DRY_OF_WATER)
        if variant == 1 and place == 1:
            one.plant("unit", ("nem",), "NEm is per kilogram under a heading per pound")
        if variant == 2 and place == 2:
            one.plant("swapped", ("adf", "ndf"), "ADF and NDF exchanged: ADF above NDF", "tdn")
    return made(
        f"row-pairs-{variant}.csv",
        delimited(rows).encode(),
        "CSV; two rows a sample, as received and dry",
        lab,
        found,
    )


def fed_only(rng: Random, variant: int) -> Made:
    lab = "Cider Press Road Feed Lab"
    found = cast.samples(rng, 4, "CP{}", received=True)
    order = ["moisture", "cp", "adf", "ndf", "tdn", "ca", "p", "zn"]
    head = ["Lab #", "Sample", "Sampled", "Recd", "Moisture %", "CP %", "ADF %", "NDF %", "TDN %",
            "Ca %", "P %", "Zn ppm"]  # fmt: skip
    rows = []
    for one in found:
        cells = [one.put(name, basis="ar") for name in order]
        days = [cast.worded(one.sampled_on), cast.worded(one.received_on)]
        rows.append([one.lab_no, one.id, *days, *cells])
    note = "ALL RESULTS ARE ON AN AS-FED BASIS"
    top = [[lab], [note], head] if variant == 1 else [head]
    tail = [] if variant == 1 else [[], ["Note: results on an as-fed basis, not dried."]]
    text = delimited([*top, *rows, *tail])
    return made(
        f"fed-only-{variant}.csv",
        text.encode(),
        "CSV; everything as fed, said once " + ("above" if variant == 1 else "below"),
        lab,
        found,
    )


def bare_heads(rng: Random, variant: int) -> Made:
    lab = "Mossy Step Analytical"
    found = cast.samples(rng, 4, "M{}")
    order = ["dm", "cp", "adf", "ndf", "ca", "zn", "nem"]
    rows = []
    for one in found:
        cells = [one.put(name, expect="sure" if name == "dm" else "any") for name in order]
        rows.append([one.lab_no, one.id, f"{one.sampled_on:%Y/%m/%d}", *cells])
    title = "Dry matter basis (DM itself: as received)"
    head = ["Lab", "Sample", "Sampled", "DM", "CP", "ADF", "NDF", "Ca", "Zn", "NEm"]
    mark = "\t" if variant == 1 else ";"
    return made(
        f"bare-heads-{variant}.txt",
        (title + "\n\n" + delimited([head, *rows], mark)).encode(),
        "no unit anywhere, only the basis in a title",
        lab,
        found,
        ambiguous=[{"where": "all columns", "why": "no unit is printed; the numbers suggest it"}],
    )


LAYOUTS = (
    title_basis, paired_headers, spaced_thousands, ruled_columns, misspelled_long, year_beside,
    no_basis, two_way_dates, row_pairs,
    fed_only, bare_heads,
)  # fmt: skip
