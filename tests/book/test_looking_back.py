"""Looking back: every bale is in the account once, and what nobody noted is not known."""

import math
import tempfile
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from rickyard.book.base import BookPlace
from rickyard.book.folders import take_in
from rickyard.book.looking import (
    LearnedWeight,
    LookBack,
    learned_weights,
    look_back,
    told_of_look,
)
from rickyard.book.services import (
    Count,
    add_line,
    read_counts,
    read_farm,
    read_things,
    take_out,
    undo_line,
    write_thing,
)
from rickyard.farm import Farm, FedRow, Forage, Lot, MoveKind, MoveRow, Package
from rickyard.folder import read_folder
from rickyard.service import read_lots
from support.farm_folders import GOOD, write_texts

NEW_YEAR = date(2026, 1, 1)


#: The words and sums are the same whatever keeps the book.
on_a_file = pytest.mark.parametrize("book", ["file"], indirect=True)


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def good_farm() -> Farm:
    """Return the farm that no book keeps."""
    with tempfile.TemporaryDirectory() as place:
        return read_folder(write_texts(Path(place) / "good", dict(GOOD))).farm


def good_lot() -> Lot:
    return good_farm().lots[0]


def count(season: Any, lot: int, bales: float, day: date) -> None:
    """Write a count of a lot."""
    thing, seen, now = read_things(None, season.id, "lot")[lot]
    wanted = replace(now, bales=bales, counted_on=day)
    write_thing(None, season.id, "lot", wanted, thing=thing, seen=seen)


def odd(found: LookBack, lot: int) -> list[tuple[date, str, float]]:
    return [(one.day, one.kind, one.bales) for one in found.hay[lot].book.unexplained]


def test_truth_6_every_count_is_held_to_the_book(season: Any) -> None:
    # 120 bales on November 1, less 2 fed, 4 sold and one that was counted twice.
    count(season, 0, 110.0, date(2025, 12, 10))
    assert odd(look_back(None, season.id, date(2025, 12, 9)), 0) == [
        (date(2025, 11, 1), "count", -1.0)
    ]
    found = look_back(None, season.id, NEW_YEAR)
    assert odd(found, 0) == [
        (date(2025, 11, 1), "count", -1.0),
        (date(2025, 12, 10), "count", -3.0),
    ]
    hay = found.hay[0]
    assert hay.account.closing_bales == 110.0
    assert math.fsum(hay.account.bales.values()) == pytest.approx(110.0)
    came_and_went = math.fsum(hay.account.dry_kg.values())
    assert came_and_went - hay.account.storage_loss_kg == pytest.approx(hay.account.closing_dry_kg)
    told = told_of_look(found)
    assert [one for one in told.odd if "Dec 10, 2025 found 3 bales fewer" in one]
    assert (told.hay[0].came, told.hay[0].fed, told.hay[0].sold) == ("121", "2", "4")
    assert (told.hay[0].odd, told.hay[0].left) == ("-4", "110 bales")


@on_a_file
def test_hay_that_is_taken_and_never_stood_there_is_not_explained(season: Any) -> None:
    count(season, 1, 2.0, date(2025, 12, 10))
    add_line(None, season.id, "fed", FedRow(date(2025, 12, 11), "B2", "COWS", bales=5.0))
    found = look_back(None, season.id, NEW_YEAR)
    assert odd(found, 1)[-1] == (date(2025, 12, 11), "missing", 3.0)
    assert found.hay[1].account.closing_bales == 0.0


@on_a_file
def test_a_part_of_a_bale_is_no_difference(season: Any) -> None:
    count(season, 1, 79.6, date(2025, 12, 10))
    found = look_back(None, season.id, NEW_YEAR)
    ((day, kind, bales),) = odd(found, 1)
    assert (day, kind) == (date(2025, 12, 10), "count")
    assert bales == pytest.approx(-0.4)
    assert not [one for one in told_of_look(found).odd if "Tarp fescue" in one]
    count(season, 1, 79.5, date(2025, 12, 10))
    told = told_of_look(look_back(None, season.id, NEW_YEAR))
    assert [one for one in told.odd if "Tarp fescue" in one]


