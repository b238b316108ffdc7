"""Shares told in a sentence, methods beside a basis, and names behind two strokes."""

from __future__ import annotations

from rickyard.labs.intake import read_file

SHARES = """\
Nutrients are dry matter basis. Moist is as received. SolCP is % of CP.,,,,,
LabID,Description,Moist,CP,SolCP,ADF
Q-1,Pivot third,13.4,20.0,39.5,32.8
Q-2,Pivot fourth,12.3,18.3,35.9,33.9
"""


def values(name: str, text: str) -> dict[str, tuple[float | None, str | None, str]]:
    reading = read_file(name, text.encode())
    assert reading.open_questions() == []
    found = reading.samples[0].values
    return {one.analyte: (one.value, one.basis, one.status) for one in found}


def test_a_sentence_says_of_what_a_share_is() -> None:
    told = values("a.csv", SHARES)
    assert told["soluble_cp"] == (39.5, "cp", "sure")
    assert told["cp"] == (20.0, "dm", "sure")


def test_a_share_is_told_in_french_as_well() -> None:
    table = (
        "Toutes les valeurs sont sur base de matière sèche\n"
        "Échantillon,Matière sèche %,Protéine brute %,Protéine soluble % de la PB\n"
        "Silo un,33.3,15.1,59.2\n"
    )
    told = values("a.csv", table)
    assert told["soluble_cp"] == (59.2, "cp", "sure")


def test_wet_beside_a_value_that_says_its_basis_is_a_method() -> None:
    lines = (
        "Sample name,,Meadow stack\nComponent,Method,Result\n"
        "Dry matter,wet,86.8 % as received\nCrude protein,NIR,12.4 % of DM\n"
        "Calcium,wet,0.41 % of DM\nCopper,wet,7.4 mg/kg DM\n"
    )
    told = values("a.csv", lines)
    assert told["ca"] == (0.41, "dm", "sure")
    assert told["cu"] == (7.4, "dm", "sure")


def test_as_sampled_is_shortened() -> None:
    lines = (
        "Lab number 6601   Pony hay   taken 9/29/2025   reported 10/6/2025\n\n"
        "                              As Samp.       Dry\n"
        "% Moisture                        13.0\n"
        "% Dry Matter                      87.0\n"
        "% Crude Protein                    8.1       9.3\n"
        "% ADF                             33.4      38.4\n"
        "% Calcium                         0.40      0.46\n"
    )
    reading = read_file("a.txt", lines.encode())
    assert reading.open_questions() == []
    (sample,) = reading.samples
    told = {(one.analyte, one.basis): one.value for one in sample.values}
    assert told["cp", "ar"] == 8.1
    assert told["cp", "dm"] == 9.3


def test_a_name_stands_behind_two_strokes() -> None:
    lines = (
        "Percent, 100% dry matter, except DM which is as received.\n\n"
        "Sample 7703 -- Bermuda, barn lot\nDM: 90.2\nCrude Prot: 10.4\nADF: 36.7\n\n"
        "Sample 7704 -- Sudan, creek\nDM: 84.3\nCrude Prot: 10.0\nADF: 38.5\n"
    )
    samples = read_file("a.txt", lines.encode()).samples
    assert [(one.lab_no, one.id) for one in samples] == [
        ("7703", "Bermuda, barn lot"),
        ("7704", "Sudan, creek"),
    ]
