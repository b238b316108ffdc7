"""The second look at days and bales, one step at a time."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import Any

import pytest

from rickyard.farm import AnimalClass, FedRow, FeedKind
from rickyard.program.audit import deliveries as audit_deliveries
from rickyard.program.audit.ceilings import _copper
from rickyard.program.audit.change import (
    _fill,
    _make_up,
    _new_hays,
    _parts,
)
from rickyard.program.audit.deliveries import _GroupCheck, _yard
from rickyard.program.audit.nitrate_days import _level, above_two_thirds, by_thirds
from rickyard.program.audit.swaps import known_kg
from rickyard.program.audit.view import AuditView, Breach, compare
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)
DAYS = [START + timedelta(days=number) for number in range(28)]


# --- figures and periods -----------------------------------------------------------------------


@each_row(
    ("claimed", "found", "scale", "differ"),
    [
        (100.0, 100.0 + 0.9e-4, 0.0, False),
        (100.0, 100.0 + 1.1e-4, 0.0, True),
        (-100.0, -100.0 - 1.1e-4, 0.0, True),
        (1.0, 1.0 + 9e-6, 10.0, False),
        (1.0, 1.0 + 1.1e-5, 10.0, True),
        (0.0, 0.0, 0.0, False),
    ],
)
def test_figures_are_the_same_to_a_millionth(
    claimed: float, found: float, scale: float, differ: bool
) -> None:
    assert bool(list(compare("cost", claimed, found, scale))) == differ


def view(**what: Any) -> Any:
    look: Any = object.__new__(AuditView)
    periods = [one(index=t, start=DAYS[7 * t], days=7) for t in range(4)]
    look.program = one(periods=periods)
    look.farm = one(needs=[])
    for name, value in what.items():
        setattr(look, name, value)
    return look


@pytest.mark.parametrize(
    ("first", "end", "inside"),
    [(3, 9, True), (4, 9, False), (0, 3, False), (0, 4, True), (3, 4, True)],
)
def test_what_is_stated_counts_where_it_holds_in_the_middle_of_a_period(
    first: int, end: int, inside: bool
) -> None:
    need = one(group_id="g", start=DAYS[first], end=DAYS[end])
    look = view(farm=one(needs=[one(group_id="x", start=DAYS[0], end=DAYS[27]), need]))
    look._own_needs = look.farm.needs
    cell: Any = one(group_id="g", period=0)
    assert look.middle(0) == DAYS[3]
    assert (look.stated(cell) is need) == inside
    assert look.is_own(cell) == inside


def test_a_bar_holds_for_its_group_and_source() -> None:
    bar = one(
        group_id="g",
        source_id="s",
        rule=one(demand="none"),
        holds=lambda start, days: True,
    )
    look = view(_bars={("g", "s"): [bar]})
    assert look.is_barred("g", "s", 0)
    assert not look.is_barred("g", "t", 0)
    assert not look.is_barred("h", "s", 0)


def test_copper_is_held_to_its_limit_to_a_hundred_thousandth_of_a_milligram() -> None:
    ewes: Any = one(animal_class=AnimalClass.EWE, name="Ewes")

    def breaches(over: float) -> int:
        # A tenth of a kilogram at the 15 mg/kg that is safe, and a little over.
        diet: Any = [(0.1, one(copper_ppm=15.0 + over / 0.1)), (3.0, one(copper_ppm=None))]
        return len(list(_copper(ewes, diet, "period 0")))

    assert breaches(0.9e-5) == 0
    assert breaches(1.05e-5) == 1
    cows: Any = one(animal_class=AnimalClass.COW, name="Cows")
    assert list(_copper(cows, [(1.0, one(copper_ppm=900.0))], "period 0")) == []  # type: ignore[list-item]


# --- days --------------------------------------------------------------------------------------


def test_a_hay_begins_with_thirds_of_what_it_comes_to() -> None:
    weeks = {0: DAYS[:7], 1: DAYS[7:14], 2: DAYS[14:21]}
    thirds = [1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 3.0]
    held = by_thirds({0: 3.0, 1: 3.0, 2: 3.0}, weeks, [0, 1, 2], known=False, held_back=True)
    assert list(held.values()) == pytest.approx([*thirds, *[3.0] * 14])
    mean = by_thirds({0: 3.0}, weeks, [0], known=False, held_back=False)
    assert sum(mean.values()) == pytest.approx(21.0)
    assert mean[DAYS[6]] == pytest.approx(3.0 * mean[DAYS[0]])
    known = by_thirds({0: 3.0}, weeks, [0], known=True, held_back=True)
    assert list(known.values()) == [3.0] * 7
    # Left out for a week it begins again, and what is not asked for does not.
    again = by_thirds({0: 3.0, 1: 0.0, 2: 3.0}, weeks, [0, 1, 2], known=True, held_back=True)
    assert [again[day] for day in DAYS[:21]] == pytest.approx([*[3.0] * 7, *[0.0] * 7, *thirds])
    little = by_thirds({0: 0.05}, weeks, [0], known=False, held_back=True)
    assert little[DAYS[0]] == pytest.approx(0.05 / 3.0)
    after = by_thirds({0: 0.05, 1: 3.0}, weeks, [0, 1], known=False, held_back=True)
    assert after[DAYS[7]] == 3.0, "a little of it is enough to know it"


def test_hay_with_nitrate_is_cut_to_two_thirds_of_the_forage() -> None:
    day, later = DAYS[0], DAYS[1]
    asked = {"a": {day: 8.0, later: 8.0}, "b": {day: 4.0, later: 4.0}, "c": {day: 8.0, later: 8.0}}
    safe = {**asked, "a": {day: 12.0, later: 8.1}, "b": {day: 6.0, later: 4.0}}
    known = (dict.fromkeys("abc", 0.5), {"c": 9.0}, [([day, later], set[str]())])
    cut = above_two_thirds(safe, asked, ["a", "b"], ["c"], known)
    assert cut == {day: pytest.approx(9.0 - 20.0 / 3.0)}
    part = (20.0 / 3.0 - 6.0) / 3.0
    assert safe["a"] == {day: pytest.approx(8.0 + 4.0 * part), later: 8.1}
    assert safe["b"] == {day: pytest.approx(4.0 + 2.0 * part), later: 4.0}
    assert safe["c"] is asked["c"]
    # What the program itself asks for is not cut.
    safe["a"], asked["c"] = {day: 12.0}, {day: 4.0}
    assert above_two_thirds(safe, asked, ["a"], ["c"], known) == {day: pytest.approx(2.0)}
    assert safe["a"] == {day: pytest.approx(8.0)}


def test_hay_with_nitrate_is_cut_no_more_than_other_hay_and_a_tenth_make_up() -> None:
    asked = {name: dict.fromkeys(DAYS[:8], kg) for name, kg in (("a", 10.0), ("c", 5.0))}
    asked["corn"] = dict.fromkeys(DAYS[:8], 3.0)
    now = dict(zip(DAYS[:8], [6.0, 6.0, 14.0, 14.0] * 2, strict=True))
    weeks = [(DAYS[:4], set[str]()), (DAYS[4:8], set[str]())]
    safe = {**asked, "a": dict(now)}
    known = (dict.fromkeys(asked, 1.0), {"c": 3.0}, weeks)
    cut = above_two_thirds(safe, asked, ["a"], ["c"], known)
    assert list(cut) == [DAYS[2], DAYS[3], DAYS[6], DAYS[7]]
    assert list(cut.values()) == pytest.approx([3.3, 3.3, 1.8, 1.8])
    assert list(safe["a"].values()) == pytest.approx([6, 6, 10.7, 10.7, 6, 6, 12.2, 12.2])
    safe = {**asked, "a": dict(now)}
    cut = above_two_thirds(safe, asked, ["a"], ["c"], (known[0], {"c": 16.0}, weeks))
    assert list(cut.values()) == pytest.approx([4.0] * 4)
    # Hay that stands in makes up for it too, and what is fed of it is counted once.
    for others in ({"d"}, {"c", "d"}):
        safe, stand = {**asked, "a": dict(now)}, [(days, others) for days, _ in weeks]
        over = {"c": 3.0, "d": 13.0}
        cut = above_two_thirds(safe, asked, ["a"], ["c"], (known[0], over, stand))
        assert list(cut.values()) == pytest.approx([4.0] * 4)


def test_the_level_above_which_a_whole_lies() -> None:
    assert _level([5.0, 3.0, 0.0], 0.0) == 5.0
    assert _level([5.0, 3.0, 0.0], 4.0) == 2.0
    assert _level([5.0, 3.0, 0.0], 1.0) == 4.0
    assert _level([5.0, 3.0], math.inf) == 0.0
    assert _level([], 1.0) == 0.0


def test_hay_of_some_days_makes_up_and_gives_way_by_as_much() -> None:
    days = DAYS[:3]
    hay = {"A": dict.fromkeys(days, 10.0)}
    safe: Any = {"A": {}}
    held = {days[0]: 3.0, days[1]: -2.0, days[2]: 0.0}
    lacks = _fill(safe, hay, days, held, {"A": 1.0})
    assert [safe["A"][day] for day in days] == pytest.approx([12.0, 8.0, 10.0])
    assert lacks == {days[0]: pytest.approx(1.0), days[1]: 0.0, days[2]: 0.0}
    held = {days[0]: 9.0, days[1]: -9.0, days[2]: 0.0}
    _fill(safe, hay, days, held, {"A": 1.0})
    assert [safe["A"][day] for day in days] == pytest.approx([17.0, 3.0, 10.0])
    held = {days[0]: 0.05, days[1]: 0.0, days[2]: 0.0}
    lacks = _fill(safe, hay, days, held, {"A": 1.0})
    assert [safe["A"][day] for day in days] == [10.0] * 3
    assert lacks[days[0]] == pytest.approx(0.05)
    none = {"A": {days[0]: 0.0, days[1]: 10.0}}
    assert _fill(safe, none, days[:2], {days[0]: 5.0, days[1]: -1.0}, {"A": 1.0}) == {days[1]: 0.0}


def test_hay_that_would_run_out_makes_up_first() -> None:
    day = DAYS[0]
    hay = {"A": {day: 10.0}, "B": {day: 30.0}, "C": {day: 0.0}}
    safe: Any = {one: dict(kg) for one, kg in hay.items()}
    over = {"A": 100.0, "B": 1.0, "C": 50.0}
    _make_up(safe, hay, day, 8.0, (dict.fromkeys(hay, 0.8), over))
    assert safe == {
        "A": {day: pytest.approx(10.0 + 7.0 / 0.8)},
        "B": {day: pytest.approx(30.0 + 1.0 / 0.8)},
        "C": {day: 0.0},
    }
    assert over == {"A": pytest.approx(93.0), "B": pytest.approx(0.0), "C": 50.0}


def test_what_was_fed_in_the_week_before_is_known_by_its_mean() -> None:
    group: Any = one(group_id="g")

    def known(*rows: tuple[int, str, str, float]) -> float:
        fed = [
            FedRow(START - timedelta(days=back), source, who, mass_kg=kg)
            for back, source, who, kg in rows
        ]
        return known_kg(one(season=one(start=START), fed=fed), group, "s")

    assert known((1, "s", "g", 14.0), (7, "s", "g", 7.0)) == pytest.approx(3.0)
    assert known((0, "s", "g", 14.0), (8, "s", "g", 7.0)) == 0.0
    assert known((1, "t", "g", 14.0), (1, "s", "h", 7.0)) == 0.0


def test_new_hay_comes_in_by_even_steps() -> None:
    even = _parts({"a": 70.0, "corn": 7.0}, set(), {"a": 0.8}, 3, 7)
    assert even == {"a": [1.0 / 7.0] * 7, "corn": [1.0 / 7.0] * 7}
    found = _parts({"a": 35.0, "b": 35.0, "corn": 7.0}, {"b"}, {"a": 0.8, "b": 0.8}, 4, 7)
    assert sum(found["a"]) == pytest.approx(1.0)
    assert sum(found["b"]) == pytest.approx(1.0)
    assert found["corn"] == [1.0 / 7.0] * 7
    assert found["b"][0] < found["b"][1] < found["b"][2]
    whole = [35.0 * (a + b) for a, b in zip(found["a"], found["b"], strict=True)]
    assert whole == pytest.approx([10.0] * 7), "the hay of a day stays as much"
    alone = _parts({"b": 70.0}, {"b"}, {"b": 0.8}, 4, 7)
    assert alone == {"b": [1.0 / 7.0] * 7}, "there is nothing to mix it with"


def test_a_hay_is_new_where_none_of_it_was_fed_before() -> None:
    farm: Any = one(lots=[one(lot_id=name) for name in "abc"], feeds=[])
    group: Any = one(change_over_days=7)
    here = {"a": 1.0, "b": 1.0, "c": 1.0}
    assert _new_hays(farm, group, here, {"a": 0.05, "b": 0.0}) == {"b", "c"}
    assert _new_hays(farm, group, here, None) == set()
    assert _new_hays(farm, one(change_over_days=None), here, {}) == set()


# --- bales -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("taken", "loose", "breach"),
    [
        (10.0, False, False),
        (10.0 + 2e-6, False, True),
        (11.0, True, False),
        (11.01, True, True),
    ],
)
def test_no_more_bales_are_put_out_than_stand(taken: float, loose: bool, breach: bool) -> None:
    program: Any = one(deliveries=[one(source_id="a", bales=None if loose else 1)])
    bales: Any = {"a": one(count=10)}
    wanted = [Breach("a, bales put out of those on hand", taken, 10)] if breach else []
    assert list(_yard(program, bales, {"a": taken})) == wanted
    assert list(_yard(program, {"a": one(count=None)}, {"a": 99.0})) == []  # type: ignore[dict-item]


def check(**what: Any) -> Any:
    """Return the check of a group with a hay in bales of 400 kg, half of one a day."""
    made: Any = object.__new__(_GroupCheck)
    made.days = DAYS[:14]
    made.period_of = {day: number // 7 for number, day in enumerate(made.days)}
    made.asked = {"a": dict.fromkeys(DAYS[:14], 200.0)}
    made.bales = made.all_bales = {"a": one(count=10, weight_kg={0: 400.0, 1: 200.0})}
    made.dry = {"a": 0.8}
    made.spoken_for = {}
    made.mixed = set()
    made.given, made.wanted = {"a": 0.0}, {"a": 0.0}
    made.farm = one(lots=[one(lot_id="a", package="round")], feeds=[])
    made.group = one(name="Cows", feeder=None, feed_every_days=None)
    made.hay = []
    made.dates = {"a": (None, None)}
    for name, value in what.items():
        setattr(made, name, value)
    return made


def test_bales_are_counted_by_what_one_weighs_in_each_period() -> None:
    made = check()
    assert made._in_bales("a", DAYS[:7]) == pytest.approx(3.5)
    assert made._in_bales("a", DAYS[:14]) == pytest.approx(3.5 + 7.0)
    assert made._in_bales("b", DAYS[:14]) == 0.0
    assert made._kg("a", DAYS[12:16]) == 400.0
    assert made._weighed_bales("a") == pytest.approx(10.5)
    assert made._weighed_bales("b") == 0.0
    assert made._bale_kg_dm("a", DAYS[0]) == 320.0
    assert made._bale_kg_dm("a", DAYS[7]) == 160.0


@each_row(
    ("count", "spoken", "gone"),
    [
        (10, 9.0, False),
        (10, 9.0 + 0.5e-6, False),
        (10, 9.0 + 2e-6, True),
        (10, 10.0, True),
        (0, 0.0, True),
        (1, 0.0, False),
        (None, 50.0, False),
    ],
)
def test_bales_are_gone_when_no_whole_one_is_left(
    count: int | None, spoken: float, gone: bool
) -> None:
    made = check(bales={"a": one(count=count)}, spoken_for={"a": spoken})
    assert made._all_gone("a") == gone
    if not spoken:
        made.spoken_for = {}
        assert made._all_gone("a") == gone


def test_a_group_is_due_what_it_got_or_half_a_bale_up_of_what_it_wants() -> None:
    made = check()
    assert made.due() == {"a": 11}, "ten and a half"
    made.hay = [one(source_id="a", bales=12), one(source_id="a", bales=None)]
    assert made.due() == {"a": 12}
    made = check(mixed={"a", "b"}, bales={})
    assert made.due() == {"a": pytest.approx(10.5)}


@each_row(
    ("kg", "every"), [(200.0, 1), (100.0, 2), (400.0 / 3.0, 2), (1.0, 7), (0.0, 1), (900.0, 1)]
)
def test_hay_comes_for_as_long_as_a_bale_lasts(kg: float, every: int) -> None:
    made = check(asked={"a": dict.fromkeys(DAYS[:14], kg)})
    made.bales["a"].weight_kg = {0: 400.0, 1: 400.0} if kg == 400.0 / 3.0 else {0: 300.0, 1: 200.0}
    if kg == 400.0 / 3.0:
        every = 3
    assert made._usual_interval() == every
    made.farm.lots[0].package = "small_square"
    assert made._usual_interval() == 1


def test_visits_come_at_the_interval_that_is_asked_for() -> None:
    made = check(group=one(name="Cows", feeder=None, feed_every_days=5))
    assert [(day, len(days)) for day, days in made._visits()] == [
        (DAYS[0], 5),
        (DAYS[5], 5),
        (DAYS[10], 4),
    ]


@each_row(
    ("ahead", "needless", "count", "breach"),
    [
        (0.99, False, 10, None),
        (1.0 + 0.9e-6, False, 10, None),
        (1.0 + 1.1e-6, False, 10, 0),
        (-1.0 - 1.1e-6, False, 0, 0),
        (-0.5, False, 10, None),
        (-0.5 - 2e-6, False, 10, -0.5),
        (-0.6, False, 0, None),
        (0.7, True, 10, 0.5),
        (0.7, False, 10, None),
    ],
)
def test_bales_stay_within_one_of_the_program(
    ahead: float, needless: bool, count: int, breach: float | None
) -> None:
    made = check(given={"a": 5.0 + ahead}, wanted={"a": 5.0})
    made.bales["a"].count = count
    found = list(made._deviations(["a"], DAYS[0], ["a"] if needless else []))
    assert [one.found for one in found] == ([] if breach is None else [breach])


def load(day: int, bales: int | None, for_days: int, kg: float = 400.0, source: str = "a") -> Any:
    return one(
        source_id=source, day=DAYS[day], bales=bales, for_days=for_days, mass_kg=kg, group_id="g"
    )


@each_row(
    ("given", "opens", "kept"),
    [
        (load(0, 1, 7), None, True),
        (load(0, 1, 6), None, False),
        (load(1, 1, 6), None, False),
        (load(7, 1, 7), None, True),
        (load(1, None, 1), None, True),
        (load(2, 1, 5), 2, True),
        (load(2, 1, 5), 0, False),
        (load(0, 1, 7), 2, False),
        (load(20, 1, 7), None, True),
    ],
)
def test_a_load_comes_at_its_visit_or_when_it_may_be_fed(
    given: Any, opens: int | None, kept: bool
) -> None:
    made = check(hay=[given])
    if opens is not None:
        made.dates = {"a": (DAYS[opens], None)}
        if opens:
            made.asked["a"] = dict.fromkeys(DAYS[opens:14], 200.0)
    visits = [(DAYS[0], DAYS[:7]), (DAYS[7], DAYS[7:14])]
    assert (list(made._rhythm(visits)) == []) == kept


@pytest.mark.parametrize(("kg", "kept"), [(1400.0, True), (1400.001, True), (1400.002, False)])
def test_hay_that_is_weighed_out_is_what_is_asked_for(kg: float, kept: bool) -> None:
    made = check(bales={}, hay=[load(0, None, 7, kg), load(7, None, 7, 1400.0)])
    visits = [(DAYS[0], DAYS[:7]), (DAYS[7], DAYS[7:14])]
    assert (list(made._by_mass(visits)) == []) == kept
    made.mixed = {"a"}
    assert len(list(made._by_mass(visits))) == 14, "day by day where it holds nitrate"


@each_row(
    ("given", "said"),
    [
        (load(0, 1, 7), None),
        (load(0, 2, 7, 800.0), None),
        (load(0, 2, 7, 801.0), "weight"),
        (load(0, 0, 7, 0.0), "whole bales"),
        (load(0, 1, 7, 400.0, "b"), "delivered at all"),
        (load(20, 1, 7), "delivered at all"),
        (load(2, 1, 7), "delivered outside its dates"),
        (load(10, 1, 7, 200.0), "delivered outside its dates"),
        (load(3, 1, 7), None),
        (load(9, 1, 7, 200.0), None),
    ],
)
def test_a_delivery_is_of_what_is_asked_for_within_its_dates(given: Any, said: str | None) -> None:
    made = check()
    if said is None or "outside" in said:
        made.dates = {"a": (DAYS[3] if given.day != DAYS[0] else None, DAYS[9])}
    found = [one.what.rsplit(", ", 1)[1] for one in made._one(given)]
    assert found == ([] if said is None else [said])


def test_what_is_weighed_out_has_a_mass(monkeypatch: pytest.MonkeyPatch) -> None:
    made = check(bales={})
    assert list(made._one(load(0, None, 1, 0.05))) == []
    (found,) = made._one(load(0, None, 1, 0.0))
    assert found.what.endswith("mass")
    monkeypatch.setattr(_GroupCheck, "_is_part", lambda self, one: False)
    (found,) = check()._one(load(0, None, 1))
    assert found.what.endswith("by the bale or not")
    (found,) = made._one(load(0, 1, 1))
    assert (found.what.rsplit(", ", 1)[1], found.claimed) == ("by the bale or not", 1)


def test_a_bale_that_could_have_come_early_is_missed() -> None:
    made = check(given={"a": 1.0}, wanted={"a": 1.5})
    assert len(list(made._forgotten({"a": 0.0}, DAYS[0], 10.0, (20.0, 20.0)))) == 1
    made.spoken_for = {"a": 9.5}
    assert list(made._forgotten({"a": 0.0}, DAYS[0], 10.0, (20.0, 20.0))) == [], "none is left"
    made = check(given={"a": 1.0}, wanted={"a": 1.0 + 0.9e-6})
    assert list(made._forgotten({"a": 0.0}, DAYS[0], 10.0, (20.0, 20.0))) == []
    assert audit_deliveries.STARCHY_PCT == 30.0
    assert FeedKind.GRAIN.value == "grain"
