"""What contradicts the rest of a report is asked about: slips of a point, a unit, a form, a day."""

from __future__ import annotations

from typing import Final

import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.layouts import Answer

HEAD: Final = (
    "Sample,Feed,Sampled,Received,DM %,CP % DM,ADF % DM,NDF % DM,TDN % DM,NEm Mcal/lb DM,"
    "NEl Mcal/lb DM,RFV,RFQ,Ca % DM,P % DM,Mg % DM,Starch % DM,WSC % DM,NSC % DM,NFC % DM,"
    "NDFD48 % NDF,NO3-N ppm DM,KNO3 % DM,Fe ppm DM,Cu ppm DM"
)
COLUMNS: Final = HEAD.split(",")
#: Invented, each of its own kind of forage; nothing in them is to be asked about.
ROWS: Final = (
    "Home 1,Alfalfa hay,2025-06-02,2025-06-05,87.9,19.8,31.2,40.5,62.5,.63,.64,148,155,1.42,.27,"
    ".30,1.6,9.5,11.1,28.0,46.0,310,.224,180,8",
    "Home 2,Grass hay,2025-06-12,2025-06-15,89.1,10.6,37.4,60.1,58.9,.57,.56,92,100,.42,.24,.19,"
    "1.1,9.9,11.0,19.0,52.0,420,.303,140,6",
    "Home 3,Corn silage,2025-09-22,2025-09-25,34.7,8.3,25.1,42.6,70.1,.74,.73,151,160,.26,.24,.17,"
    "31.2,2.0,33.2,41.4,55.0,260,.188,110,6",
)


def read(place: int = -1, **changed: str):
    rows = [row.split(",") for row in ROWS]
    for name, value in changed.items():
        column = next(n for n, head in enumerate(COLUMNS) if head.split()[0] == name)
        rows[place][column] = value
    text = "\n".join([HEAD, *(",".join(row) for row in rows)])
    return read_file("a.csv", text.encode()).samples


def asked(sample):
    names = {name for one in sample.questions if one.level == "open" for name in one.analytes}
    return names | sample.asked | {one.analyte for one in sample.values if one.status != "sure"}


def test_nothing_of_honest_reports_is_asked():
    assert [asked(sample) for sample in read()] == [set(), set(), set()]


@pytest.mark.parametrize(
    ("place", "name", "value", "about"),
    [
        (0, "P", ".62", "p"),  # as P2O5
        (1, "Ca", "4.2", "ca"),
        (1, "Ca", ".19", "ca"),  # exchanged with phosphorus below
        (1, "Mg", "1.9", "mg"),
        (1, "Starch", "11", "starch"),
        (0, "TDN", "47.5", "tdn"),
        (0, "RFQ", "290", "rfq"),
        (0, "NSC", "24", "nsc"),
        (1, "NSC", "25", "nsc"),
        (0, "NFC", "43", "nfc"),
        (0, "NDFD48", "4.6", "ndfd48"),
        (0, "KNO3", "2.24", "nitrate_kno3"),
        (0, "NO3-N", "1373", "nitrate_no3n"),
        (0, "Fe", "18000", "fe"),
        (0, "Cu", "80", "cu"),
        (0, "DM", "58.1", "dm"),
        (2, "DM", "65.3", "dm"),
        (0, "Sampled", "2025-06-31", "sampled_on"),
        (0, "Sampled", "2025-06-09", "sampled_on"),
    ],
)
def test_a_slip_is_asked_about(place, name, value, about):
    changed = {name: value} if value != ".19" else {"Ca": ".19", "P": ".42"}
    samples = read(place, **changed)
    assert about in asked(samples[place])
    assert [asked(one) for n, one in enumerate(samples) if n != place] == [set(), set()]


def test_a_number_that_fits_only_another_unit_than_its_neighbours_is_asked():
    rows = "\n".join(f"S{n},88.1,{cp},36.1,58.4" for n, cp in enumerate((10.1, 11.2, 98.2, 9.7)))
    samples = read_file("a.csv", f"% of DM\nSample,DM,CP,ADF,NDF\n{rows}\n".encode()).samples
    assert [one.of("cp").status for one in samples] == ["sure", "sure", "ask", "sure"]


def test_a_mineral_printed_as_its_oxide_is_asked():
    text = "Sample,CP % DM,ADF % DM,K2O % DM\nEast,11.2,36.1,2.4\n"
    (sample,) = read_file("a.csv", text.encode()).samples
    assert sample.of("k").status == "ask"
    assert any("1.99" in one.text for one in sample.questions)


def test_a_row_with_more_numbers_than_headings_is_asked():
    text = "Sample,DM %,CP % DM,ADF % DM\nEast,88.1,11.2,36.1\nHill, north 4,87.2,12.1,35.0\n"
    first, second = read_file("a.csv", text.encode()).samples
    assert {one.status for one in first.values} == {"sure"}
    assert "sure" not in {one.status for one in second.values}


def test_one_laboratory_computes_all_samples_in_one_way():
    lines = [f"S{n},{60 + n}.0,{1.30 + 0.03 * n:.2f}" for n in range(6)]
    lines[3] = "S3,63.0,1.60"
    text = "Sample,TDN % DM,NEm Mcal/kg DM\n" + "\n".join(lines) + "\n"
    samples = read_file("a.csv", text.encode()).samples
    assert [bool(asked(one)) for one in samples] == [False, False, False, True, False, False]


def test_a_line_that_names_an_analyte_in_other_words_is_asked_about():
    text = (
        "Sample: East\nCrude protein, % DM   11.2\nADF, % DM   36.1\n"
        "Lignin of the second washing   6.1\nNDF, % DM   58.4\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert any("lignin" in one.analytes for one in sample.questions)


def test_what_is_only_unusual_is_corrected_by_an_answer():
    text = b"Sample,CP % DM,ADF % DM,P % DM\nEast,11.2,36.1,.88\n"
    (sample,) = read_file("a.csv", text).samples
    (question,) = sample.questions
    assert sample.of("p").status == "sure"
    (sample,) = read_file("a.csv", text, {question.key: Answer("0.28")}).samples
    assert (sample.of("p").value, sample.questions) == (0.28, [])


def test_parts_that_are_more_than_the_whole_are_asked():
    text = (
        "Sample,Lab no,DM % AR,CP % DM,NDF % DM,Ash % DM,Fat % DM\nEast,71,89.7,{},71.2,9.8,2.1\n"
    )
    asked = read_file("a.csv", text.format("21.4").encode()).samples[0].questions
    assert any("more than all" in one.text for one in asked)
    fine = read_file("a.csv", text.format("9.4").encode()).samples[0].questions
    assert not any("more than all" in one.text for one in fine)
