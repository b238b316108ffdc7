"""A season begun from the last: what is left of the hay, stock a year older, prices asked again."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from click.testing import CliRunner
from django.db import connection
from django.test.utils import CaptureQueriesContext

from rickyard.book.acting import NotTaken
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import farm_of, seasons_of, take_in
from rickyard.book.services import (
    add_line,
    begin_season,
    export_farm,
    list_farms,
    next_season,
    read_farm,
    read_things,
    write_thing,
)
from rickyard.cli.main import main
from rickyard.farm import AnimalClass, FedRow
from rickyard.folder import read_folder
from rickyard.service import yard_on
from support.farm_folders import GOOD, write_texts

START, END, COUNTED = date(2026, 11, 15), date(2027, 4, 15), date(2026, 10, 1)
PRICES = {"cubes": 0.40, "corn": 0.25, "lime": 0.31}


@pytest.fixture
def last(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def begun(last: Any, **how: Any) -> Any:
    done = begin_season(None, last.id, START, END, COUNTED, PRICES, **how)
    return done, read_farm(None, done.thing)


def test_the_last_season_stays_as_it_was_and_the_new_one_begins_from_it(
    last: Any, tmp_path: Path
) -> None:
    add_line(None, last.id, "fed", FedRow(date(2025, 12, 4), "B2", "COWS", bales=80.0))
    before = farm_of(last)
    done, farm = begun(last)
    assert farm_of(last) == before
    assert (farm.season.start, farm.season.end) == (START, END)
    assert farm.season.rainfall_mm_per_year == before.season.rainfall_mm_per_year
    # Of A1 120 less 2 fed, 4 sold and one counted twice; B2 was fed up; C3 stands.
    assert [(lot.lot_id, lot.bales) for lot in farm.lots] == [("A1", 113.0), ("C3", 40.0)]
    assert {lot.counted_on for lot in farm.lots} == {COUNTED}
    assert [one.report_id for one in farm.reports] == ["R1"]
    assert (farm.fed, farm.moves, farm.wishes, farm.needs) == ((), (), (), ())
    assert [one.monthly for one in farm.weather] == [True]
    assert any("Nothing is left of Tarp fescue" in one for one in done.questions)
    # It is the same hay, and weighs what storage left of it: the yard says the same in both.
    for lot_id in ("A1", "C3"):
        then, now = (
            next(line for line in yard_on(one, COUNTED).lines if line.lot_id == lot_id).standing
            for one in (before, farm)
        )
        assert now.dry_kg == pytest.approx(then.dry_kg)
        assert now.bale_kg == pytest.approx(then.bale_kg)
    assert farm.lots[0].bale_weight_kg < before.lots[0].bale_weight_kg
    # Nobody weighed the bales of C3: what is known of them by their size stays as unsure.
    assert now.as_fed_se_kg == pytest.approx(0.1 * now.as_fed_kg, rel=0.05)
    assert farm.lots[1].bales_weighed == 0
    assert now.weight_is == "estimated, none weighed"
    assert any("Bales of Hill alfalfa were never weighed" in one for one in done.questions)
    things = [{one[0] for one in read_things(None, of, "lot")} for of in (last.id, done.thing)]
    assert things[1] < things[0]
    export_farm(None, done.thing, tmp_path / "out")
    assert "weight_lb" in (tmp_path / "out" / "groups.csv").read_text("utf-8")
    assert read_folder(tmp_path / "out").farm == farm
    assert [one.season for one in list_farms(None)] == [done.thing]


def test_stock_is_a_year_older(last: Any) -> None:
    done, farm = begun(last)
    groups = {one.group_id: one for one in farm.groups}
    assert groups["COWS"].calving_on == date(2027, 3, 1)
    assert groups["COWS"].condition_score is None
    # They have calved: heifers no more. Stockers of last year are not those of this one.
    assert groups["HEIF"].animal_class is AnimalClass.COW
    assert "STOCK" not in groups
    assert any("written anew, with its weight now: Stockers." in one for one in done.questions)


def test_prices_are_asked_again(last: Any) -> None:
    with pytest.raises(NotTaken, match=r"cubes \(\$390/ton\) and lime \(\$300/ton\)"):
        begin_season(None, last.id, START, END, COUNTED, {"corn": 0.25})
    with pytest.raises(NotTaken, match="no feed oats"):
        begin_season(None, last.id, START, END, COUNTED, {**PRICES, "oats": 0.2})
    done = begin_season(
        None, last.id, START, END, COUNTED, {"corn": 0.25, "lime": 0.3}, without=["cubes"]
    )
    farm = read_farm(None, done.thing)
    assert [(one.feed_id, one.price_usd_per_kg) for one in farm.feeds] == [
        ("corn", 0.25),
        ("lime", 0.3),
    ]
    assert {lot.value_usd_per_kg for lot in farm.lots} == {None}


def test_a_season_is_begun_once(last: Any) -> None:
    fact = uuid4()
    done, _ = begun(last, fact=fact)
    again, _ = begun(last, fact=fact)
    assert (done.thing, again.thing, again.is_new) == (fact, fact, False)
    with pytest.raises(NotTaken, match="begins on 2026-11-15"):
        begun(last)


@pytest.mark.parametrize(
    ("start", "end", "counted", "told"),
    [
        (date(2025, 11, 15), END, COUNTED, "does not follow"),
        (START, START, COUNTED, "does not follow"),
        (START, END, date(2025, 11, 30), r"on Dec 1, 2025, and what is left .* Nov 30, 2025"),
    ],
)
def test_days_that_do_not_follow_are_told(
    last: Any, start: date, end: date, counted: date, told: str
) -> None:
    with pytest.raises(NotTaken, match=told):
        next_season(None, last.id, start, end, counted)


def test_groups_that_are_there_for_a_while_are_so_a_year_on(last: Any) -> None:
    thing, seen, cows = read_things(None, last.id, "group")[0]
    leap = replace(cows, from_on=date(2026, 1, 10), to_on=date(2026, 3, 1), age_months=60.0)
    write_thing(None, last.id, "group", leap, thing=thing, seen=seen)
    _, farm = begun(last)
    assert (farm.groups[0].from_on, farm.groups[0].age_months) == (date(2027, 1, 10), 72.0)


def test_the_command_asks_for_prices_and_says_what_to_look_at(
    book: BookPlace, last: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if book.is_server:
        monkeypatch.setenv("DATABASE_URL", book.url)
    words = ["next-season", "hill", "--start", "2026-11-15", "--end", "2027-04-15"]
    words += ["--counted", "2026-10-01", *([] if book.is_server else ["--data", str(book.folder)])]
    asked = CliRunner().invoke(main, words)
    assert asked.exit_code == 2
    assert "Prices are asked again each year" in asked.output
    done = CliRunner().invoke(main, [*words, "--same-prices", "--price", "cubes=+10%"])
    assert done.exit_code == 0, done.output
    assert "Hill farm: the season from 2026-11-15 to 2027-04-15 is begun." in done.output
    assert "Stock that grows is written anew" in done.output
    with opened_book(book):
        now, then = (read_farm(None, one) for one in (list_farms(None)[0].season, last.id))
    before = {one.feed_id: one.price_usd_per_kg for one in then.feeds}
    assert now.feeds[0].price_usd_per_kg == pytest.approx(1.1 * before["cubes"])
    assert now.feeds[1].price_usd_per_kg == before["corn"]


def test_seasons_are_listed_in_as_many_queries_for_many_as_for_one(
    book: BookPlace, last: Any, tmp_path: Path
) -> None:
    with CaptureQueriesContext(connection) as one:
        assert len(seasons_of("")) == 1
    begun(last)
    for name in ("Dale farm", "Moor farm"):
        toml = GOOD["farm.toml"].replace("Hill farm", name)
        take_in(write_texts(tmp_path / name, {**GOOD, "farm.toml": toml}))
    with CaptureQueriesContext(connection) as many:
        found = seasons_of("")
    assert [name for _, name in found][:1] == ["Hill farm"]
    assert len(found) == 4
    assert len(seasons_of("hill FARM")) == 2
    assert len(many) == len(one) == 3
