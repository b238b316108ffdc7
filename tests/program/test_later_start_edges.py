"""A season planned from a day in it: what was fed and spent by then, and what nobody counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from rickyard.display import display_for
from rickyard.farm import Caution, Farm, FedRow, Feed, FeedKind, Wanted, WishRow
from rickyard.program.problem.mid_season import MidSeason, farm_from, with_notes
from rickyard.program.result import SeasonProgram
from rickyard.quantities import OutOfRange
from support.farms import START
from support.laid_programs import laid_program
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

DAY = timedelta(days=1)
FIRST = START + 14 * DAY
METRIC = display_for("metric")
CORN = Feed(
    *("corn", "Corn", FeedKind.GRAIN, 0.3),
    dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0, most_kg=900.0, bale_weight_kg=20.0,
)  # fmt: skip


def a_farm(*fed: FedRow, lots: int = 1, counted: int = 0, **season: Any) -> Farm:
    hays = [hay(f"h{number}", 55.0, 9.0, 50.0, 60.0) for number in range(lots)]
    dated = [replace(one, counted_on=START + counted * DAY) for one in hays]
    oats = replace(CORN, feed_id="oats", name="Oats", price_usd_per_kg=0.5, most_kg=None)
    farm = farm_of([(one, report_on(one, 55.0, 9.0)) for one in dated], [cows()], [CORN, oats])
    season = {"cash_limit_usd": 200.0, **season}
    return replace(farm, units="metric", fed=fed, season=replace(farm.season, **season))


def fed(day: int, kg: float | None = None, bales: float | None = None, of: str = "corn") -> FedRow:
    return FedRow(START + day * DAY, of, "cows", mass_kg=kg, bales=bales)


def said(mid: MidSeason, words: str) -> bool:
    return any(words in one.sentence for one in mid.assumptions)


@pytest.mark.parametrize(("day", "possible"), [(-1, False), (1, True), (500, False)])
def test_a_day_is_planned_from_within_the_season(day: int, possible: bool) -> None:
    farm = a_farm()
    if possible:
        mid = farm_from(farm, START + day * DAY)
        assert mid.farm.season.start == START + day * DAY
        assert mid.farm.season.weighed_on == START
        assert farm_from(farm, farm.season.end - DAY).farm.season.end == farm.season.end
    else:
        with pytest.raises(OutOfRange):
            farm_from(farm, START + day * DAY)
    with pytest.raises(OutOfRange):
        farm_from(farm, farm.season.end)
    for same in (None, START):
        assert farm_from(farm, same) == MidSeason(farm, (), ())


@each_row(
    ("rows", "used", "spent"),
    [
        ((), 0.0, 0.0),
        ((fed(-1, 100.0), fed(14, 100.0), fed(15, 100.0)), 0.0, 0.0),
        ((fed(0, 100.0), fed(13, 50.0)), 150.0, 45.0),
        ((fed(3, bales=5.0),), 100.0, 30.0),
        ((fed(3), fed(4)), 0.0, 0.0),
        ((fed(3, 100.0), fed(3, 100.0, of="oats")), 100.0, 80.0),
        ((fed(3, 1000.0),), 900.0, 200.0),
    ],
)
def test_what_was_fed_by_then_was_bought_and_paid(
    rows: tuple[FedRow, ...], used: float, spent: float
) -> None:
    mid = farm_from(a_farm(*rows), FIRST)
    corn, oats = mid.farm.feeds
    assert (corn.most_kg, oats.most_kg) == (pytest.approx(900.0 - used), None)
    assert mid.farm.season.cash_limit_usd == pytest.approx(200.0 - spent)
    assert said(mid, "had been fed by then") == (used > 0.0)
    assert said(mid, "of the cash is spent") == (spent > 0.0)
    assert not said(mid, "of Oats")
    free = farm_from(a_farm(*rows, cash_limit_usd=None), FIRST)
    assert free.farm.season.cash_limit_usd is None
    assert not said(free, "of the cash is spent")


def test_what_was_fed_is_told_of_feeds_with_a_limit() -> None:
    mid = farm_from(a_farm(fed(3, 100.0)), FIRST)
    assert said(mid, f"{METRIC.amount_text(100.0)} of Corn had been fed by then")
    assert said(mid, "$30 of the cash is spent")


@pytest.mark.parametrize(("counted", "told"), [(0, False), (14, False), (15, True)])
def test_hay_counted_after_that_day_is_told(counted: int, told: bool) -> None:
    assert said(farm_from(a_farm(counted=counted), FIRST), "after that day") == told


@each_row(
    ("rows", "lots", "counted", "doubted"),
    [
        ((), 1, -1, True),
        ((), 1, 0, False),
        ((), 0, -1, False),
        ((fed(0, 1.0),), 1, -1, False),
        ((fed(13, 1.0),), 1, -1, False),
        ((fed(14, 1.0),), 1, -1, True),
        ((fed(-1, 1.0),), 1, -1, True),
    ],
)
def test_hay_that_nobody_counted_or_fed_since_is_doubted(
    rows: tuple[FedRow, ...], lots: int, counted: int, doubted: bool
) -> None:
    assert bool(farm_from(a_farm(*rows, lots=lots, counted=counted), FIRST).cautions) == doubted


@pytest.mark.parametrize(
    ("row", "of_what", "cash", "told"),
    [
        ({}, "corn", None, True),
        ({}, "oats", None, False),
        ({}, "oats", 200.0, True),
        ({"kg": 30.0}, "corn", 200.0, False),
        ({"bales": 2.0}, "corn", 200.0, False),
    ],
)
def test_what_was_fed_without_a_weight_is_told_where_it_counts(
    row: dict[str, float], of_what: str, cash: float | None, told: bool
) -> None:
    """Blank is unknown: it was counted as nothing fed, and nobody was told."""
    unweighed: dict[str, Any] = {"kg": None, "bales": None, **row}
    log = fed(3, 100.0), fed(4, of=of_what, **unweighed)
    found = farm_from(a_farm(*log, cash_limit_usd=cash), FIRST).cautions
    name = {"corn": "Corn", "oats": "Oats"}[of_what]
    lines = [
        one for one in found if f"The feeding log has 1 line of {name} without" in one.sentence
    ]
    assert [(one.level, one.about, one.sources) for one in lines] == (
        [("warning", of_what, (of_what,))] if told else []
    )


def test_five_lots_are_named_that_nobody_counted() -> None:
    for lots, others in ((5, False), (6, True)):
        (caution,) = farm_from(a_farm(lots=lots, counted=-1), FIRST).cautions
        named = [f"h{number}" in caution.sentence.lower() for number in range(lots)]
        assert named == [True] * 5 + [False] * (lots - 5)
        assert ("and others" in caution.sentence) == others


def test_wishes_that_are_over_and_sales_are_left_behind() -> None:
    ends = (None, FIRST, FIRST + DAY)
    wishes = tuple(WishRow(Wanted.FEED, "h0", "cows", None, end) for end in ends)
    farm = replace(a_farm(), wishes=wishes)
    farm = replace(farm, lots=tuple(replace(one, sale_usd_per_kg=0.1) for one in farm.lots))
    mid = farm_from(farm, FIRST)
    assert [row.end for row in mid.farm.wishes] == [None, FIRST + DAY]
    assert [one.sale_usd_per_kg for one in mid.farm.lots] == [None]
    assert said(mid, "none is sold from here on")
    assert not said(farm_from(a_farm(), FIRST), "none is sold from here on")


def test_the_gravest_caution_of_both_comes_first() -> None:
    mid = farm_from(a_farm(counted=-1), FIRST)
    base: SeasonProgram = laid_program(a_farm(), 3)
    levels = [Caution(level, "", level, "") for level in ("note", "danger", "warning")]
    noted = with_notes(replace(base, cautions=(*levels, levels[0])), mid)
    order = [one.level for one in noted.cautions]
    assert order == sorted(order, key=["danger", "warning", "note"].index)
    assert set(noted.cautions) == {*levels, *mid.cautions}
    assert len(noted.cautions) == 4
    assert noted.assumptions[: len(mid.assumptions)] == mid.assumptions
    assert with_notes(base, MidSeason(a_farm(), (), ())) is base
    alone = MidSeason(a_farm(), mid.assumptions, ())
    assert len(with_notes(base, alone).assumptions) == len(base.assumptions) + len(mid.assumptions)
