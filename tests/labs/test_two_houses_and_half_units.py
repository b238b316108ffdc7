"""Two laboratories on one sheet, codes of one column, halves of units, and bases told late."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file
from rickyard.labs.legends import legend_of

Told = tuple[str, float | None, str, str, str]


def read(text: str, name: str = "a.csv") -> FileReading:
    return read_file(name, text.encode())


def told(text: str, sample: int = 0, name: str = "a.csv") -> list[Told]:
    values = read(text, name).samples[sample].values
    return [(one.analyte, one.value, one.unit, one.basis, one.status) for one in values]


def test_one_hay_at_two_laboratories_is_two_samples() -> None:
    text = (
        "Laboratory: Bittern Row (NIR); all as received\n"
        "Name,Water %,CP %,NDF %\nNorth,14.7,9.1,48.5\n"
        "\nLaboratory: Sedge Quay (wet chemistry); all dry; DM as received\n"
        "Name,CP %,NDF %,Ca %,DM %\nNorth,10.2,57.4,0.5,84.9\n"
    )
    samples = read(text).samples
    assert [(one.id, one.method) for one in samples] == [
        ("North", "NIR"),
        ("North", "wet chemistry"),
    ]


def test_traces_without_a_unit_anywhere_are_asked() -> None:
    text = "dry basis except DM (as received)\nBag,DM,CP,ADF,NDF,Zn\nA1,86.3,10.7,34.4,55.1,33\n"
    assert [one[0] for one in told(text) if one[-1] == "ask"] == ["zn"]
    assert all(one[-1] == "sure" for one in told(text.replace("dry b", "Zn in ppm. dry b")))


def test_each_column_of_codes_has_a_key_of_its_own() -> None:
    rows = (("DM", 88.4, 1, "p"), ("CP", 110, 2, "g"), ("P", 3.1, 2, "g"), ("K", 16.8, 2, "p"))
    text = "bag;assay;figure;b;u\n" + "".join(f"Nordhang;{a};{f};{b};{u}\n" for a, f, b, u in rows)
    text += "\ncolumn b\n1;as received\n2;dry matter\n\ncolumn u\np;per cent\ng;g/kg\n"
    assert told(text) == [
        ("dm", 88.4, "pct", "ar", "sure"),
        ("cp", 110.0, "g_per_kg", "dm", "sure"),
        ("p", 3.1, "g_per_kg", "dm", "sure"),
        ("k", 16.8, "pct", "dm", "ask"),  # more than any forage has
    ]


def test_a_line_of_a_key_with_commas_is_none_of_prose() -> None:
    text = "lab_ref;bag;test_code;run;status;result\n" + "".join(
        f"6-70;upper;{code};1;final;{result}\n"
        for code, result in (("DMO", 89.4), ("PRN", 8.5), ("NDFA", 61.1))
    )
    text += (
        "\nDMO;dry matter, % of the sample as received\nPRN;crude protein, % of dry matter\n"
        "NDFA;neutral detergent fibre with amylase, % of dry matter\n"
    )
    assert [one[:2] for one in told(text)] == [("dm", 89.4), ("cp", 8.5), ("ndf", 61.1)]


def test_units_stand_between_an_analyte_and_its_two_bases() -> None:
    text = (
        "Sample,Moisture,Protein,,ADF,\n,%,%,%,%,%\n,AR,AR,DM,AR,DM\n"
        "Ridge,16.0,12.3,14.6,28.9,34.4\nFlat,11.0,9.2,10.3,35.0,39.3\n"
    )
    assert [(one[0], one[3]) for one in told(text)] == [
        ("moisture", "ar"), ("cp", "ar"), ("cp", "dm"), ("adf", "ar"), ("adf", "dm"),
    ]  # fmt: skip


def test_a_letter_between_number_and_values_tells_the_basis_of_a_line() -> None:
    text = (
        "TAG               REF            DM%    CP%   ADF%   NDF%\n"
        "RIVER PDK         D19     A     84.5    7.4   29.6   48.4\n"
        "                          D             8.8   35.0   57.3\n"
        "ROAD BALES        D20     A     90.9   18.3   32.9   39.5\n"
        "                          D            20.1   36.2   43.5\n\n"
        "A  AS RECEIVED      D  DRY MATTER\n"
    )
    assert [one.lab_no for one in read(text, "a.txt").samples] == ["D19", "D20"]
    assert [(one[0], one[3]) for one in told(text, 1, "a.txt") if one[0] == "cp"] == [
        ("cp", "ar"), ("cp", "dm"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("value", "analyte"),
    [("0.25 % NO3 in DM", "nitrate_no3"), ("2500 ppm NO3-N (DM)", "nitrate_no3n"),
     ("0.4 % of DM as KNO3", "nitrate_kno3")],
)  # fmt: skip
def test_the_form_of_nitrate_stands_among_unit_and_basis(value: str, analyte: str) -> None:
    text = f"Sample: East\nCrude protein: 12.0 % of DM\nADF: 36 % of DM\nNitrate: {value}\n"
    assert (analyte, "dm", "sure") in [(one[0], *one[3:]) for one in told(text, name="a.txt")]


@pytest.mark.parametrize(
    "sentence",
    ["The table gives dry matter figures; only moisture refers to the hay as we received it.",
     "Shares are of dry matter; moisture is of the bag as it came.",
     "Unless marked AF figures are DM", "Fractions of dry matter, save moisture (as is)",
     "we report on dry matter", "Datos referidos a materia seca; humedad tal como se recibió"],
)  # fmt: skip
def test_more_ways_to_say_that_all_is_dry(sentence: str) -> None:
    assert legend_of([sentence]).basis == "dm"


def test_which_of_two_numbers_is_which_is_said_of_none_alone() -> None:
    assert not legend_of(["numbers on the left are as fed, on the right dry"]).bases


def test_half_a_unit_is_made_whole_by_a_sentence() -> None:
    assert legend_of(["Energy per lb of dry matter"]).unit_of["neg"] == "mcal_per_lb"
    text = 'All dry. {}\nName,CP %,ADF %,"NEg, Mcal"\nWest,11.2,36.1,0.37\nEast,12.0,35.0,0.38\n'
    assert told(text.format("Energy per lb of dry matter"))[-1][-1] == "sure"
    assert told(text.format(""))[-1][-1] == "ask"


def test_what_ends_a_sentence_is_of_all_in_it() -> None:
    text = (
        "Hello,\n\nthe hay has 12.2% crude protein and 37.0% ADF on dry matter. Calcium was 0.49% "
        "and phosphorus 0.23%, dry basis again.\n"
    )
    assert {one[3:] for one in told(text, name="a.txt")} == {("dm", "sure")}


def test_letters_of_a_test_behind_means_are_no_part_of_them() -> None:
    text = (
        ",Creek,Cedar,SEM,P value\nCP (% DM),10.6b,12.2 a,0.4,<0.01\n"
        "ADF (% DM),37.6ab,38.7ab,0.4,NS\n"
        "NDF (% DM),62.1a,57.0b,0.4,0.03\nMeans without a common letter differ (P < 0.05).\n"
    )
    assert [one.id for one in read(text).samples] == ["Creek", "Cedar"]
    assert [one[1] for one in told(text, 1)] == [12.2, 38.7, 57.0]


def test_a_pair_may_have_a_unit_with_a_stroke() -> None:
    text = (
        "Sample: East\nCalcium: 4.5 g/kg as received (5.2 g/kg of DM)\nZinc: 30 mg/kg as received "
    )
    text += "(34 mg/kg of DM)\nADF: 330 g/kg as received (380 g/kg of DM)\n"
    assert ("zn", 34.0, "ppm", "dm", "sure") in told(text, name="a.txt")


def test_the_mark_of_a_footnote_is_no_boron() -> None:
    text = (
        "Name,DM (%) (b),CP (%) (a),NDF (%) (a)\nWest,85.3,8.6,61.0\nEast,86.1,9.6,60.0\n\n"
        "(a) dry matter basis\n(b) as received\n"
    )
    assert [(one[0], one[3]) for one in told(text)] == [("dm", "ar"), ("cp", "dm"), ("ndf", "dm")]


def test_a_letter_in_french_names_its_samples() -> None:
    text = (
        "Madame,\n\nLe premier échantillon, « Pré du Moulin » (n° VG 25-061), contient 85,1 % de "
        "matière sèche.\n\nLe second, « Luzerne Côte » (n° VG 25-062), est à 85,5 % de matière "
        "sèche ; toujours sur MS : MAT 18,6 %, NDF 38,3 %, ADF 29,3 %, calcium 13,5 g/kg.\n"
    )
    samples = read(text, "a.txt").samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Pré du Moulin", "VG 25-061"), ("Luzerne Côte", "VG 25-062"),
    ]  # fmt: skip
    assert [one[:3] for one in told(text, 1, "a.txt")][-1] == ("ca", 13.5, "g_per_kg")


def test_values_that_a_long_label_moves_stay_in_their_order() -> None:
    rows = (("Calcium (g/kg) ....", "5.3", "4.6"), ("ADF (g/kg) ........", "389.7", "338.3"),
            ("Neutral detergent fibre with amylase (g/kg)", "656.1", "569.5"),
            ("Fat (g/kg) ........", "20.4", "17.7"))  # fmt: skip
    text = "Sample ........ Badger\n\n" + " " * 27 + "dry matter     as received\n"
    text += "".join(f"{a:<22}{b:>15}{c:>16}\n" for a, b, c in rows)
    assert {one[3]: one[1] for one in told(text, name="a.txt") if one[0] == "ndf"} == {
        "dm": 656.1, "ar": 569.5,
    }  # fmt: skip


def test_an_earlier_year_beside_the_sample_is_not_this_one() -> None:
    text = "Oats #1,2024\nLab no.,F6711/25\nZinc (ppm dry),23,24\nP (% dry),0.23,0.22\n"
    text = "," + text.replace("\nADF", "\n,ADF") + "ADF (% dry),38.0,41.3\n"
    assert {one[1] for one in told(text)} == {23.0, 0.23, 38.0}


def test_a_number_told_under_a_name_is_no_name() -> None:
    heads = "Stone barn,,Upper pivot,\nLab no. 3442,,Lab no. 3445,\n"
    rows = "ADF (% DM),31.0,ADF (% DM),33.0\nCP (% DM),12.0,CP (% DM),11.0\nNDF (% DM),51.0,"
    samples = read(f"{heads}{rows}NDF (% DM),55.0\n").samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Stone barn", "3442"), ("Upper pivot", "3445"),
    ]  # fmt: skip


def test_one_label_again_and_again_in_a_line_is_of_samples_side_by_side() -> None:
    heads = "{:<20}{:>8}{:>10}   ".format("Analyte", "Dry", "As rec'd")
    rows = [
        ("Dry matter (%)", "", "83.4"),
        ("Zinc (mg/kg)", "18", "15"),
        ("CP (%)", "21.7", "18.1"),
    ]
    rows += [("ADF (%)", "31.7", "26.4"), ("NDF (%)", "43.1", "36.0")]
    lines = [f"{'Old barn':<41}{'Creek-B':<41}".rstrip(), heads * 2]
    lines += ["{:<20}{:>8}{:>10}   ".format(*row) * 2 for row in rows]
    samples = read("\n".join(lines) + "\n", "a.txt").samples
    assert [one.id for one in samples] == ["Old barn", "Creek-B"]
    assert {len(one.values) for one in samples} == {9}


def test_a_row_with_a_number_alone_breaks_nothing(tmp_path: Path) -> None:
    path = tmp_path / "one.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet("Results")
        sheet.write_row(0, 0, ("Sample", "CP % DM", "ADF % DM", "NDF % DM"))
        sheet.write_row(1, 0, ("West", 11.2, 36.1, 58.4))
        sheet.write(3, 2, 17)
        prices = book.add_worksheet("Prices")
        prices.write_row(0, 0, ("Test", "$"))
        prices.write_row(1, 0, ("Starch", 9))
        prices.write_row(2, 0, ("Calcium", 12))
    values = read_file(path.name, path.read_bytes()).samples[0].values
    assert [one.analyte for one in values] == ["cp", "adf", "ndf"]


def test_a_remark_beside_two_bases_leaves_them_over_their_columns() -> None:
    text = (
        "Sample ID:,West,Lab No:,7248\nFeed type:,Grass hay,Method:,NIR\n"
        ",As Fed,100% DM,Typical,Comment\nIron (ppm),169,185,,\nAsh (%),6.9,7.6,8 - 12,\n"
        "ADF (%),31.0,34.1,,\n"
    )
    assert ("fe", 185.0, "ppm", "dm", "sure") in told(text)
