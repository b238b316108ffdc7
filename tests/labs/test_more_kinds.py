"""Habits of laboratories, each in several invented forms: what is read, and what is asked."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import both_bases, label_of
from support.rows import each_row

_DRY = {("cp", "dm"): 12.2, ("adf", "dm"): 35.1, ("ndf", "dm"): 55.5}


def _read(text: str) -> dict[str, dict[tuple[str, str], float | None]]:
    """Return the sure values of each sample of a text by its name."""
    reading = read_file("a.txt", text.encode())
    return {
        sample.id: {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}
        for sample in reading.samples
    }


@each_row(
    ("text", "expected"),
    [
        ("CP_pctDM", ("cp", "pct", "dm")),
        ("DM_pct_asis", ("dm", "pct", "ar")),
        ("Ca_ppmDM", ("ca", "ppm", "dm")),
        ("Zn_mgkgDM", ("zn", "ppm", "dm")),
        ("CPAsFed", ("cp", "", "ar")),
        ("CPDM", ("cp", "", "dm")),
        ("AcidDetFiber_pct_DM", ("adf", "pct", "dm")),
        ("NEL_MJkgDM", ("nel", "mj_per_kg", "dm")),
        ("NDFD48_pctNDF", ("ndfd48", "pct", "ndf")),
        ("Nitrogen x 6.25", ("cp", "", "")),
        ("Nitrogen (N x 6.25)", ("cp", "", "")),
        ("Rohprotein, g/kg TM", ("cp", "g_per_kg", "dm")),
        ("PB (% MS)", ("cp", "pct", "dm")),
        ("Fibra detergente ácida (% MS)", ("adf", "pct", "dm")),
        ("ENl (énergie nette de lactation)", ("nel", "", "")),
    ],
)
def test_names_of_variables_and_of_other_languages_are_labels(
    text: str, expected: tuple[str, str, str]
) -> None:
    label = label_of(text)
    assert label is not None
    assert (label.candidates[0], label.unit, label.basis) == expected


@each_row("text", ["Dear", "NEAR", "Hay 2", "Test 2", "Grass", "Sample 2"])
def test_words_and_numbers_of_samples_are_no_labels(text: str) -> None:
    assert label_of(text) is None


@each_row(
    ("text", "order"),
    [
        ("Results given as received, with the dry matter figure in brackets.", ("ar", "dm")),
        ("First figure: as fed. Figure in brackets: on dry matter.", ("ar", "dm")),
        ("Values on dry basis, as-fed value in parentheses", ("dm", "ar")),
        ("as sampled first, dry second", ("ar", "dm")),
        ("Dry matter, as received", None),
        ("Dry matter as received 88.1, protein dry", None),
    ],
)
def test_a_sentence_tells_which_basis_stands_in_brackets(
    text: str, order: tuple[str, str] | None
) -> None:
    assert both_bases(text) == order


TRANSFERS = [
    "H|MADE UP|20260601\nC|R=RESULT(code,name,result,unit,basis A=as received D=dry matter)\n"
    "S|771|WEST 40\nR|1|CRUDE PROTEIN|12.2|PCT|D\nR|2|ADF|35.1|PCT|D\nR|3|NDF|55.5|PCT|D\n"
    "T|1|END\n",
    "MSH|^~\\&|MADE UP\nOBR|1|771|WEST 40\nOBX|1|NM|CP^Crude protein^L||12.2|%|DM\n"
    "OBX|2|NM|ADF^Acid detergent fiber^L||35.1|%|DM\nOBX|3|NM|NDF^NDF^L||55.5|%|DM\n",
    "HDR;1;2\nSMP;771;WEST 40\nRES;CP;12.2;%;DM\nRES;ADF;35.1;%;DM\nRES;NDF;55.5;%;DM\nEND;1\n",
]


@pytest.mark.parametrize("text", TRANSFERS)
def test_a_transfer_of_a_program_is_read_by_the_kinds_of_its_lines(text: str) -> None:
    assert _read(text) == {"WEST 40": _DRY}


ONE_A_LINE = [
    "Results on dry matter basis\n\nSample\nWest 40\nCrude protein\n12.2 %\nADF\n35.1 %\nNDF\n"
    "55.5 %\nLignin\n6.1 %\n",
    "Sample\n\nWest 40\n\nTest\n\nUnit\n\nResult\n\nCrude protein\n\n% DM\n\n12.2\n\nADF\n\n"
    "% DM\n\n35.1\n\nNDF\n\n% DM\n\n55.5\n\nLignin\n\n% DM\n\n6.1\n",
]


@pytest.mark.parametrize("text", ONE_A_LINE)
def test_a_table_pasted_with_one_cell_a_line_is_read(text: str) -> None:
    assert _read(text) == {"West 40": {**_DRY, ("lignin", "dm"): 6.1}}


def test_one_value_under_two_bases_with_one_cell_a_line_is_asked() -> None:
    text = (
        "Sample\nWest 40\nAnalysis\nAs received\nDry matter\nCrude protein\n10.7\n12.2\nADF\n30.9\n"
        "35.1\nNDF\n48.9\n55.5\nCalcium\n0.45\n"
    )
    read = _read(text)["West 40"]
    assert read["cp", "ar"], read["cp", "dm"] == (10.7, 12.2)
    assert not any(analyte == "ca" for analyte, _ in read)


LETTERED = [
    ("A", "B", "A = as sampled (as received). B = dry matter basis."),
    ("1", "2", "(1) as received  (2) dry matter"),
    ("I", "II", "I: as fed; II: dry basis"),
]


@pytest.mark.parametrize(("first", "second", "legend"), LETTERED)
def test_letters_over_columns_are_the_bases_that_the_legend_gives_them(
    first: str, second: str, legend: str
) -> None:
    text = (
        f"Sample: West 40\n\n{'Test':<24}{'Unit':<10}{first:>8}{second:>10}\n"
        f"{'Crude protein':<24}{'%':<10}{'10.7':>8}{'12.2':>10}\n"
        f"{'ADF':<24}{'%':<10}{'30.9':>8}{'35.1':>10}\n{'NDF':<24}{'%':<10}{'48.9':>8}{'55.5':>10}\n"
        f"\n{legend}\n"
    )
    read = _read(text)["West 40"]
    assert {key: value for key, value in read.items() if key[1] == "dm"} == _DRY
    assert read["cp", "ar"] == 10.7


LISTED = [
    "West 40 (lab 771): {}, {}, {}\n",
    "West 40 (lab 771): {}; {}; {}\n",
]


@pytest.mark.parametrize("line", LISTED)
def test_a_list_of_values_behind_a_name_is_read(line: str) -> None:
    values = ("CP 12.2 % DM", "ADF 35.1 % DM", "NDFD 48 h 57 % of NDF")
    text = "Hello,\n\n" + line.format(*values) + line.replace("West", "East").format(*values)
    expected = {("cp", "dm"): 12.2, ("adf", "dm"): 35.1, ("ndfd48", "ndf"): 57.0}
    assert _read(text) == {"West 40": expected, "East 40": expected}


STATED = [
    "ALL RESULTS % OF DRY MATTER EXCEPT H2O AND DM (OF SAMPLE AS SUBMITTED)",
    "Dry basis except where it says fresh",
    "dry matter basis - as is for moisture",
    "Résultats sur base sèche",
    "Alle Werte bezogen auf die Trockenmasse",
    "Resultados en base seca",
    "Nutrients in the dry matter",
    "(DM basis)",
]


@each_row("statement", STATED)
@each_row("at_foot", [False, True])
def test_a_statement_over_or_under_a_table_tells_its_basis(statement: str, at_foot: bool) -> None:
    table = (
        "Sample,DM %,CP %,ADF %,NDF %\nWest 40,88.1,12.2,35.1,55.5\nEast 40,86.1,15.2,33.1,51.0\n"
    )
    text = f"Made Up Bench\n\n{table}\n{statement}\n" if at_foot else f"{statement}\n\n{table}"
    assert _read(text)["West 40"] == {("dm", "ar"): 88.1, **_DRY}


def test_two_rows_a_sample_begin_with_the_dry_one_too() -> None:
    text = (
        "Sample;Basis;Water, %;CP, %;ADF, %\nWest 40;Dry matter;0.0;12.2;35.1\n"
        "West 40;As is;11.9;10.7;30.9\nEast 40;Dry matter;0.0;15.2;33.1\n"
        "East 40;As is;13.9;13.1;28.5\n"
    )
    assert _read(text)["West 40"] == {
        ("moisture", "ar"): 11.9, ("cp", "dm"): 12.2, ("cp", "ar"): 10.7, ("adf", "dm"): 35.1,
        ("adf", "ar"): 30.9,
    }  # fmt: skip


def test_an_unknown_name_over_percent_of_dry_matter_is_no_dry_matter() -> None:
    text = "Échantillon\tMatière sèche\tZzz\tCendres\n\t%\t% MS\t% MS\nNord\t85,5\t2,6\t8,1\n"
    assert _read(text)["Nord"] == {("dm", "ar"): 85.5, ("ash", "dm"): 8.1}


def test_lots_named_by_their_forage_are_told_apart_by_it() -> None:
    text = "Lot,CP % DM,ADF % DM,NDF % DM\nOat hay,12.2,35.1,55.5\nClover-timothy,12.2,35.1,55.5\n"
    assert _read(text) == {"Oat hay": _DRY, "Clover-timothy": _DRY}


def test_a_sentence_beside_a_table_tells_a_further_value_and_a_limit_tells_none() -> None:
    table = "Sample: West 40\n\nCrude protein   12.2 % DM\nADF   35.1 % DM\nNDF   55.5 % DM\n\n"
    told = "Nitrate nitrogen was 720 ppm on a dry matter basis. "
    limit = "We call hay safe for all cattle under 1000 ppm nitrate nitrogen.\n"
    assert _read(table + told + limit)["West 40"] == {**_DRY, ("nitrate_no3n", "dm"): 720.0}
    assert _read(table + limit)["West 40"] == _DRY


def test_a_basis_under_a_name_is_no_column_of_bases() -> None:
    text = (
        "Lot;DM;CP;;ADF;\n;%;% Fresh;% DM basis;% Fresh;% DM basis\n"
        "West 40;88.1;10.7;12.2;30.9;35.1\nEast 40;86.1;13.1;15.2;28.5;33.1\n"
    )
    assert _read(text)["West 40"] == {
        ("dm", "ar"): 88.1, ("cp", "ar"): 10.7, ("cp", "dm"): 12.2, ("adf", "ar"): 30.9,
        ("adf", "dm"): 35.1,
    }  # fmt: skip


def test_a_comma_within_numbers_parts_no_columns() -> None:
    text = (
        "Probe=Nord\nTrockensubstanz=90,1 %\nCalcium=12,3 g/kg TM\nXP=66 g/kg TM\n"
        "Zink=14,4 mg/kg TM\nMagnesium=1,5 g/kg TM\nKupfer=4,5 mg/kg TM\n"
    )
    assert _read(text)["Nord"] == {
        ("dm", "ar"): 90.1, ("ca", "dm"): 12.3, ("cp", "dm"): 66.0, ("zn", "dm"): 14.4,
        ("mg", "dm"): 1.5, ("cu", "dm"): 4.5,
    }  # fmt: skip


def test_results_for_a_lot_name_its_block() -> None:
    block = "Results for {}\n\nCrude protein   12.2 % DM\nADF   35.1 % DM\nNDF   55.5 % DM\n\n"
    text = "Made Up Bench\n\n" + block.format("Lot 26-A") + block.format("Dry hay, east shed")
    assert _read(text) == {"Lot 26-A": _DRY, "Dry hay, east shed": _DRY}
