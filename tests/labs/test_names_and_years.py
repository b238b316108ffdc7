"""Which of two names is the sample's, which column is this report's, and which day is none."""

from __future__ import annotations

import io

import openpyxl

from rickyard.labs.intake import read_file
from rickyard.labs.layouts import Answer


def named(text: str) -> list[tuple[str, str]]:
    return [(one.id, one.lab_no) for one in read_file("a.csv", text.encode()).samples]


def test_a_number_called_sample_beside_a_name_is_that_of_the_laboratory():
    text = (
        "Tag,Lot,DM %,CP % DM,ADF % DM\nLP118,Tube 1,38.4,13.7,30.8\nLP119,Tube 2,43.0,14.7,37.1\n"
    )
    assert named(text) == [("Tube 1", "LP118"), ("Tube 2", "LP119")]


def test_a_name_under_the_number_of_its_sample_and_a_footnote_that_is_none():
    text = (
        "Sample     Test           Result  Unit\n"
        "7/2201     Dry matter     89.6    % as is\nStubble oats\n"
        "           Crude protein   9.5    % DM\n           ADF            36.3    % DM\n"
        "7/2202     Dry matter     87.0    % as is\nHill teff\n"
        "           Crude protein  11.8    % DM\n           ADF            37.2    % DM\n"
        "NA = not asked for\n"
    )
    assert named(text) == [("Stubble oats", "7/2201"), ("Hill teff", "7/2202")]


def test_upper_and_lower_are_fields_where_the_laboratory_numbered_them():
    text = (
        "Lab number            31     32\nField              Upper  Lower\n"
        "Moisture %          12.4   14.5\nCrude protein % DM  12.1   14.8\nADF % DM   37.3   33.6\n"
    )
    assert named(text) == [("Upper", "31"), ("Lower", "32")]


def test_only_the_last_of_three_years_is_of_this_report():
    text = (
        'Field,"Corner 18, first cut",,Lab number,25F-0613,\n\n'
        "Item,Unit,2025,2024,2023,County average\nDry matter,% as fed,86.4,86.3,87.2,88.7\n"
        "Crude protein,% DM,12.4,13.8,13.3,12.9\nAcid detergent fiber,% DM,37.8,36.2,36.0,35.8\n"
    )
    (sample,) = read_file("a.csv", text.encode()).samples
    assert [one.value for one in sample.values] == [86.4, 12.4, 37.8]


