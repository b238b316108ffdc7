"""Units that run together or are told once, water that a statement excepts, names in quotes."""

from __future__ import annotations

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import label_of, printed
from support.rows import each_row


def read_of(text: str, name: str = "a.txt") -> FileReading:
    return read_file(name, text.encode())


def values_of(reading: FileReading) -> dict[str, tuple[float | None, str, str, str]]:
    return {
        v.analyte: (v.value, v.unit, v.basis, v.status) for s in reading.samples for v in s.values
    }


def test_a_comma_of_a_sentence_does_not_part_the_decimals_of_a_letter() -> None:
    text = (
        "Alle Gehalte in g je kg Trockenmasse (TM), die Trockenmasse selbst in % der Frischmasse.\n"
        "\nProbe 4471-1: Heu Nordwiese\n  Trockenmasse: 89,8 %\n  Rohprotein: 89\n  Rohasche: 86\n"
        "  Calcium: 4,1\n  Phosphor: 2,4\n  Nitrat (NO3): 2.984 mg/kg TM\n  NEL: 5,69 MJ/kg TM\n"
    )
    assert values_of(read_of(text)) == {
        "dm": (89.8, "pct", "ar", "sure"), "cp": (89.0, "g_per_kg", "dm", "sure"),
        "ash": (86.0, "g_per_kg", "dm", "sure"), "ca": (4.1, "g_per_kg", "dm", "sure"),
        "p": (2.4, "g_per_kg", "dm", "sure"), "nitrate_no3": (2984.0, "ppm", "dm", "sure"),
        "nel": (5.69, "mj_per_kg", "dm", "sure"),
    }  # fmt: skip


def test_amounts_under_by_the_kilogram_and_a_name_in_quotes() -> None:
    text = (
        "Concerne : échantillon V-3090 « Foin des Esserts »\n\n"
        "Teneur en matière sèche : 863 g/kg de matière fraîche.\n\nPar kg de matière sèche (MS) :\n"
        "  matière azotée ............ 96 g\n  NDF ....................... 599 g\n"
        "  calcium ................... 4.9 g\n  nitrates (NO3) ............ 2'310 mg\n\n"
        "Valeur usuelle de la région : 105 g de matière azotée, 560 g de NDF.\n"
    )
    reading = read_of(text)
    assert [(one.id, one.lab_no) for one in reading.samples] == [("Foin des Esserts", "V-3090")]
    read = values_of(reading)
    assert read["nitrate_no3"] == (2310.0, "ppm", "dm", "sure")
    assert read["cp"] == (96.0, "g_per_kg", "dm", "sure")
    assert read["ndf"] == (599.0, "g_per_kg", "dm", "sure")


def test_units_that_run_together_stand_each_over_its_column() -> None:
    text = (
        "Provnr  Märkning        Ts  Råprot   NDF  Aska  Oms.en.\n"
        "                         % g/kg ts  g/kg  g/kg MJ/kg ts\n"
        "7702    Hagen söder   84,7     100   551    72      9,5\n"
        "7703    Åkern vid ån  88,1     125   535    81      9,0\n\n"
        "Ts i procent av provet; alla övriga värden per kg torrsubstans (ts).\n"
    )
    first = read_of(text).samples[0]
    assert {v.analyte: (v.value, v.unit) for v in first.values if v.status == "sure"} == {
        "dm": (84.7, "pct"), "cp": (100.0, "g_per_kg"), "ndf": (551.0, "g_per_kg"),
        "ash": (72.0, "g_per_kg"), "me": (9.5, "mj_per_kg"),
    }  # fmt: skip


@each_row("told", [
    "Todo sobre materia seca (MS), salvo la propia MS, sobre muestra fresca.",
    "Informe: 03/07/2025. Todo sobre materia seca, excepto la MS.",
])  # fmt: skip
def test_water_is_excepted_in_other_languages(told: str) -> None:
    table = "Muestra;MS %;Proteína bruta %;Cenizas %\nAlta;87,6;11,3;7,0\nBaja;88,1;9,9;8,0\n"
    text = f"{told}\n\n{table}"
    assert values_of(read_of(text, "a.csv"))["cp"] == (9.9, "pct", "dm", "sure")


def test_two_laboratories_each_with_its_basis_in_the_line_over_its_table() -> None:
    text = (
        "Split bags sent to two laboratories, sampled 2 and 3 September 2025\n\n"
        "=== Sandhill Bench, report 12 September 2025; percent of dry matter ===\n"
        "Mark      Number    Taken          DM (as rec.)     CP    ADF\n"
        "Alfa 2    S-1201    2 Sep 2025             89.2   16.8   34.7\n"
        "Brome E   S-1202    3 Sep 2025             87.8   12.0   37.1\n\n"
        "=== Quarry Lane, report 18 September 2025; percent as received ===\n"
        "Mark      Number    Taken              Moisture     CP    ADF\n"
        "Alfa 2    70031     2 Sep 2025             10.8   15.3   30.6\n"
        "Brome E   70032     3 Sep 2025             12.2   10.8   32.2\n"
    )
    found = [(s.lab_no, v.value, v.basis) for s in read_of(text).samples for v in s.values
             if v.analyte == "cp" and v.status == "sure"]  # fmt: skip
    assert found == [("S-1201", 16.8, "dm"), ("S-1202", 12.0, "dm"), ("70031", 15.3, "ar"),
                     ("70032", 10.8, "ar")]  # fmt: skip


