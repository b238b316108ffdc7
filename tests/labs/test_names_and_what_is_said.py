"""Names that stand with what is said of them, and a basis that holds behind a semicolon."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file

LETTER = """\
All of what follows is on a dry matter basis, except moisture, which is as it came.

The first cutting off the Dunn ground had 14.3% moisture, 10.2% crude protein and 37.1% ADF.

The second cutting is better: moisture 15.0%, crude protein 13.7%, ADF 31.6%.
"""


def test_what_a_letter_says_of_a_cutting_is_no_part_of_its_name() -> None:
    samples = read_file("a.txt", LETTER.encode()).samples
    names = [one.id for one in samples]
    assert names == ["first cutting off the Dunn ground", "second cutting"]
    assert {one.status for sample in samples for one in sample.values} == {"sure"}


def test_a_basis_holds_behind_a_semicolon() -> None:
    text = (
        'We tested the hay in your bag "Home field". It held 11.1 percent moisture. On dry matter '
        "it tested 12.8 percent crude protein, 34.4 percent ADF and 53.7 percent NDF; calcium was "
        "0.92 and phosphorus 0.24 percent.\n"
    )
    reading = read_file("a.txt", text.encode())
    told = {one.analyte: (one.value, one.basis) for one in reading.samples[0].values}
    assert (told["ca"], told["p"]) == ((0.92, "dm"), (0.24, "dm"))
    assert reading.open_questions() == []


def test_a_basis_told_behind_a_semicolon_is_its_own() -> None:
    text = (
        'The hay in your bag "Home field" held 11.1 percent moisture. On dry matter it tested 12.8 '
        "percent crude protein and 34.4 percent ADF; as received calcium was 0.82 percent.\n"
    )
    told = {one.analyte: one.basis for one in read_file("a.txt", text.encode()).samples[0].values}
    assert (told["cp"], told["ca"]) == ("dm", "ar")


@pytest.mark.parametrize("name", ["Hay A", "Sample A"])
def test_a_letter_names_a_sample(name: str) -> None:
    text = (
        f"Name\tmoisture %\tprotein % DM\tADF % DM\n{name}\t10.4\t12.7\t36.1\nB\t12.5\t13.7\t32\n"
    )
    reading = read_file("a.txt", text.encode())
    assert reading.samples[0].id == name
    assert reading.open_questions() == []


CARD = """<td><table><tr><td colspan="3"><b>{name}</b><br>Ref {number}</td></tr>
<tr><td>Dry matter</td><td>{dry}</td><td>g/kg fresh</td></tr>
<tr><td>Crude protein</td><td>{protein}</td><td>g/kg DM</td></tr>
<tr><td>Ash</td><td>90</td><td>g/kg DM</td></tr>
<tr><td>NDF</td><td>517</td><td>g/kg DM</td></tr></table></td>
"""


def test_a_number_behind_its_word_is_no_part_of_the_name() -> None:
    first = CARD.format(name="Pit 1 first cut", number="CF/26/0932", dry=332, protein=113)
    second = CARD.format(name="Bales, Callow field", number="CF/26/0933", dry=359, protein=120)
    page = f"<html><body><table><tr>{first}{second}</tr></table></body></html>"
    samples = read_file("a.html", page.encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Pit 1 first cut", "CF/26/0932"),
        ("Bales, Callow field", "CF/26/0933"),
    ]
    assert {one.analyte for one in samples[0].values} == {"dm", "cp", "ash", "ndf"}
