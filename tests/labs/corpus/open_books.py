"""Open set: workbooks."""

from __future__ import annotations

from datetime import date
from random import Random

from . import cast
from .forage import WORDS
from .truth import Made, made
from .writers import Workbook, ods, xls

OLD_DAY_ZERO = date(1899, 12, 30)


def merged_groups(rng: Random, variant: int) -> Made:
    lab = "Copper Kettle Laboratory"
    found = cast.samples(rng, 5, "{}", first=51200, reported=True, method="NIR")
    book = Workbook()
    sheet = book.sheet("Forage")
    sheet.write(0, 0, lab, book.bold)
    sheet.write(1, 0, "Method: NIR")
    order = ["cp", "adf", "ndf", "tdn", "nel"]
    words = ["Protein %", "ADF %", "NDF %", "TDN %", "NEL Mcal/lb"]
    sheet.merge_range(3, 5, 3, 9, "AS RECEIVED", book.bold)
    sheet.merge_range(3, 10, 3, 14, "DRY MATTER", book.bold)
    sheet.write(3, 16, "2024 SEASON (DRY MATTER)", book.bold)
    head = ["Lab No.", "Sample ID", "Sampled", "Reported", "Moisture %", *words, *words, "RFV",
            "Protein %"]  # fmt: skip
    for column, word in enumerate(head):
        sheet.write(4, column, word, book.bold)
    for row, one in enumerate(found, 5):
        wild = variant == 2 and row == 7
        cells = [one.put("moisture")]
        for basis in ("ar", "dm"):
            for name in order:
                joules = wild and name == "nel"
                cells.append(one.put(name, "mj_per_kg" if joules else "usual", basis))
                if joules:
                    one.values[-1]["unit"] = "mcal_per_lb"
        cells.append(one.put("rfv"))
        if wild:
            one.plant("unit", ("nel",), "NEL is MJ/kg under a heading Mcal/lb")
        was = f"{cast.draw(rng, one.forage.kind).dry['cp']:.1f}"
        book.rows(sheet, [[one.lab_no, one.id, one.sampled_on, one.reported_on, *cells, was]], row)
    hidden = {"hidden": True} if variant == 1 else {}
    sheet.set_column(16, 16, 12, None, hidden)
    return made(
        f"merged-groups-{variant}.xlsx",
        book.content(),
        "XLSX; a row a sample, merged "
        "headings over as received and dry, last year's column at the end"
        + (" and hidden" if variant == 1 else ""),
        lab,
        found,
        not_samples=["2024 SEASON protein"],
    )


def sheet_each(rng: Random, variant: int) -> Made:
    lab = "Tinker's Ford Analysis"
    found = cast.samples(rng, 3, "TF{}", received=True, reported=True)
    book = Workbook()
    front = book.sheet("Contents")
    book.rows(front, [["Contents of this file"], ["Tab", "Client's name"]])
    for row, one in enumerate(found, 2):
        front.write_string(row, 0, one.lab_no)
        front.write_string(row, 1, one.id)
    order = [
        ("cp", "Protein", "%"),
        ("adf", "ADF", "%"),
        ("ndf", "NDF", "%"),
        ("ash", "Ash", "%"),
        ("ca", "Ca", "%"),
        ("p", "P", "%"),
        ("zn", "Zn", "ppm"),
        ("cu", "Cu", "ppm"),
    ]
    for one in found:
        sheet = book.sheet(one.lab_no)
        last = cast.draw(rng, one.forage.kind)
        rows = [
            ["Laboratory number", one.lab_no], ["Client's name", one.id],
            ["Forage", WORDS[one.forage.kind]], ["Sampling date", one.sampled_on],
            ["Date received", one.received_on], ["Date of report", one.reported_on], [],
            ["Test", "Unit", "This sample (DM basis)", "Same field last year (DM basis)"],
        ]  # fmt: skip
        for name, word, unit in order:
            text = one.put(name)
            places = len(text.partition(".")[2])
            rows.append([word, unit, text, f"{last.dry[name]:.{places}f}"])
        rows.append([])
        rows.append(["Dry matter of the sample as received", "%", one.put("dm")])
        book.rows(sheet, rows)
    checks = book.sheet("QC")
    check = cast.draw(rng, "alfalfa")
    book.rows(
        checks,
        [
            ["Check hay run with the batch", "Protein", "ADF", "NDF"],
            ["CHECK-1", *(f"{check.dry[name]:.1f}" for name in ("cp", "adf", "ndf"))],
        ],
    )
    checks.hide()
    return made(
        f"sheet-each-{variant}.xlsx",
        book.content(),
        "XLSX; a sheet a sample after a list "
        "of contents, last year beside, a hidden sheet of checks",
        lab,
        found,
        not_samples=["Same field last year", "CHECK-1"],
    )


