"""Rows of methods among headings, bases told by letters, tongues and code pages of the east."""

from __future__ import annotations

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import field_of, is_aside, label_of
from support.rows import each_row

HEADS = (
    ",,,As received,Dry matter basis,,,\nLab number,Sample,Sampled,Moisture,CP,NEm,NEg,Nitrate-N\n"
)
UNITS = ",,,%,%,Mcal/lb,Mcal/lb,ppm\n"
ROWS = (
    "2025-41,Field 1,8/25/2025,11.3,12.4,0.59,0.33,410\n"
    "2025-42,Field 2,8/26/2025,14.0,11.5,0.62,0.36,587\n"
)


@each_row("method", ["method,,,oven,NIR,calc,calc,wet\n", "Procedure,,,oven,NIRS,calc.,-,wet\n",
                     "Technique:,,,dry,NIR,est,est,wet chem\n"])  # fmt: skip
def test_a_row_of_methods_tells_methods_and_no_basis_and_no_analyte(method: str) -> None:
    for text in (HEADS + UNITS + method + ROWS, HEADS + method + UNITS + ROWS):
        first = read_file("a.csv", text.encode()).samples[0]
        read = {v.analyte: (v.value, v.unit, v.basis, v.method) for v in first.values}
        assert read["nitrate_no3n"] == (410.0, "ppm", "dm", "wet chemistry")
        assert read["nem"] == (0.59, "mcal_per_lb", "dm", "")
        assert read["cp"] == (12.4, "pct", "dm", "NIR")
        assert (first.id, first.lab_no) == ("Field 1", "2025-41")


def test_methods_of_samples_side_by_side_stay_theirs() -> None:
    text = (
        "Sample,West 4,East 6,Low 8\nMethod,NIR,wet chem,NIR\n"
        "CP %DM,11.2,12.4,9.8\nADF %DM,36.1,33.0,39.2\n"
    )
    methods = [one.method for one in read_file("a.csv", text.encode()).samples]
    assert methods == ["NIR", "wet chemistry", "NIR"]


def test_a_column_of_letters_that_a_key_gives_to_bases_names_no_sample() -> None:
    text = (
        "Lab number;6010;;\nSample;Pivot 3;;\n\nTest;Value;Unit;Code\nDry matter;85.3;%;W\n"
        "Crude protein;19.3;%;Z\nADF;34.4;%;Z\nNitrate-N;487;ppm;Z\n\nCode;Meaning\n"
        "W;result on the sample as received\nZ;result on dry matter basis\n"
    )
    (sample,) = read_file("a.csv", text.encode()).samples
    assert sample.id == "Pivot 3"
    assert {v.analyte: v.basis for v in sample.values} == {
        "dm": "ar", "cp": "dm", "adf": "dm", "nitrate_no3n": "dm",
    }  # fmt: skip


@each_row(("text", "analyte", "unit", "basis"), [
    ("NL (% v sušině)", "cp", "pct", "dm"), ("Vápník (g/kg sušiny)", "ca", "g_per_kg", "dm"),
    ("Sušina (% v původní hmotě)", "dm", "pct", "ar"), ("Kuiva-aine g/kg", "dm", "g_per_kg", ""),
    ("Raakavalkuainen g/kg ka", "cp", "g_per_kg", "dm"), ("Tørrstoff %", "dm", "pct", ""),
    ("Råprotein % av TS", "cp", "pct", "dm"), ("Nyersfehérje g/kg sz.a.", "cp", "g_per_kg", "dm"),
    ("Droge stof (g/kg product)", "dm", "g_per_kg", "ar"), ("Białko og.", "cp", "", ""),
    ("Kuru madde %", "dm", "pct", ""), ("Surove beljakovine g/kg SS", "cp", "g_per_kg", "dm"),
])  # fmt: skip
def test_labels_of_far_tongues(text: str, analyte: str, unit: str, basis: str) -> None:
    label = label_of(text)
    assert label is not None
    assert (label.candidates, label.unit, label.basis) == ((analyte,), unit, basis)


def test_fields_of_far_tongues() -> None:
    told = {
        "Číslo vzorku": "number", "Označení": "id", "Datum odběru": "sampled_on",
        "Protokol ze dne": "reported_on", "Näytteenottopäivä": "sampled_on",
        "Mintavétel dátuma": "sampled_on", "Merking": "id", "Přijato": "received_on",
    }  # fmt: skip
    assert {text: field_of(text) for text in told} == told
    assert is_aside("Průměr okresu")
    assert is_aside("Keskiarvo")


def test_a_code_page_of_the_east_is_told_by_its_words() -> None:
    text = (
        "Číslo vzorku;Označení;Datum odběru;Sušina (%);NL (% v sušině);Vápník (g/kg sušiny)\n"
        "1/2025/K;Vojtěška – 2. seč;18.06.2025;90,7;18,8;11,8\n"
        "2/2025/K;Za stodolou;19.06.2025;84,1;8,8;4,0\n"
    )
    for page in ("cp1250", "utf-8"):
        samples = read_file("a.csv", text.encode(page)).samples
        assert [one.id for one in samples] == ["Vojtěška – 2. seč", "Za stodolou"]
        assert [v.value for v in samples[0].values] == [90.7, 18.8, 11.8]
    text = "Vzorek;Sušina (%);NDF (% sušiny);Dusičnany (mg/kg sušiny)\nČíž;88,1;60,0;410\n"
    assert read_file("c.csv", text.encode("cp1250")).samples[0].id == "Číž"
    west = "Probe;Prüfbericht;Rohprotein % TM;Rohasche % TM\nSüd;1;11,2;8,1\nGroß;2;10,1;7,7\n"
    assert [one.id for one in read_file("b.csv", west.encode("cp1252")).samples] == ["Süd", "Groß"]
