"""Values of a report and of print on either side of the edge at which they are counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from rickyard.analysis_error import UNEVEN_LOT_FACTOR
from rickyard.farm import Analyte, Basis, Forage, Lot, Package, Report, Storage
from rickyard.forage.energy.lot_energy import REGRESSION_ADF_RANGE_PCT as ENDS
from rickyard.forage.energy.lot_energy import lot_energy
from rickyard.forage.hazards.molds import (
    AFLATOXIN_LIMIT_PPB,
    DON_TOTAL_RATION_PPM,
    FUMONISIN_DIET_LIMIT_PPM,
)
from rickyard.forage.hazards.soil import soil_hazards
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.uncertainty.lot_error import lot_measured
from rickyard.forage.uncertainty.repeat_tests import combine_tests
from rickyard.forage.uncertainty.uncertainty import (
    CORES_WHEN_UNKNOWN,
    Labs,
    Measured,
    analyte_sd,
    sd_between_labs,
)
from rickyard.forage.values.samples import sample_values
from rickyard.quantities import OutOfRange
from support.rows import each_row

LOT = Lot(
    "L",
    "Hill",
    Forage.COOL_GRASS,
    Package.ROUND,
    Storage.ENCLOSED_BARN,
    bales=10.0,
    baled_on=date(2026, 6, 1),
    counted_on=date(2026, 10, 1),
)


def report(*values: Analyte, **changes: object) -> Report:
    one = Report("R", "L", values, date(2026, 9, 1))
    return replace(one, **changes)  # type: ignore[arg-type]


def dry(name: str, value: float, unit: str = "pct") -> Analyte:
    return Analyte(name, value, unit, Basis.DRY_MATTER)


#: Severe & Young 2017, ADSA abstract T108: twelve laboratories, each one blind sample.
BETWEEN_LABS = {
    "mixed grass": (1.3, 3.2, 4.3, 13.6),
    "pre-bloom alfalfa": (1.9, 2.1, 3.5, 13.9),
    "pre-bud alfalfa": (2.5, 2.5, 3.8, 31.7),
}


@pytest.mark.parametrize("hay", BETWEEN_LABS)
def test_laboratories_lie_apart_as_printed(hay: str) -> None:
    found = tuple(sd_between_labs(hay, one) for one in ("CP", "ADF", "NDF", "RFV"))
    assert found == BETWEEN_LABS[hay]


@each_row(
    ("name", "unit", "value", "counts"),
    [
        ("cp", "pct", 100.0, True),
        ("cp", "pct", 100.1, False),
        ("cp", "pct", -0.01, False),
        ("na", "pct", 0.0, True),
        ("cu", "ppm", 0.0, True),
        ("cu", "ppm", -0.1, False),
        ("fe", "ppm", 1e6, True),
        ("fe", "ppm", 1e6 + 1.0, False),
        ("ph", "", 14.0, True),
        ("ph", "", 14.1, False),
        ("ph", "", 0.0, False),
        ("rfv", "", 0.0, False),
        ("rfv", "", 0.1, True),
    ],
)
def test_a_value_that_cannot_be_is_not_counted(
    name: str, unit: str, value: float, counts: bool
) -> None:
    basis = Basis.DRY_MATTER if unit else Basis.NONE
    found = sample_values(report(Analyte(name, value, unit, basis)))
    assert (name in found.values) is counts
    assert bool(found.unused) is not counts


@pytest.mark.parametrize(("dm", "known"), [(100.0, True), (100.1, False), (88.0, True)])
def test_dry_matter_up_to_a_hundred_percent_is_known(dm: float, known: bool) -> None:
    printed = (
        Analyte("dm", dm, "pct", Basis.AS_RECEIVED),
        Analyte("cp", 10.0, "pct", Basis.AS_RECEIVED),
    )
    found = sample_values(report(*printed))
    assert (found.dm_pct is not None) is known
    if known:
        assert found.values["cp"] == pytest.approx(1000.0 / dm)
    else:
        assert "cp" not in found.values


def test_the_newest_report_goes_first_by_the_day_it_was_reported_and_else_sampled() -> None:
    old = report(dry("cp", 8.0), report_id="A", sampled_on=date(2026, 9, 20), reported_on=None)
    new = report(
        *(dry("cp", 12.0),),
        report_id="B",
        sampled_on=date(2026, 9, 1),
        reported_on=date(2026, 9, 25),
    )
    undated = report(dry("cp", 15.0), report_id="C", sampled_on=None, reported_on=None)
    for reports in ((old, new, undated), (undated, new, old)):
        assert lot_profile(LOT, reports).cp_pct == 12.0
    late = replace(old, sampled_on=date(2026, 9, 30))
    assert lot_profile(LOT, (new, late)).cp_pct == 8.0


@pytest.mark.parametrize(("ash", "told"), [(8.9, 0), (9.1, 1)])
def test_soil_is_told_from_three_points_of_ash_above_the_clean_plant(ash: float, told: int) -> None:
    """Grass holds 6 % of ash of its own; the sentence names the most that a clean hay has."""
    found = list(soil_hazards("Hill", Forage.COOL_GRASS, ash, wet=False))
    assert len(found) == told
    assert all("9%" in f"{one.finding} {one.table}" for one in found)
    assert list(soil_hazards("Hill", Forage.COOL_GRASS, None, wet=False)) == []


@pytest.mark.parametrize("end", [0, 1])
def test_energy_by_fiber_outside_the_range_of_the_equation_is_told(end: int) -> None:
    def said(adf: float) -> bool:
        values = {"adf": adf, "ndf": 60.0, "cp": 10.0}
        notes = lot_energy("Hill", Forage.COOL_GRASS, values).assumptions
        return any("extrapolated" in one.sentence for one in notes)

    assert not said(ENDS[end])
    assert said(ENDS[end] + (-0.01, 0.01)[end])


def test_levels_of_mold_poisons_are_those_of_the_agency() -> None:
    """FDA: aflatoxin CPG 683.100; fumonisin guidance 2001; DON advisory letter 2010."""
    assert AFLATOXIN_LIMIT_PPB == {
        "dairy": 20.0,
        "immature": 20.0,
        "unknown": 20.0,
        "breeding_cattle": 100.0,
        "finishing_beef": 300.0,
    }
    assert FUMONISIN_DIET_LIMIT_PPM == {
        "horse": 1.0,
        "breeding_ruminants": 15.0,
        "ruminants_for_slaughter": 30.0,
    }
    assert DON_TOTAL_RATION_PPM == {
        "beef_over_4_months": 10.0,
        "dairy_over_4_months": 5.0,
        "other": 2.0,
    }


def test_two_tests_are_weighted_only_where_each_has_an_error() -> None:
    sure, unsure = Measured.normal(10.0, 1.0, "%", ""), Measured.normal(12.0, 1.0, "%", "")
    exact = Measured.normal(10.0, 0.0, "%", "")
    assert combine_tests(sure, unsure).together.value == pytest.approx(11.0)
    assert combine_tests(sure, unsure).together.sd == pytest.approx(0.5**0.5)
    for pair in ((exact, sure), (sure, exact)):
        with pytest.raises(OutOfRange):
            combine_tests(*pair)


@pytest.mark.parametrize(
    ("changes", "name", "factor"),
    [
        ({}, "cp", 1.0),
        ({"cutting": 1}, "cp", UNEVEN_LOT_FACTOR),
        ({"cutting": 2}, "cp", 1.0),
        ({"rained_on": True}, "cp", UNEVEN_LOT_FACTOR),
        ({"storage": Storage.EXPOSED_GROUND}, "cp", 1.0),
    ],
)
def test_a_lot_is_measured_by_its_cores_and_less_surely_where_it_is_uneven(
    changes: dict[str, object], name: str, factor: float
) -> None:
    lot = replace(LOT, **changes)  # type: ignore[arg-type]
    printed = report(dry("cp", 12.0), dry("adf", 36.0), dry("ndf", 58.0), cores=12)
    profile = lot_profile(lot, (printed,))
    found = lot_measured(lot, (printed,), profile)["cp_pct"]
    wanted = float(analyte_sd(name, profile.cp_pct, 12, lot.bales, Labs.ANY, factor))
    assert found.sd == pytest.approx(wanted)
    uncored = replace(printed, cores=None)
    usual = lot_measured(lot, (uncored,), profile)["cp_pct"].sd
    few = float(analyte_sd(name, profile.cp_pct, CORES_WHEN_UNKNOWN, lot.bales, Labs.ANY, factor))
    assert usual == pytest.approx(few)
    less = replace(lot, bales=0.5)
    endless = float(analyte_sd(name, profile.cp_pct, 12, None, Labs.ANY, factor))
    assert lot_measured(less, (printed,), profile)["cp_pct"].sd == pytest.approx(endless)


def test_protein_that_a_laboratory_corrects_for_heat_has_the_error_of_what_it_prints() -> None:
    """Twelve percent are crude and nine are left; where both are the same, that of the crude."""
    printed = report(dry("cp", 12.0), dry("adf", 36.0), dry("ndf", 58.0), cores=12)
    plain = lot_profile(LOT, (printed,))
    crude = lot_measured(LOT, (printed,), plain)["cp_pct"]
    assert (crude.value, plain.cp_pct) == (12.0, 12.0)
    left = lot_measured(LOT, (printed,), replace(plain, cp_pct=9.0))["cp_pct"]
    wanted = float(analyte_sd("cp", 9.0, 12, LOT.bales, Labs.ANY))
    assert (left.value, left.sd) == (9.0, pytest.approx(wanted))
    other = replace(plain, cp_pct=9.0, origins={**plain.origins, "cp_pct": "book"})
    assert lot_measured(LOT, (printed,), other)["cp_pct"].value == 12.0
    bound = replace(plain, adicp_pct=2.0)
    assert lot_measured(LOT, (printed,), bound)["cp_pct"] == crude