def test_counts_are_those_that_stand(season: Any) -> None:
    first, second = date(2025, 11, 1), date(2025, 12, 10)
    count(season, 0, 110.0, second)
    count(season, 0, 111.0, second)
    assert read_counts(None, season.id)["A1"] == (Count(first, 120.0), Count(second, 111.0))
    count(season, 0, 112.0, date(2025, 12, 5))
    assert read_counts(None, season.id)["A1"][1:] == (Count(date(2025, 12, 5), 112.0),)
    thing, seen, _ = read_things(None, season.id, "lot")[2]
    take_out(None, season.id, "lot", thing, seen)
    assert list(read_counts(None, season.id)) == ["A1", "B2"]
    # The last count that is not later than the day looked at; the only ones otherwise.
    assert look_back(None, season.id, date(2025, 12, 6)).hay[0].account.closing_bales == 112.0


@on_a_file
def test_what_nobody_noted_is_not_known(season: Any) -> None:
    told = told_of_look(look_back(None, season.id, date(2025, 11, 15)))
    assert told.answer == "No feeding is noted yet."
    assert "not known" in told.lede
    assert told.fed == ()
    assert {one.fed for one in told.hay} == {"none noted"}
    told = told_of_look(look_back(None, season.id, NEW_YEAR))
    assert told.answer == "1.1 tons of hay were fed from Nov 15 to Nov 16."
    assert [(one.group, one.what, one.planned) for one in told.fed] == [
        ("Mature cows", "Barn orchardgrass", "no program"),
        ("First-calf heifers", "20 % cubes", "no program"),
    ]


@on_a_file
def test_a_feeding_that_is_taken_back_is_in_no_sum(season: Any) -> None:
    row = FedRow(date(2025, 11, 16), "A1", "COWS", bales=7.0)
    done = add_line(None, season.id, "fed", row)
    before = look_back(None, season.id, NEW_YEAR)
    undo_line(None, season.id, "fed", done.fact)
    after = look_back(None, season.id, NEW_YEAR)
    assert before.hay[0].account.bales["fed"] == -9.0
    assert after.hay[0].account.bales["fed"] == -2.0


@on_a_file
def test_cautions_of_hay_that_no_program_feeds_stand_there(season: Any) -> None:
    thing, seen, lot = read_things(None, season.id, "lot")[2]
    dry = replace(lot, forage=Forage.SUMMER_ANNUAL, species="sorghum-sudan", drought=True)
    write_thing(None, season.id, "lot", dry, thing=thing, seen=seen)
    add_line(None, season.id, "fed", FedRow(date(2025, 11, 20), "C3", "COWS", bales=1.0))
    found = look_back(None, season.id, NEW_YEAR)
    every = read_lots(read_farm(None, season.id), lot_ids=["A1", "C3"]).readings
    wanted = {one for lot in every for one in lot.cautions if one.level != "note"}
    assert any("nitrate" in one.sentence for one in wanted)
    assert set(found.cautions) == wanted


def test_what_a_bale_weighs_is_learned_from_weigh_tickets() -> None:
    """4 bales at 520 kg beside 500 kg of 3 weighed of a 100: by hand, no loss between."""
    lot = replace(good_lot(), bale_weight_kg=500.0, bales_weighed=3, bales=100.0)
    sold = MoveRow(lot.counted_on, lot.lot_id, MoveKind.SOLD, bales=4.0, mass_kg=2080.0)
    cored = replace(sold, kind=MoveKind.CORED, mass_kg=1.0)
    farm = replace(good_farm(), lots=(lot,), moves=(sold, cored))
    (found,) = learned_weights(farm)
    said_se = 0.08 * 500.0 / math.sqrt(3.0) * math.sqrt(0.97)
    seen_se = 0.08 * 520.0 / 2.0
    share = said_se**2 / (said_se**2 + seen_se**2)
    assert found.kg == pytest.approx(500.0 + share * 20.0)
    error = said_se * seen_se / math.hypot(said_se, seen_se)
    assert found.high_kg - found.low_kg == pytest.approx(2.0 * 1.645 * error)
    assert (found.bales, found.ticket_kg, found.differs) == (4.0, 520.0, False)
    assert (found.known_kg, found.origin) == (500.0, "written")
    heavy = replace(sold, bales=40.0, mass_kg=24_000.0)
    assert learned_weights(replace(farm, moves=(heavy,)))[0].differs
    # A ticket of a later day is taken back to the count; of a lot weighed whole nothing is learned.
    later = replace(sold, day=lot.counted_on + timedelta(days=120))
    assert learned_weights(replace(farm, moves=(later,)))[0].ticket_kg > 520.0
    whole = replace(lot, bales_weighed=100)
    assert learned_weights(replace(farm, lots=(whole,))) == ()
    assert learned_weights(replace(farm, moves=(cored,))) == ()


