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
