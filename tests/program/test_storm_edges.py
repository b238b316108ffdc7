"""Cold days ahead step by step: which are in a row, what is fed for them, and over how long."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Coat, FeedKind, Mud
from rickyard.forage.energy import horse_de_from_tdn
from rickyard.program.storms import cold_spells
from rickyard.program.storms.cold_spells import ColdDay, ColdSpell, ExtraFeed
from rickyard.program.storms.storm_feeds import storm_feeds
from rickyard.quantities import OutOfRange

START = date(2027, 1, 4)
DAYS = [START + timedelta(days=number) for number in range(40)]


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


def cold(day: int, mcal: float) -> ColdDay:
    return ColdDay(DAYS[day], -20.0, None, False, -20.0, 0.0, mcal)


def test_cold_days_in_a_row_are_one_spell() -> None:
    day = cold(0, 1.0)
    kept = [None, day, day, None, day, None, None, day]
    assert cold_spells._runs(kept) == [(1, 3), (4, 5), (7, 8)]
    assert cold_spells._runs([day, day]) == [(0, 2)]


def test_what_is_fed_before_is_taken_off_the_days_that_ask_too_much() -> None:
    asked = np.array([5.0, 1.0, 4.0])
    assert cold_spells._less(asked, 2.5, 3.0).tolist() == [3.0, 1.0, 3.5]
    assert cold_spells._less(asked, 1.0, 3.0).tolist() == [4.0, 1.0, 4.0]
    assert asked.tolist() == [5.0, 1.0, 4.0]


HAY, GRAIN = one(kg_for=lambda mcal: mcal * 2.0), one(kg_for=lambda mcal: mcal / 2.0)


def spell(*extra: float, first: int = 0, start: int = 5) -> ColdSpell:
    """Return a spell of a group that takes ten Mcal on a mild day, of which a quarter is added."""
    days = [cold(start + at, mcal) for at, mcal in enumerate(extra)]
    return cold_spells._spell(days, 10.0, DAYS[first], HAY, GRAIN)


def test_cold_within_a_quarter_of_a_mild_day_is_fed_on_its_day() -> None:
    found = spell(2.0, 1.0)
    assert found.feeding == (ExtraFeed(DAYS[5], 2.0, 4.0, 1.0), ExtraFeed(DAYS[6], 1.0, 2.0, 0.5))
    assert (found.owed_mcal, found.by_percent_mcal, found.begin) == (0.0, 3.0, DAYS[5])
    bare = cold_spells._spell([cold(5, 2.0)], 10.0, DAYS[0], None, None)
    assert bare.feeding == (ExtraFeed(DAYS[5], 2.0, None, None),)


@pytest.mark.parametrize(("mcal", "told"), [(0.095, False), (0.105, True)])
def test_less_than_a_hundredth_of_a_mild_day_is_not_fed(mcal: float, told: bool) -> None:
    assert len(spell(2.0, mcal).feeding) == 1 + told


def test_what_a_spell_cannot_hold_is_fed_the_day_before_and_for_two_weeks_after() -> None:
    light = spell(4.0)
    assert [(feed.day, feed.mcal) for feed in light.feeding] == [(DAYS[4], 1.5), (DAYS[5], 2.5)]
    assert light.owed_mcal == 0.0
    late = spell(4.0, first=5)
    assert [(feed.day, feed.mcal) for feed in late.feeding] == [(DAYS[5], 2.5), (DAYS[6], 1.5)]
    heavy = spell(100.0)
    assert [feed.day for feed in heavy.feeding] == DAYS[4:20]
    assert heavy.owed_mcal == pytest.approx(60.0)
    assert spell(100.0, first=5).owed_mcal == pytest.approx(62.5)


def group(**more: Any) -> Any:
    given: dict[str, Any] = {
        "group_id": "g", "name": "Cows", "head": 9, "animal_class": AnimalClass.COW,
        "from_on": None, "to_on": None, "mud": None, "windbreak": False, "coat": None,
    }  # fmt: skip
    return one(**{**given, **more})


@pytest.fixture
def ten_days(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Return a look at ten days on which cold takes a tenth, or a trifle, of ten Mcal."""
    asked = [0.21, 0.19, 1.0, 0.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.0]
    days = [cold(at, mcal) for at, mcal in enumerate(asked)]
    patch = monkeypatch.setattr
    patch(cold_spells, "storm_feeds", lambda *_: (HAY, None))
    patch(cold_spells, "_cattle_days", lambda *_: days)
    patch(cold_spells, "_horse_days", lambda *_: days)
    patch(cold_spells, "_mild_mcal", lambda *_: np.full(10, 10.0))
    patch(cold_spells, "_by_energy_mcal", lambda *what: 7.0 if what[-1] == DAYS[0] else 0.0)
    nothing: Any = None
    return lambda who: cold_spells._group_cold(nothing, who, DAYS[:10], nothing)


def starts(found: Any) -> list[tuple[date, int]]:
    return [(one.days[0].day, len(one.days)) for one in found.spells]


