"""What another feeder removes of a shortage, by the hay that it wastes less."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import (
    AnimalClass,
    Farm,
    Feeder,
    Forage,
    Group,
    Lot,
    Package,
    Season,
    Storage,
)
from rickyard.program.ask.avoid_shortage import _less_wasted, _Short
from rickyard.program.ask.less_waste import OtherFeeder, limited, limiting, other_feeders
from rickyard.program.ask.sensitivity import Sensitivity
from rickyard.program.result import Shortage
from support.by_hand import one

START, WEEK = date(2027, 1, 4), timedelta(days=7)
METRIC = display_for("metric")


@dataclass(frozen=True)
class Sources:
    feeding_loss_frac: Any


@dataclass(frozen=True)
class Wasting:
    needs: Any
    sources: Any


@dataclass(frozen=True)
class Fill:
    free: Any


@dataclass(frozen=True)
class Filled:
    needs: Any
    fill: Any


def herd(**more: Any) -> Group:
    return Group("b", "B", AnimalClass.COW, 40, 590.0, **more)


@pytest.mark.parametrize(
    ("group", "now", "then", "rings"),
    [
        # Losses that cattle are planned with: open ring 20 %, on the ground 45 %, cone 6 %.
        (herd(feeder=Feeder.OPEN_RING), 20.0, 6.0, 2),
        (herd(feeder=Feeder.NONE), 45.0, 6.0, 2),
        (herd(), 20.0, 6.0, 2),
        (Group("b", "Ewes", AnimalClass.EWE, 40, 70.0, feeder=Feeder.NONE), 30.0, 15.0, 0),
        # It is told, given by the day, or no better can be had.
        (herd(feeder=Feeder.NONE, feeding_loss_pct=30.0), None, None, 0),
        (herd(feeder=Feeder.BUNK), None, None, 0),
        (herd(feeder=Feeder.CONE_RING), None, None, 0),
    ],
)
def test_another_feeder_is_one_that_wastes_less_with_hay_all_day(
    group: Group, now: float | None, then: float | None, rings: int
) -> None:
    lot = Lot("l", "L", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 10.0, START, START)
    farm = Farm(
        name="F",
        season=Season(START, START + WEEK),
        lots=(lot,),
        reports=(),
        groups=(group,),
        feeds=(),
    )
    found = other_feeders(farm).get("b")
    assert (found is not None) is (now is not None)
    if found is not None:
        assert (found.now_pct, found.then_pct) == (pytest.approx(now), pytest.approx(then))
        assert found.rings == rings
        # 40 cows at 37 cm each (Buskirk et al. 2003) stand around two rings of 8 ft.
        assert found.loss_frac == pytest.approx([(then or 0.0) / 100.0])


@pytest.mark.parametrize(
    ("left", "said"), [(0.0, "would remove it"), (60.0, "would remove 40% of it"), (97.0, "")]
)
def test_less_waste_says_what_it_removes_and_costs(left: float, said: str) -> None:
    wastes = OtherFeeder(Feeder.NONE, Feeder.CONE_RING, 45.0, 6.0, 2, np.array([0.06]))
    sources = Sources(np.array([[0.3], [0.45]]))
    needs = one(groups=(one(group_id="a", name="A"), one(group_id="b", name="B")))
    asked: list[Any] = []

    @contextmanager
    def other_seasons() -> Iterator[Callable[[Any], Any]]:
        yield lambda problem: asked.append(problem) or one(usd=880.0, short_usd=left)

    season: Any = Wasting(needs, sources)
    inquiry: Any = one(
        problem=season, base=one(usd=1000.0, short_usd=100.0), other_seasons=other_seasons
    )
    lacking = Shortage("b", START, START + WEEK, "cp", "kg", 9.0, 9.0, "")
    lacks = _Short(lacking, np.zeros(0, dtype=np.int64), 100.0)
    told = list(_less_wasted(inquiry, lacks, METRIC, wastes))
    assert asked[0].sources.feeding_loss_frac.tolist() == [[0.3], [0.06]]
    if not said:
        assert not told
        return
    assert told[0].kind == "other_feeder"
    assert told[0].usd == -120.0
    for part in (said, "a cone ring in place of the bare ground wastes about 6% in place of 45%",
                 "2 of 8 feet", "$120 less, without the price of the feeder"):  # fmt: skip
        assert part in told[0].sentence
    assert not list(_less_wasted(inquiry, lacks, METRIC, None))


@pytest.mark.parametrize(
    ("group", "usd", "left", "said"),
    [
        # A hundredth of what a season costs is worth telling, or a twentieth of what is short.
        (herd(), 989.0, 100.0, "the season costs $11 less."),
        (herd(), 1020.0, 90.0, "the season costs $20 more and 10% of what is short would be gone."),
        (herd(condition_score=4.5), 900.0, 100.0, "the season costs $100 less."),
        (herd(), 991.0, 100.0, ""),
        (herd(), 900.0, 120.0, ""),
        # Thin cows and young stock need all they want.
        (herd(condition_score=4.0), 900.0, 100.0, ""),
        (Group("b", "B", AnimalClass.BRED_HEIFER, 40, 450.0), 900.0, 100.0, ""),
    ],
)
def test_limiting_is_proposed_where_it_pays_with_how_it_is_done(
    group: Group, usd: float, left: float, said: str
) -> None:
    needs = one(groups=(one(group_id="a"), one(group_id="b")))
    season: Any = Filled(needs, Fill(np.ones((2, 3), dtype=bool)))
    asked: list[Any] = []

    def like(problem: Any) -> Any:
        asked.append(problem.fill.free.tolist())
        return one(base=Sensitivity(usd, left, None))  # type: ignore[arg-type]

    inquiry: Any = one(problem=season, base=one(usd=1000.0, short_usd=100.0), like=like)
    farm: Any = one(groups=(group,), season=one(start=START, end=START + WEEK), units="us")
    told = list(limiting(inquiry, farm))
    assert not asked or asked == [[[True] * 3, [False] * 3]]
    assert bool(told) is bool(said)
    for remedy in told:
        assert (remedy.kind, remedy.usd) == ("limit_hay", usd - 1000.0)
        for part in (said, "24 to 30 inches of room a head, 80 feet or more for all",
                     "eat last", "nitrate", "bad cold", "extension office"):  # fmt: skip
            assert part in remedy.sentence


def test_who_has_no_free_access_is_not_limited() -> None:
    needs = one(groups=(one(group_id="b"),))
    assert limited(Filled(needs, Fill(np.zeros((1, 3), dtype=bool))), 0) is None  # type: ignore[arg-type]
    assert limited(Filled(needs, None), 0) is None  # type: ignore[arg-type]
