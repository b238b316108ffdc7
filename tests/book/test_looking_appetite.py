"""What stock ate against the equation, by hand-worked numbers; taken, and given back."""

import math
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from rickyard.book import records
from rickyard.book.acting import NotTaken
from rickyard.book.base import BookPlace
from rickyard.book.folders import farm_of, take_in
from rickyard.book.looking import (
    Eaten,
    eaten_of,
    give_back_intake,
    learned_appetite,
    look_back,
    take_intake,
    taken_intake,
    told_of_look,
)
from rickyard.book.looking.appetite import equation_error_pct
from rickyard.book.looking.dated import Dated
from rickyard.book.services import read_things, read_trail, write_season, write_thing
from rickyard.farm import (
    AnimalClass,
    Farm,
    FedRow,
    Feed,
    Feeder,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Season,
    Storage,
)
from rickyard.forage.plausibility import lot_profile
from rickyard.kinds import Offered
from rickyard.stock.equations import appetite_kg
from support.farm_folders import GOOD, write_texts

START = date(2026, 11, 1)
LATER = START + timedelta(days=100)

#: Weighed bales of hay whose dry matter is stated, in a barn from the day of the count.
HAY = Lot("L", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 100.0, START,
          START, bale_weight_kg=500.0, bales_weighed=100, dm_pct=85.0)  # fmt: skip
#: Dry cows that are not known to be in calf: one day is like another.
COWS = Group("B", "Cows", AnimalClass.COW, 10, 600.0, feeder=Feeder.CONE_RING)


def a_farm(fed: tuple[FedRow, ...], group: Group = COWS, **more: Any) -> Farm:
    season = Season(START, date(2027, 4, 1), intake_calibrated=False)
    return Farm("Larkmoor", season, lots=(HAY,), groups=(group,), fed=fed, **more)


def every(days: int, times: int, kg: float, source: str = "L") -> tuple[FedRow, ...]:
    """Return so much of a source put out every so many days."""
    return tuple(
        FedRow(START + timedelta(days=days * one), source, "B", mass_kg=kg) for one in range(times)
    )


def only(farm: Farm, heads: dict[str, Any] | None = None) -> Eaten:
    (found,) = eaten_of(farm, heads or {}, LATER)
    return found


def given(kg: float) -> float:
    """Return what the equation gives a cow of a weight of this hay."""
    nem = lot_profile(HAY, ()).nem_mcal_per_kg
    return float(appetite_kg("cow_early", 0.96 * kg, nem))


def test_what_is_eaten_is_what_is_put_out_less_waste_until_more_is() -> None:
    """300 kg at 85 % every second day, 6 % wasted, for ten: the last of eleven is not eaten yet."""
    found = only(a_farm(every(2, 11, 300.0)))
    assert (found.days, found.times, found.left_out) == (20, 10, 0)
    eaten = 300.0 * 0.85 * 0.94 / 20.0
    assert found.eaten_kg == pytest.approx(eaten)
    assert found.expected_kg == pytest.approx(given(600.0), rel=1e-6)
    assert found.pct == pytest.approx(100.0 * eaten / given(600.0), rel=1e-6)
    assert found.sampling_pct == pytest.approx(0.0, abs=1e-9)
    # Mass was weighed: what may be off is dry matter, waste (half of 6 %) and their weight.
    waste = 0.5 / 1.645 * 0.06 / 0.94
    least = found.pct * math.hypot(waste, 0.75 * 0.03)
    assert least < (found.shared_pct or 0.0) < 1.5 * least


def test_a_gap_of_which_nothing_is_noted_is_left_out() -> None:
    rows = every(2, 13, 300.0)
    without = (*rows[:5], *rows[8:])
    found = only(a_farm(without))
    assert (found.days, found.left_out) == (16, 8)
    assert found.eaten_kg == pytest.approx(only(a_farm(rows)).eaten_kg)
    # Days on which there was grass are not told either.
    grass = Feed("G", "Grass", FeedKind.GRAZING, 0.0, table_id="", dm_pct=25.0, tdn_pct=60.0,
                 cp_pct=12.0, ndf_pct=55.0, to_on=START + timedelta(days=4))  # fmt: skip
    assert only(a_farm(rows, feeds=(grass,))).days == 20


