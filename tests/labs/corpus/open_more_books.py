"""Open set: more ways in which workbooks are laid out, each in a few lines."""

from __future__ import annotations

from random import Random

from . import cast
from .open_more_text import MAIN, WORDS
from .truth import Made, made
from .writers import Workbook, ods, xls

XLS_PERCENT = "percent"


def year_groups(rng: Random, variant: int) -> Made:
    """Two years over each sample, the last of which counts."""
    found = cast.samples(rng, 3, "Y{}", sampled=False)
    book = Workbook()
    sheet = book.sheet("Results")
    sheet.write_string(0, 0, "Forage results by year")
    sheet.write_string(2, 0, "Sample")
    sheet.write_string(3, 0, "Lab no.")
    sheet.write_string(4, 0, "Analyte (dry matter basis)")
    for place, one in enumerate(found):
        left = 1 + 2 * place
        sheet.merge_range(2, left, 2, left + 1, one.id)
        sheet.merge_range(3, left, 3, left + 1, one.lab_no)
        sheet.write_number(4, left, 2024)
        sheet.write_number(4, left + 1, 2025)
    names = ("moisture", *MAIN)
    for down, name in enumerate(names):
        unit = "% as received" if name == "moisture" else "%"
        sheet.write_string(5 + down, 0, f"{WORDS[name]}, {unit}")
        for place, one in enumerate(found):
            text = one.put(name)
            book.number(sheet, 5 + down, 1 + 2 * place, f"{float(text) * 0.93:.2f}")
            book.number(sheet, 5 + down, 2 + 2 * place, text)
    return made(f"year-groups-{variant}.xlsx", book.content(), "two years over each sample", "",
                found, not_samples=["2024"])  # fmt: skip


def letters_down(rng: Random, variant: int) -> Made:
    """Headings written downward, a letter on each line."""
    found = cast.samples(rng, 4, "LD{}")
    book = Workbook()
    sheet = book.sheet("Hay")
    heads = ["Lab no", "Sample", "DM", "CP", "ADF", "NDF", "RFV"]
    for column, head in enumerate(heads):
        sheet.write_string(1, column, "\n".join(head) if column > 1 else head)
    for column, unit in enumerate(["% as fed", "% DM", "% DM", "% DM"], 2):
        sheet.write_string(2, column, unit)
    for down, one in enumerate(found):
        cells = [one.put(name) for name in ("dm", "cp", "adf", "ndf", "rfv")]
        book.rows(sheet, [[None, one.id, *cells]], 3 + down)
        sheet.write_string(3 + down, 0, one.lab_no)
        one.sampled_on = None
    return made(f"letters-down-{variant}.xlsx", book.content(), "headings a letter a line", "",
                found)  # fmt: skip


def percent_cells(rng: Random, variant: int) -> Made:
    """An OpenDocument sheet whose cells are percentages, and a hidden row of a check sample."""
    found = cast.samples(rng, 3, "OD{}")
    rows = [["Lab", "Field name", "Sampled", "Dry matter (as received)", "CP (DM)", "ADF (DM)",
             "NDF (DM)"]]  # fmt: skip
    for one in found:
        cells = [(XLS_PERCENT, one.put(name, places=1)) for name in ("dm", "cp", "adf", "ndf")]
        rows.append([one.lab_no, one.id, one.sampled_on, *cells])
    return made(f"percent-cells-{variant}.xls", xls({"Hay": rows}), "cells shown as percent", "",
                found)  # fmt: skip


