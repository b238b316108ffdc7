"""What was fed, in money, by hand: the day's price, the head of the day, mineral not noted."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from rickyard.book import records
from rickyard.book.acting import Role
from rickyard.book.base import BookPlace
from rickyard.book.folders import take_in
from rickyard.book.looking import look_back, told_of_look
from rickyard.book.looking.cost_words import costs_told
from rickyard.book.looking.costs import Costs, costs_of
from rickyard.book.looking.dated import Dated
from rickyard.book.services import let_in, read_things, write_thing
from rickyard.display import display_for
from rickyard.farm import (
    AnimalClass,
    Farm,
    FedRow,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Season,
    Storage,
)
from rickyard.program.compare import FedAgainst
from rickyard.program.compare.fed_vs_planned import FedLine
from support.farm_folders import GOOD, write_texts

START = date(2026, 11, 1)
LATER = START + timedelta(days=100)
HAY = Lot("L", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 100.0, START,
          START, bale_weight_kg=500.0, dm_pct=85.0, value_usd_per_kg=0.10)  # fmt: skip
MINERAL = Feed("M", "Mineral", FeedKind.MINERAL, 0.8, dm_pct=100.0)
GROUP = Group("B", "Cows", AnimalClass.COW, 10, 600.0)
FED = tuple(FedRow(START + timedelta(days=2 * one), "L", "B", mass_kg=300.0) for one in range(11))
FARM = Farm("Larkmoor", Season(START, date(2027, 4, 1)), lots=(HAY,), groups=(GROUP,),
            feeds=(MINERAL,), fed=FED)  # fmt: skip
PRICES = {"L": (Dated(None, (0.10,)),), "M": (Dated(None, (0.8,)),)}


def costs(farm: Farm = FARM, until: date = LATER, **more: Any) -> Costs:
    said = {"prices": PRICES, "heads": {}, "against": None, **more}
    found = costs_of(farm, until=until, **said)
    assert found is not None
    return found


def test_hay_counts_at_its_value_of_the_day() -> None:
    """Five of 300 kg at 10 cents, six at 12 from the tenth day on: $150 and $216 for ten head."""
    dearer = (*PRICES["L"], Dated(START + timedelta(days=10), (0.12,)))
    found = costs(prices={**PRICES, "L": dearer})
    (line,), (group,) = found.lines, found.groups
    assert (line.kg, line.usd, line.is_whole) == (3300.0, pytest.approx(366.0), True)
    # The last hay lasts two days, as hay did before.
    assert (group.days, group.head) == (22, 10.0)
    assert group.usd_a_head == pytest.approx(36.6)
    assert group.usd_a_day == pytest.approx(36.6 / 22.0)
    assert found.of_sources()[0].usd == pytest.approx(366.0)
    # Hay of a day before the season is no cost of it, and hay of a later day is not put out yet.
    early = replace(FED[0], day=START - timedelta(days=1))
    assert costs(replace(FARM, fed=(early, *FED)), START).kg == 300.0
    assert costs_of(FARM, PRICES, {}, None, START - timedelta(days=1)) is None


def test_a_head_is_one_of_those_that_were_there() -> None:
    """Five of ten from the twelfth day on are seven and a half over 22 days."""
    heads = {"B": (Dated(None, (10, 600.0)), Dated(START + timedelta(days=11), (5, 600.0)))}
    assert costs(heads=heads).groups[0].head == 7.5
    gone = replace(GROUP, to_on=START + timedelta(days=11))
    assert costs(replace(FARM, groups=(gone,))).groups[0].head == 5.0
    assert costs(replace(FARM, groups=(replace(GROUP, to_on=START),))).groups == ()


def test_mineral_counts_as_noted_or_else_as_the_program_feeds_it() -> None:
    planned = FedAgainst(START, LATER, (FedLine("B", "M", 22.0, None),), ())
    by_program = costs(against=planned).lines[1]
    assert (by_program.kg, by_program.usd, by_program.by_program) == (22.0, 22.0 * 0.8, True)
    noted = replace(FARM, fed=(*FED, FedRow(START, "M", "B", mass_kg=25.0)))
    (_, line) = costs(noted, against=planned).lines
    assert (line.usd, line.by_program) == (20.0, False)
    other = FedAgainst(START, LATER, (FedLine("OTHER", "M", 22.0, None),), ())
    found = costs(against=other)
    assert len(found.lines) == 1
    said = costs_told(found, FARM, display_for("metric"))
    assert said.remarks == ("No mineral is noted, and no program feeds one: it is in no sum.",)


def test_what_has_no_price_is_in_no_sum_and_says_so() -> None:
    bare = {**PRICES, "L": (Dated(None, (None,)),)}
    salt = FedRow(START, "M", "B", mass_kg=25.0)
    odd = FedRow(START, "M", "B", bales=1.0)
    found = costs(replace(FARM, fed=(*FED, salt, odd)), prices=bare)
    assert (found.usd, found.is_whole) == (20.0, False)
    said = costs_told(found, FARM, display_for("metric"))
    assert [(one.what, one.cost, one.a_ton) for one in said.lines] == [
        ("Barn", "not known", "not known"),
        ("Mineral", "$20 and more", "$800/t"),
    ]
    assert said.groups[0].a_ton == "not known"
    assert said.answer.startswith("What was put out cost $20 and more")
    assert "3.3 t of Barn has no price" in said.remarks[0]
    assert said.remarks[1] == "1 line has no weight and has no cost here."


@pytest.mark.parametrize("book", ["file"], indirect=True)
def test_money_is_looked_back_at_and_no_helper_sees_it(book: BookPlace, tmp_path: Path) -> None:
    """Cubes of 120 lb at $390 a ton, then written at $400: the price of the day holds."""
    season: Any = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    thing, seen, cubes = read_things(None, season.id, "feed")[0]
    dearer = replace(cubes, price_usd_per_kg=400.0 / 907.18474)
    day = date(2025, 12, 1)
    write_thing(None, season.id, "feed", dearer, thing=thing, seen=seen, day=day)
    found = look_back(None, season.id, day)
    assert found.costs is not None
    line = next(one for one in found.costs.lines if one.source_id == "cubes")
    assert line.usd == pytest.approx(120.0 / 2000.0 * 390.0)
    told = told_of_look(found).costs
    assert told is not None
    assert [one.group for one in told.groups] == ["Mature cows", "First-calf heifers"]
    assert told.lines[0].a_ton == "$110/ton"
    helper = records.Person.objects.create(name="A helper")
    let_in(None, season.farm_id, helper, Role.HELPER)
    seen_by = look_back(helper, season.id, day)
    assert seen_by.costs is None
    assert told_of_look(seen_by).costs is None