def test_feed_beside_the_hay_counts_and_what_has_no_weight_is_not_told() -> None:
    cubes = Feed("C", "Cubes", FeedKind.SUPPLEMENT, 0.4, dm_pct=90.0, tdn_pct=72.0, cp_pct=20.0,
                 ndf_pct=30.0, ca_pct=0.5, p_pct=0.5, feeding_loss_pct=0.0)  # fmt: skip
    both = (*every(2, 11, 300.0), *every(1, 20, 20.0, "C"))
    found = only(a_farm(both, feeds=(cubes,)))
    assert found.eaten_kg == pytest.approx((300.0 * 0.85 * 0.94 / 2.0 + 20.0 * 0.9) / 10.0)
    odd = FedRow(START + timedelta(days=3), "C", "B", bales=1.0)
    assert only(a_farm((*both, odd), feeds=(cubes,))).left_out == 2


def test_head_and_weight_are_those_of_the_day() -> None:
    """Five were sold on the tenth day; a count is no weighing, a weighing holds from its day."""
    sold = START + timedelta(days=10)
    heads = {"B": (Dated(None, (10, 600.0)), Dated(sold, (5, 600.0)))}
    found = only(a_farm(every(2, 11, 300.0)), heads)
    assert found.eaten_kg == pytest.approx(300.0 * 0.85 * 0.94 * 10.0 / 150.0)
    assert found.expected_kg == pytest.approx(given(600.0), rel=1e-6)
    heads["B"] = (*heads["B"], Dated(sold, (5, 500.0)))
    found = only(a_farm(every(2, 11, 300.0)), heads)
    mean = (100 * given(600.0) + 50 * given(500.0)) / 150.0
    assert found.expected_kg == pytest.approx(mean, rel=1e-6)


def test_who_gets_a_ration_tells_nothing_of_appetite() -> None:
    limited = replace(COWS, offered=Offered.LIMITED)
    found = only(a_farm(every(2, 11, 300.0), limited))
    assert (found.pct, found.eaten_kg) == (None, pytest.approx(300.0 * 0.85 * 0.94 / 20.0))
    assert learned_appetite(a_farm(()).season, (found,)) is None
    assert eaten_of(a_farm(every(2, 5, 300.0)), {}, LATER) == ()
    assert eaten_of(a_farm(every(1, 14, 150.0)), {}, LATER) == ()


def ate(pct: float, sampling: float, shared: float, **more: Any) -> Eaten:
    one = Eaten(COWS, 40, 0, 20, 12.0, 11.0, pct, sampling, shared, 0.0)
    return replace(one, **more)


def test_one_group_is_drawn_toward_the_equation() -> None:
    """120 % with errors of 3, 4 and, between groups, 5: 50 against 100 of the equation."""
    season = a_farm(()).season
    found = learned_appetite(season, (ate(120.0, 3.0, 4.0),))
    assert found is not None
    assert found.pct == pytest.approx(100.0 + 20.0 * 100.0 / 150.0)
    error = math.sqrt(50.0 * 100.0 / 150.0)
    assert found.high_pct - found.low_pct == pytest.approx(2.0 * 1.645 * error)
    assert (found.offered_pct, found.differs) == (113.0, True)
    near = learned_appetite(replace(season, intake_pct=108.0), (ate(120.0, 3.0, 4.0),))
    assert near is not None
    assert not near.differs
    off = learned_appetite(season, (ate(160.0, 3.0, 4.0),))
    assert off is not None
    assert off.offered_pct is None


