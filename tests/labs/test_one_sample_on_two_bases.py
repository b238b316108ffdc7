"""Both bases of one sample are no two samples, whatever stands beside its name."""

from __future__ import annotations

import pytest

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import label_of
from support.rows import each_row


def _reading(text: str) -> FileReading:
    return read_file("a.csv", text.encode())


_ROWS = (
    ("Moisture", "15.7", "", "%"), ("Crude Protein", "12.5", "14.9", "%"),
    ("Acid Detergent Fiber", "29.1", "34.6", "%"), ("Neutral Detergent Fiber", "42.8", "50.8", "%"),
    ("NDFD 30 hr", "", "46.4", "% of NDF"), ("Calcium", "0.67", "0.80", "%"),
    ("Potassium", "1.60", "1.90", "%"), ("RFV", "", "113", ""),
)  # fmt: skip


def _block(sep: str, beside: str, heads: str) -> str:
    lines = [f"Lab no.,UG-640,{beside}", heads, *(",".join(row) for row in _ROWS)]
    return "Sample: Hay barn A\n" + "\n".join(lines).replace(",", sep) + "\n"


@pytest.mark.parametrize("heads", ["Item,AR,DM,Unit", "Test,As received,Dry matter,Units"])
@pytest.mark.parametrize(
    "beside", ["Ticket,812", "PO,1177", "Dossier,7714", "Zorble,812", "Member no.,31", "Order,Q-22"]
)
def test_a_number_beside_that_of_the_laboratory_makes_no_second_sample(
    beside: str, heads: str
) -> None:
    reading = _reading(_block(",", beside, heads))
    (one,) = reading.samples
    assert (one.id, one.lab_no) == ("Hay barn A", "UG-640")
    told = {(v.analyte, v.basis): v.value for v in one.values if v.status == "sure"}
    assert told["cp", "ar"] == 12.5
    assert told["cp", "dm"] == 14.9
    assert told["ndfd30", "ndf"] == 46.4
    assert told["rfv", ""] == 113.0


def test_samples_that_are_one_another_times_one_number_are_asked_about() -> None:
    text = (
        "Sample,CP %,ADF %,NDF %,Ca %,K %,TDN %\n"
        "West 40,12.5,29.1,42.8,0.670,1.60,52.2\nWest 41,14.9,34.6,50.8,0.796,1.90,62.0\n"
        "All results on a dry matter basis\n"
    )
    reading = _reading(text)
    assert not [v for one in reading.samples for v in one.values if v.status == "sure"]
    assert any("two samples" in one.text for one in reading.samples[1].questions)
    apart = text.replace("34.6,50.8", "36.1,53.9")
    assert [v for one in _reading(apart).samples for v in one.values if v.status == "sure"]


_SPANISH = """\
Estación Las Totoras - Informe de ensayo de forrajes
MS en % de la muestra tal cual. Los demás resultados en % de la materia seca; EM en Mcal/kg MS.
N° lab.;Muestra;MS;PB;FDN;FDA;Cenizas;EM
T4407;Rollo de alfalfa;88,5;19,5;42,6;34,6;9,5;2,24
T4408;Rollo de moha;83,5;10,3;60,2;37,8;9,9;2,15
T4409;Fardo pradera;89,0;1,53;54,0;35,5;8,9;2,21
"""


def test_short_names_in_spanish_are_read_and_a_slip_of_the_point_is_asked() -> None:
    first, _, third = _reading(_SPANISH).samples
    told = {v.analyte: (v.value, v.unit, v.basis) for v in first.values if v.status == "sure"}
    assert (first.id, first.lab_no) == ("Rollo de alfalfa", "T4407")
    assert told["cp"] == (19.5, "pct", "dm")
    assert told["me"] == (2.24, "mcal_per_kg", "dm")
    slipped = third.of("cp", "dm")
    assert slipped is not None
    assert slipped.status != "sure"


