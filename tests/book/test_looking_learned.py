"""What is learned while looking back, by hand-worked numbers."""

import math
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from rickyard.book.looking import learned_dry_matter
from rickyard.farm import (
    Analyte,
    Basis,
    Farm,
    Forage,
    Lot,
    Package,
    Report,
    Season,
    Storage,
)

COUNTED = date(2026, 10, 1)


def a_lot(**more: Any) -> Lot:
    """Return a hundred round bales of a second cutting in a barn."""
    lot = Lot("L", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 100.0,
              date(2026, 6, 1), COUNTED, cutting=2, bale_weight_kg=500.0)  # fmt: skip
    return replace(lot, **more)


def a_farm(lot: Lot, *reports: Report, **more: Any) -> Farm:
    season = Season(date(2026, 11, 1), date(2027, 4, 1))
    return Farm("Larkmoor", season, lots=(lot,), reports=reports, **more)


def dried(name: str, dm_pct: float, lab: str) -> Report:
    """Return a full test: one of moisture alone is counted nowhere."""
    dm = Analyte("dm", dm_pct, "pct", Basis.AS_RECEIVED)
    values = (dm, Analyte("cp", 9.4, "pct", Basis.DRY_MATTER))
    return Report(name, "L", values, cores=20, lab=lab)


def test_repeat_tests_of_dry_matter_are_put_together() -> None:
    """20 cores of 100 bales: 0.191 points beside a laboratory's 0.5, and 0.866 between them."""
    one, bias = math.hypot(math.sqrt(0.91 / 20.0 * 0.8), 0.5), math.sqrt(0.75)
    tests = (dried("R1", 84.0, "East"), dried("R2", 86.0, "East"))
    (found,) = learned_dry_matter(a_farm(a_lot(), *tests))
    assert (found.tests, found.seen_pct) == (2, pytest.approx(85.0))
    seen = one**2 / 2.0 + bias**2
    share = seen / (seen + 3.6**2)
    assert found.pct == pytest.approx(85.0 + share * (found.usual_pct - 85.0))
    error = 3.6 * math.sqrt(share)
    assert found.high_pct - found.low_pct == pytest.approx(2.0 * 1.645 * error)


def test_two_laboratories_say_more_than_one_twice() -> None:
    east = a_farm(a_lot(), dried("R1", 84.0, "East"), dried("R2", 86.0, "East"))
    both = a_farm(a_lot(), dried("R1", 84.0, "East"), dried("R2", 86.0, "West"))
    (same,), (apart,) = learned_dry_matter(east), learned_dry_matter(both)
    assert apart.high_pct - apart.low_pct < same.high_pct - same.low_pct


def test_stated_dry_matter_may_come_from_a_test_and_draws_nothing() -> None:
    tests = (dried("R1", 84.0, "East"), dried("R2", 86.0, "East"))
    (bare,) = learned_dry_matter(a_farm(a_lot(), *tests))
    (stated,) = learned_dry_matter(a_farm(a_lot(dm_pct=84.0), *tests))
    assert (stated.pct, stated.counted_pct, stated.differs) == (bare.pct, 84.0, False)
    (wet,) = learned_dry_matter(a_farm(a_lot(dm_pct=75.0), *tests))
    assert wet.differs
    assert learned_dry_matter(a_farm(a_lot(), tests[0])) == ()