def test_what_is_off_alike_in_all_groups_is_not_averaged_away() -> None:
    """Two alike: 34 of each alone is halved to 17, 16 that both share stays: 33 against 100."""
    season = a_farm(()).season
    found = learned_appetite(season, (ate(120.0, 3.0, 4.0), ate(120.0, 3.0, 4.0)))
    assert found is not None
    assert found.pct == pytest.approx(100.0 + 20.0 * 100.0 / 133.0)


def test_an_uncalibrated_equation_of_cows_carries_its_printed_bias() -> None:
    bare = a_farm(()).season
    season = replace(bare, intake_calibrated=True)
    cow = ate(110.0, 3.0, 4.0, is_cow=True, nursing=0.25)
    assert equation_error_pct(cow, season) == 10.0
    assert equation_error_pct(cow, bare) == pytest.approx(
        math.hypot(10.0, 0.25 * 20.0 + 0.75 * 6.0)
    )
    assert equation_error_pct(replace(cow, is_cow=False), bare) == 10.0


NEW_YEAR = date(2026, 1, 1)


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    """Keep a season in which the cows were given four bales every second day."""
    first = date(2025, 11, 16)
    rows = "".join(f"{first + timedelta(days=2 * one)},A1,COWS,4,,\n" for one in range(1, 22))
    texts = {**GOOD, "fed.csv": GOOD["fed.csv"] + rows}
    return take_in(write_texts(tmp_path / "good", texts)).season


def test_appetite_is_taken_and_given_back(season: Any) -> None:
    found = look_back(None, season.id, NEW_YEAR).appetite
    assert found is not None
    pct = found.offered_pct
    assert pct is not None
    with pytest.raises(NotTaken, match="something else by now"):
        take_intake(None, season.id, NEW_YEAR, pct + 1.0)
    with pytest.raises(NotTaken, match="nothing was given back"):
        give_back_intake(None, season.id)
    assert farm_of(season).season.intake_pct == 100.0
    fact = uuid4()
    assert take_intake(None, season.id, NEW_YEAR, pct, fact=fact).is_new
    assert not take_intake(None, season.id, NEW_YEAR, pct, fact=fact).is_new
    assert farm_of(season).season.intake_pct == pct
    # What is learned does not feed upon itself.
    again = look_back(None, season.id, NEW_YEAR)
    assert again.appetite is not None
    assert (again.appetite.pct, again.appetite.counted_pct) == (found.pct, pct)
    assert "nothing needs to change" in told_of_look(again).appetite[1]
    assert [(one.service, one.about) for one in read_trail(None, season.farm_id)][-1] == (
        "take intake",
        f"{pct:g}%",
    )
    # Another edit of the season goes between, and stays.
    write_season(None, season.id, replace(farm_of(season).season, period_days=14), 2)
    assert taken_intake(None, season.id) == 100.0
    give_back_intake(None, season.id)
    plain = farm_of(season).season
    assert (plain.intake_pct, plain.period_days) == (100.0, 14)
    assert taken_intake(None, season.id) is None
    assert records.SeasonState.objects.filter(thing=season).count() == 4


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_what_somebody_wrote_since_is_not_given_back(season: Any) -> None:
    found = look_back(None, season.id, NEW_YEAR).appetite
    assert found is not None
    take_intake(None, season.id, NEW_YEAR, found.offered_pct or 0.0)
    write_season(None, season.id, replace(farm_of(season).season, intake_pct=95.0), 2)
    with pytest.raises(NotTaken):
        give_back_intake(None, season.id)


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_appetite_is_told_with_its_days_and_range(season: Any) -> None:
    thing, seen, cows = read_things(None, season.id, "group")[0]
    fewer = replace(cows, head=50)
    write_thing(None, season.id, "group", fewer, thing=thing, seen=seen, day=date(2025, 12, 16))
    told = told_of_look(look_back(None, season.id, NEW_YEAR))
    (said,) = told.ate
    assert said.startswith("Mature cows ate ")
    assert "over 42 days on which hay was put out 21 times. The equation gives " in said
    assert told.appetite[0].startswith("Stock here eat ")
    assert "This season counts with 100%." in told.appetite[0]
