"""A farm that is deleted is gone with all it had; another keeps all, and that it went is kept."""

from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.db import DatabaseError, connection, transaction

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, Role
from rickyard.book.base import BookPlace
from rickyard.book.folders import farm_of, take_in
from rickyard.book.keeping import delete_farm, examine, read_gone, write_seasons
from rickyard.book.keeping.leaving import NO_FARM, way_to_farm
from rickyard.book.services import (
    ask_plan,
    invite,
    let_in,
    list_farms,
    read_farm,
    stop_plan,
)
from rickyard.book.steps import SENTENCE
from support.farm_folders import GOOD, write_texts


def rows_of(farm_id: Any) -> dict[str, int]:
    """Return how many rows of each table are a farm's."""
    return {
        table.__name__: table.objects.filter(**{way_to_farm(table): farm_id}).count()
        for table in apps.get_app_config("book").get_models()
        if table.__name__ not in NO_FARM
    }


@pytest.fixture
def two(book: BookPlace, tmp_path: Path) -> tuple[Any, Any]:
    """Return the seasons of two farms."""
    other = GOOD["farm.toml"].replace("Hill farm", "Dale farm")
    return (
        take_in(write_texts(tmp_path / "hill", dict(GOOD))).season,
        take_in(write_texts(tmp_path / "dale", {**GOOD, "farm.toml": other})).season,
    )


def test_a_farm_that_is_deleted_is_gone_and_nothing_else_is(two: Any, tmp_path: Path) -> None:
    hill, dale = two
    kim = records.Person.objects.create(name="Kim")
    let_in(None, hill.farm_id, kim, Role.PRODUCER)
    ann = records.Person.objects.create(name="Ann")
    let_in(None, hill.farm_id, ann, Role.HELPER)
    invite(kim, hill.farm_id, "Lee", Role.HELPER)
    kept, stays = farm_of(dale), rows_of(dale.farm_id)
    there = sum(rows_of(hill.farm_id).values())
    zipped = tmp_path / "hill.zip"
    assert write_seasons(kim, hill.farm_id, zipped) == 1
    assert delete_farm(kim, hill.farm_id, "Hill farm") == there > 50
    assert set(rows_of(hill.farm_id).values()) == {0}
    assert (rows_of(dale.farm_id), farm_of(dale)) == (stays, kept)
    with pytest.raises(NotThere):
        read_farm(None, hill.id)
    assert [one.name for one in list_farms(None)] == ["Dale farm"]
    # Who did it is kept, for the office, for whoever did, and for who was in on the farm.
    for who in (None, kim, ann):
        assert [(one.who, one.name) for one in read_gone(who)] == [("Kim", "Hill farm")]
    assert read_gone(records.Person.objects.create(name="Lee")) == ()
    assert [one.sentence for one in examine() if not one.is_good] == []


def test_guards_stand_before_and_after(two: Any) -> None:
    hill, dale = two
    delete_farm(None, hill.farm_id, " Hill  farm ")
    assert not records.Leaving.objects.exists()
    for deed in ("DELETE FROM book_feeding", "UPDATE book_feeding SET id = id"):
        with (
            pytest.raises(DatabaseError, match=SENTENCE),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(deed)
    assert farm_of(dale).name == "Dale farm"


def test_it_is_asked_for_by_its_name_and_not_while_it_is_planned(two: Any) -> None:
    hill, _ = two
    before = rows_of(hill.farm_id)
    for typed in ("", "hill farm", "Dale farm"):
        with pytest.raises(NotTaken, match='"Hill farm"'):
            delete_farm(None, hill.farm_id, typed)
    assert rows_of(hill.farm_id) == before
    ask_plan(None, hill.id)
    stop_plan(None, hill.id)
    with pytest.raises(NotTaken, match="Stop that first"):
        delete_farm(None, hill.farm_id, "Hill farm")


def test_every_table_leads_to_a_farm_or_is_none_of_one() -> None:
    lost = [
        table.__name__
        for table in apps.get_app_config("book").get_models()
        if table.__name__ not in NO_FARM and not way_to_farm(table)
    ]
    assert lost == []


def test_a_guard_that_stands_open_is_told(two: Any) -> None:
    records.Leaving.objects.create(since="2026-01-01T00:00:00Z")
    assert any("stands open" in one.sentence for one in examine() if not one.is_good)
