"""The seasons of a farm side by side, by hand: no hay is counted in two of them."""

import math
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from rickyard.book import records
from rickyard.book.acting import Role
from rickyard.book.base import BookPlace
from rickyard.book.folders import farm_of, take_in
from rickyard.book.services import begin_season, let_in
from rickyard.book.years import told_of_years, years_of
from rickyard.book.years.quality import mean_by_mass
from rickyard.farm import Forage
from support.farm_folders import GOOD, write_texts

START = date(2026, 11, 15)
NEW_YEAR = date(2027, 1, 1)
LB = 0.45359237


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def test_what_is_left_of_a_season_begins_the_next_and_is_not_put_up_again(season: Any) -> None:
    prices = {one.feed_id: one.price_usd_per_kg for one in farm_of(season).feeds}
    counted = date(2026, 10, 1)
    begin_season(None, season.id, START, date(2027, 4, 15), counted, prices)
    found = years_of(None, season.farm_id, NEW_YEAR)
    new, old = found.seasons
    assert (old.start, old.until, new.until) == (date(2025, 11, 15), date(2026, 4, 14), NEW_YEAR)
    # 2 bales of 1,150 lb fed and 4 of 4,600 lb sold, a little lighter for storage.
    assert old.hay.fed == pytest.approx(2.0 * 1150.0 * LB, rel=0.01)
    assert old.hay.sold == pytest.approx(4.0 * 1150.0 * LB, rel=0.01)
    assert (old.hay.over, old.hay.bought, new.hay.put_up) == (0.0, 0.0, 0.0)
    assert (new.hay.fed, new.costs, new.cp_pct, new.tested_pct) == (None, None, None, None)
    # All that came, less all that went, is left.
    for one in (old.hay, new.hay):
        came = math.fsum((one.over, one.put_up, one.bought, one.odd))
        assert came - (one.fed or 0.0) - one.sold - one.storage == pytest.approx(one.left)
    storage = old.hay.left - new.hay.over
    assert 0.0 < storage < 0.2 * old.hay.left
    assert old.feed_kg == pytest.approx(120.0 * LB)
    assert old.costs is not None
    assert old.costs.usd == pytest.approx(
        old.hay.fed / LB / 2000.0 * 110.0 + 120.0 / 2000.0 * 390.0
    )
    # Two lots of three are tested, once each; the one season after has no hay of its own.
    assert [(one.forage, one.tested, one.year) for one in found.quality] == [
        (Forage.ALFALFA, 0, 2025),
        (Forage.COOL_GRASS, 1, 2025),
        (Forage.COOL_GRASS, 1, 2025),
    ]
    assert {one.cp_pct for one in found.quality} == {None, 11.4, 8.7}
    told = told_of_years(found)
    assert [(one.season, one.is_open) for one in told.seasons] == [
        ("2026-27", True),
        ("2025-26", False),
    ]
    assert told.answer == "2 seasons in the book; nothing is noted as fed in the newest yet."
    assert told.lede.startswith("The last one before fed 1.1 tons.")


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_means_of_a_season_are_by_dry_matter(season: Any) -> None:
    """121 bales of 1,150 lb at 86 % and 80 of 1,050 lb at 84.5 %; alfalfa is not tested."""
    (one,) = years_of(None, season.farm_id, NEW_YEAR).seasons
    first, second = 121.0 * 1150.0 * 0.86, 80.0 * 1050.0 * 0.845
    mean = (11.4 * first + 8.7 * second) / (first + second)
    # The first was put up in June, before storage took any of it.
    assert one.cp_pct == pytest.approx(mean, rel=5e-3)
    assert 75.0 < (one.tested_pct or 0.0) < 90.0
    assert mean_by_mass([]) is None
    assert mean_by_mass([(8.0, 0.0)]) is None


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_a_helper_sees_years_without_money(season: Any) -> None:
    helper = records.Person.objects.create(name="A helper")
    let_in(None, season.farm_id, helper, Role.HELPER)
    (one,) = years_of(helper, season.farm_id, NEW_YEAR).seasons
    assert (one.costs, one.hay.fed is None) == (None, False)
    assert not told_of_years(years_of(helper, season.farm_id, NEW_YEAR)).has_costs


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_a_day_before_anything_was_fed_says_so(season: Any) -> None:
    before = years_of(None, season.farm_id, date(2025, 11, 15) - timedelta(days=1))
    assert before.seasons[0].hay.fed is None
    assert told_of_years(before).seasons[0].fed == "none noted"