def test_cold_counts_above_a_fiftieth_of_a_mild_day_while_the_group_is_here(ten_days: Any) -> None:
    found = ten_days(group())
    assert starts(found) == [(DAYS[0], 1), (DAYS[2], 1), (DAYS[4], 2), (DAYS[8], 2)]
    assert (found.energy, found.muddy, found.counted, found.hay, found.grain) == (
        "NEm", False, True, HAY, None)  # fmt: skip
    assert {one.by_energy_mcal for one in found.spells} == {7.0}
    here = ten_days(group(from_on=DAYS[2], to_on=DAYS[9], mud=Mud.CLEAN))
    assert starts(here) == [(DAYS[2], 1), (DAYS[4], 2), (DAYS[8], 1)]
    assert not here.muddy
    assert ten_days(group(mud=next(one for one in Mud if one is not Mud.CLEAN))).muddy


def test_horses_are_counted_by_their_own_rule_and_ewes_by_none(ten_days: Any) -> None:
    horses = ten_days(group(animal_class=AnimalClass.HORSE))
    assert (horses.energy, horses.counted, len(horses.spells)) == ("DE", True, 4)
    assert {one.by_energy_mcal for one in horses.spells} == {None}
    ewes = ten_days(group(animal_class=AnimalClass.EWE))
    assert (ewes.counted, ewes.spells, ewes.hay) == (False, (), None)


def test_the_page_looks_from_its_first_day_to_the_last_that_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    seen: list[Any] = []
    monkeypatch.setattr(cold_spells, "weather_of", lambda rows, *ends: seen.append((rows, ends)))
    monkeypatch.setattr(cold_spells, "_group_cold", lambda farm, group, span, weather: span)
    rows = [one(day=DAYS[n], monthly=False, mean_temperature_c=-1.0) for n in (7, 4, 3, 5)]
    rows += [one(day=DAYS[9], monthly=False, mean_temperature_c=None)]
    rows += [one(day=DAYS[8], monthly=True, mean_temperature_c=-1.0)]
    page = cold_spells.cold_page(one(weather=rows, groups=["g"]), DAYS[4])
    assert page.days == (DAYS[4], DAYS[5], DAYS[7])
    assert page.groups == (DAYS[4:8],)
    assert seen == [(rows[:5], (DAYS[4], DAYS[7]))]
    assert cold_spells.cold_page(one(weather=rows, groups=["g"]), DAYS[8]).days == ()


