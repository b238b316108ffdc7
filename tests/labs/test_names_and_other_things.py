"""Names beside the furniture of a page, and rows and files that are not of forage."""

from __future__ import annotations

import pytest

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import field_of, is_aside, label_of


def _reading(text: str) -> FileReading:
    return read_file("a.txt", text.encode())


def _names(text: str) -> list[tuple[str, str]]:
    return [(one.id, one.lab_no) for one in _reading(text).samples]


def _sure(text: str) -> dict[str, dict[str, float | None]]:
    """Return the sure values of each sample of a text by its name."""
    return {
        one.id: {v.analyte: v.value for v in one.values if v.status == "sure"}
        for one in _reading(text).samples
    }


_ACROSS = """\
{over}
All results 100% dry matter basis unless marked *
                                  ELM-E      PINE-W    MIX-BARN
Lab number                           338         339         340
----------------------------------------------------------------
Moisture % *                        14.0        14.4        15.8
Crude Protein %                      9.3        11.5        15.5
ADF %                               39.8        36.6        34.3
NDF %                               60.2        58.0        54.9
* as received
"""


@pytest.mark.parametrize(
    "over",
    [
        "ASH COUNTY EXTENSION          HAY ROOM\n"
        "Report date November 12, 2025                      Page 1",
        "Elder Bench                                        Sheet 2",
        "                                  HAY ROOM    COPY 2",
    ],
)
def test_names_stand_right_over_all_columns_and_not_in_the_title_of_the_page(over: str) -> None:
    assert _names(_ACROSS.format(over=over)) == [
        ("ELM-E", "338"),
        ("PINE-W", "339"),
        ("MIX-BARN", "340"),
    ]


_BARS = """\
Elder Bench -- hay tests, printed Oct 21, 2025 (NIRS)

| Test | Home 40 | Sand hill | Clover patch | {beside} |
|---|---|---|---|---|
| Lab ID | CW-1550 | CW-1551 | CW-1552 | |
| Moisture (%, as fed) | 14.5 | 13.8 | 15.5 | 14.7 |
| Crude protein (% DM) | 9.6 | 9.1 | 13.7 | 9.9 |
| ADF (% DM) | 39.1 | 40.0 | 34.1 | 38.0 |
| aNDF (% DM) | 61.7 | 64.2 | 51.8 | 62.0 |
"""


@pytest.mark.parametrize("beside", ["2024 avg", "County mean", "Goal", "Last year"])
def test_a_column_beside_the_samples_shifts_no_name_to_other_values(beside: str) -> None:
    read = _sure(_BARS.format(beside=beside))
    assert {name: values["cp"] for name, values in read.items()} == {
        "Home 40": 9.6,
        "Sand hill": 9.1,
        "Clover patch": 13.7,
    }


@pytest.mark.parametrize(
    ("head", "named"),
    [
        ("Sample: West 40     Lab No: WW3387     Sampled: Oct 11, 2025", ("West 40", "WW3387")),
        ("Sample ID: West 40; Lab #: 3387; Received: Oct 12, 2025", ("West 40", "3387")),
        ("Sample: West 40 | Lab number: A-3387", ("West 40", "A-3387")),
        ("Sample West 40 — lab no. 55-2019", ("West 40", "55-2019")),
        ("Sample 61120-1   ID: West 40", ("West 40", "61120-1")),
    ],
)
def test_name_and_number_in_one_line_are_told_apart(head: str, named: tuple[str, str]) -> None:
    lines = f"{head}\n\nDry matter basis\nCrude protein  12.2 %\nADF  35.1 %\nNDF  55.5 %\n"
    assert _names(lines) == [named]


def test_a_heading_of_a_form_is_no_name() -> None:
    form = (
        "Sample Description        Farm Code            Lab Sample No.\n"
        "Third cut, hay shed       00731                A25-20417\n\n"
        "Components                As Received   Dry Matter\n"
        "Crude protein %               17.2        19.2\n"
        "ADF %                         27.8        31.1\n"
        "NDF %                         37.4        41.8\n"
    )
    assert _names(form) == [("Third cut, hay shed", "A25-20417")]


