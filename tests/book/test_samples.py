"""Samples in the record book: cores one by one, taken back, and what was sent."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.db import DatabaseError, connection, transaction

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere
from rickyard.book.base import BookPlace
from rickyard.book.coring import (
    begin_anew,
    sample_begun,
    samples_sent,
    send_sample,
    take_core,
    undo_core,
)
from rickyard.book.folders import take_in
from rickyard.book.keeping import delete_farm
from rickyard.book.services import add_line, read_farm, read_things, read_trail, write_thing
from rickyard.farm import MoveRow
from rickyard.hay.sampling import Sent
from rickyard.kinds import MoveKind
from rickyard.service.sections import coring_sheet, expected_after, farm_tests
from support.farm_folders import GOOD, write_texts

DAY = date(2025, 12, 4)


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def sheet(season: Any) -> Any:
    plan = coring_sheet(read_farm(None, season.id), "A1", DAY)
    assert plan.choice is not None
    return plan


def begun(season: Any) -> Any:
    found = sample_begun(None, season.id, "A1", sheet(season).sample_id)
    assert found is not None
    return found


def test_cores_are_kept_one_by_one_and_one_that_is_sent_twice_counts_once(season: Any) -> None:
    first, second, *_ = sheet(season).choice.bales
    assert sample_begun(None, season.id, "A1", sheet(season).sample_id) is None
    fact = uuid4()
    assert take_core(None, season.id, "A1", first, DAY, fact=fact).is_new
    assert not take_core(None, season.id, "A1", first, DAY, fact=fact).is_new
    now = begun(season)
    assert (now.so_far.taken, now.so_far.bale) == (1, second)
    assert now.last[1].bale == first
    assert read_trail(None, season.farm_id)[-1].service == "take core"
    with pytest.raises(NotTaken, match="says something else"):
        take_core(None, season.id, "A1", second, DAY, fact=fact)


def test_a_bale_that_is_done_or_was_not_drawn_is_refused(season: Any) -> None:
    plan = sheet(season)
    first = plan.choice.bales[0]
    take_core(None, season.id, "A1", first, DAY)
    with pytest.raises(NotTaken, match=f"Bale {first} is done already"):
        take_core(None, season.id, "A1", first, DAY)
    other = next(one for one in range(1, 999) if one not in plan.choice.bales)
    with pytest.raises(NotTaken, match=f"Chance did not draw bale {other}"):
        take_core(None, season.id, "A1", other, DAY)
    with pytest.raises(NotThere):
        take_core(None, season.id, "none", first, DAY)
    assert records.Core.objects.count() == 1


def test_hay_that_is_fed_meanwhile_does_not_change_what_was_drawn(season: Any) -> None:
    drawn = sheet(season).choice.bales
    take_core(None, season.id, "A1", drawn[0], DAY)
    sold = MoveRow(DAY, "A1", MoveKind.SOLD, bales=9.0)
    add_line(None, season.id, "moves", sold)
    assert sheet(season).choice.bales != drawn
    assert begun(season).so_far.order == drawn


def test_a_bale_too_hard_gives_way_to_a_spare_and_is_taken_back(season: Any) -> None:
    choice = sheet(season).choice
    done = take_core(None, season.id, "A1", choice.bales[0], DAY, went_in=False)
    assert begun(season).so_far.bale == choice.spares[0]
    fact = uuid4()
    assert undo_core(None, season.id, done.fact, fact=fact).is_new
    assert not undo_core(None, season.id, done.fact, fact=fact).is_new
    now = begun(season)
    assert (now.so_far.bale, now.last) == (choice.bales[0], None)
    with pytest.raises(NotTaken, match="taken this back already"):
        undo_core(None, season.id, done.fact)
    with pytest.raises(NotThere):
        undo_core(None, season.id, uuid4())


def test_a_sample_is_begun_anew(season: Any) -> None:
    plan = sheet(season)
    take_core(None, season.id, "A1", plan.choice.bales[0], DAY)
    begin_anew(None, season.id, "A1", plan.sample_id)
    assert sample_begun(None, season.id, "A1", plan.sample_id) is None
    with pytest.raises(NotThere):
        begin_anew(None, season.id, "A1", plan.sample_id)
    take_core(None, season.id, "A1", plan.choice.bales[0], DAY)
    assert begun(season).so_far.taken == 1


def test_after_the_last_core_nothing_more_is_taken(season: Any) -> None:
    plan = sheet(season)
    for bale in plan.choice.bales:
        for _ in range(plan.protocols[0].cores_a_bale):
            take_core(None, season.id, "A1", bale, DAY)
    assert begun(season).so_far.is_whole
    with pytest.raises(NotTaken, match="All cores of this sample are taken"):
        take_core(None, season.id, "A1", plan.choice.spares[0], DAY)


def test_nobody_cores_a_hot_stack(season: Any) -> None:
    bale = sheet(season).choice.bales[0]
    thing, seen, lot = next(
        one for one in read_things(None, season.id, "lot") if one[2].lot_id == "A1"
    )
    hot = replace(lot, highest_temperature_c=78.0)
    write_thing(None, season.id, "lot", hot, thing=thing, seen=seen)
    with pytest.raises(NotTaken, match="Nobody cores it or goes near it"):
        take_core(None, season.id, "A1", bale, DAY)
    assert records.Sample.objects.count() == 0


def test_what_was_sent_says_when_its_result_is_expected(season: Any) -> None:
    add_line(None, season.id, "moves", MoveRow(DAY, "C3", MoveKind.CORED, bales=20.0))
    farm = read_farm(None, season.id)
    (away,) = farm_tests(farm, DAY).under_way
    later = DAY + timedelta(days=9)
    sent = Sent(away.sample_id, "Hill lab", "protein", later, expected_after(away.plan, later))
    fact = uuid4()
    assert send_sample(None, season.id, "C3", sent, fact=fact).is_new
    assert not send_sample(None, season.id, "C3", sent, fact=fact).is_new
    with pytest.raises(NotTaken, match="was sent already"):
        send_sample(None, season.id, "C3", sent)
    with pytest.raises(NotTaken, match="Name the lab"):
        send_sample(None, season.id, "C3", replace(sent, code="X", lab=" "))
    assert samples_sent(None, season.id) == (sent,)
    (now,) = farm_tests(farm, DAY, (sent,)).under_way
    assert now.expected_on is not None
    assert away.plan.dates.ship_on is not None
    assert away.expected_on is not None
    assert now.expected_on - away.expected_on == later - away.plan.dates.ship_on
    assert not farm_tests(farm, away.expected_on + timedelta(days=1), (sent,)).under_way[0].is_late


def test_what_was_cored_is_not_changed_and_goes_with_its_farm(season: Any) -> None:
    take_core(None, season.id, "A1", sheet(season).choice.bales[0], DAY)
    for statement in ("UPDATE book_core SET bale = 1", "DELETE FROM book_sample"):
        with (
            pytest.raises(DatabaseError, match="not changed or taken away"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(statement)
    delete_farm(None, season.farm_id, read_farm(None, season.id).name)
    assert records.Core.objects.count() + records.Sample.objects.count() == 0