def test_a_line_that_explains_letters_of_bases_is_no_heading_over_the_first_sample() -> None:
    block = (
        "## LX{0} / Clover {0}\nmoisture 10.3 %\nprotein 10.8 % af / 12.0 % dm\n"
        "adf 29.9 % af / 33.3 % dm\n\n"
    )
    text = "LOXLEY FEEDS\naf = as fed, dm = dry matter\n\n" + block.format(4) + block.format(5)
    samples = read_of(text).samples
    assert [(one.lab_no, one.id) for one in samples] == [("LX4", "Clover 4"), ("LX5", "Clover 5")]
    assert {v.status for one in samples for v in one.values} == {"sure"}


def test_one_name_that_a_key_explains_among_known_ones() -> None:
    text = (
        "Référence;MS;MAT;MM;Ca\n;% brut;% MS;% MS;g/kg MS\nPré;84,1;11,5;6,8;4,4\n"
        "Pièce;87,2;13,3;7,7;10,3\n"
        "MS : matière sèche. MAT : matières azotées totales. MM : matières minérales (cendres).\n"
    )
    assert values_of(read_of(text, "a.csv"))["ash"] == (7.7, "pct", "dm", "sure")


def test_marks_between_thousands() -> None:
    assert printed("2'310 mg").value == printed("2’310 mg").value == 2310.0


def test_a_basis_under_an_unknown_heading_counts_in_a_table_without_marks() -> None:
    text = (
        "Forage\nAll results as received.\n\n"
        "Sample     Lab no.  Taken       Test             Result  Unit   Xyzzy\n"
        "Long lane  Q5767    2025-08-22  Dry matter         89.7  %      as fed\n"
        "Long lane  Q5767    2025-08-22  Nitrate (NO3)      1962  mg/kg  dry\n"
        "Long lane  Q5767    2025-08-22  ADF                38.3  %      dry\n"
    )
    read = values_of(read_of(text))
    assert read["nitrate_no3"][2:] == ("dm", "ask")  # the sentence says otherwise


def test_a_value_that_stands_alone_in_its_line_is_of_the_column_over_it() -> None:
    text = (
        "Sample:          East side\nLab no.:         Q7568\n"
        "Test             Unit           as fed    DM  Typical\n"
        "Dry matter       %                87.3        81.1\n"
        "Ash              %                 7.1   8.1  7.9\n"
        "Cu               mg/kg             5.0   5.8  6.4\n"
    )
    (sample,) = read_of(text).samples
    assert {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"} == {
        ("dm", "ar"): 87.3, ("ash", "ar"): 7.1, ("ash", "dm"): 8.1, ("cu", "ar"): 5.0,
        ("cu", "dm"): 5.8,
    }  # fmt: skip


@each_row(("text", "basis"), [
    ("Kalium (TS)", "dm"), ("Cu [FM]", "ar"), ("Zn (s.m.)", "dm"), ("Tuhka (ka)", "dm"),
    ("Cenizas % s/MS", "dm"),
    ("Kalsium (% näytteessä)", "ar"), ("Zinc (en base húmeda)", "ar"),
])  # fmt: skip
def test_a_short_basis_behind_a_name(text: str, basis: str) -> None:
    label = label_of(text)
    assert label is not None
    assert len(label.candidates) == 1
    assert label.basis == basis


def test_bags_with_words_of_tests_and_bases_for_names() -> None:
    text = (
        "Wyniki podano w świeżej masie.\n\nNazwa próbki;Jedn.;Wet corner;DM 4;K 12\n"
        "Nr lab.;;Q2388;Q2391;Q2394\nSucha masa;%;85,4;83,1;89,8\nBiałko;%;11,8;12,3;9,6\n"
        "Zn;mg/kg;23;17;23\n"
    )
    samples = read_of(text, "a.csv").samples
    assert [one.id for one in samples] == ["Wet corner", "DM 4", "K 12"]
    assert {v.basis for one in samples for v in one.values} == {"ar"}


def test_water_again_over_the_values_on_the_other_basis_begins_no_sample() -> None:
    text = (
        "Probe;Long terrace;Badger field\nLabor-Nr.;Q3116;Q3119\nTrockensubstanz (%);88,0;86,5\n"
        "Wasser (%);12,0;13,5\nPhosphor (% TM);0,26;0,25\nTrockensubstanz (%);88,0;86,5\n"
        "Wasser (%);12,0;13,5\nPhosphor (% Frischsubstanz);0,23;0,21\n"
    )
    first = read_of(text, "a.csv").samples[0]
    assert {v.basis: v.value for v in first.values if v.analyte == "p"} == {"dm": 0.26, "ar": 0.23}
