"""What a wish makes of the season, and why some of it is not kept, on either side of each rule."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import Farm, Feed, FeedKind, Wanted, WishRow
from rickyard.program.problem import wish_words
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.problem.wishes import Wished, wish_notes, wishes_of, with_wishes
from rickyard.program.result.options import Wish
from support.farms import START
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on, steers

DAY = timedelta(days=1)
MEAL = Feed(
    *("meal", "Meal", FeedKind.SUPPLEMENT, 0.3),
    dm_pct=90.0,
    tdn_pct=75.0,
    cp_pct=20.0,
    most_kg_per_head_day=2.0,
)


def a_farm(**season: Any) -> Farm:
    lots = [(one := hay(name, 55.0, 9.0, 50.0, 60.0), report_on(one, 55.0, 9.0)) for name in "abc"]
    farm = farm_of(lots, [replace(cows(), feeding_loss_pct=20.0), steers()], [MEAL])
    return replace(farm, season=replace(farm.season, least_serving_pct_bw=0.25, **season))


def wished(farm: Farm, *wishes: Wish) -> tuple[Problem, Wished]:
    problem = problem_of(farm)
    return problem, with_wishes(farm, problem, wishes)


def why(farm: Farm, *wishes: Wish) -> tuple[str, ...]:
    return wished(farm, *wishes)[1].claims[-1].why_less


def test_what_is_wished_to_be_fed_is_in_use_with_a_serving_in_its_weeks() -> None:
    farm = a_farm()
    start, end = START + 7 * DAY, START + 21 * DAY
    problem, found = wished(farm, Wish("feed", "b", "cows", start, end))
    wanted = np.zeros(problem.shape, dtype=bool)
    wanted[0, 1, 1:3] = True
    assert np.array_equal(found.problem.must, wanted)
    serving = 0.0025 * problem.needs.full_weight_kg[0, 1:3]
    assert found.problem.wished_kg_dm[0, 1, 1:3] == pytest.approx(serving)
    assert found.problem.wished_kg_dm.sum() == pytest.approx(serving.sum())
    assert np.array_equal(found.problem.sources.allowed, problem.sources.allowed)
    assert np.array_equal(found.claims[0].left, wanted[:, 1])
    _, of_feed = wished(farm, Wish("feed", "meal", "cows"))
    most = problem.sources.most_kg_dm[0, 3, 0]
    assert of_feed.problem.wished_kg_dm[0, 3, 0] < most
    assert of_feed.problem.wished_kg_dm[0, 3, 0] > 0.0


def test_what_is_kept_off_is_not_allowed_and_an_amount_is_the_least_and_the_most() -> None:
    farm = a_farm()
    problem, off = wished(farm, Wish("keep_off", "a", "steers"))
    assert not off.problem.sources.allowed[1, 0].any()
    assert np.array_equal(off.problem.sources.allowed[0], problem.sources.allowed[0])
    assert not off.problem.must.any()
    _, fixed = wished(farm, Wish("amount", "a", "cows", kg_dm_per_head_day=4.0))
    assert np.all(fixed.problem.sources.most_kg_dm[0, 0] == 4.0)
    assert np.all(fixed.problem.wished_kg_dm[0, 0] == 4.0)
    assert fixed.problem.must[0, 0].all()
    assert np.array_equal(
        fixed.problem.sources.most_kg_dm[1], problem.sources.most_kg_dm[1], equal_nan=True
    )
    _, none = wished(farm, Wish("amount", "a", "cows", kg_dm_per_head_day=0.0))
    assert not none.problem.sources.allowed[0, 0].any()
    assert with_wishes(farm, problem, ()).problem is problem


@each_row(
    ("wishes", "says"),
    [
        ((Wish("keep_off", "a", "cows"), Wish("feed", "a", "cows")), True),
        ((Wish("feed", "a", "cows"), Wish("keep_off", "a", "cows")), True),
        ((Wish("feed", "a", "cows"), Wish("keep_off", "a", "steers")), False),
        ((Wish("feed", "a", "cows"), Wish("keep_off", "b", "cows")), False),
        (
            (
                Wish("amount", "a", "cows", kg_dm_per_head_day=4.0),
                Wish("amount", "a", "cows", kg_dm_per_head_day=4.5),
            ),
            True,
        ),
        (
            (
                Wish("amount", "a", "cows", kg_dm_per_head_day=4.0),
                Wish("amount", "a", "cows", kg_dm_per_head_day=4.0),
            ),
            False,
        ),
        ((Wish("amount", "a", "cows", kg_dm_per_head_day=4.0), Wish("feed", "a", "cows")), False),
    ],
)
def test_an_earlier_wish_goes_before_a_later_one(wishes: tuple[Wish, ...], says: bool) -> None:
    assert (why(a_farm(), *wishes) == ("an earlier wish says otherwise",)) is says


@pytest.mark.parametrize(
    ("at_once", "of_group", "hays", "says"),
    [
        (2, None, "abc", True),
        (2, None, "ab", False),
        (None, 2, "abc", True),
        (1, 3, "abc", False),
        (3, 1, "ab", True),
        (None, None, "abc", False),
        (1, None, "aa", False),
    ],
)
def test_no_more_hays_are_promised_than_are_fed_at_once(
    at_once: int | None, of_group: int | None, hays: str, says: bool
) -> None:
    farm = a_farm(hays_at_once=at_once)
    groups = (replace(farm.groups[0], hays_at_once=of_group), farm.groups[1])
    found = why(replace(farm, groups=groups), *(Wish("feed", one, "cows") for one in hays))
    assert bool(found) is says
    assert all("at once" in one for one in found)


@each_row(
    ("kg", "counted", "says"),
    [
        (1.3, True, True),
        (1.5, True, False),
        (1.3, False, False),
        (0.0, True, False),
        (1.4 - 2e-6, True, True),
        (560.0 * 0.0025 - 1e-6, True, False),
        (1.4 - 5e-7, True, False),
        (1.4, True, False),
    ],
)
def test_less_than_a_serving_of_a_hay_is_not_fed_where_hays_are_counted(
    kg: float, counted: bool, says: bool
) -> None:
    """A quarter of a percent of 560 kg is 1.4 kg."""
    farm = a_farm(hays_at_once=2 if counted else None)
    found = why(farm, Wish("amount", "a", "cows", kg_dm_per_head_day=kg))
    assert any("less than" in one for one in found) is says


@pytest.mark.parametrize(("kg", "says"), [(1.79, False), (1.8, False), (1.81, True)])
def test_no_more_of_a_feed_is_fed_than_its_most(kg: float, says: bool) -> None:
    found = why(a_farm(), Wish("amount", "meal", "cows", kg_dm_per_head_day=kg))
    assert any("no more than" in one for one in found) is says


def test_a_feed_that_is_always_on_offer_is_not_kept_off() -> None:
    farm = a_farm()
    salt = replace(MEAL, kind=FeedKind.MINERAL, least_kg_per_head_day=0.1, copper_ppm=1.0)
    offered = replace(farm, feeds=(salt,))
    assert any("every head" in one for one in why(offered, Wish("keep_off", "meal", "cows")))
    assert why(farm, Wish("keep_off", "meal", "cows")) == ()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"feed_by": START + 6 * DAY}, "must be fed by"),
        ({"feed_from": START + 14 * DAY}, "is not fed before"),
    ],
)
def test_dates_of_a_hay_are_told_where_they_take_a_wish_away(
    changes: dict[str, Any], says: str
) -> None:
    farm = a_farm()
    dated = replace(farm, lots=(replace(farm.lots[0], **changes), *farm.lots[1:]))
    found = why(dated, Wish("feed", "a", "cows"))
    assert any(says in one and one.startswith("A ") for one in found)
    assert why(dated, Wish("feed", "b", "cows")) == ()


def test_dates_of_a_feed_are_told_where_they_take_a_wish_away() -> None:
    farm = a_farm()
    later = replace(MEAL, from_on=START + 7 * DAY, to_on=START + 21 * DAY)
    found = why(replace(farm, feeds=(later,)), Wish("feed", "meal", "cows"))
    assert any("available only from" in one and "until" in one for one in found)


def test_a_wish_for_what_is_not_there_says_what() -> None:
    farm = a_farm()
    assert why(farm, Wish("feed", "d", "cows")) == ('the farm has no lot or feed "d"',)
    assert why(farm, Wish("feed", "a", "ewes")) == ('the farm has no group "ewes"',)
    after = Wish("feed", "a", "cows", START + 90 * DAY, START + 97 * DAY)
    assert why(farm, after) == ("no animals are here to be fed on those days",)


@each_row(
    ("kind", "first", "last", "weeks"),
    [
        ("feed", 0, 7, [0]),
        ("feed", 3, 11, [0, 1]),
        ("feed", 4, 10, [0, 1]),
        ("feed", 4, 11, [1]),
        ("feed", 5, 6, [0]),
        ("feed", 8, 28, [1, 2, 3]),
        ("keep_off", 6, 8, [0, 1]),
        ("keep_off", 7, 8, [1]),
        ("keep_off", 6, 7, [0]),
    ],
)
def test_the_weeks_that_a_wish_speaks_of(
    kind: Any, first: int, last: int, weeks: list[int]
) -> None:
    """Fed where the middle day lies in it, else where it touches; kept off wherever it touches."""
    wish = Wish(kind, "a", "cows", START + first * DAY, START + last * DAY)
    asked = wished(a_farm(), wish)[1].claims[0].asked
    assert np.flatnonzero(asked[0]).tolist() == weeks
    assert not asked[1].any()


def test_a_row_says_what_is_put_out_and_a_wish_what_is_eaten() -> None:
    farm = a_farm()
    rows = (
        WishRow(Wanted.AMOUNT, "a", "", as_fed_kg_per_head_day=5.0),
        WishRow(Wanted.FEED, "b", "steers"),
    )
    found = wishes_of(replace(farm, wishes=rows), problem_of(farm))
    assert [(one.kind, one.source_id, one.group_id) for one in found] == [
        ("amount", "a", "cows"),
        ("amount", "a", "steers"),
        ("feed", "b", "steers"),
    ]
    amounts = [one.kg_dm_per_head_day for one in found]
    assert amounts[:2] == pytest.approx([5.0 * 0.88 * 0.8, 5.0 * 0.88])
    assert amounts[2] is None
    assert "feeding, setting an amount" in wish_notes(found)[0].replace(" and ", ", ")


def test_hay_is_kept_off_on_any_day_and_fed_in_weeks_whose_middle_is_asked_for() -> None:
    """A wish too short to hold a middle speaks of the week that it touches."""
    farm = a_farm()
    problem = problem_of(farm)
    for kind, first, end, weeks in (
        ("keep_off", 10, 25, [1, 2, 3]),
        ("feed", 10, 25, [1, 2, 3]),
        ("feed", 11, 25, [2, 3]),
        ("feed", 10, 24, [1, 2]),
        ("feed", 8, 9, [1]),
        ("keep_off", 13, 14, [1]),
        ("keep_off", 14, 15, [2]),
        ("feed", 3, None, [0, 1, 2, 3]),
        ("feed", 4, None, [1, 2, 3]),
        ("feed", None, 3, [0]),
        ("feed", None, 18, [0, 1, 2]),
        ("feed", None, 17, [0, 1]),
    ):
        days = (None if day is None else START + day * DAY for day in (first, end))
        wish = Wish(kind, "a", "cows", *days)  # type: ignore[arg-type]
        (claim,) = with_wishes(farm, problem, (wish,)).claims
        asked = np.flatnonzero(claim.asked[0]).tolist()
        assert [week for week in asked if week < 4] == weeks, (kind, first, end)


@pytest.mark.parametrize(
    ("group", "source", "demand", "weeks", "says"),
    [
        ("cows", "a", "none", "..x", True),
        ("steers", "a", "none", "..x", False),
        ("cows", "b", "none", "..x", False),
        ("cows", "a", "share", "..x", False),
        ("cows", "a", "none", "xx.", False),
    ],
)
def test_the_hazard_that_bars_a_hay_is_its_own_for_the_group_on_those_days(
    group: str, source: str, demand: str, weeks: str, says: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(wish_words, "rule_cautions", lambda farm, bound: ())
    bar = SimpleNamespace(
        group_id=group,
        source_id=source,
        rule=SimpleNamespace(demand=demand, hazard="Nitrate"),
        holds=lambda start, days: start >= START + 14 * DAY,
    )
    problem: Any = SimpleNamespace(
        sources=SimpleNamespace(values=[SimpleNamespace(source_id="a", name="A")], bound=[bar]),
        needs=SimpleNamespace(
            groups=[SimpleNamespace(group_id="cows", name="Cows")],
            periods=[SimpleNamespace(start=START + 7 * t * DAY, days=7) for t in range(3)],
        ),
    )
    where = np.array([one == "x" for one in weeks])
    found = wish_words._why_barred(a_farm(), problem, 0, 0, where)
    hazard = "Nitrate, found or suspected, keeps A from Cows"
    assert found == (hazard if says else "a rule of the farm folder keeps it from Cows")