@each_row(
    ("printed", "analyte"),
    [
        ("ÉN entretien", "nem"), ("ÉNL lactation", "nel"), ("EN ganancia", "neg"), ("EM", "me"),
        ("EN mantenimiento", "nem"), ("FND", "ndf"), ("FAD", "adf"), ("ED", "de"),
    ],
)  # fmt: skip
def test_short_names_of_french_and_spanish_reports(printed: str, analyte: str) -> None:
    label = label_of(printed)
    assert label is not None
    assert label.candidates == (analyte,)


def test_percent_of_organic_matter_is_no_molybdenum() -> None:
    label = label_of("MO %")
    assert label is not None
    assert not label.ours
    other = label_of("Mo, ppm")
    assert other is not None
    assert other.candidates == ("mo",)


@pytest.mark.parametrize(
    "line",
    ["lot {0} moist 13.2% CP 13.5% ADF 36.8% NDF 53.2% Ca 0.83% P 0.26%",
     "{0}0 moisture 13.2, CP 13.5, ADF 36.8, NDF 53.2, Ca 0.83, P 0.26",
     "stack {0} moist 13.2 cp 13.5 adf 36.8 ndf 53.2 ca 0.83 P 0.26"],
)  # fmt: skip
def test_a_message_names_each_lot_right_before_its_values(line: str) -> None:
    text = "Tests are back on both\n" + "\n".join(line.format(name) for name in "AB")
    reading = read_file("a.txt", f"{text}\n70 bales each, all on dry matter\n".encode())
    assert [one.id[-2:].strip("0")[-1] for one in reading.samples] == ["A", "B"]
    for one in reading.samples:
        assert {v.analyte for v in one.values} >= {"moisture", "cp", "adf", "ndf", "p"}


def test_the_sign_of_nothing_holds_its_place_one_cell_a_line() -> None:
    rows = "\n".join("\n".join((f"{n}, %", a, b)) for n, a, b in (
        ("Moisture", "14.3", "-"), ("Crude Protein", "12.0", "13.9"), ("ADF", "30.3", "35.3"),
        ("NDF", "46.4", "54.2"), ("Ash", "7.4", "8.6")))  # fmt: skip
    text = f"Sample name: Bottom field\nTest\nAs received\nDry matter\n{rows}\nRFV\n-\n105\n"
    (one,) = read_file("a.txt", text.encode()).samples
    value = one.of("rfv")
    assert value is not None
    assert value.value == 105.0
    assert value.status == "sure"


_SCREEN = """\
Nitrate and prussic acid screen - week of September 14, 2026
{said}

Sample,Dry matter %,Nitrate (NO3) %,Prussic acid (HCN) ppm
Sudan 1,81.4,0.42,64
Sudan 2,84.6,0.61,-
"""


@pytest.mark.parametrize(
    "said",
    ["Nitrate and prussic acid on 100% dry matter. ND = not detected.",
     "Nitrate and prussic acid on a dry matter basis."],
)  # fmt: skip
def test_a_sentence_names_the_tests_and_wholly_dry_matter(said: str) -> None:
    reading = _reading(_SCREEN.format(said=said))
    told = {v.analyte: v.basis for v in reading.samples[0].values if v.status == "sure"}
    assert told == {"dm": "ar", "nitrate_no3": "dm", "hcn": "dm"}


@pytest.mark.parametrize("word", ["Dossier", "Ticket", "Order", "PO", "Commande", "Pedido"])
def test_the_number_of_an_order_behind_the_laboratory_number_names_no_sample(word: str) -> None:
    text = (
        f"Échantillon : Silo-boule 2e coupe\nN° de laboratoire : FE-26-1408       {word} 7714\n"
        "Analyse        Unité     Tel que servi    Base sèche\n"
        "Humidité       %         43,6\nProtéine brute %         7,0              12,5\n"
        "FDA            %         19,4             34,4\nFDN            %         29,5   "
        "          52,3\n"
    )
    (one,) = read_file("a.txt", text.encode()).samples
    assert (one.id, one.lab_no) == ("Silo-boule 2e coupe", "FE-26-1408")
