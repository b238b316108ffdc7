"""Columns of a page that stand as near as the words of a name, and dashes in them."""

from __future__ import annotations

import pytest
from corpus.paper import Paper

from rickyard.labs.intake import read_file

SIZE = 8.0
NAMES = ("Creek stack", "East bench", "Hill 40")
HEADS = ("Lab no", "Sample", "DM", "CP", "ADF", "Cl", "Mo")
UNITS = ("", "", "%", "%", "%", "%", "ppm")
ROWS = (
    ("4101", "Creek stack", "88.1", "12.2", "35.1", "-", "4.0"),
    ("4108", "East bench", "86.1", "15.2", "33.1", "0.45", "-"),
    ("4115", "Hill 40", "90.0", "9.8", "38.4", "-", "1.2"),
)
TRUE = {
    row[1]: {
        name: float(text)
        for name, text in zip(("dm", "cp", "adf", "cl", "mo"), row[2:], strict=True)
        if text != "-"
    }
    for row in ROWS
}


def page(columns, gap, align="right"):
    """Return a PDF of columns that are ``gap`` points apart."""
    paper = Paper()
    paper.text(40, 40, "All results on a dry matter basis, dry matter as received.")
    at = 40.0
    for number, column in enumerate(columns):
        width = max(paper.canvas.stringWidth(text, "Helvetica", SIZE) for text in column)
        how = align if number > 1 else "left"
        x = at + width if how == "right" else at
        for place, text in enumerate(column):
            if text:
                paper.text(x, 70 + 13 * place, text, SIZE, align=how)
        at += width + gap
    return paper.content()


def found(reading):
    return {
        sample.id: {v.analyte: v.value for v in sample.values if v.status == "sure"}
        for sample in reading.samples
    }


@pytest.mark.parametrize("gap", [3.0, 5.0])
@pytest.mark.parametrize("align", ["right", "left"])
def test_rows_of_a_page_are_read_where_columns_nearly_touch(gap, align):
    reading = read_file("a.pdf", page(list(zip(HEADS, UNITS, *ROWS, strict=True)), gap, align))
    assert found(reading) == TRUE


@pytest.mark.parametrize("gap", [3.0, 5.0])
def test_names_over_columns_are_not_one_where_they_nearly_touch(gap):
    columns = [("", "", *HEADS[2:]), ("", "", *UNITS[2:])]
    columns += [(row[1], row[0], *row[2:]) for row in ROWS]
    columns[0] = ("Sample", "Lab no", *HEADS[2:])
    assert found(read_file("a.pdf", page(columns, gap, "left"))) == TRUE


@pytest.mark.parametrize("name", ["Barn 2 oats", "Lot 7B", "Stack 3", "The Hill field"])
def test_a_name_behind_its_label_is_parted_by_no_column_under_it(name):
    text = (
        f"Sample: {name}\nLab no: 4618\n\n      DM     AR\n"
        "NDF %   68.3   56.8\nCP %    9.7    8.1\nADF %   40.9   34.0\n"
    )
    assert [one.id for one in read_file("a.txt", text.encode()).samples] == [name]