def test_short_numbers_of_a_series_before_names_are_the_laboratory_s() -> None:
    told = (
        "All on dry matter except DM.\n\n{}: DM 86.2%, CP 9.5%, ADF 37.8%, NDF 59.9%.\n\n"
        "{}: DM 83.2%, CP 9.8%, ADF 39.8%, NDF 62.6%.\n"
    )
    assert _names(told.format("SF-31 north oats", "SF-32 sudan by the road")) == [
        ("north oats", "SF-31"),
        ("sudan by the road", "SF-32"),
    ]
    bare = dict(_names(told.format("SF-31 north oats", "Sudan by the road")))
    assert "north oats" not in bare


_LIST = """\
FORAGES (dry matter basis; DM as received)
No.,Sample,DM %,CP %,ADF %,NDF %,Ca %,P %
RV-7,Orchard field,85.1,12.3,40.0,61.5,0.44,0.26
RV-8,Upper bench,87.7,9.7,38.7,60.0,0.33,0.22

{other}
"""


@pytest.mark.parametrize(
    "other",
    [
        "WATER\nNo.,Sample,pH,NO3-N mg/L,TDS mg/L,Sulfate mg/L\nRV-10,House well,7.1,4.2,410,38",
        "Soil tests\nNo.,Sample,pH,P ppm,K ppm,OM %\nRV-11,Field 9,6.3,22,140,3.4",
        "WATER RESULTS\nNo.,Sample,pH,Nitrate ppm\nRV-10,House well,7.1,4.2\n\n"
        "SOIL\nNo.,Sample,pH,P ppm,K ppm\nRV-11,Field 9,6.3,22,140",
    ],
)
def test_rows_under_a_title_of_water_or_soil_are_no_hay(other: str) -> None:
    reading = _reading(_LIST.format(other=other))
    assert [one.id for one in reading.samples] == ["Orchard field", "Upper bench"]
    assert any("passed over" in note for note in reading.notes)


def test_hay_under_a_title_of_its_own_behind_water_is_read() -> None:
    text = (
        "WATER\nNo.,Sample,pH,Nitrate ppm\nRV-10,House well,7.1,4.2\n\n"
        "HAY (dry matter basis)\nNo.,Sample,CP %,ADF %,NDF %\nRV-7,Soil bank field,12.3,40,61.5\n"
        "RV-8,Water meadow,9.7,38.7,60.0\n"
    )
    assert [one.id for one in _reading(text).samples] == ["Soil bank field", "Water meadow"]


@pytest.mark.parametrize("name", ["Well water", "Stock pond water", "House well water", "Topsoil"])
def test_a_column_or_a_row_of_water_among_hay_is_no_sample(name: str) -> None:
    across = (
        f"Results on 100% dry matter unless marked\n,,North barn,South barn,{name}\n"
        "Clinic no.,,411,412,414\nMoisture as received,%,10.8,12.2,-\nCrude protein,%,10.1,13.4,-\n"
        "ADF,%,37.4,34.7,-\nNDF,%,58.3,51.7,-\nNitrate (NO3),ppm,1302,739,18\npH,,-,-,7.4\n"
    )
    assert list(_sure(across)) == ["North barn", "South barn"]
    rows = (
        "All on dry matter\nSample,CP %,ADF %,NDF %,Nitrate (NO3) ppm,pH\n"
        f"North barn,10.1,37.4,58.3,1302,\nSouth barn,13.4,34.7,51.7,739,\n{name},,,,18,7.4\n"
    )
    assert list(_sure(rows)) == ["North barn", "South barn"]


def test_a_column_of_water_is_still_moisture() -> None:
    text = (
        "Sample,Water % (as received),CP % DM,ADF % DM\n"
        "West 40,12.2,10.1,37.4\nEast,11.0,9.9,38.0\n"
    )
    assert _sure(text)["West 40"]["moisture"] == 12.2


