"""Letters of old machines, quoted mails, bases that cannot be, units of a kilogram told once."""

from __future__ import annotations

import io

import pytest
from openpyxl import Workbook

from rickyard.labs.intake import read_file
from rickyard.labs.reading.codepages import in_old_letters

TABLE = (
    "Bezeichnung;TM %;Rohprotein % TM;ADF % TM\n"
    "Große Koppel;83.1;12.4;34.8\nLuzerne Höhe;87.5;17.8;35.8\nSudangras Süd;82.9;10.4;36.3\n"
)
WORDS = ["Señor Ruiz", "Rincón", "Cáceres", "Pré du bas", "Märzgras", "Île – nord", "Öde Wiese"]


@pytest.mark.parametrize("page", ["cp1252", "mac_roman", "cp850", "cp437"])
def test_names_in_the_letters_of_old_machines_are_read_as_they_were_written(page: str) -> None:
    reading = read_file("a.csv", TABLE.encode(page))
    assert [one.id for one in reading.samples] == ["Große Koppel", "Luzerne Höhe", "Sudangras Süd"]
    assert [one.of("cp").value for one in reading.samples] == [12.4, 17.8, 10.4]
    for word in WORDS:
        try:
            data = word.encode(page)
        except UnicodeEncodeError:
            continue  # the page has no such letter
        assert in_old_letters(data)[0] == word, page


def test_letters_that_fit_two_ways_about_alike_are_told_of() -> None:
    data = b"Sample;DM %;CP % DM;ADF % DM\nM\x8arz 3;88.1;12.2;35.1\nB;87.1;11.2;36.1\n"
    assert any('"März" or "Mèrz"' in note for note in read_file("a.csv", data).notes)
    assert in_old_letters("Höhe".encode("cp1252"))[1] == ""


def test_an_older_message_is_passed_over_where_a_signature_stands_beneath_it() -> None:
    text = (
        "Sent: 16 July 2025\nDM as received, all else on dry matter.\n\n"
        "* creek meadow: DM 87.9 %; CP 11.9 %; ADF 33.2 %; NDF 53.8 %\n"
        "* horse hay: DM 90.5 %; CP 14.6 %; ADF 34.4 %; NDF 48.3 %\n\n"
        "> On 11 July 2024 the laboratory wrote:\n"
        "> * creek meadow: DM 88.1 %; CP 9.9 %; ADF 36.0 %; NDF 58.8 %\n> so far.\n\n"
        "--\nThe results desk\n"
    )
    samples = read_file("a.txt", text.encode()).samples
    proteins = [value.value for one in samples for value in one.values if value.analyte == "cp"]
    assert proteins == [11.9, 14.6]


def test_more_as_received_than_dry_is_asked_where_no_dry_matter_is_printed() -> None:
    text = (
        "Sample: Brome\nMethod: wet\n\nAnalyte,as received,dry matter\n"
        "Crude protein %,7.3,8.3\nADF %,29.1,33.3\nNDF %,45.7,52.2\nTDN %,54.5,35.3\n"
    )
    (sample,) = read_file("a.csv", text.encode()).samples
    assert {one.analyte for one in sample.values if one.status == "ask"} == {"tdn"}
    assert any("Water only makes" in one.text for one in sample.questions)


def test_a_unit_in_brackets_is_no_analyte_where_a_sentence_says_per_kilogram() -> None:
    text = (
        "zwei Proben (TS in % der Frischsubstanz, alles andere je kg TS):\n\n"
        "| | Alp | Stall |\n|---|---:|---:|\n| TS (%) | 89.5 | 85.8 |\n"
        "| Rohprotein (g) | 125 | 163 |\n| ADF (g) | 392 | 341 |\n| Zink (mg) | 32 | 19 |\n"
    )
    first = read_file("a.txt", text.encode()).samples[0]
    told = [(one.analyte, one.unit, one.basis, one.status) for one in first.values]
    assert ("cp", "g_per_kg", "dm", "sure") in told
    assert ("zn", "ppm", "dm", "sure") in told


def test_a_statement_with_the_mark_between_columns_in_it_is_whole() -> None:
    text = (
        "TABLE 1 (% of dry matter; dry matter in % as received)\n"
        "Number;Sample;Dry matter;Crude protein;ADF\n"
        "M101;Top;83.2;9.5;35.4\nM102;Ridge;83.8;9.6;37.2\n"
    )
    samples = read_file("a.csv", text.encode()).samples
    assert [one.of("cp").basis for one in samples] == ["dm", "dm"]


def test_a_title_merged_over_all_columns_heads_none_of_them() -> None:
    book = Workbook()
    sheet = book.active
    for row in (
        ["Number", "Field", "% as received", "% of dry matter", None],
        [None, None, "Moisture", "Crude protein", "ADF"],
        ["First cutting"],
        [201, "West 80", 12.2, 19.1, 32.4],
        [202, "East 80", 10.3, 20.2, 29.1],
    ):
        sheet.append(row)
    sheet.merge_cells("A3:E3")
    held = io.BytesIO()
    book.save(held)
    samples = read_file("a.xlsx", held.getvalue()).samples
    assert [(one.id, one.of("cp").value) for one in samples] == [
        ("West 80", 19.1),
        ("East 80", 20.2),
    ]


def test_what_stands_behind_bales_names_them_unless_it_counts_or_describes_them() -> None:
    def told(bales: str) -> str:
        text = f"Card,H1\nBales,{bales}\nDry matter %,89.7\nProtein % DM,21.1\nADF % DM,34.2\n"
        (sample,) = read_file("a.csv", text.encode()).samples
        return sample.id

    assert told("Bale 1-20") == "Bale 1-20"
    assert "squares" not in told("small squares")
    assert told("120") != "120"


def test_a_line_of_values_is_led_by_a_name_in_small_letters_with_its_number() -> None:
    text = (
        "DM as received, all else on dry matter.\n\n"
        "* creek meadow [R25-041]: DM 87.9 %; CP 11.9 %; ADF 33.2 %; NDF 53.8 %\n"
        "* horse hay [R25-042]: DM 90.5 %; CP 14.6 %; ADF 34.4 %; NDF 48.3 %\n"
    )
    samples = read_file("a.txt", text.encode()).samples
    assert [(one.id, one.lab_no, one.of("dm").value) for one in samples] == [
        ("creek meadow", "R25-041", 87.9),
        ("horse hay", "R25-042", 90.5),
    ]
