"""Kinds of layout in small: what is read from each, and what is asked."""

from __future__ import annotations

import io
from datetime import date

import openpyxl
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
SENTENCES = """The figures are all on dry matter; moisture is of the bales as they came.

West 40 (brome, sampled July 8, 2025) came in at 88.1 percent dry matter. Crude protein is 12.2
percent, ADF stands at 35.1 and NDF at 55.5 percent.

East 40 (alfalfa, sampled July 9, 2025) had 86.1 percent dry matter, 15.2 percent crude protein,
33.1 percent ADF. The price for each was $24.50.
"""
STATED = """Hay survey    Mcal/lb, % of DM (dry matter: % as is)
Lab   Sample    Dry matter   CP     ADF
771   West 40   88.1         12.2   35.1
772   East 40   86.1         15.2   33.1
"""


@pytest.mark.parametrize(
    "text",
    [CODED, BRACKETS, SHARED, STACKED, LISTED, OVER, FRACTIONS, LETTER, SENTENCES, STATED],
    ids=[
        "coded",
        "brackets",
        "shared",
        "stacked",
        "listed",
        "over",
        "fractions",
        "letter",
        "sentences",
        "stated",
    ],
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


TWO_COLUMNS_EACH = """Hay results 2025;;;;;
;West 40;;East 40;;
;As fed;Dry;As fed;Dry;Goal
Moisture %;11,9;;13,9;;<15
Protein %;10,7;12,2;13,1;15,2;12
ADF %;30,9;35,1;28,5;33,1;
NDF %;48,9;55,5;41,8;48,5;
"""
NUMBER_BEHIND = """WEST 40 (771)            EAST 40 (772)
DM      88.1 % as rec.   DM      86.1 % as rec.
CP      12.2 % DM        CP      15.2 % DM
ADF     35.1 % DM        ADF     33.1 % DM
NDF     55.5 % DM        NDF     48.5 % DM
"""
LINE_EACH = """From: lab@example.invalid
To: grower@example.invalid
Subject: RE: hay

Here you go.

West 40 - 88.1 DM, 12.2 CP, 35.1 ADF, 55.5 NDF
East 40 - 86.1 DM, 15.2 CP, 33.1 ADF, 48.5 NDF

CP, ADF and NDF are on a dry basis.

> -----Original message-----
> Last year West 40 was 10.1 CP, did it improve?
"""
YEARS_IN_HEADS = """Field,Cut,Lab,2025 CP % DM,2024 CP % DM,2025 ADF % DM,2024 ADF % DM,2025 DM % AR
West 40,1,771,12.2,11.0,35.1,36.6,88.1
East 40,2,772,15.2,14.0,33.1,33.9,86.1
"""
NUMBER_IN_NAME = """Sample,DM% (AR),CP% (DM),ADF% (DM)
"Lab 771   West 40",88.1,12.2,35.1
"Lab 772   East 40",86.1,15.2,33.1
"""
LED_BY_NUMBER = """LAB RESULTS                    Units: % of dry matter
Lab 771 West 40   moist 11.9 (as rec'd)  prot 12.2  adf 35.1  ndf 55.5
Lab 772 East 40   moist 13.9 (as rec'd)  prot 15.2  adf 33.1  ndf 48.5
"""
GERMAN = """Lab;Sample;TM %;RP g/kg TM;ADF g/kg TM;NDF g/kg TM;NEL MJ/kg TM
771;West 40;88,1;122;351;555;5,61
772;East 40;86,1;152;331;485;5,83
"""
GOAL_BETWEEN = """Sample,Moisture,Crude Protein,ADF,NDF,TDN,NEm,RFV
,As Received,Dry,Dry,Dry,Dry,Dry,
,%,%,%,%,%,Mcal/lb,
West 40,11.9,12.2,35.1,55.5,61.2,0.61,103
,,,,,,,
Goal,<15,>12,<35,<55,>60,>.60,>100
East 40,13.9,15.2,33.1,48.5,62.8,0.64,121
Limit of detection,0.1,0.1,0.1,0.1,,,
"""


@pytest.mark.parametrize(
    "text",
    [
        TWO_COLUMNS_EACH, NUMBER_BEHIND, LINE_EACH, YEARS_IN_HEADS, NUMBER_IN_NAME,
        LED_BY_NUMBER, GOAL_BETWEEN,
    ],
    ids=["two", "behind", "line", "years", "number", "led", "goal"],
)  # fmt: skip
def test_protein_and_fiber_of_both_are_sure(text: str) -> None:
    first, second = read_file("a.txt", text.encode()).samples
    for sample, name, protein, fiber in (
        (first, "west 40", 12.2, 35.1),
        (second, "east 40", 15.2, 33.1),
    ):
        sure = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
        assert sample.id.casefold() == name
        assert (sure["cp", "dm"], sure["adf", "dm"]) == (protein, fiber)


def test_words_of_other_languages_are_read() -> None:
    first, _ = read_file("a.csv", GERMAN.encode()).samples
    assert {v.analyte: v.value for v in first.values} == pytest.approx(
        {"dm": 88.1, "cp": 122.0, "adf": 351.0, "ndf": 555.0, "nel": 5.61}
    )


def test_a_column_at_ninety_percent_is_passed_over() -> None:
    text = (
        "Sample: West 40\n\n                  As Received    Dry Matter    90% DM\n"
        "Dry Matter             88.1         100.0       90.0\n"
        "Crude Protein          10.7          12.2       11.0\n"
        "ADF                    30.9          35.1       31.6\n"
    )
    (only,) = read_file("a.txt", text.encode()).samples
    assert [(v.basis, v.value) for v in only.values if v.analyte == "cp"] == [
        ("ar", 10.7),
        ("dm", 12.2),
    ]
    assert not only.questions


def test_a_sign_beside_the_result_counts() -> None:
    text = (
        "sample,analyte,value,units,basis,qualifier\nWest 40,CP,12.2,%,DM,\n"
        "West 40,NO3-N,50,mg/kg,DM,<\nWest 40,Se,0.05,mg/kg,DM,U\n"
    )
    (only,) = read_file("a.csv", text.encode()).samples
    assert [(v.op, v.status) for v in only.values] == [("=", "sure"), ("<", "sure"), ("=", "ask")]


def test_earlier_years_of_a_sample_are_passed_over() -> None:
    text = (
        "Sample,Year,DM % AR,CP % DM,ADF % DM\nWest 40,2024,87.7,11.9,35.5\n"
        "West 40,2025,88.1,12.2,35.1\n"
    )
    (only,) = read_file("a.csv", text.encode()).samples
    assert [v.value for v in only.values] == [88.1, 12.2, 35.1]


def test_a_test_of_soil_is_refused() -> None:
    text = "Soil sample,Field,pH,Buffer pH,K ppm\nS1,West,6.1,6.3,141\nS2,East,6.2,6.4,142\n"
    assert "soil" in read_file("a.csv", text.encode()).refused


def test_dates_of_one_file_are_asked_together() -> None:
    # The second sample alone would tell that the month comes first; the first does not.
    text = (
        "Sample,Sampled,Reported,CP % DM,ADF % DM\n"
        "West 40,06/03/2025,08/04/2025,12.2,35.1\nEast 40,06/05/2025,08/04/2025,15.2,33.1\n"
    )
    for sample in read_file("a.csv", text.encode()).samples:
        assert sample.asked == {"sampled_on", "reported_on"}


MAIL_TABLE = """Date of report: 14 November 2025

| Test | Unit | K-118 Dry cow bales | K-119 Milk cow bag |
|---|---|---:|---:|
| Dry matter | % | 86.2 | 42.8 |
| pH |  | -- | 4.47 |
| Crude protein | % DM | 11.9 | 21.4 |
| NDF | % DM | 62.2 | 39.3 |
"""


def test_a_table_drawn_with_bars_holds_samples_in_its_columns() -> None:
    first, second = read_file("a.txt", MAIL_TABLE.encode()).samples
    assert (first.id, first.lab_no, second.id) == ("Dry cow bales", "K-118", "Milk cow bag")
    values = [v for one in (first, second) for v in one.values if v.analyte == "cp"]
    assert [(v.value, v.basis, v.status) for v in values] == [
        (11.9, "dm", "sure"),
        (21.4, "dm", "sure"),
    ]


NITRATE_LIST = """Nitrate results, dry matter basis

N-201  Sudan 1   1165 ppm NO3-N
N-202  Sudan 2   5076 ppm KNO3 (potassium nitrate)
N-203  Oats      2540 ppm nitrate

Dry matter: N-201 87.4 %, N-202 89.8 %, N-203 87.3 %
"""


def test_a_list_of_nitrate_keeps_its_forms_and_asks_for_the_one_not_printed() -> None:
    samples = read_file("a.txt", NITRATE_LIST.encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Sudan 1", "N-201"),
        ("Sudan 2", "N-202"),
        ("Oats", "N-203"),
    ]
    assert [
        [(v.analyte, v.value, v.status) for v in one.values if v.analyte != "dm"] for one in samples
    ] == [
        [("nitrate_no3n", 1165.0, "sure")],
        [("nitrate_kno3", 5076.0, "sure")],
        [("nitrate", 2540.0, "ask")],
    ]


def test_a_date_beside_a_name_is_no_name_and_last_years_column_no_sample() -> None:
    text = (
        "Test no.,T1,Taken,2025-08-05,\nYour mark,Mule barn,Came in,2025-08-07,\n\n"
        "Nutrient,Result,Unit,Common range,Your 2024 result\n"
        "Dry matter,87.9,%,85-92,88.1\nCrude protein,8.5,% of DM,7-12,9.0\n"
        "ADF,37.9,% of DM,34-42,38.2\n"
    )
    (only,) = read_file("a.csv", text.encode()).samples
    assert (only.id, only.received_on) == ("Mule barn", date(2025, 8, 7))
    assert [v.value for v in only.values] == [87.9, 8.5, 37.9]


@pytest.mark.parametrize("words", ["Lowest", "Upland grass in general", "Your stacks of 2023"])
def test_rows_without_a_number_behind_a_mean_are_no_samples(words: str) -> None:
    text = (
        "Field,Lab No,DM %,CP % DM,ADF % DM\nRidge 12,770,85.4,8.9,35.1\n"
        f"Bench,771,87.2,10.3,38.8\nMean of your lots,,86.3,9.6,37.0\n{words},,85.4,8.9,35.1\n"
    )
    assert [one.id for one in read_file("a.csv", text.encode()).samples] == ["Ridge 12", "Bench"]


TWO_TABLES = """Table 1. Organic part (dry basis except dry matter)
No.,Sample,Dry matter %,Protein %,ADF %
31-1,Gable A,85.8,15.8,35.4
31-2,Gable B,87.9,11.2,36.9


Table 2. Minerals (dry basis)
{head},Ca %,P %,Mg %
{first},0.82,0.25,0.21
{second},0.45,0.24,0.20
"""


@pytest.mark.parametrize(
    ("head", "first", "second"),
    [("No.", "31-1", "31-2"), ("Sample", "Gable A (continued)", "GABLE B")],
)
def test_a_second_table_goes_on_with_the_samples_of_the_first(
    head: str, first: str, second: str
) -> None:
    text = TWO_TABLES.format(head=head, first=first, second=second)
    samples = read_file("a.csv", text.encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [("Gable A", "31-1"), ("Gable B", "31-2")]
    assert [value.value for one in samples if (value := one.of("ca"))] == [0.82, 0.45]


@pytest.mark.parametrize(
    "title", ["For comparison: the results of the year before", "Last year's results"]
)
def test_a_sheet_of_the_year_before_is_no_result(title: str) -> None:
    book = openpyxl.Workbook()
    for sheet, rows in (
        (book.active, [("CV11", "Pasture 5", 87.1, 10.1, 37.3)]),
        (book.create_sheet("Before"), [("CV01", "Pasture 5", 86.5, 10.0, 35.5)]),
    ):
        sheet.append(["Results" if sheet is book.active else title])
        sheet.append(["Lab no.", "Sample", "DM %", "CP % DM", "ADF % DM"])
        for row in rows:
            sheet.append(row)
    kept = io.BytesIO()
    book.save(kept)
    assert [one.lab_no for one in read_file("a.xlsx", kept.getvalue()).samples] == ["CV11"]


@pytest.mark.parametrize("heads", ["Proben-Nr.;Kennung", "Labor-Nr.;Bezeichnung"])
def test_a_number_and_a_name_headed_in_german_are_told_apart(heads: str) -> None:
    text = f"{heads};TM %;ADFom % TM;aNDFom % TM\nB-900;Auwald 3;89,5;39,5;63,6\n"
    (only,) = read_file("a.csv", text.encode()).samples
    assert (only.id, only.lab_no) == ("Auwald 3", "B-900")


@pytest.mark.parametrize(("starch", "status"), [(2.9, "ask"), (28.9, "sure")])
def test_little_starch_is_asked_about_where_the_other_parts_leave_much(
    starch: float, status: str
) -> None:
    text = (
        "Lab no,Sample,DM % AR,CP % DM,ADF % DM,NDF % DM,Starch % DM,Fat % DM,Ash % DM\n"
        f"R19,Dam,33.7,8.8,24.0,40.9,{starch},3.2,4.2\n"
    )
    (only,) = read_file("a.csv", text.encode()).samples
    assert [v.status for v in only.values if v.analyte == "starch"] == [status]


def test_a_sentence_that_tells_of_several_samples_at_once_is_asked_about() -> None:
    text = (
        "For West 40 (lab 771) and East 40 (lab 772), on the dry basis protein was 12.2 and 15.2 "
        "percent and ADF 35.1 and 33.1 percent, respectively.\n"
    )
    values = [v for one in read_file("a.txt", text.encode()).samples for v in one.values]
    assert values
    assert {v.status for v in values} == {"ask"}


def test_means_without_a_name_are_no_sample() -> None:
    text = (
        "Lab,Sample,CP % DM,ADF % DM,NDF % DM\n771,West 40,12.2,35.1,55.5\n"
        "772,East 40,15.2,33.1,48.5\n,,13.7,34.1,52.0\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == ["West 40", "East 40"]
    text = text.replace("13.7,34.1", "12.1,38.4")
    last = read_file("a.csv", text.encode()).samples[-1]
    assert {v.status for v in last.values} == {"ask"}


def test_moisture_and_dry_matter_that_do_not_add_up_are_asked_about_once() -> None:
    text = (
        "Lab no: 771\nSample: West 40\n\nTest,Unit,As received,Dry matter\nMoisture,%,13.7,\n"
        "Dry matter,%,89.0,\nCrude protein,%,8.5,9.9\nADF,%,34.1,39.5\nNDF,%,54.7,63.4\n"
    )
    (only,) = read_file("a.csv", text.encode()).samples
    (asked,) = only.questions
    assert (asked.key, asked.default) == ("dm and moisture", "moisture")
    assert {v.analyte for v in only.values if v.status != "sure"} == {"dm", "moisture"}


def test_the_order_of_dates_is_asked_once_for_a_file() -> None:
    text = (
        "Lab,Sample,Sampled,CP % DM,ADF % DM\n771,West 40,06/03/2025,12.2,35.1\n"
        "772,East 40,06/05/2025,15.2,33.1\n"
    )
    samples = read_file("a.csv", text.encode()).samples
    (asked,) = [question for one in samples for question in one.questions]
    assert "holds for 2 dates" in asked.text
    assert all(one.asked == {"sampled_on"} for one in samples)


#: A word that is short for an analyte, and here says that it was not tested.
NOT_ORDERED = """Lab no,Sample,DM %,CP % DM,Se mg/kg DM,ADF % DM
771,West 40,88.1,12.2,0.16,35.1
772,East 40,86.1,15.2,ni,33.1
773,Hill,87.0,14.0,0.11,34.0
ni = not in the package
"""
#: A row of headings, each of which is broken into lines, as a spreadsheet saves it.
BROKEN_HEADS = """Bench report,,,
"Lab
No.",Sample,"Dry
Matter
(%)","Crude
Protein
(% DM)","ADF
(% DM)","Cost
($/ton)"
771,"West 40, top",88.1,12.2,35.1,18.00
772,"East 40, top",86.1,15.2,33.1,19.00
"""
YOUR_HAY = """Sample: West 40
All figures on a dry matter basis, except moisture.

                     YOUR HAY     TYPICAL   LAST YEAR
Moisture, %              11.9     10 - 16        10.9
Crude protein, %         12.2      8 - 13        11.0
ADF, %                   35.1     33 - 40        38.0
"""


def test_a_word_that_is_short_for_an_analyte_ends_no_table() -> None:
    samples = read_file("a.csv", NOT_ORDERED.encode()).samples
    assert [one.id for one in samples] == ["West 40", "East 40", "Hill"]
    adf = [one.of("adf", "dm") for one in samples]
    assert [one.value for one in adf if one is not None] == [35.1, 33.1, 34.0]


def test_headings_broken_into_lines_are_one_row_and_a_cost_makes_no_price_list() -> None:
    samples = read_file("a.csv", BROKEN_HEADS.encode()).samples
    assert [one.id for one in samples] == ["West 40, top", "East 40, top"]
    assert [one.lab_no for one in samples] == ["771", "772"]
    got = {(v.analyte, v.basis): v.value for v in samples[0].values if v.status == "sure"}
    assert got == _FIRST


def test_your_hay_beside_what_is_typical_heads_a_column_and_names_no_sample() -> None:
    (sample,) = read_file("a.txt", YOUR_HAY.encode()).samples
    got = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
    assert sample.id == "West 40"
    assert got == {("moisture", "ar"): 11.9, ("cp", "dm"): 12.2, ("adf", "dm"): 35.1}


#: A sentence that is broken in the midst of its statement.
BROKEN_SENTENCE = """Dear Mr. Pell,
the two samples you brought in are done. The table gives all of them on a dry matter
basis, but for the dry matter itself, which is of the hay as it came to us.

Your name   Our no.   Dry matter %   Protein %   ADF %
West 40     771       88.1           12.2        35.1
East 40     772       86.1           15.2        33.1
"""
#: Each basis stands in the middle over a column of percent and one of grams in a pound.
CENTRED = """Sample: West 40
                          As Sampled            Dry Matter
                       %        g/lb         %        g/lb
Dry matter           88.1
Crude protein        10.7       48.8       12.2       55.3
ADF                  30.9      140.3       35.1      159.2
Minerals in mg        ppm      mg/lb        ppm      mg/lb
Iron                  194         88        220        100
"""
#: A heading of two columns between which one space is left.
GLUED = """Lab no.: 771
Sample: West 40

Parameter          Unit   As received Dry matter Usual
Dry matter         %             88.1
Crude protein      %             10.7       12.2  8-14
ADF                %             30.9       35.1  33-40
NDF                %             48.9       55.5  50-60
"""
KINDS_AND_NAMES = """All on dry matter, moisture as sampled

Lot,Moisture %,CP %,ADF %
A stack,11.9,12.2,35.1
Third cutting,13.9,15.2,33.1
B stack,12.0,13.0,34.0
"""
TALKED = """hey, both tests came back.

the orchardgrass from the west lot: moisture 11.9%, crude protein 12.2%, ADF 35.1%.
the clover mix in the shed: moisture 13.9%, crude protein 15.2%, ADF 33.1%.

their paper says everything but the moisture is on a dry matter basis. The hay you had
from me in 2023 was 13% protein.
"""


def test_a_basis_that_a_letter_tells_over_two_lines_holds() -> None:
    samples = read_file("a.txt", BROKEN_SENTENCE.encode()).samples
    assert [one.id for one in samples] == ["West 40", "East 40"]
    got = {(v.analyte, v.basis): v.value for v in samples[0].values if v.status == "sure"}
    assert got == _FIRST


def test_a_basis_in_the_middle_over_several_columns_is_that_of_each() -> None:
    (sample,) = read_file("a.txt", CENTRED.encode()).samples
    got = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
    assert got == {
        **_FIRST, ("cp", "ar"): 10.7, ("adf", "ar"): 30.9, ("fe", "ar"): 194, ("fe", "dm"): 220,
    }  # fmt: skip


def test_headings_printed_close_together_are_parted_by_their_columns() -> None:
    (sample,) = read_file("a.txt", GLUED.encode()).samples
    got = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
    assert got == {
        **_FIRST, ("cp", "ar"): 10.7, ("adf", "ar"): 30.9, ("ndf", "ar"): 48.9, ("ndf", "dm"): 55.5,
    }  # fmt: skip


def test_a_kind_of_hay_among_names_is_a_name() -> None:
    samples = read_file("a.csv", KINDS_AND_NAMES.encode()).samples
    assert [one.id for one in samples] == ["A stack", "Third cutting", "B stack"]


def test_lots_told_before_a_colon_in_a_message_are_parted() -> None:
    samples = read_file("a.txt", TALKED.encode()).samples
    assert [one.id for one in samples] == ["orchardgrass", "clover mix"]
    got = [(one.of("cp", "dm"), one.of("moisture", "ar")) for one in samples]
    assert [(cp.value, water.value) for cp, water in got if cp and water] == [
        (12.2, 11.9),
        (15.2, 13.9),
    ]


#: Each line has one value, under the one heading or under the other.
ONE_EACH = """Sample: West 40        Lab no. 771

                 As received      Dry
Moisture %           11.9
Crude protein %                  12.2
ADF %                            35.1
"""


def test_the_one_value_of_each_line_stands_under_its_own_heading() -> None:
    (sample,) = read_file("a.txt", ONE_EACH.encode()).samples
    assert (sample.id, sample.lab_no) == ("West 40", "771")
    got = {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
    assert got == {("moisture", "ar"): 11.9, ("cp", "dm"): 12.2, ("adf", "dm"): 35.1}


NUMBERED_MEAN = """Lab no,Sample,Moisture %,CP %,ADF %
K-771,Mean Creek,11.9,12.2,35.1
K-772,East 40,13.9,15.2,33.1
,Mean,12.9,13.7,34.1
Results are expressed on 100 % dry matter (moist. as received).
"""


def test_a_name_that_begins_as_a_mean_does_is_a_sample_where_it_has_a_number() -> None:
    samples = read_file("a.csv", NUMBERED_MEAN.encode()).samples
    assert [one.id for one in samples] == ["Mean Creek", "East 40"]
    got = {(v.analyte, v.basis): v.value for v in samples[0].values if v.status == "sure"}
    assert got == {("moisture", "ar"): 11.9, ("cp", "dm"): 12.2, ("adf", "dm"): 35.1}