@pytest.mark.parametrize("head", ["GUARANTEED ANALYSIS", "Guaranteed Nutrients:"])
def test_the_tag_of_a_bought_feed_is_refused(head: str) -> None:
    reading = _reading(
        f"RANGE CUBE 32\nFor beef cattle\n{head}\nCrude Protein, minimum ........ 32.0 %\n"
        "Crude Fat, minimum ............ 2.0 %\nPhosphorus, minimum ........... 0.9 %\n"
        "Ingredients: plant protein products, molasses, urea.\n"
    )
    assert not reading.samples
    assert "guarantee" in reading.refused


@pytest.mark.parametrize(
    "text",
    ["Goal, dry cow", "Goals: ewes", "Valeurs repères foin", "Valores de referencia", "Promedio"],
)
def test_goals_and_guides_are_no_samples(text: str) -> None:
    assert is_aside(text)


@pytest.mark.parametrize("text", ["Goal Post field", "Ideal farm north", "Aimsworth"])
def test_names_that_begin_with_such_words_are_samples(text: str) -> None:
    assert not is_aside(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Protéines brutes (N x 6,25) %", ("cp", "pct")),
        ("Lignina (LDA) %", ("lignin", "pct")),
        ("MS (g/kg brut)", ("dm", "g_per_kg")),
        ("MS (g/kg de brut)", ("dm", "g_per_kg")),
    ],
)
def test_labels_of_other_languages_with_their_brackets(
    text: str, expected: tuple[str, str]
) -> None:
    label = label_of(text)
    assert label is not None
    assert (label.candidates[0], label.unit) == expected


def test_codes_of_farms_name_no_sample() -> None:
    assert [field_of(one) for one in ("Farm Code", "Herd no.", "Owner ID", "Case")] == [
        "order",
        "order",
        "id",
        "lab_no",
    ]


_NOTES = (
    "Moisture is given as received. All other results are on a dry matter basis.",
    "The moisture is as received. Everything else is on dry matter.",
    "Water content was determined as received. Results are on a dry matter basis.",
)


@pytest.mark.parametrize("note", _NOTES)
def test_a_sentence_on_moisture_alone_says_nothing_of_the_others(note: str) -> None:
    lines = "Sample: West 40\nMoisture  10.4 %\nProtein  9.5 %\nADF  37.6 %\nNDF  64.4 %\n"
    reading = _reading(f"{lines}\n{note} Usual = range in our files.\n")
    assert {v.analyte: v.basis for v in reading.samples[0].values if v.status == "sure"} == {
        "moisture": "ar", "cp": "dm", "adf": "dm", "ndf": "dm",
    }  # fmt: skip


@pytest.mark.parametrize("basis", ["Dry matter basis", "On a dry matter basis", "Dry basis"])
def test_a_basis_before_a_list_of_values_is_theirs(basis: str) -> None:
    text = "".join(
        f"Sample: {name}   (lab no. HF-22{n}, sampled August 25, 2025)\n  Moisture 11.6 %\n"
        f"  {basis}: CP 15.1 %, ADF 36.1 %, NDF 50.5 %, TDN 60.8 %\n  Ca 0.82 %, P 0.27 %\n\n"
        for n, name in enumerate(("Hartle bottom", "Hartle top"))
    )
    for values in _sure(text).values():
        assert values == {"moisture": 11.6, "cp": 15.1, "adf": 36.1, "ndf": 50.5, "tdn": 60.8,
                          "ca": 0.82, "p": 0.27}  # fmt: skip
    assert list(_sure(text)) == ["Hartle bottom", "Hartle top"]


@pytest.mark.parametrize("beside", ["Goal", "Limit", "Normal"])
def test_a_goal_beside_numbered_samples_has_no_number_of_its_own(beside: str) -> None:
    reading = _reading(
        f"Lab number,,AG 2660,AG 2661,\nSample,,N. bench,Upper,{beside}\n"
        "Moisture as received,%,14.3,11.2,< 15\nCrude protein dry,%,17.1,19.2,18.0\n"
        "ADF dry,%,31.8,33.4,32.0\nNDF dry,%,39.4,43.7,42.0\n"
    )
    assert [one.id for one in reading.samples] == ["N. bench", "Upper"]


def test_nitrate_is_told_in_another_language_by_its_form():
    assert label_of("Nitrato como KNO3").candidates == ("nitrate_kno3",)