def serial_long(rng: Random, variant: int) -> Made:
    lab = "Ember Flats Testing"
    found = cast.samples(rng, 4, "EF-{}")
    book = Workbook()
    sheet = book.sheet("Export")
    rows = [["Sample no", "Sample name", "Date sampled", "Analyte", "Result", "Unit", "Basis"]]
    order = ["dm", "cp", "adf", "ndf", "ca", "k", "fe", "mo", "se", "nitrate_no3"]
    words = {
        "dm": "DM",
        "cp": "CP",
        "adf": "ADF",
        "ndf": "NDF",
        "ca": "Ca",
        "k": "K",
        "fe": "Fe",
        "mo": "Mo",
        "se": "Se",
        "nitrate_no3": "NO3",
    }
    for place, one in enumerate(found):
        for name in order:
            if name == "mo" and place == 2:
                text = one.below("mo", "0.5")
            elif name == "se" and place == 3:
                text = one.nothing("se", "--")
            else:
                text = one.put(name)
            unit = {"pct": "%", "ppm": "mg/kg"}[one.values[-1]["unit"]]
            basis = "AR" if name == "dm" else "DM"
            rows.append([one.lab_no, one.id, one.sampled_on, words[name], text, unit, basis])
    for down, row in enumerate(rows):
        for across, cell in enumerate(row):
            if isinstance(cell, date):
                serial = (cell - OLD_DAY_ZERO).days
                if variant == 1:
                    sheet.write_number(down, across, serial)
                else:
                    sheet.write_string(down, across, cell.isoformat())
            else:
                sheet.write_string(down, across, str(cell))
    return made(
        f"serial-long-{variant}.xlsx",
        book.content(),
        "XLSX; one row an analyte, numbers "
        "as text" + (", dates as serial numbers" if variant == 1 else ""),
        lab,
        found,
    )


def ranges_beside(rng: Random, variant: int) -> Made:
    lab = "Marigold Road Laboratory"
    kind = "alfalfa" if variant == 1 else "cool_grass"
    found = cast.samples(rng, 3, "MR{}", kinds=(kind,), reported=True)
    book = Workbook()
    sheet = book.sheet("Report")
    order = [("cp", "Crude protein", "%"), ("adf", "ADF", "%"), ("ndf", "NDF", "%"),
             ("tdn", "TDN", "%"), ("neg", "NEg", "Mcal/lb"), ("ca", "Calcium", "%"),
             ("p", "Phosphorus", "%"), ("mg", "Magnesium", "%")]  # fmt: skip
    rows = [
        [lab],
        ["All values except moisture are on a dry basis"],
        [],
        ["Sample", "", *(one.id for one in found), "Typical", "Usual range"],
        ["Lab ID", "", *(one.lab_no for one in found)],
        ["Sampled", "", *(one.sampled_on for one in found)],
        ["Reported", "", *(one.reported_on for one in found)],
        ["Moisture", "%", *(one.put("moisture") for one in found), "13.0", "10 - 16"],
    ]
    for name, word, unit in order:
        cells = [
            one.put(name, times=10 if variant == 2 and place == 1 and name == "ca" else 1)
            for place, one in enumerate(found)
        ]
        places = len(cells[0].partition(".")[2])
        middle = cast.draw(rng, kind).dry[name] / (2.20462 if name == "neg" else 1)
        span = f"{middle * 0.8:.{places}f} - {middle * 1.2:.{places}f}"
        rows.append([word, unit, *cells, f"{middle:.{places}f}", span])
    if variant == 2:
        found[1].plant("decimal_slip", ("ca",), "calcium ten times too high for a grass", "p")
    book.rows(sheet, rows)
    return made(
        f"ranges-beside-{variant}.xlsx",
        book.content(),
        "XLSX; samples across, a typical value and a range beside them",
        lab,
        found,
        not_samples=["Typical", "Usual range"],
    )


def open_sheet(rng: Random, variant: int) -> Made:
    lab = "Sevenoaks Barn Laboratory (invented)"
    found = cast.samples(rng, 4, "{}-A", first=rng.randrange(300, 700), reported=True)
    order = ["cp", "adicp", "adf", "ndf", "ndfd48", "tdn"]
    head = ["Number", "Name", "Sampled", "Reported", "DM (%)", "CP (%)", "ADICP (%)", "ADF (%)",
            "NDF (%)", "NDFD 48 h (% of NDF)", "TDN (%)", "RFV"]  # fmt: skip
    if variant == 1:
        top = [("", 4), "as received", ("on dry matter", 6), ""]
    else:
        top = ["", "", "", "", "as received", *["dry matter"] * 3, "dry matter", "", "dry matter"]
    rows = [[lab], [], top, head]
    for one in found:
        cells = [one.put("dm"), *(one.put(name) for name in order), one.put("rfv")]
        rows.append([one.lab_no, one.id, one.sampled_on, one.reported_on, *cells])
    return made(
        f"open-sheet-{variant}.ods",
        ods({"Results": rows}),
        "ODS; basis in a row above the heading, merged in one",
        lab,
        found,
    )


def old_percent(rng: Random, variant: int) -> Made:
    lab = "Whistle Stop Hay Test"
    found = cast.samples(rng, 4, "WS{}", reported=True)
    order = ["dm", "cp", "adf", "ndf", "tdn"]
    words = ["Dry matter (as received)", "Crude protein (dry)", "ADF (dry)", "NDF (dry)",
             "TDN (dry)"]  # fmt: skip
    rows: list[list[object]] = [["Lab no", "Sample", "Sampled", "Reported", *words]]
    for one in found:
        cells: list[object] = [one.put(name) for name in order]
        if variant == 1:
            cells = [("percent", str(cell)) for cell in cells]
        rows.append([one.lab_no, one.id, one.sampled_on, one.reported_on, *cells])
    if variant == 2:
        rows[0][4:] = [f"{word}, %" for word in words]
    return made(
        f"old-percent-{variant}.xls",
        xls({"Sheet1": rows, "Sheet2": []}),
        "XLS; "
        + ("cells formatted as percent hold fractions" if variant == 1 else "plain percents"),
        lab,
        found,
    )


LAYOUTS = (merged_groups, sheet_each, serial_long, ranges_beside, open_sheet, old_percent)
