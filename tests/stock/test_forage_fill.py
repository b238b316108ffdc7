"""What a forage fills an animal with, for every class, and what concentrate puts aside."""

import numpy as np
import pytest

from rickyard.farm import AnimalClass
from rickyard.quantities import OutOfRange
from rickyard.stock.fill import alone, shares, substitution
from rickyard.stock.fill.alone import fill_rule, fill_rules, intake_alone_kg
from rickyard.stock.fill.substitution import forage_put_aside_kg, put_aside_rate, tdn_lost_frac
from support.rows import each_row


@each_row("kind", AnimalClass)
@each_row("stage", [{}, {"nursing": True}, {"late": True}])
def test_every_class_in_every_stage_has_an_intake_of_its_own(
    kind: AnimalClass, stage: dict[str, bool]
) -> None:
    rule = fill_rule(kind, **stage)
    assert rule in fill_rules()
    tdn, ndf = np.array([46.0, 55.0, 63.0]), np.array([76.0, 62.0, 45.0])
    eaten = np.asarray(intake_alone_kg(rule, 100.0, tdn, ndf))
    assert np.all((eaten > 0.5) & (eaten < 5.0))
    assert np.all(np.diff(eaten) >= 0.0)  # better forage is never eaten less


def test_the_cap_of_fiber_is_that_of_the_species() -> None:
    # Feeds and reports meant for cattle let a nursing ewe eat fiber at 2.1 % of her weight.
    assert alone.ndf_cap_pct_bw("ewe_nursing") == 1.5
    eaten = float(intake_alone_kg("ewe_nursing", 70.0, 58.0, 65.0))
    assert eaten * 0.65 == pytest.approx(0.015 * 70.0)
    assert alone.ndf_cap_pct_bw("donkey") == np.inf
    tough = float(alone.fiber_fills_kg("heifer", 400.0, 71.0))
    assert tough == pytest.approx(400.0 * 1.0 / 71.0)


def test_twins_take_more_room_and_cattle_have_none() -> None:
    assert float(alone.late_factor("ewe_late", 0.0)) == pytest.approx(0.85)
    assert float(alone.late_factor("ewe_late", 0.0, young=2.0)) == pytest.approx(0.75)
    assert alone.late_factor("cow_dry", 0.0, young=2.0) == alone.late_factor("cow_dry", 0.0)
    assert alone.late_factor("horse", 0.0) == 1.0
    assert alone.late_factor("cow_dry", np.inf) == 1.0


def test_a_rule_nobody_knows_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no row"):
        intake_alone_kg("unicorn", 500.0, 55.0, 60.0)
    with pytest.raises(OutOfRange, match="below zero"):
        alone.dry_dairy_intake_kg(700.0, -1.0)


def test_shares_of_fill_add_up() -> None:
    each = np.array([12.0, 8.0])
    mixed = float(shares.mixed_intake_kg([25.0, 75.0], list(each)))
    assert shares.fill_share([0.25 * mixed, 0.75 * mixed], list(each)) == pytest.approx(1.0)
    left = float(shares.room_left_kg(8.0, 3.0, 12.0))
    assert shares.fill_share([3.0, left], list(each)) == pytest.approx(1.0)


def test_hours_and_places_are_held_to_what_can_be() -> None:
    for hours in (-1.0, 24.5):
        with pytest.raises(OutOfRange, match="0 to 24"):
            shares.access_share(hours)
    with pytest.raises(OutOfRange, match="above zero"):
        shares.places_needed(0, 0.37, 2.44)
    with pytest.raises(OutOfRange, match="above 0"):
        shares.as_fed_kg(150.0, 2.0, 0.0)


def test_what_a_supplement_puts_aside_grows_faster_than_it() -> None:
    weight, amounts = 600.0, np.linspace(0.0, 9.0, 40)
    for kind in ("protein", "fibre", "starch"):
        for tdn in (48.0, 55.0, 62.0):
            aside = np.asarray(
                forage_put_aside_kg(amounts, weight, kind, forage_tdn_pct=tdn)  # type: ignore[arg-type]
            )
            steps = np.diff(aside)
            assert aside[0] == 0.0
            assert np.all(np.diff(steps) >= -1e-9), (kind, tdn)
    # Chase & Hibberd measured 1.2 at the far end of the table on poor hay.
    assert put_aside_rate("starch", 1.0, 45.0) == pytest.approx(1.2)


def test_supplements_put_forage_aside_by_their_kind() -> None:
    weight = 544.0
    assert forage_put_aside_kg(0.8, weight, "protein", forage_tdn_to_cp=9.0) == 0.0
    assert forage_put_aside_kg(0.8, weight, "protein", forage_tdn_to_cp=5.0) > 0.0
    assert forage_put_aside_kg(2.0, weight, "fibre", forage_tdn_pct=48.0) == 0.0
    assert forage_put_aside_kg(2.0, weight, "fibre") == pytest.approx(0.6)
    stretched = forage_put_aside_kg(2.0, weight, "starch", stretching=True)
    assert stretched == pytest.approx(3.0)
    with pytest.raises(OutOfRange, match="no kind"):
        forage_put_aside_kg(1.0, weight, "mineral")  # type: ignore[arg-type]


def test_what_starch_costs_in_fiber_is_the_published_slope() -> None:
    # 1 % of 500 kg of concentrate, 6 kg of fiber: 8.06 points of 6 kg are not digested.
    assert 5.0 * float(tdn_lost_frac(1.2)) == pytest.approx(0.0806 * 6.0)
    assert substitution.growing_zebu_rate(200.0, 0.0) == pytest.approx(-0.018)