def test_what_was_before_the_correction_does_not_count_nor_its_day():
    text = (
        "AMENDED REPORT - replaces report of Sep 15, 2025\nSample      Bunkhouse\n"
        "Reported    Sep 22, 2025\n\n                          Corrected    Was\n"
        "Moisture, % as received        12.7   13.6\nCrude protein, % DM             9.8   10.5\n"
        "ADF, % DM                      37.2   39.8\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert [one.value for one in sample.values] == [12.7, 9.8, 37.2]
    assert sample.reported_on is not None
    assert sample.reported_on.day == 22


def test_two_tables_side_by_side_are_joined_by_the_number_and_not_by_the_row():
    text = (
        "Lab no.,Sample,CP % DM,ADF % DM,,Lab no.,Ca % DM,P % DM\n"
        "61,Yard 1,10.3,36.9,,62,1.27,0.25\n62,Yard 2,14.8,37.1,,61,0.41,0.21\n"
    )
    first, second = read_file("a.csv", text.encode()).samples
    assert (first.of("ca").value, second.of("ca").value) == (0.41, 1.27)


def test_numbers_of_samples_that_look_like_a_toxin_are_numbers():
    rows = "\n".join(f"T-{n},Slope {n},12.{n},19.1,30.6" for n in (1, 2, 3))
    text = f"No.,Sample,Moisture %,CP % DM,ADF % DM\n{rows}\n"
    assert named(text) == [(f"Slope {n}", f"T-{n}") for n in (1, 2, 3)]


def test_kind_of_hay_beside_a_name_is_no_name():
    text = "Feed: Alfalfa hay\nCrude protein, % DM   19.2\nADF, % DM   31.1\nNDF, % DM   40.2\n"
    (sample,) = read_file("a.txt", text.encode()).samples
    assert (sample.id, sample.forage_words) == ("", "Alfalfa hay")


def test_your_sample_is_no_name_and_a_word_alone_neither():
    text = (
        "Your sample, our number 90210, from the hill piece, came back with 87.4% dry matter. "
        "Protein was only 8.1% dry, which as received is 7.1%. ADF hit 41.0, dry.\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert sample.id == ""


def test_a_name_under_a_number_in_a_row_and_rows_of_the_year_before():
    text = (
        "Lab no.   DM      CP      ADF\nSample    % AR    % DM    % DM\n"
        "771       88.1    12.2    35.1\nWest 40\n772       86.1    15.2    33.1\nEast 40\n"
    )
    assert named(text) == [("West 40", "771"), ("East 40", "772")]
    text = (
        "Sample,Year,CP % DM,ADF % DM,Lab no\nWest,2024,11.0,36.0,\nWest,2025,12.2,35.1,771\n"
        "East,2024,14.0,34.0,\nEast,2025,15.2,33.1,772\n"
    )
    assert named(text) == [("West", "771"), ("East", "772")]


def test_names_that_look_like_numbers_of_a_laboratory_are_asked_once():
    text = b"Sample,CP % DM,ADF % DM\n26A-113,11.2,36.1\n26A-114,12.1,35.0\n"
    first, second = read_file("a.csv", text).samples
    assert (first.id, first.asked, second.asked) == ("26A-113", {"id"}, {"id"})
    assert [one.key for one in (*first.questions, *second.questions)] == ["name or number"]
    answers = {"name or number": Answer("number")}
    first, second = read_file("a.csv", text, answers).samples
    assert (first.id, first.lab_no, first.asked) == ("", "26A-113", set())


def workbook(**sheets: list[tuple[object, ...]]) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
        sheet.merge_cells("A1:E1")
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def test_the_title_over_all_columns_is_the_name_of_none():
    content = workbook(
        Horses=[
            ("Saddle Creek Analysis", None, None, None, None),
            ("Dry matter basis unless stated.",),
            ("Nutrient", "Unit", "EQ-15", "EQ-16", "Usual range, grass hay"),
            (None, None, "Broodmare", "Pony", None),
            ("Moisture (as received)", "%", 9.8, 10.6, "8 - 15"),
            ("Crude protein", "%", 10.5, 11.1, "6 - 14"),
            ("ADF", "%", 38, 39.4, "30 - 42"),
        ]
    )
    samples = read_file("a.xlsx", content).samples
    assert [(one.id, one.lab_no) for one in samples] == [("Broodmare", "EQ-15"), ("Pony", "EQ-16")]


def test_a_sheet_with_headings_of_its_own_does_not_go_on_with_the_results():
    content = workbook(
        Lots=[
            ("Moisture as received; the others on dry matter",),
            ("Lot", "Lab no.", "Moisture, %", "CP, %", "ADF, %"),
            ("Gulch", "PV-301", 13.4, 17.7, 31.9),
            ("Mesa", "PV-302", 12.5, 18.2, 34.2),
        ],
        Inventory=[("In the barn",), ("Lot", "Bales", "Tons"), ("Gulch", 100, 61.5)],
    )
    samples = read_file("a.xlsx", content).samples
    assert [(one.id, one.lab_no) for one in samples] == [("Gulch", "PV-301"), ("Mesa", "PV-302")]


def joined_letters(*lines: str) -> bytes:
    """Return a PDF in whose font the sign @ is the one glyph for the letters ffi."""
    shown = " ".join(f"({line}) Tj 0 -20 Td" for line in lines)
    drawn = f"BT /F 10 Tf 50 700 Td {shown} ET"
    told = "1 begincodespacerange <00> <FF> endcodespacerange "
    told += "1 beginbfchar <40> <006600660069> endbfchar"
    parts = (
        "<</Type/Catalog/Pages 2 0 R>>",
        "<</Type/Pages/Kids[3 0 R]/Count 1>>",
        "<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R"
        "/Resources<</Font<</F 5 0 R>>>>>>",
        f"<</Length {len(drawn)}>>stream\n{drawn}\nendstream",
        "<</Type/Font/Subtype/Type1/BaseFont/Helvetica/ToUnicode 6 0 R>>",
        f"<</Length {len(told)}>>stream\n{told}\nendstream",
    )
    body = "".join(f"{n} 0 obj\n{part}\nendobj\n" for n, part in enumerate(parts, 1))
    return f"%PDF-1.4\n{body}trailer\n<</Root 1 0 R/Size 7>>\nstartxref\n0\n%%EOF".encode("ascii")


def test_letters_joined_in_one_glyph_are_all_read():
    content = joined_letters(
        "Sample: O@ce field", "Lab no: 771", "Crude protein: 12.2 % DM", "ADF: 35.1 % DM"
    )
    (sample,) = read_file("a.pdf", content).samples
    assert (sample.id, sample.lab_no) == ("Office field", "771")


REPLY = (
    "Here are the results:\n\nSample: West 40\nDry matter, as received: 88.1 %\n"
    "Protein, dry: 12.2 %\nADF, dry: 35.1 %\n\n> Sample: East 40\n"
    "> Dry matter, as received: 86.1 %\n> Protein, dry: 15.2 %\n> ADF, dry: 33.1 %\n"
)


def test_what_a_reply_quotes_counts_unless_it_is_told_to_be_older_and_that_is_said():
    assert {one.id for one in read_file("a.txt", REPLY.encode()).samples} == {"West 40", "East 40"}
    older = REPLY.replace("> Sample", "> Last year's results:\n> Sample", 1)
    reading = read_file("a.txt", older.encode())
    assert [one.id for one in reading.samples] == ["West 40"]
    assert any("Last year's results" in note for note in reading.notes)


def test_results_that_stand_only_in_the_quoted_message_are_read():
    text = "".join(f"> {line}\n" for line in REPLY.replace("> ", "").splitlines())
    text = "See below.\n" + text.replace("> Sample", "> Last year's results:\n> Sample", 1)
    assert len(read_file("a.txt", text.encode()).samples) == 2


def test_the_basis_behind_a_number_is_not_that_of_the_next_label():
    text = (
        "Sample: West 40\nWe found dry matter 87.6 % of fresh weight Crude protein 12.2 % of dry "
        "matter Ash 7.7 % of dry matter in it.\n"
    )
    (sample,) = read_file("a.txt", text.encode()).samples
    assert sample.of("cp", "ar") is None
    assert sample.of("cp", "dm") is not None
