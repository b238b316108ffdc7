"""Every analyte is restated from every unit, basis and form that a laboratory prints."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import Analyte, Basis, Report
from rickyard.folder.tables.analytes import ANALYTES
from rickyard.forage.values.analyte_kinds import KINDS, word_of
from rickyard.forage.values.basis import NEVER_RESCALED, as_received_to_dm, dm_to_as_received
from rickyard.forage.values.samples import column_values, sample_values
from rickyard.quantities import UNITS
from support.rows import each_row

DM, AR, NONE = Basis.DRY_MATTER, Basis.AS_RECEIVED, Basis.NONE


def one(name: str, value: float | None, unit: str, basis: Basis, text: str = "") -> Analyte:
    return Analyte(name, value, unit, basis, text=text)


def restated(*analytes: Analyte) -> dict[str, float]:
    return sample_values(Report("R1", "L1", analytes)).values


def test_every_analyte_of_the_farm_folder_is_known() -> None:
    names = {spec.name for spec in ANALYTES} - {"dm", "moisture"}
    assert names <= set(KINDS)
    for spec in ANALYTES:
        dimensions = {UNITS[unit].dimension for unit in spec.units}
        if spec.name in KINDS:
            kind = KINDS[spec.name]
            assert kind.part == (spec.part.replace("n", "cp") if spec.part == "n" else spec.part)
            assert kind.measure in dimensions or (kind.measure == "none" and not dimensions)


@each_row(
    ("name", "value", "unit", "basis", "expected"),
    [
        ("cp", 112.0, "g_per_kg", DM, 11.2),
        ("ca", 4400.0, "ppm", DM, 0.44),
        ("cu", 0.0009, "pct", DM, 9.0),
        ("ergovaline", 450.0, "ppb", DM, 0.45),
        ("nem", 0.594, "mcal_per_lb", DM, 1.30955),
        ("me", 9.0, "mj_per_kg", DM, 2.15105),
        ("starch", 1.8, "pct", AR, 2.0),
        ("rfv", 150.0, "", NONE, 150.0),
        ("ph", 4.6, "", NONE, 4.6),
        ("mold", 700_000.0, "cfu_per_g", AR, 700_000.0),
    ],
)
def test_units_and_bases(name: str, value: float, unit: str, basis: Basis, expected: float) -> None:
    values = restated(one("dm", 90.0, "pct", AR), one(name, value, unit, basis))
    assert values[name] == pytest.approx(expected, rel=1e-4)


@each_row(
    ("printed", "name", "expected"),
    [
        (one("adin", 0.20, "pct", DM), "adicp", 1.25),
        (one("adin", 8.0, "pct", NONE), "adicp", 1.6),
        (one("adicp", 8.0, "pct", NONE), "adicp", 1.6),
        (one("ndicp", 20.0, "pct", NONE), "ndicp", 4.0),
        (one("soluble_cp", 8.0, "pct", DM), "soluble_cp", 40.0),
        (one("rdp", 65.0, "pct", NONE), "rdp", 65.0),
        (one("ndfd48", 18.0, "pct", DM), "ndfd48", 45.0),
        (one("ndfd48", 45.0, "pct", NONE), "ndfd48", 45.0),
        (one("undf240", 18.0, "pct", DM), "undf240", 18.0),
        (one("undf240", 45.0, "pct", NONE), "undf240", 18.0),
        (one("lignin", 15.0, "pct", NONE), "lignin", 6.0),
        (one("ammonia", 2.4, "pct", DM), "ammonia", 12.0),
    ],
)
def test_shares_of_protein_and_fiber(printed: Analyte, name: str, expected: float) -> None:
    """Derived, with protein 20 and NDF 40 % of dry matter."""
    values = restated(one("cp", 20.0, "pct", DM), one("ndf", 40.0, "pct", DM), printed)
    assert values[name] == pytest.approx(expected)


def test_nitrogen_becomes_protein_only_where_none_is_printed() -> None:
    assert restated(one("n", 3.2, "pct", DM))["cp"] == pytest.approx(20.0)
    both = restated(one("n", 3.2, "pct", DM), one("cp", 19.8, "pct", DM))
    assert both["cp"] == 19.8


def test_a_share_without_its_whole_is_not_used_and_told() -> None:
    sample = sample_values(Report("R1", "L1", (one("lignin", 15.0, "pct", NONE),)))
    assert "lignin" not in sample.values
    assert sample.unused[0].reason == "it is a share of NDF, which is not given"


@pytest.mark.parametrize("text", ["ND", "BDL", "trace", "not detected"])
def test_a_poison_looked_for_and_not_found_is_none_and_a_nutrient_is_missing(text: str) -> None:
    assert restated(one("ergovaline", None, "ppb", DM, text))["ergovaline"] == 0.0
    assert "ca" not in restated(one("ca", None, "pct", DM, text))


def test_what_is_not_a_number_is_never_zero() -> None:
    assert restated(one("ergovaline", None, "ppb", DM, "N/A")) == {}
    assert restated(one("mold", None, "cfu_per_g", AR, "TNTC"))["mold"] == math.inf


def test_a_reported_minimum_is_no_value_of_the_sample() -> None:
    printed = (one("cp", 13.6, "pct", DM), one("cp_min", 7.3, "pct", DM))
    assert restated(*printed) == {"cp": 13.6}
    assert column_values(Report("R1", "L1", printed)) == {"cp": 13.6, "cp_min": 7.3}


@given(st.sampled_from(sorted(KINDS)), st.floats(0.01, 60.0), st.floats(20.0, 96.0))
def test_basis_round_trip_of_every_analyte(name: str, value: float, dm: float) -> None:
    kind = KINDS[name]
    if name in NEVER_RESCALED or kind.becomes or kind.as_share:
        return
    unit = {"percent": "pct", "ppm": "ppm", "energy_density": "mcal_per_kg"}[kind.measure]
    received = dm_to_as_received(value, dm)
    values = restated(one("dm", dm, "pct", AR), one(name, received, unit, AR))
    assert values[name] == pytest.approx(value)
    assert as_received_to_dm(received, dm) == pytest.approx(value)


def test_every_analyte_has_a_word_for_a_sentence() -> None:
    assert all(word_of(name) for name in KINDS)
    assert np.unique([word_of(name) for name in KINDS]).size == len(KINDS)
