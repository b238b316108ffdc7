"""Keys of codes with a unit and a basis each, units told by a title, and two analytes in a line."""

from __future__ import annotations

import pytest

from rickyard.labs.common import Sample
from rickyard.labs.intake import read_file
from rickyard.labs.legends.legend import legend_of


def _samples(text: str, name: str = "a.csv") -> list[Sample]:
    return read_file(name, text.encode()).samples


def _sure(sample: Sample) -> dict[str, tuple[float | None, str, str]]:
    return {v.analyte: (v.value, v.unit, v.basis) for v in sample.values if v.status == "sure"}


_KEY = (
    ("MOI", "Moisture", "%", "as received"), ("CPD", "Crude protein", "%", "dry matter"),
    ("ADFD", "Acid detergent fiber", "%", "dry matter"),
    ("aNDF", "Neutral detergent fiber", "%", "dry matter"),
    ("MED", "Metabolizable energy", "Mcal/kg", "dry matter"), ("CAD", "Calcium", "%", "dry matter"),
    ("RFVX", "Relative feed value", "index", "none"),
)  # fmt: skip


@pytest.mark.parametrize("columns", [3, 4])
def test_a_key_may_give_each_code_its_unit_and_its_basis(columns: int) -> None:
    head = ("Code", "Meaning", "Unit", "Basis")
    key = "\n".join(",".join(row[:columns]) for row in (head, *_KEY))
    said = "" if columns == 4 else "All but moisture on dry matter basis\n"
    text = (
        f"Lab ID,Sample,{','.join(row[0] for row in _KEY)}\n"
        "BL-7101,Stack 1 N,10.7,9.0,39.1,61.6,2.11,0.40,88\n"
        f"BL-7102,Stack 1 S,15.2,10.1,34.4,55.6,2.25,0.36,104\n\n{key}\n{said}"
    )
    first = _sure(_samples(text)[0])
    assert first["cp"] == (9.0, "pct", "dm")
    assert first["moisture"] == (10.7, "pct", "ar")
    assert first["me"] == (2.11, "mcal_per_kg", "dm")
    assert first["rfv"][0] == 88.0


@pytest.mark.parametrize(
    "said",
    ["Résultats en g/kg de matière sèche (MS), oligo-éléments en mg/kg MS",
     "Resultados en g/kg de materia seca, oligoelementos en mg/kg MS",
     "Results in g/kg of dry matter, trace elements in mg/kg of dry matter"],
)  # fmt: skip
def test_a_title_tells_the_unit_of_all_and_of_some(said: str) -> None:
    text = (
        f'"{said}"\n\nN° labo;Désignation;MS %;MAT;NDF;ADF;Ca;P;Cu;Zn\n'
        "B-2081;Foin du moulin;88,6;121;578;331;5,1;2,1;7;29\n"
        "B-2082;Foin, 2e coupe;85,3;114;587;359;3,9;2,0;10;29\n"
    )
    for sample, calcium in zip(_samples(text), (5.1, 3.9), strict=True):
        told = _sure(sample)
        assert told["ca"] == (calcium, "g_per_kg", "dm")
        assert told["cu"][1] == "ppm"
        assert "de" not in told


def test_the_label_of_dry_matter_tells_no_unit_of_the_others() -> None:
    assert legend_of(["MS %"]).unit == legend_of(["TS %"]).unit == ""
    assert legend_of(["Résultats en % de la MS"]).unit == "pct"
    assert not legend_of(["Résultats en g/kg de matière sèche"]).unit_of


@pytest.mark.parametrize(
    ("label", "value", "wanted"),
    [("Ca / P", "1.32 / 0.29 %", {"ca": 1.32, "p": 0.29}),
     ("Ca/P", "1.32/0.29 %", {"ca": 1.32, "p": 0.29}),
     ("NEm / NEg", "0.65 / 0.38 Mcal/lb", {"nem": 0.65, "neg": 0.38})],
)  # fmt: skip
def test_two_analytes_in_one_line_have_a_value_each(
    label: str, value: str, wanted: dict[str, float]
) -> None:
    text = (
        "All but moisture on dry matter basis.\nBig squares (lab no. PK-9012)\n"
        "  Moisture      15.5 %\n  Protein       20.1 %\n  ADF           32.5 %\n"
        f"  NDF           41.3 %\n  {label:<12}  {value}\n"
    )
    (one,) = _samples(text, "a.txt")
    told = {name: number for name, (number, _, _) in _sure(one).items()}
    assert told == {"moisture": 15.5, "cp": 20.1, "adf": 32.5, "ndf": 41.3, **wanted}


def test_a_ratio_of_two_analytes_is_one_number_of_neither() -> None:
    text = "Sample: West\nDry matter basis\nProtein   20.1 %\nADF   32.5 %\nCa / P   4.6\n"
    (one,) = _samples(text, "a.txt")
    assert set(_sure(one)) == {"cp", "adf"}


def test_a_basis_at_the_end_of_a_row_holds_for_the_next_ones_of_its_sample() -> None:
    slip = (
        "Lot {0}          NIR              Weight 12.4 ton\n"
        "Moisture {1} %   as sampled       On dry matter:\n"
        "Protein {2} %    ADF 31.3 %       NDF 40.2 %\n"
        "RFV 149          Opening bid $210/ton\n"
    )
    text = "Hay sale: wagon slips\n" + "".join(
        slip.format(*one) for one in ((114, 15.5, 17.4), (115, 14.2, 11.8), (116, 13.4, 12.8))
    )
    samples = _samples(text, "a.txt")
    assert [_sure(one)["cp"] for one in samples] == [
        (17.4, "pct", "dm"), (11.8, "pct", "dm"), (12.8, "pct", "dm")
    ]  # fmt: skip
    assert [_sure(one)["moisture"][2] for one in samples] == ["ar"] * 3


@pytest.mark.parametrize("mark", ["\t", ";"])
def test_columns_of_a_parted_table_are_not_told_by_their_place(mark: str) -> None:
    head = ["Lab ID", "Sample", *(row[0] for row in _KEY[:6])]
    rows = [["26-1103", "North 40", "15.7", "11.4", "40.2", "57.5", "2.05", "0.40"],
            ["26-1104", "7-B", "14.8", "13.4", "36.6", "56.8", "2.21", "0.60"],
            ["26-1105", "Green chop 1", "11.8", "13.2", "35.7", "53.5", "2.28", "0.53"],
    ]  # fmt: skip
    key = [["Code", "Meaning", "Unit", "Basis"], *map(list, _KEY)]
    text = "\n".join(mark.join(row) for row in (*key, [], head, *rows))
    samples = _samples(text)
    assert [one.id for one in samples] == ["North 40", "7-B", "Green chop 1"]
    assert [_sure(one)["cp"] for one in samples] == [
        (11.4, "pct", "dm"), (13.4, "pct", "dm"), (13.2, "pct", "dm")
    ]  # fmt: skip
    assert [_sure(one)["adf"][0] for one in samples] == [40.2, 36.6, 35.7]
