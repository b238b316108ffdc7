"""Kept set: workbooks."""

from __future__ import annotations

from random import Random
from typing import Any

from . import cast
from .truth import Made, made
from .writers import Workbook, ods, xls


def card_grid(rng: Random, variant: int) -> Made:
    lab = "Periwinkle Hay Laboratory"
    found = cast.samples(rng, 4, "PW{}")
    book = Workbook()
    sheet = book.sheet("Cards")
    sheet.merge_range(0, 0, 0, 6, f"{lab}: results of dry matter unless marked", book.bold)
    order = [("cp", "Protein %"), ("adf", "ADF %"), ("ndf", "NDF %"), ("tdn", "TDN %"),
             ("k", "K %"), ("rfv", "RFV")]  # fmt: skip
    across = 2 if variant == 1 else 4
    for place, one in enumerate(found):
        top, left = 2 + 13 * (place // across), 4 * (place % across)
        sheet.merge_range(top, left, top, left + 2, one.id, book.bold)
        rows: list[list[Any]] = [["Lab no.", one.lab_no], ["Sampled", one.sampled_on],
                                 ["Moisture % (as received)", one.put("moisture")]]  # fmt: skip
        rows += [[word, one.put(name)] for name, word in order]
        book.rows(sheet, rows, top + 1, left)
    return made(
        f"card-grid-{variant}.xlsx",
        book.content(),
        f"XLSX; a card a sample, {across} cards to a row of cards",
        lab,
        found,
    )


def unstored_formulas(rng: Random, variant: int) -> Made:
    lab = "Drumlin Feed Analysis"
    found = cast.samples(rng, 4, "DR{}", reported=True)
    book = Workbook()
    sheet = book.sheet("Lab")
    head = ["Lab no", "Sample", "Sampled", "Reported", "Moisture, % a.r.", "Dry matter, % a.r.",
            "CP, % DM", "ADF, % DM", "NDF, % DM", "Starch, % DM"]  # fmt: skip
    book.rows(sheet, [head])
    for row, one in enumerate(found, 1):
        cells = [one.put("moisture"), "", *(one.put(name) for name in ("cp", "adf", "ndf"))]
        last = one.put("starch") if variant == 1 else one.put("starch", places=3)
        book.rows(sheet, [[one.lab_no, one.id, one.sampled_on, one.reported_on, *cells, last]], row)
        if variant == 1:
            one.nothing("dm", "", why="a formula without a stored value")
            sheet.write_formula(row, 5, f"=100-E{row + 1}", None, "")
        else:
            dry = one.put("dm")
            shown = book.format("0.0")
            sheet.write_formula(row, 5, f"=100-E{row + 1}", shown, float(dry))
    sheet.write_string(7, 0, '=HYPERLINK("x")')
    return made(
        f"unstored-formulas-{variant}.xlsx",
        book.content(),
        "XLSX; a column of formulas " + ("without" if variant == 1 else "with") + " stored values",
        lab,
        found,
    )


def hidden_rows(rng: Random, variant: int) -> Made:
    lab = "Cattail Slough Testing"
    found = cast.samples(rng, 4, "{}", first=rng.randrange(40100, 40900))
    checks = cast.samples(rng, 2, "QC{}")
    book = Workbook()
    sheet = book.sheet("Data")
    top = [None, None, None, "fresh", *["DM basis"] * 5]
    head = ["Lab number", "Field", "Sample date", "Moist.", "C.P.", "ADF", "NDF", "Ca", "Mg"]
    units = [None, None, None, *["%"] * 6]
    book.rows(sheet, [top, head, units])
    order = ["moisture", "cp", "adf", "ndf", "ca", "mg"]
    row = 3
    for place, one in enumerate(found):
        cells = [one.put(name) for name in order]
        book.rows(sheet, [[one.lab_no, one.id, one.sampled_on, *cells]], row)
        row += 1
        if place in (0, 2):
            check = checks[place // 2]
            cells = [check.put(name) for name in order]
            book.rows(sheet, [[check.lab_no, "check standard", None, *cells]], row)
            sheet.set_row(row, None, None, {"hidden": True})
            row += 1
    if variant == 2:
        sheet.set_column(6, 6, 10, None, {"hidden": True})
    away = book.sheet("Old season")
    old = cast.samples(rng, 2, "{}")
    book.rows(away, [["Do not use: season 2023, replaced"], [], [*head[:3], "C.P. % DM"]])
    book.rows(away, [[one.lab_no, one.id, None, one.put("cp")] for one in old], 3)
    away.hide()
    if variant == 2:
        for one in found:
            one.each("ndf", "any", "the column is hidden")
    return made(
        f"hidden-rows-{variant}.xlsx",
        book.content(),
        "XLSX; check standards in hidden rows, "
        "an old season in a hidden sheet" + (", NDF hidden" if variant == 2 else ""),
        lab,
        found,
        not_samples=["check standard", "Old season"],
    )


def two_tabs(rng: Random, variant: int) -> Made:
    lab = "Burdock Lane Laboratory"
    found = cast.samples(rng, 4, "BL-{}", received=True)
    wet = [["Burdock Lane Laboratory", ""], ["as received", ""],
           ["Laboratory number", "Sample", "Sampled", "Received", "Dry matter %", "Protein %",
            "ADF %", "NDF %"]]  # fmt: skip
    dry = [["Burdock Lane Laboratory", ""], ["100 % dry matter", ""],
           ["Laboratory number", "Sample", "Protein %", "ADF %", "NDF %", "ME MJ/kg"]]  # fmt: skip
    for one in found:
        wet.append([one.lab_no, one.id, one.sampled_on, one.received_on, one.put("dm"),
                    *(one.put(name, basis="ar") for name in ("cp", "adf", "ndf"))])  # fmt: skip
        dry.append([one.lab_no, one.id, *(one.put(name) for name in ("cp", "adf", "ndf")),
                    one.put("me", "mj_per_kg", places=1)])  # fmt: skip
    tabs = {"As received": wet, "Dry": dry}
    content = ods(tabs) if variant == 1 else xls(tabs)
    end = "ods" if variant == 1 else "xls"
    return made(
        f"two-tabs-{variant}.{end}",
        content,
        f"{end.upper()}; as received on one sheet, dry on another, the same samples",
        lab,
        found,
    )


def blocks_down(rng: Random, variant: int) -> Made:
    lab = "Weathervane Forage Testing"
    found = cast.samples(rng, 3, "WV{}", received=True, reported=True, method="wet chemistry")
    book = Workbook()
    sheet = book.sheet("Reports")
    order = [("cp", "Crude protein", "%"), ("adf", "ADF", "%"), ("ndf", "NDF", "%"),
             ("nem", "Net energy, maintenance", "MJ/kg"), ("neg", "Net energy, gain", "MJ/kg"),
             ("p", "Phosphorus", "mg/kg"), ("fe", "Iron", "mg/kg")]  # fmt: skip
    row = 0
    for place, one in enumerate(found):
        rows: list[list[Any]] = [
            [lab, None, None, "Method", "wet chemistry"],
            ["Your reference", one.id, None, "Our reference", one.lab_no],
            ["Taken", one.sampled_on, None, "Arrived", one.received_on],
            [None, None, None, "Reported", one.reported_on],
            ["", "Unit", "Dry matter", "As received"],
            ["Moisture", "%", None, one.put("moisture")],
        ]
        units = {"nem": "mj_per_kg", "neg": "mj_per_kg", "p": "ppm"}
        for name, word, unit in order:
            at = units.get(name, "usual")
            bad = variant == 2 and place == 1 and name in ("nem", "neg")
            kept = "mcal_per_lb" if bad else at
            cells = [one.put(name, kept, basis) for basis in ("dm", "ar")]
            if bad:
                for value in one.values[-2:]:
                    value["unit"] = "mj_per_kg"
            rows.append([word, unit, *cells])
        if variant == 2 and place == 1:
            one.plant("unit", ("nem", "neg"), "net energy is Mcal/lb under MJ/kg")
        book.rows(sheet, rows, row)
        row += len(rows) + 2
    return made(
        f"blocks-down-{variant}.xlsx",
        book.content(),
        "XLSX; blocks below each other on one sheet, dry before as received, phosphorus in mg/kg",
        lab,
        found,
    )


def old_long(rng: Random, variant: int) -> Made:
    lab = "Ploughshare Laboratory"
    found = cast.samples(rng, 4, "{}", first=rng.randrange(2500, 2900), reported=True)
    order = [
        ("dm", "Dry Matter"),
        ("cp", "Protein, Crude"),
        ("adf", "Fiber, Acid Detergent"),
        ("ndf", "Fiber, Neutral Detergent"),
        ("ca", "Calcium"),
        ("nitrate_no3", "Nitrate, NO3"),
    ]
    head = ["Lab no.", "Sample", "Sampled", "Reported", "Test", "As sampled", "Dry basis", "Units"]
    rows: list[list[Any]] = [head]
    for place, one in enumerate(found):
        for name, word in order:
            if name == "dm":
                cells = [one.put("dm"), ""]
            elif name.startswith("nitrate"):
                low = place == 1
                cells = ["", one.below(name, "200") if low else one.put(name)]
            else:
                cells = [one.put(name, basis="ar"), one.put(name)]
            unit = "ppm" if name.startswith("nitrate") else "%"
            first = name == "dm" or variant == 1
            start = [one.lab_no, one.id, one.sampled_on, one.reported_on] if first else [""] * 4
            rows.append([*start, word, *cells, unit])
    return made(
        f"old-long-{variant}.xls",
        xls({"LIMS": rows}),
        "XLS; one row an analyte with both "
        "bases" + (", sample named on its first row" if variant == 2 else ""),
        lab,
        found,
    )


def silage_matrix(rng: Random, variant: int) -> Made:
    lab = "Bulrush Silage Bench"
    found = cast.samples(rng, 3, "BS-{}", kinds=("corn_silage",), reported=True)
    book = Workbook()
    sheet = book.sheet("Silage")
    rows: list[list[Any]] = [
        ["Lab number", "Sample", "Sampled", "Reported", "Dry matter", "pH", "Protein", "NDF",
         "Starch", "Lactic acid", "Butyric acid", "Yeast", "Zearalenone"],
        [None, None, None, None, "g/kg", None, *["g/kg"] * 5, "CFU/g", "ppb"],
        [None, None, None, None, "fresh", "fresh", *["DM"] * 5, "fresh", "DM"],
    ]  # fmt: skip
    for place, one in enumerate(found):
        many = place == variant - 1
        cells = [one.put("dm", "g_per_kg"), one.put("ph")]
        cells += [one.put(name, "g_per_kg") for name in ("cp", "ndf", "starch", "lactic")]
        cells.append(
            one.nothing("butyric", "BDL", "nd", unit="g_per_kg")
            if many
            else one.put("butyric", "g_per_kg", places=1, number=rng.uniform(0.4, 2))
        )
        count = round(rng.uniform(2000, 90000), -2)
        cells.append(one.nothing("yeast", "TNTC", "tntc", unit="cfu_per_g", basis="ar") if many
                     else one.put("yeast", "cfu_per_g", "ar", number=count, places=0))  # fmt: skip
        cells.append(
            one.below("zearalenone", "25", unit="ppb")
            if place == 1
            else one.put("zearalenone", "ppb", number=rng.uniform(30, 90), places=0)
        )
        rows.append([one.lab_no, one.id, one.sampled_on, one.reported_on, *cells])
    book.rows(sheet, rows)
    sheet.write(8, 0, "TNTC too numerous to count; BDL below the detection limit")
    return made(
        f"silage-matrix-{variant}.xlsx",
        book.content(),
        "XLSX; silage, rows of unit and of basis, dry matter in g/kg, counts, TNTC and BDL",
        lab,
        found,
    )


def tab_a_farm(rng: Random, variant: int) -> Made:
    lab = "Cooperage Lane Testing"
    found = cast.samples(rng, 6, "CL{}", reported=True)
    book = Workbook()
    words = {"dm": "DM % (AR)", "cp": "CP % (DM)", "adf": "ADF % (DM)", "ndf": "NDF % (DM)",
             "k": "K % (DM)", "rfv": "RFV"}  # fmt: skip
    for number, farm in enumerate(("Alder place", "Birch place", "Cedar place")):
        sheet = book.sheet(farm)
        order = list(words)[number:] + list(words)[:number]
        rows: list[list[Any]] = [[farm]] + [[]] * number
        rows.append(["Sample", *(words[name] for name in order), "Lab no.", "Sampled", "Reported"])
        for one in found[2 * number : 2 * number + 2]:
            cells = [one.put(name) for name in order]
            rows.append([one.id, *cells, one.lab_no, one.sampled_on, one.reported_on])
        if variant == 2:
            rows += [[], ["Farm mean", *(_mean(rows[-2:], at) for at in range(1, 7))]]
        book.rows(sheet, rows, top=number, left=number)
    return made(
        f"tab-a-farm-{variant}.xlsx",
        book.content(),
        "XLSX; a sheet a farm, the columns in another order and place on each",
        lab,
        found,
        not_samples=["Farm mean"] if variant == 2 else [],
    )


def _mean(rows: list[list[Any]], at: int) -> str:
    places = len(rows[0][at].partition(".")[2])
    return f"{sum(float(row[at]) for row in rows) / len(rows):.{places}f}"


LAYOUTS = (
    card_grid,
    unstored_formulas,
    hidden_rows,
    two_tabs,
    blocks_down,
    old_long,
    silage_matrix,
    tab_a_farm,
)
