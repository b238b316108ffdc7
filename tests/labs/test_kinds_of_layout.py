"""Kinds of layout in small: what is read from each, and what is asked."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file

_FIRST = {("dm", "ar"): 88.1, ("cp", "dm"): 12.2, ("adf", "dm"): 35.1}
_SECOND = {("dm", "ar"): 86.1, ("cp", "dm"): 15.2, ("adf", "dm"): 33.1}

CODED = """Codes: A1 = Dry matter % (as received); A2 = Crude protein % DM; A3 = ADF % DM

Lab no,Sample,A1,A2,A3
771,West 40,88.1,12.2,35.1
772,East 40,86.1,15.2,33.1
"""
BRACKETS = """Lab,Sample,DM (1),CP (2),ADF (2)
771,West 40,88.1,12.2,35.1
772,East 40,86.1,15.2,33.1
(1) percent as received
(2) percent of dry matter
"""
SHARED = """Lab\tSample\tDM %\tCrude Protein %\t\tADF %\t
\t\tas rec'd\tas rec'd\tdry\tas rec'd\tdry
771\tWest 40\t88.1\t10.7\t12.2\t30.9\t35.1
772\tEast 40\t86.1\t13.1\t15.2\t28.5\t33.1
"""
STACKED = """Table 1. Moisture and protein (percent of dry matter; dry matter as received)
Lab,Sample,Dry matter,Crude protein
771,West 40,88.1,12.2
772,East 40,86.1,15.2

Table 2. Fiber (dry matter basis)
Lab,Sample,A.D. Fib. %,N.D. Fib. %
771,West 40,35.1,55.5
772,East 40,33.1,48.5
"""
LISTED = """West 40: dry matter 88.1 %
West 40: crude protein 12.2 % DM
West 40: ADF 35.1 % DM
East 40: dry matter 86.1 %
East 40: crude protein 15.2 % DM
East 40: ADF 33.1 % DM
"""
OVER = """771
West 40
Grass hay
Dry matter,88.1,% as received
Crude protein,12.2,% of DM
ADF,35.1,% of DM

772
East 40
Alfalfa
Dry matter,86.1,% as received
Crude protein,15.2,% of DM
ADF,33.1,% of DM
"""
FRACTIONS = """Lab,Sample,DM (as received),CP (dry),ADF (dry)
771,West 40,0.881,0.122,0.351
772,East 40,0.861,0.152,0.331
"""
LETTER = """The hay you call "West 40" (our number 771) came back at 88.1 percent dry matter. On a
dry matter basis it has 12.2 percent crude protein and 35.1 percent ADF.

The hay you call "East 40 sm. squares" (our number 772) came back at 86.1 percent dry matter.
On a dry matter basis it has 15.2 percent crude protein and 33.1 percent ADF.

Most hay around here runs 9 to 11 percent protein.
"""


@pytest.mark.parametrize(
    "text",
    [CODED, BRACKETS, SHARED, STACKED, LISTED, OVER, FRACTIONS, LETTER],
    ids=["coded", "brackets", "shared", "stacked", "listed", "over", "fractions", "letter"],
)
def test_both_samples_are_read_surely(text: str) -> None:
    reading = read_file("a.txt", text.encode())
    assert [sample.id[:7] for sample in reading.samples] == ["West 40", "East 40"]
    for sample, should in zip(reading.samples, (_FIRST, _SECOND), strict=True):
        sure = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
        assert {key: sure.get(key) for key in should} == pytest.approx(should)


def test_a_column_of_what_is_usual_is_no_sample() -> None:
    text = (
        "Sample,,West 40,Typical,Usual range\nCP,% DM,12.2,14,10 - 16\nADF,% DM,35.1,36,30 - 40\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [sample.id for sample in reading.samples] == ["West 40"]


def test_gain_in_another_unit_than_printed_is_asked() -> None:
    text = "Sample,DM % ar,ADF % DM,NEg MJ/kg DM\nWest 40,88.1,35.1,0.32\nEast 40,86.1,33.1,1.5\n"
    first, second = read_file("a.csv", text.encode()).samples
    status = [v.status for one in (first, second) for v in one.values if v.analyte == "neg"]
    assert status == ["ask", "sure"]
