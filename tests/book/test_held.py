"""What was read of a season is held by the newest line of its trail, in every process."""

import gc
import math
import multiprocessing
from collections.abc import Callable
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.db import connection, connections, transaction
from django.test.utils import CaptureQueriesContext

from rickyard.book import records
from rickyard.book.acting import NotThere, Role
from rickyard.book.base import BookPlace, join_book
from rickyard.book.folders import take_in
from rickyard.book.keeping import delete_farm
from rickyard.book.services import (
    add_line,
    end_membership,
    let_in,
    list_farms,
    read_farm,
    write_farm,
)
from rickyard.farm import Farm, FedRow, Lot, Report
from rickyard.forage.reading import LotReading
from rickyard.forage.uncertainty import Labs
from rickyard.service import CannotWorkOut, pages, read_lots, yard_on
from rickyard.service.sections import stock, stock_needs
from rickyard.web.serving.ahead import read_ahead
from support.farm_folders import GOOD, write_texts


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def queries(what: Callable[[], object]) -> int:
    with CaptureQueriesContext(connection) as asked:
        what()
    return len(asked)


def elsewhere(place: BookPlace, what: Callable[..., object], *said: Any) -> None:
    """Do something in another process, as another worker of a server would."""
    connections.close_all()
    ways = multiprocessing.get_all_start_methods()
    context: Any = multiprocessing.get_context("fork" if "fork" in ways else "spawn")
    other = context.Process(target=_there, args=(place, what, said))
    other.start()
    other.join(60)
    assert other.exitcode == 0


def _there(place: BookPlace, what: Callable[..., object], said: tuple[Any, ...]) -> None:
    join_book(place)
    what(*said)
    connections.close_all()


def feed_more(season: UUID) -> None:
    row = read_farm(None, season).fed[0]
    add_line(None, season, "fed", FedRow(row.day, row.source_id, row.group_id, bales=3.0))


def rename(farm: UUID) -> None:
    write_farm(None, farm, {"name": "Dale farm"}, seen=1)


def test_what_another_process_writes_is_seen_at_once(book: BookPlace, season: Any) -> None:
    before = read_farm(None, season.id)
    assert read_farm(None, season.id) is before
    assert queries(lambda: read_farm(None, season.id)) == 1
    stood = yard_on(before, before.season.start)
    assert yard_on(before, before.season.start) is stood
    elsewhere(book, feed_more, season.id)
    after = read_farm(None, season.id)
    assert [row.bales for row in after.fed] == [*(row.bales for row in before.fed), 3.0]
    assert yard_on(after, before.fed[0].day).bales < yard_on(before, before.fed[0].day).bales
    assert [one.name for one in list_farms(None)] == ["Hill farm"]
    assert list_farms(None) is list_farms(None)
    assert queries(lambda: list_farms(None)) == 1
    elsewhere(book, rename, season.farm_id)
    assert [one.name for one in list_farms(None)] == ["Dale farm"]


def test_what_is_held_is_not_shared_with_who_may_see_less(season: Any) -> None:
    who = records.Person.objects.create(name="Kim Lee")
    let_in(None, season.farm_id, who, Role.HELPER)
    whole = read_farm(None, season.id)
    assert any(one.value_usd_per_kg is not None for one in whole.lots)
    told = read_farm(who, season.id)
    assert {one.value_usd_per_kg for one in told.lots} == {None}
    assert all(math.isnan(one.price_usd_per_kg) for one in told.feeds)
    assert read_farm(None, season.id) is whole
    assert read_farm(who, season.id) is told
    end_membership(None, season.farm_id, who)
    with pytest.raises(NotThere):
        read_farm(who, season.id)
    assert list_farms(who) == ()


def test_what_an_action_sees_of_itself_is_not_held(season: Any) -> None:
    before = read_farm(None, season.id)
    with transaction.atomic():
        feed_more(season.id)
        assert len(read_farm(None, season.id).fed) == len(before.fed) + 1
        transaction.set_rollback(True)
    assert read_farm(None, season.id) is before


def test_a_server_reads_ahead_what_pages_ask_for(
    season: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert read_ahead(longest=0.0) == 0
    assert read_ahead() == 1
    assert queries(lambda: read_farm(None, season.id)) == 1
    feed_more(season.id)

    def cannot(*_: object) -> None:
        raise CannotWorkOut("The yard cannot be worked out.")

    monkeypatch.setattr("rickyard.web.serving.ahead.yard_on", cannot)
    assert read_ahead() == 0


def test_what_is_fed_leaves_what_hay_is_and_what_stock_needs(season: Any) -> None:
    before = read_farm(None, season.id)
    read, needs = read_lots(before), stock_needs(before)
    one = read_lots(before, lot_ids=["A1"])
    feed_more(season.id)
    after = read_farm(None, season.id)
    assert len(after.fed) == len(before.fed) + 1
    assert read_lots(after) is read
    assert read_lots(after, lot_ids=["A1"]) is one
    assert stock_needs(after) is needs
    # It is what would be read of the whole farm, its log and its moves.
    assert pages._read.__wrapped__(after, None, Labs.ANY, None, (), False) == read
    assert repr(stock._stock_needs.__wrapped__(after, None)) == repr(needs)


def leave(farm: UUID) -> None:
    delete_farm(None, farm, "Elm farm")


def test_a_farm_that_another_process_deletes_does_not_stay_in_memory(
    book: BookPlace, tmp_path: Path
) -> None:
    texts = {name: text.replace("Hill", "Elm") for name, text in GOOD.items()}
    season = take_in(write_texts(tmp_path / "elm", texts)).season
    farm = read_farm(None, season.id)
    assert "Elm" in repr(read_lots(farm).readings) + repr(yard_on(farm, farm.season.start))
    assert [one.name for one in list_farms(None)] == ["Elm farm"]
    del farm
    elsewhere(book, leave, season.farm_id)
    assert list_farms(None) == ()
    gc.collect()
    kept = [one for one in gc.get_objects() if isinstance(one, Farm | Lot | Report | LotReading)]
    assert [one for one in kept if "Elm" in repr(one)] == []
