"""What stands beside samples and is none: runs of the bench, guides by class, old winners."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import is_aside

HEADS = "Lab,Sample,Moisture % as received,CP % DM,ADF % DM,NDF % DM\n"
ROW = ",9.9,11.2,36.1,58.4\n"


def names_of(text: str) -> list[str]:
    return [sample.id for sample in read_file("a.csv", text.encode()).samples]


@pytest.mark.parametrize(
    "name",
    ["CHECKCELL 1", "Check cell", "CCV 10", "QC hay 3", "Method blank", "2024 winner (Alfalfa)"],
)
def test_a_check_of_the_bench_and_an_old_winner_are_no_samples(name: str) -> None:
    rows = "".join(f"S{n},{one}{ROW}" for n, one in enumerate((name, "West", "Check dam field")))
    assert names_of(HEADS + rows) == ["West", "Check dam field"]


def test_the_kind_of_each_run_tells_samples_from_blanks_duplicates_and_spikes() -> None:
    runs = (("BLK", "B"), ("SAMPLE", "West 1"), ("DUP", "West 1 again"), ("SPIKE", "West 1 spiked"))
    text = "Type,Name,CP % DM,ADF % DM,NDF % DM\n" + "".join(
        f"{kind},{name},11.2,36.1,58.4\n" for kind, name in runs
    )
    assert names_of(text) == ["West 1"]


@pytest.mark.parametrize("name", ["Heu, gut", "Hay - poor", "Foin (moyen)", "Blindprobe 2"])
def test_a_class_of_hay_and_a_blank_in_other_tongues_are_no_names(name: str) -> None:
    assert is_aside(name)


@pytest.mark.parametrize("name", ["Heu Gutmann", "Heu Gutshof", "Blank farm", "Standard 40"])
def test_names_with_such_words_stay_names(name: str) -> None:
    assert not is_aside(name, numbered=True)


def test_a_sheet_of_guides_is_told_and_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "two.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        for name, hay in (("Ergebnisse", "Hangwiese"), ("Richtwerte", "Luzerne")):
            sheet = book.add_worksheet(name)
            sheet.write_row(0, 0, ("Probe", "Rohprotein g/kg TM", "NDF g/kg TM", "ADF g/kg TM"))
            sheet.write_row(1, 0, (hay, 101, 539, 341))
    reading = read_file(path.name, path.read_bytes())
    assert [sample.id for sample in reading.samples] == ["Hangwiese"]
    assert '"Richtwerte" tells what hay usually holds, and was passed over.' in reading.notes


def test_the_wavelength_behind_an_element_is_no_value_of_it() -> None:
    text = (
        "mg/kg of dry matter\nName,Ca 317.933,P 213.617,K 766.490\n"
        'West,"5,200","2,200","17,200"\nEast,"3,800","2,100","18,500"\n'
    )
    samples = read_file("a.csv", text.encode()).samples
    told = [[(v.analyte, v.value, v.status) for v in sample.values] for sample in samples]
    assert told[1] == [("ca", 3800.0, "sure"), ("p", 2100.0, "sure"), ("k", 18500.0, "sure")]


def test_a_sentence_over_a_table_is_one_whatever_marks_part_the_cells() -> None:
    text = (
        "Gehalte bezogen auf die Trockensubstanz (TS); TS selbst in % der Frischmasse;;;;\n"
        "Bezeichnung;TS %;Rohprotein %;ADF %;NDF %;Kalium mg/kg\n"
        "Alpheu;85.7;10.8;36.5;59.6;18'000\nWiese;89.2;8.2;36.6;60.2;18'900\n"
    )
    samples = read_file("a.csv", text.encode()).samples
    assert [(v.value, v.basis, v.status) for v in samples[0].values][-1] == (18000.0, "dm", "sure")
