"""A link to one lot: it shows that lot until a day, and nothing once it is ended."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from rickyard.book import records
from rickyard.book.accounts import TooOften
from rickyard.book.accounts.tries import MOST, WITHIN
from rickyard.book.acting import NotTaken, NotThere, Role
from rickyard.book.base import BookPlace
from rickyard.book.folders import take_in
from rickyard.book.services import (
    end_membership,
    let_in,
    read_things,
    read_trail,
    take_out,
    write_farm,
)
from rickyard.book.sharing import LONGEST, LotThere, end_share, share_lot, shares_of, shown_by_link
from support.farm_folders import GOOD, write_texts

NOW = datetime(2026, 1, 10, 12, tzinfo=UTC)
LAST = date(2026, 1, 12)
HERE = "192.0.2.1"
#: The farm without a wish, so that a lot can be taken out.
FARM = {**GOOD, "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n"}


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    found = take_in(write_texts(tmp_path / "good", FARM)).season
    write_farm(None, found.farm_id, {"time_zone": "America/New_York"}, 1)
    return found


def lot_by(code: str, address: str, now: datetime) -> LotThere:
    there = shown_by_link(code, address, now)
    assert isinstance(there, LotThere)
    return there


def test_a_link_shows_its_lot_until_the_end_of_its_day(season: Any) -> None:
    made = share_lot(None, season.id, "A1", LAST, NOW)
    assert not [one for one in records.Share.objects.all() if made.code in str(vars(one))]
    there = lot_by(made.code, HERE, NOW)
    assert (there.lot_id, there.day, there.last) == ("A1", date(2026, 1, 10), LAST)
    assert there.farm.name == "Hill farm"
    # The day ends on the farm, five hours after it ends by the clock of the world.
    midnight = datetime(2026, 1, 13, 5, tzinfo=UTC)
    assert shown_by_link(made.code, HERE, midnight - timedelta(seconds=1)).day == LAST
    with pytest.raises(NotThere):
        shown_by_link(made.code, HERE, midnight)
    assert [one.last for one in shares_of(None, season.id, "A1", NOW)] == [LAST]
    assert shares_of(None, season.id, "A1", midnight) == ()
    told = read_trail(None, season.farm_id)[-1]
    assert (told.service, told.about) == ("share lot", "A1 until 2026-01-12")


def test_a_link_that_is_ended_shows_nothing(season: Any) -> None:
    made, other = (share_lot(None, season.id, "A1", LAST, NOW) for _ in range(2))
    end_share(None, season.id, made.id)
    with pytest.raises(NotThere):
        shown_by_link(made.code, HERE, NOW)
    assert lot_by(other.code, HERE, NOW).lot_id == "A1"
    with pytest.raises(NotThere):
        end_share(None, season.id, made.id)
    assert [one.service for one in read_trail(None, season.farm_id)].count("end share") == 1


def test_a_link_ends_with_its_lot_and_with_the_role_of_whoever_made_it(season: Any) -> None:
    owner, second = (records.Person.objects.create(name=one) for one in ("Owner", "Second"))
    for one in (owner, second):
        let_in(None, season.farm_id, one, Role.PRODUCER)
    by_owner = share_lot(owner, season.id, "A1", LAST, NOW)
    mine = share_lot(None, season.id, "A1", LAST, NOW)
    end_membership(None, season.farm_id, owner)
    with pytest.raises(NotThere):
        shown_by_link(by_owner.code, HERE, NOW)
    # Hay that is taken out of the season is shown no more, whoever made the link.
    lots = {it.lot_id: (thing, seen) for thing, seen, it in read_things(None, season.id, "lot")}
    named = share_lot(None, season.id, "C3", LAST, NOW)
    take_out(None, season.id, "lot", *lots["C3"])
    with pytest.raises(NotThere):
        shown_by_link(named.code, HERE, NOW)
    assert lot_by(mine.code, HERE, NOW).lot_id == "A1"


@pytest.mark.parametrize("days", [-1, LONGEST.days + 1])
def test_a_link_ends_neither_before_today_nor_too_late(season: Any, days: int) -> None:
    with pytest.raises(NotTaken, match="Choose a last day from 2026-01-10 to 2026-03-11"):
        share_lot(None, season.id, "A1", date(2026, 1, 10) + timedelta(days=days), NOW)


def test_who_tries_links_that_are_none_is_shut_out(season: Any) -> None:
    made = share_lot(None, season.id, "A1", LAST, NOW)
    # Whoever has a link looks as often as they like.
    for _ in range(MOST["link"] + 1):
        shown_by_link(made.code, HERE, NOW)
    for _ in range(MOST["link"]):
        with pytest.raises(NotThere):
            shown_by_link("guessed", HERE, NOW)
    with pytest.raises(TooOften, match="links that are none"):
        shown_by_link(made.code, HERE, NOW)
    assert lot_by(made.code, "192.0.2.2", NOW).lot_id == "A1"
    later = NOW + WITHIN + timedelta(seconds=1)
    assert lot_by(made.code, HERE, later).lot_id == "A1"