def side_blocks(rng: Random, variant: int) -> Made:
    """A block of lines for each sample, two of them side by side."""
    found = cast.samples(rng, 4, "SB{}")
    book = Workbook()
    sheet = book.sheet("Blocks")
    for place, one in enumerate(found):
        top, left = 12 * (place // 2), 5 * (place % 2)
        rows = [["Sample", one.id], ["Lab number", one.lab_no], ["Date sampled", one.sampled_on],
                [None, "As fed", "DM basis"], ["Moisture %", one.put("moisture")]]  # fmt: skip
        for name in ("cp", "adf", "ndf", "ca"):
            wet = one.put(name, basis="ar")
            rows.append([WORDS[name] + " %", wet, one.put(name)])
        book.rows(sheet, rows, top, left)
    return made(f"side-blocks-{variant}.xlsx", book.content(), "blocks side by side", "", found)


def basis_down_the_side(rng: Random, variant: int) -> Made:
    """The basis stands once beside the lines for which it holds."""
    one = cast.samples(rng, 1, "BD{}")[0]
    book = Workbook()
    sheet = book.sheet("Report")
    book.rows(sheet, [["Client sample", one.id], ["Lab no.", one.lab_no],
                      ["Sampled", one.sampled_on]])  # fmt: skip
    names = ("cp", "adf", "ndf", "ca", "p")
    sheet.write_string(4, 1, "Moisture")
    book.number(sheet, 4, 2, one.put("moisture"))
    sheet.write_string(4, 3, "% as received")
    for group, basis in enumerate(("ar", "dm")):
        top = 5 + group * len(names)
        word = "As received basis" if basis == "ar" else "Dry matter basis"
        sheet.merge_range(top, 0, top + len(names) - 1, 0, word)
        for down, name in enumerate(names):
            sheet.write_string(top + down, 1, WORDS[name])
            book.number(sheet, top + down, 2, one.put(name, basis=basis))
            sheet.write_string(top + down, 3, "%")
    return made(f"basis-down-the-side-{variant}.xlsx", book.content(),
                "the basis merged down the left", "", [one])  # fmt: skip


def grouped_heads(rng: Random, variant: int) -> Made:
    """Groups of headings that give the unit and a part of the name."""
    found = cast.samples(rng, 4, "MG{}")
    book = Workbook()
    sheet = book.sheet("Summary")
    sheet.write_string(0, 0, "All on dry matter basis but moisture")
    sheet.merge_range(1, 3, 1, 6, "Proximates, %")
    sheet.merge_range(1, 7, 1, 9, "Net energy, Mcal/lb")
    sheet.merge_range(1, 10, 1, 11, "Macrominerals, %")
    sheet.merge_range(1, 12, 1, 13, "Trace minerals, ppm")
    heads = ["Lab #", "ID", "Sampled", "Moisture (as received)", "CP", "ADF", "NDF", "Maint.",
             "Gain", "Lact.", "Ca", "P", "Fe", "Zn"]  # fmt: skip
    book.rows(sheet, [heads], 2)
    for down, one in enumerate(found):
        names = ("moisture", "cp", "adf", "ndf", "nem", "neg", "nel", "ca", "p", "fe", "zn")
        cells = [one.put(name) for name in names]
        book.rows(sheet, [[one.lab_no, one.id, one.sampled_on, *cells]], 3 + down)
    return made(f"grouped-heads-{variant}.xlsx", book.content(), "groups over headings", "", found)


def sheets_apart(rng: Random, variant: int) -> Made:
    """The fiber on one sheet and the minerals on another, of the same samples."""
    found = cast.samples(rng, 3, "SA{}")
    first = [["Lab no", "Sample", "DM % AR", "CP % DM", "ADF % DM", "NDF % DM"]]
    second = [["Lab no", "Sample", "Ca % DM", "P % DM", "Zn mg/kg DM"]]
    for one in found:
        first.append([one.lab_no, one.id, *(one.put(n) for n in ("dm", "cp", "adf", "ndf"))])
        second.append([one.lab_no, one.id, *(one.put(n) for n in ("ca", "p", "zn"))])
        one.sampled_on = None
    return made(f"sheets-apart-{variant}.ods", ods({"Fiber": first, "Minerals": second}),
                "analytes of the same samples on two sheets", "", found)  # fmt: skip


def rows_of_basis(rng: Random, variant: int) -> Made:
    """Two rows for each sample, its name merged over both."""
    found = cast.samples(rng, 3, "RB{}")
    book = Workbook()
    sheet = book.sheet("Hay")
    book.rows(sheet, [["Lab no", "Sample", "Basis", "Moisture %", "Protein %", "ADF %", "NDF %",
                       "Calcium %"]])  # fmt: skip
    for place, one in enumerate(found):
        top = 1 + 2 * place
        sheet.merge_range(top, 0, top + 1, 0, one.lab_no)
        sheet.merge_range(top, 1, top + 1, 1, one.id)
        wet = [one.put(name, basis="ar") for name in ("moisture", "cp", "adf", "ndf", "ca")]
        dry = [one.put(name) for name in ("cp", "adf", "ndf", "ca")]
        book.rows(sheet, [["As Fed", *wet], ["Dry", None, *dry]], top, 2)
        one.sampled_on = None
    return made(f"rows-of-basis-{variant}.xlsx", book.content(), "a row for each basis", "", found)


def summary_rows(rng: Random, variant: int) -> Made:
    """Blank rows between samples, and rows of means and spreads."""
    found = cast.samples(rng, 4, "SR{}")
    book = Workbook()
    sheet = book.sheet("2025")
    names = ("dm", "cp", "adf", "ndf", "tdn")
    rows = [["Forage summary, percent of dry matter (DM as received)"], [],
            ["Hay lot", "Lab ID", *(WORDS[name] for name in names)], []]  # fmt: skip
    for one in found:
        rows += [[one.id, one.lab_no, *(one.put(name) for name in names)], []]
        one.sampled_on = None
    for word in ("Mean", "Std dev", "Minimum", "Maximum", "Count", "Typical hay"):
        rows.append([word, None, *(f"{rng.uniform(20, 60):.1f}" for _ in names)])
    book.rows(sheet, rows)
    return made(f"summary-rows-{variant}.xlsx", book.content(), "blank rows and summaries", "",
                found, not_samples=["Mean"])  # fmt: skip


LAYOUTS = ()
SINGLE = (
    year_groups, letters_down, percent_cells, side_blocks, basis_down_the_side, grouped_heads,
    sheets_apart, rows_of_basis, summary_rows,
)  # fmt: skip
