"""Reports in other languages: words of tests, bases and fields, and what is said of samples."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import field_of, label_of, printed, written_in


@pytest.mark.parametrize(
    ("printed_word", "analyte"),
    [("Białko ogólne", "cp"), ("Råaske", "ash"), ("Ruw vet", "ee"), ("Enxofre", "s"),
     ("Fibra acido detersa", "adf"), ("Miedź", "cu"), ("Tørstof", "dm"), ("Torrsubstans", "dm"),
     ("Fibres au détergent neutre", "ndf"), ("Boterzuur", "butyric"), ("Umidade", "moisture")],
)  # fmt: skip
def test_names_of_tests(printed_word: str, analyte: str) -> None:
    label = label_of(printed_word)
    assert label is not None
    assert label.candidates == (analyte,)


@pytest.mark.parametrize(
    ("text", "basis", "rest"),
    [("Råprotein (% af tørstof)", "dm", "råprotein"), ("Ca, g/kg in de droge stof", "dm", "ca"),
     ("Zn (mg/kg sul tal quale)", "ar", "zn"), ("P [% matéria natural]", "ar", "p"),
     ("K w suchej masie", "dm", "k"), ("Fett, g/kg bezogen auf Trockenmasse", "dm", "fett")],
)  # fmt: skip
def test_bases(text: str, basis: str, rest: str) -> None:
    known = written_in(text)
    assert known.basis == basis
    assert label_of(known.rest) == label_of(rest)


@pytest.mark.parametrize(
    ("text", "field"),
    [("Bemonsteringsdatum", "sampled_on"), ("Data pobrania", "sampled_on"),
     ("N° d'analyse", "lab_no"), ("Untersuchungs-Nr.", "lab_no"), ("Provmärkning", "id"),
     ("Date de coupe", "order"), ("Modtaget", "received_on"), ("N° client", "order")],
)  # fmt: skip
def test_fields(text: str, field: str) -> None:
    assert field_of(text) == field


def test_words_for_no_number() -> None:
    assert printed("k.A.").op == "none"
    assert printed("< BG").op == printed("ikke påvist").op == "nd"


def test_what_is_said_of_the_samples_is_no_basis_of_values() -> None:
    text = (
        "Les résultats ne concernent que les échantillons tels que reçus.\n\n"
        "Parcelle;N° labo;MS %;MAT %;ADF %\nHaut;Q1;88,1;11,2;36,1\nLoin;Q2;87,4;12,0;35,0\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == ["Haut", "Loin"]
    for one in reading.samples:
        assert {v.status for v in one.values if v.analyte in ("cp", "adf")} == {"ask"}


@pytest.mark.parametrize("name", ["K 12", "DM 4", "K", "Fe 3", "West 40"])
def test_what_stands_under_field_is_a_name(name: str) -> None:
    text = (
        "Field,Sampled,Dry matter %,CP % DM,ADF % DM,Ca % DM\n"
        f"{name},2025-08-01,88.1,11.2,36.1,0.45\nLong end,2025-08-03,87.1,12.2,35.1,0.48\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == [name, "Long end"]
    assert all(len(one.values) == 4 for one in reading.samples)


def test_a_number_behind_the_word_for_a_sample_stands_before_its_name() -> None:
    text = (
        "La humedad va sobre la muestra tal como se recibió; lo demás, sobre materia seca.\n\n"
        "Muestra n.º 3-77: El Sauce\nHumedad: 10,1 %\nProteína cruda: 8,9 %\nCenizas: 7,1 %\n\n"
        "Muestra n.º 3-78: La Loma\nHumedad: 12,1 %\nProteína cruda: 9,9 %\nCenizas: 7,4 %\n"
    )
    reading = read_file("a.txt", text.encode())
    assert [(one.id, one.lab_no) for one in reading.samples] == [
        ("El Sauce", "3-77"), ("La Loma", "3-78"),
    ]  # fmt: skip
    for one in reading.samples:
        assert {v.analyte: v.basis for v in one.values} == {
            "moisture": "ar",
            "cp": "dm",
            "ash": "dm",
        }


def test_signs_of_footnotes_stand_before_the_unit_too() -> None:
    text = (
        "Stack  Long end  East\nWater §, %  15.9  14.0\nProtein ¤, %  9.3  8.0\n"
        "Protein §, %  7.8  6.9\nADF ¤, %  39.1  37.3\n\n§ as received   ¤ in the dry matter\n"
    )
    reading = read_file("a.txt", text.encode())
    for one in reading.samples:
        told = [(v.analyte, v.basis, v.status) for v in one.values]
        assert ("cp", "dm", "sure") in told
        assert ("cp", "ar", "sure") in told


def test_codes_of_a_key_are_read_in_lines_of_two_cells() -> None:
    text = (
        "Code,Meaning,Unit,Basis\nPRO,Crude protein,%,dry matter\nMIN,Ash,%,dry matter\n"
        "FAT,Crude fat,%,dry matter\nCAL,Calcium,%,dry matter\n\n"
        "Sample,Willow bend\nCode,Result\nPRO,8.3\nMIN,9.1\nFAT,2.0\nCAL,0.40\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == ["Willow bend"]
    told = {v.analyte: (v.value, v.basis) for v in reading.samples[0].values}
    assert told == {"cp": (8.3, "dm"), "ash": (9.1, "dm"), "ee": (2.0, "dm"), "ca": (0.4, "dm")}


def test_a_column_with_a_year_behind_the_name_of_another_is_no_sample() -> None:
    text = (
        "Lab number,,31-A,31-B\nSample,Unit,Bottom 12,Top 12,Bottom 12 (2024)\n"
        "Moisture,%,15.5,13.7,12.9\nCP,% DM,10.0,7.7,9.7\nADF,% DM,35.9,35.2,37.7\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.id for one in reading.samples] == ["Bottom 12", "Top 12"]


def test_two_tables_have_each_the_day_of_its_own_title() -> None:
    text = (
        "From Larkquay: sampled 2025-09-08 (dry matter basis)\nHay,DM %,CP %,ADF %\n"
        "Barn A,85.0,8.1,35.8\n\n\nFrom Ninegate: sampled 2025-09-22 (as received)\n"
        "Hay,DM %,CP %,ADF %\nBarn D,86.1,7.7,29.0\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [str(one.sampled_on) for one in reading.samples] == ["2025-09-08", "2025-09-22"]