@on_a_file
def test_weigh_tickets_are_told(season: Any) -> None:
    """4 bales of 4,600 lb beside 1,142 lb by size: errors of 46 and 114 lb come to 43."""
    (told,) = told_of_look(look_back(None, season.id, NEW_YEAR)).weights
    assert told == (
        "Barn orchardgrass: a bale weighs 1,150 lb (90% range 1,080 lb to 1,220 lb), by 4 bales on "
        "weigh tickets at 1,152 lb and the 1,142 lb that its size gives. The 1,150 lb that is "
        "written may come from a ticket, so it does not count again."
    )


def sold_whole(lot: Lot, bales: float, kg: float) -> Farm:
    """Return a farm with one lot and one ticket, on the day of its count."""
    sold = MoveRow(lot.counted_on, lot.lot_id, MoveKind.SOLD, bales=bales, mass_kg=kg)
    return replace(good_farm(), lots=(lot,), moves=(sold,))


NO_SIZE: dict[str, Any] = {"bale_diameter_m": None, "bale_width_m": None}


def test_a_weight_that_a_ticket_says_too_does_not_count_twice() -> None:
    """4 bales at 520 kg have an error of 20.8 kg; 519 kg written is the same figure rounded."""
    lot = replace(good_lot(), bale_weight_kg=519.0, bales=100.0, **NO_SIZE)
    (found,) = learned_weights(sold_whole(lot, 4.0, 2080.0))
    # Usual round bales, 400 to 2,400 lb, as a 90 % range: 635 kg, error 275.8 kg.
    assert (found.known_kg, found.origin) == (pytest.approx(1400.0 * 0.45359237), "package")
    share = 20.8**2 / (20.8**2 + (1000.0 * 0.45359237 / 1.645) ** 2)
    assert found.kg == pytest.approx(520.0 + share * (1400.0 * 0.45359237 - 520.0))
    assert found.said_kg == 519.0
    # 3 kg beside it is another weighing; of one load of loose hay nothing usual is known.
    apart = replace(lot, bale_weight_kg=517.0)
    assert learned_weights(sold_whole(apart, 4.0, 2080.0))[0].origin == "written"
    loose = replace(lot, package=Package.LOOSE)
    (found,) = learned_weights(sold_whole(loose, 4.0, 2080.0))
    assert (found.known_kg, found.kg) == (None, pytest.approx(520.0))
    assert found.high_kg - found.kg == pytest.approx(1.645 * 20.8)


@on_a_file
def test_a_weight_written_after_its_tickets_is_no_second_witness(season: Any) -> None:
    """The 1,050 lb of B2 stood there before its ticket; what comes after is none."""
    day = date(2025, 12, 1)
    ticket = MoveRow(day, "B2", MoveKind.SOLD, bales=4.0, mass_kg=2400.0)
    add_line(None, season.id, "moves", ticket)
    before = learned(season)
    thing, seen, lot = read_things(None, season.id, "lot")[1]
    anew = replace(lot, bale_weight_kg=before.kg)
    write_thing(None, season.id, "lot", anew, thing=thing, seen=seen)
    after = learned(season)
    assert (after.known_kg, after.origin) == (lot.bale_weight_kg, "written")
    assert after.said_kg == before.kg
    assert after.kg == pytest.approx(before.kg, rel=1e-3)


def learned(season: Any) -> LearnedWeight:
    """Return what is learned of the second lot."""
    found = look_back(None, season.id, NEW_YEAR).weights
    return next(one for one in found if one.lot.lot_id == "B2")