@pytest.mark.parametrize(
    ("answer", "mcal"), [([1.0, np.nan, 2.5], 3.5), (None, None), (OutOfRange("thin"), None)]
)
def test_what_a_spell_takes_is_counted_over_sixty_days_after_it(
    answer: Any, mcal: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[Any] = []

    def needs(who: Any, days: Any, **how: Any) -> Any:
        seen.append((days, how["weighed_on"], how["weather"]))
        assert who.mud is Mud.CLEAN
        if isinstance(answer, Exception):
            raise answer
        return one(nem_cold_mcal=None if answer is None else np.array(answer))

    monkeypatch.setattr(cold_spells, "group_needs", needs)
    monkeypatch.setattr(cold_spells, "replace", lambda who, mud: one(mud=mud))
    monkeypatch.setattr(cold_spells, "weather_of", lambda rows, *ends: (rows, ends))
    rows = [one(day=DAYS[n], monthly=n == 6) for n in (4, 5, 6, 7)]
    season = one(weighed_on=None, start=DAYS[3], intake_calibrated=False)
    asked: Any = one(days=(cold(5, 1.0), cold(6, 1.0), cold(7, 1.0)))
    found = cold_spells._by_energy_mcal(one(weather=rows, season=season), group(), asked, DAYS[4])
    assert found == mcal
    ((days, weighed, weather),) = seen
    assert days == [DAYS[5] + timedelta(days=at) for at in range(63)]
    assert weighed == DAYS[3]
    assert weather == ([rows[1], rows[3]], (DAYS[3], days[-1]))


def test_the_wind_is_felt_without_a_windbreak_and_a_wet_coat_is_a_thin_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """One percent of maintenance for each degree Fahrenheit, two in a wet coat (Oklahoma State)."""
    monkeypatch.setattr(
        cold_spells, "_needs", lambda *_: one(nem_maintenance_mcal=np.array([10.0, 10.0, np.nan]))
    )
    weather: Any = one(
        temperature_c=np.array([-10.0, 5.0, -10.0]),
        wind_km_per_h=np.array([np.nan, 30.0, 0.0]),
        wet=np.array([False, True, False]),
    )
    farm: Any = one(season=one(wind_chill=None))
    monkeypatch.setattr(cold_spells, "effective_temperature_c", lambda air, wind, _: air - wind / 3)
    behind = cold_spells._cattle_days(farm, group(windbreak=True), weather, DAYS[:3])
    assert [day.felt_c for day in behind] == [-10.0, 5.0, -10.0]
    # Eighteen degrees Fahrenheit below 32; eighteen below 59 in the rain, at two percent.
    assert [day.extra_mcal for day in behind] == pytest.approx([1.8, 3.6, 0.0])
    assert [day.critical_c for day in behind] == pytest.approx([0.0, 15.0, 0.0])
    assert [day.wind_km_per_h for day in behind] == [None, 30.0, 0.0]
    open_field = cold_spells._cattle_days(farm, group(coat=Coat.WINTER), weather, DAYS[:3])
    assert [day.felt_c for day in open_field] == [-10.0, -5.0, -10.0]
    assert [day.extra_mcal for day in open_field] == pytest.approx([1.8, 7.2, 0.0])


# --- what is fed for it ------------------------------------------------------------------------

ROOM = "rickyard.program.storms.storm_feeds"

#: Dry matter in percent, NEm in Mcal and price in dollars, both a kilogram of dry matter.
GRAINS = {"corn": (88.0, 2.0, 0.30), "oats": (90.0, 1.5, 0.25), "straw": (90.0, 0.0, 0.01)}


#: The day before the cold, on which the group ate every grain by the log.
EATEN_ON = date(2027, 1, 9)
COLD_ON = date(2027, 1, 10)


def storm_farm(monkeypatch: pytest.MonkeyPatch, *grains: Any, danger: str = "") -> Any:
    """Return a farm of four hays, of which the last has no weight, and some grains."""

    def value(feed: Any, season: Any) -> tuple[Any, None]:
        dm, nem, usd = GRAINS[feed.feed_id]
        told = {"dm_pct": dm, "nem_mcal_per_kg": nem, "usd_per_kg_dm": usd}
        return one(source_id=feed.feed_id, name=feed.feed_id.title(), **told), None

    profile = one(nem_mcal_per_kg=1.2, tdn_pct=55.0, dm_pct=90.0)
    patch = monkeypatch.setattr
    patch(f"{ROOM}.lot_profile", lambda lot, reports: profile)
    patch(f"{ROOM}.feed_values", value)
    patch(f"{ROOM}.read_lot", lambda lot, reports: one(
        cautions=[one(level="danger" if lot.lot_id == danger else "note")]))  # fmt: skip
    told = [("a", 30.0, 100.0), ("b", 8.0, 400.0), ("c", 8.0, 400.0), ("d", 99.0, None)]
    told += [("e", 0.0, 900.0)]
    lots = [one(lot_id=i, name=i.upper(), bales=n, bale_weight_kg=kg) for i, n, kg in told]
    patch(f"{ROOM}.may_stand_in", lambda group, farm: frozenset(lot.lot_id for lot in farm.lots))
    patch(f"{ROOM}.bindings", lambda farm: [])
    fed = [one(source_id=feed.feed_id, group_id="g", day=EATEN_ON) for feed in grains]
    return one(lots=lots, feeds=grains, season=None, fed=fed, reports_of=lambda lot_id: [])


def grain(feed_id: str, tdn: float | None = 80.0, **more: Any) -> Any:
    given = {"kind": FeedKind.GRAIN, "tdn_pct": tdn, "table_id": ""}
    return one(feed_id=feed_id, **{**given, **more})


def test_the_most_hay_and_the_cheapest_energy_of_grain_are_fed_for_a_storm(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of 3,000, 3,200 and 3,200 kilograms; corn at 15 cents a megacalorie and oats at 17."""
    farm = storm_farm(monkeypatch, grain("oats"), grain("corn"), grain("straw"))
    hay, corn = storm_feeds(farm, group(), COLD_ON)
    assert hay is not None
    assert corn is not None
    assert (hay.source_id, hay.name, hay.mcal_per_kg) == ("b", "B", pytest.approx(1.08))
    assert (corn.source_id, corn.name, corn.mcal_per_kg) == ("corn", "Corn", pytest.approx(1.76))
    farm = storm_farm(monkeypatch, grain("oats"), danger="b")
    assert [one.source_id for one in storm_feeds(farm, group(), COLD_ON) if one] == ["c", "oats"]
    horse = group(animal_class=AnimalClass.HORSE)
    hay, none = storm_feeds(farm, horse, COLD_ON)
    assert hay is not None
    assert hay.mcal_per_kg == pytest.approx(0.9 * float(horse_de_from_tdn(55.0)))
    assert none is None
    farm.lots = farm.lots[-1:]
    assert storm_feeds(farm, horse, COLD_ON) == (None, None), "none is left of it"


def test_grain_of_unknown_energy_is_not_fed_for_a_storm(monkeypatch: pytest.MonkeyPatch) -> None:
    meal = grain("corn", kind=FeedKind.SUPPLEMENT)
    for others, found in (
        ((meal, grain("oats", None)), None),
        ((meal, grain("oats", None, table_id="unknown")), None),
        ((grain("corn", None, table_id="known"), grain("oats")), "corn"),
    ):
        farm = storm_farm(monkeypatch, *others)
        known = {"known": 88.0, "unknown": None}
        monkeypatch.setattr(
            f"{ROOM}.feed_row", lambda name, known=known: one(recommended_tdn_pct=known[name])
        )
        fed = storm_feeds(farm, group(), COLD_ON)[1]
        assert (fed and fed.source_id) == found
