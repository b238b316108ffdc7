"""Forage values exactly at the edges of what is told of them."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from rickyard.farm import Analyte, Basis, Forage, Report
from rickyard.forage.energy.derived import (
    ME_RANGE_MCAL_PER_KG,
    RFQ_RANGES,
    RFV_RANGES,
    derived_values,
)
from rickyard.forage.energy.indices import relative_feed_value
from rickyard.forage.plausibility.plausibility import rfv_disagrees
from rickyard.forage.reading.reading import _fiber_reason, _protein_reason
from rickyard.forage.reading.reading_all import _decimals
from rickyard.forage.uncertainty.odds import nitrate_sentence, worst_bale_ppm
from rickyard.forage.uncertainty.repeat_tests import combine_tests, repeat_sentence
from rickyard.forage.uncertainty.suitability import (
    DENSITY_NEEDS,
    chance_suited,
    gap_words,
    suited,
    sure_words,
)
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.forage.values.analyte_kinds import KINDS, PROTEIN_PER_NITROGEN
from rickyard.forage.values.feed_names import WET_BELOW_DM_PCT, _is_wet
from rickyard.forage.values.samples import _possible
from rickyard.match.matching import gain_from_intake
from rickyard.quantities import OutOfRange
from rickyard.stock.beef.gain_path import _lacking_kg, stage_gains_kg
from support.by_hand import one
from support.rows import each_row
from support.season_farms import hay


def measured(value: float, sd: float = 1.0, unit: str = "%") -> Measured:
    return Measured.normal(value, sd, unit, "")


# --- equations and their ranges ----------------------------------------------------------------


def outside(forage: Forage, values: dict[str, float], name: str, tdn: float = 60.0) -> bool:
    (found,) = [each for each in derived_values(forage, values, tdn) if each.name == name]
    return found.extrapolated


@each_row(
    ("adf", "ndf", "extrapolated"),
    [
        (18.0, 40.0, False),
        (17.9, 40.0, True),
        (55.0, 60.0, False),
        (55.1, 60.0, True),
        (30.0, 80.0, False),
        (30.0, 80.1, True),
        (20.0, 25.0, False),
        (20.0, 24.9, True),
    ],
)
def test_relative_feed_value_is_told_of_the_fiber_it_is_meant_for(
    adf: float, ndf: float, extrapolated: bool
) -> None:
    assert outside(Forage.ALFALFA, {"adf": adf, "ndf": ndf}, "rfv") == extrapolated


def test_the_ranges_of_equations_are_those_judged() -> None:
    assert RFV_RANGES == {"adf": (18.0, 55.0), "ndf": (25.0, 80.0)}
    assert RFQ_RANGES == {"ndfd48": (30.0, 75.0), "cp": (4.0, 26.0), "adf": (22.0, 50.0)}
    assert ME_RANGE_MCAL_PER_KG == (1.6, 3.4)


@pytest.mark.parametrize(
    ("me", "extrapolated"), [(1.59, True), (1.61, False), (3.39, False), (3.41, True)]
)
def test_net_energy_is_told_of_the_diets_it_is_meant_for(me: float, extrapolated: bool) -> None:
    # 4.409 Mcal of digestible energy a kilogram of TDN, 0.82 of it metabolizable.
    tdn = 100.0 * me / (4.409 * 0.82)
    for name in ("nem", "neg"):
        assert outside(Forage.COOL_GRASS, {}, name, tdn) == extrapolated


@pytest.mark.parametrize(("off", "disagrees"), [(10.0, False), (10.01, True), (-10.01, True)])
def test_a_printed_index_may_be_off_by_its_limit(off: float, disagrees: bool) -> None:
    own = float(relative_feed_value(35.7, 58.8))
    assert rfv_disagrees(own + off, 35.7, 58.8, limit=abs(off) if not disagrees else 10.0) == (
        disagrees
    )


def test_protein_holds_sixteen_percent_nitrogen() -> None:
    assert PROTEIN_PER_NITROGEN == 100.0 / 16.0


@pytest.mark.parametrize("measure", ["percent", "ppm", "count", "energy_density"])
def test_what_a_report_can_say_of_each_kind(measure: str) -> None:
    name = next(
        key for key, kind in KINDS.items() if kind.measure == measure and not kind.never_zero
    )
    most = {"percent": 100.0, "ppm": 1e6, "count": 1e12, "energy_density": 1e12}[measure]
    assert _possible(name, most)
    assert _possible(name, 0.0)
    assert _possible(name, 0.05)
    assert _possible(name, -0.01) == (measure == "energy_density")
    if measure in ("percent", "ppm"):
        assert not _possible(name, most * 1.0001)


def test_acidity_and_bare_numbers_are_above_nothing() -> None:
    assert [_possible("ph", value) for value in (0.0, 0.05, 14.0, 14.01)] == [
        False,
        True,
        True,
        False,
    ]
    bare = next(key for key, kind in KINDS.items() if kind.measure == "none" and key != "ph")
    assert [_possible(bare, value) for value in (0.0, 0.05, 1e9)] == [False, True, True]


def test_what_is_never_nothing_is_above_it() -> None:
    never = [key for key, kind in KINDS.items() if kind.never_zero and kind.measure == "percent"]
    assert never
    assert not any(_possible(key, 0.0) for key in never)
    assert all(_possible(key, 0.05) for key in never)


def test_feeds_of_less_than_sixty_percent_dry_matter_are_wet() -> None:
    assert WET_BELOW_DM_PCT == 60.0
    assert _is_wet("corn_silage")
    assert not _is_wet("oats_grain")


# --- chances -----------------------------------------------------------------------------------


@each_row(
    ("chance", "said"),
    [
        (0.95, "almost certainly"),
        (0.9499, "about 9 times in 10"),
        (0.05, "about 1 time in 10"),
        (0.049, "rarely"),
        (0.14, "about 1 time in 10"),
        (0.16, "about 2 times in 10"),
        (0.0, "rarely"),
        (1.0, "almost certainly"),
    ],
)
def test_chances_are_said_in_tenths(chance: float, said: str) -> None:
    if chance == 0.05:
        chance = 1.0 - 0.95
    assert sure_words(chance) == said


@each_row("need", DENSITY_NEEDS)
def test_a_forage_suits_who_needs_just_what_it_holds(need: Any) -> None:
    assert need in suited(need.tdn_pct, need.cp_pct, None)
    assert need not in suited(need.tdn_pct - 0.01, need.cp_pct, None)
    assert need not in suited(need.tdn_pct, need.cp_pct - 0.01, None)
    assert gap_words(need, need.tdn_pct, need.cp_pct) == ""
    assert gap_words(need, need.tdn_pct - 0.06, need.cp_pct) == "0.1 points of TDN"
    assert gap_words(need, need.tdn_pct, need.cp_pct - 0.04) == ""
    even = chance_suited(need, measured(need.tdn_pct), measured(need.cp_pct + 50.0))
    assert even == pytest.approx(0.5)


def test_a_value_without_error_is_sure() -> None:
    exact = measured(12.0, 0.0)
    assert [exact.chance_at_least(limit) for limit in (11.99, 12.0, 12.01)] == [1.0, 1.0, 0.0]
    assert measured(12.0, 0.05).chance_at_least(12.05) == pytest.approx(0.158655, abs=1e-6)
    for sd in (-0.1, float("nan")):
        with pytest.raises(OutOfRange):
            measured(12.0, sd)


def test_two_tests_agree_within_196_of_their_error() -> None:
    first, second = measured(12.0, 3.0), measured(12.0 + 1.95 * 5.0, 4.0)
    assert combine_tests(first, second).agree
    assert not combine_tests(first, measured(12.0 + 1.97 * 5.0, 4.0)).agree
    assert combine_tests(first, second).together.sd == pytest.approx(2.4)
    for sd in ((0.0, 1.0), (1.0, 0.0)):
        with pytest.raises(OutOfRange):
            combine_tests(measured(1.0, sd[0]), measured(1.0, sd[1]))


def test_only_the_two_newest_tests_are_compared() -> None:
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)

    def test(name: str, cp: float) -> Report:
        return Report(name, "lot", (Analyte("cp", cp, "pct", Basis.DRY_MATTER),), cores=20)

    assert repeat_sentence(lot, [test("R1", 9.0)]) == ""
    said = repeat_sentence(lot, [test("R1", 9.0), test("R2", 9.2), test("R3", 20.0)])
    assert "R2 and R1" in said
    assert "R3" not in said


@pytest.mark.parametrize(("ppm", "acted"), [(0.0, 0.0), (0.05, 0.1), (1200.0, 2400.0)])
def test_twice_the_nitrate_of_a_composite_is_acted_upon(ppm: float, acted: float) -> None:
    assert worst_bale_ppm(ppm) == pytest.approx(acted)
    with pytest.raises(OutOfRange):
        worst_bale_ppm(-0.01)


def test_nitrate_is_told_when_a_hot_bale_may_harm() -> None:
    """Clemson: safe for all to 600 ppm of nitrate-nitrogen."""
    assert nitrate_sentence({}) == ""

    def said(value: float, sd: float) -> str:
        return nitrate_sentence({"nitrate_no3n_ppm": measured(value, sd, "ppm")})

    silent = [value for value in np.arange(1.0, 1000.0) if not said(float(value), 0.0)]
    assert all(2.0 * value <= 2.0 * max(silent) for value in silent)
    assert said(max(silent) + 1.0, 0.0)
    wide = said(500.0, 600.0)
    assert "range 0-1,487 ppm" in wide, "there is no nitrate below nothing"


# --- words of a reading ------------------------------------------------------------------------


def profile(**what: Any) -> Any:
    usual = {
        "origins": {"cp_pct": "lab", "ndf_pct": "book", "crude_cp_pct": "lab"},
        "cp_pct": 8.0,
        "crude_cp_pct": 8.0,
        "tdn_pct": 56.0,
        "ndf_pct": 60.0,
        "rfv": None,
    }
    return one(**{**usual, **what})


@pytest.mark.parametrize(
    ("tdn", "cp", "crude", "said"),
    [
        (56.0, 8.0, 8.0, "in balance with its energy"),
        (56.1, 8.0, 8.0, "TDN is 7.0 times the protein, and above 7 times"),
        (56.0, 0.0, 8.0, "in balance with its energy"),
        (56.0, 8.0, 8.05, "after 0.1 points off for heat damage"),
    ],
)
def test_protein_is_short_of_energy_above_seven_times(
    tdn: float, cp: float, crude: float, said: str
) -> None:
    sentence = _protein_reason(profile(tdn_pct=tdn, cp_pct=cp, crude_cp_pct=crude), measured(cp))
    assert said in sentence
    assert ("heat damage" in sentence) == (crude > cp)


@pytest.mark.parametrize(("rfv", "said"), [(100.0, "as good as or better"), (99.9, "bulkier")])
def test_full_bloom_alfalfa_is_the_measure_of_feed_value(rfv: float, said: str) -> None:
    assert said in _fiber_reason(one(), profile(rfv=rfv), {"ndf_pct": measured(60.0)})


@each_row(
    ("value", "decimals"), [(100.0, 0), (99.9, 1), (5.0, 1), (4.99, 2), (-100.0, 0), (-5.0, 1)]
)
def test_large_values_are_told_with_fewer_digits(value: float, decimals: int) -> None:
    assert _decimals(value) == decimals


# --- growth ------------------------------------------------------------------------------------


@each_row(
    ("lacks", "days", "gain"),
    [
        (20.0, 100.0, 0.2),
        (-5.0, 100.0, 0.0),
        (0.05, 1.0, 0.05),
        (900.0, 100.0, 0.9),
        (20.0, 0.0, 0.0),
        (20.0, -3.0, 0.0),
        (0.01, 0.05, 0.2),
    ],
)
def test_a_heifer_gains_what_she_lacks_over_the_days_left(
    lacks: float, days: float, gain: float
) -> None:
    assert _lacking_kg(lacks, days) == pytest.approx(gain)


def test_a_heifer_gains_to_her_calvings() -> None:
    assert stage_gains_kg(400.0, 500.0, 0.0, np.inf, 365.0) == (0.0, 0.0)
    before, after = stage_gains_kg(400.0, 500.0, 0.0, 100.0, 365.0)
    assert before == pytest.approx(0.25)
    assert after == pytest.approx(0.07 * 500.0 / 365.0)
    # Once she has calved the days until the second are what is left of the year.
    _, late = stage_gains_kg(455.0, 500.0, 65.0, 0.0, 365.0)
    assert late == pytest.approx(5.0 / 300.0)
    stated = stage_gains_kg(400.0, 500.0, 0.0, 100.0, 365.0, 0.5)
    assert stated[1] == pytest.approx(10.0 / 365.0)


def test_feed_beyond_maintenance_is_gain_and_what_lacks_is_a_deficit() -> None:
    exact = gain_from_intake(8.0, 8.0, 1.0, 0.5, 300.0)
    assert float(exact.gain_kg) == 0.0
    assert float(exact.nem_deficit_mcal) == 0.0
    short = gain_from_intake(7.0, 8.0, 1.0, 0.5, 300.0)
    assert float(short.nem_deficit_mcal) == pytest.approx(1.0)
    assert float(short.retained_energy_mcal) == 0.0
    over = gain_from_intake(10.0, 8.0, 1.0, 0.5, np.array([300.0, 400.0]))
    assert float(np.ravel(over.retained_energy_mcal)[0]) == pytest.approx(1.0)
    assert over.gain_kg.shape == (2,)
