"""Plain lines become feedings: what is clear is shown and written once, what is not is asked."""

import threading
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.db import connection, transaction

from rickyard.book.acting import NotTaken, NotThere
from rickyard.book.base import BookPlace
from rickyard.book.folders import farm_of, take_in
from rickyard.book.noting import doubts, look, note, note_fed, told_row, understand
from rickyard.book.services import count_lot, read_counts
from rickyard.farm import Farm, FedRow, MoveKind, MoveRow
from rickyard.service import open_farm
from support.farm_folders import GOOD, write_texts

DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"
TODAY = date(2026, 12, 6)
DEC_4 = date(2026, 12, 4)


@pytest.fixture(scope="module")
def farm() -> Farm:
    return open_farm(DEMO).farm


def rows(line: str, farm: Farm, **more: Any) -> tuple[FedRow, ...]:
    (found,) = understand(line, farm, TODAY, **more)
    assert not found.fault, found.fault
    return tuple(row for row in found.rows if isinstance(row, FedRow))


def fault(line: str, farm: Farm) -> str:
    (found,) = understand(line, farm, TODAY)
    assert found.rows == ()
    return found.fault


@pytest.mark.parametrize(
    ("line", "day", "group", "source", "bales", "mass_lb"),
    [
        ("Dec 4 spring cows 2 far", DEC_4, "cows", "26-FARR-1", 2.0, None),
        ("Fri, Dec 4: cows: 2 bales of late fescue", DEC_4, "cows", "26-FARR-1", 2.0, None),
        ("4 December cows 26-FARR-1 3 bales", DEC_4, "cows", "26-FARR-1", 3.0, None),
        ("2026-12-04 cows half a bale rye", DEC_4, "cows", "26-RYE-1", 0.5, None),
        ("Dec 4 cows 2 1/2 far", DEC_4, "cows", "26-FARR-1", 2.5, None),
        ("Dec 4 cows 2½ bales far", DEC_4, "cows", "26-FARR-1", 2.5, None),
        ("Dec 4 cows two and a half far", DEC_4, "cows", "26-FARR-1", 2.5, None),
        ("yesterday stockers 1,500 lb rye", date(2026, 12, 5), "stockers", "26-RYE-1", None, 1500),
        ("bulls a bale far", TODAY, "bulls", "26-FARR-1", 1.0, None),
        ("Jan 3 bulls 1/2 far", date(2027, 1, 3), "bulls", "26-FARR-1", 0.5, None),
        ("today stockers hulls 74 lbs", TODAY, "stockers", "hulls", None, 74),
    ],
)
def test_a_clear_line(
    farm: Farm,
    line: str,
    day: date,
    group: str,
    source: str,
    bales: float | None,
    mass_lb: float | None,
) -> None:
    (row,) = rows(line, farm)
    assert (row.day, row.group_id, row.source_id, row.bales) == (day, group, source, bales)
    if mass_lb is None:
        assert row.mass_kg is None
    else:
        assert row.mass_kg == pytest.approx(mass_lb * 0.45359237)


@pytest.mark.parametrize(
    ("line", "kind", "lot", "bales", "mass_lb"),
    [
        ("Dec 4 sold 12 far", MoveKind.SOLD, "26-FARR-1", 12.0, None),
        ("Dec 4: bought 20 ton rye", MoveKind.BOUGHT, "26-RYE-1", None, 40_000.0),
        ("4 Dec spoiled: 2 bales of late fescue", MoveKind.LOST, "26-FARR-1", 2.0, None),
    ],
)
def test_hay_that_is_sold_bought_or_lost(
    farm: Farm, line: str, kind: MoveKind, lot: str, bales: float | None, mass_lb: float | None
) -> None:
    ((row,),) = (one.rows for one in understand(line, farm, TODAY))
    assert isinstance(row, MoveRow)
    assert (row.day, row.kind, row.lot_id, row.bales) == (DEC_4, kind, lot, bales)
    wanted = None if mass_lb is None else pytest.approx(mass_lb * 0.45359237)
    assert row.mass_kg == wanted
    assert told_row(row, farm).startswith(f"Fri, Dec 4: {kind.value} ")


def test_several_things_and_several_lines(farm: Farm) -> None:
    text = "Dec 4 cows 2 far, hulls 186 lb and 10 lb mineral\n\nDec 5 bulls 1 far"
    first, second = understand(text, farm, TODAY)
    sources = [one.source_id for one in first.rows if isinstance(one, FedRow)]
    assert sources[:2] == ["26-FARR-1", "hulls"]
    assert len(first.rows) == 3
    assert len(second.rows) == 1


def test_of_two_lots_of_a_field_that_of_the_program_is_meant(farm: Farm) -> None:
    said = fault("Dec 4 cows 2 hill", farm)
    assert "26-HILL-1" in said
    assert "26-HILL-2" in said
    (row,) = rows("Dec 4 cows 2 hill", farm, likely={"cows": {"26-HILL-2", "hulls"}})
    assert row.source_id == "26-HILL-2"
    (row,) = rows("Dec 4 cows 2 26-HILL-1", farm, likely={"cows": {"26-HILL-2"}})
    assert row.source_id == "26-HILL-1"


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("Dec 4 goats 2 far", "Which group"),
        ("Dec 4 heif 2 far", "may be"),
        ("Dec 4 cows", "What was fed"),
        ("Dec 4 cows far", "How much"),
        ("Dec 4 cows 2", "Of what"),
        ("Dec 4 cows 2 moon", "is no lot and no feed"),
        ("Dec 4 cows 74 hulls", "Write its unit"),
        ("Aug 4 cows 2 far", "no day of the season"),
        ("Dec 4 sold", "What was sold"),
        ("Dec 4 sold 2 ton hulls", "of which no stock is kept"),
        ("2026-13-04 cows 2 far", "no day of the calendar"),
        ("Dec 4 cows 1/0 far", "no number"),
    ],
)
def test_what_is_not_clear_is_asked(farm: Farm, line: str, says: str) -> None:
    assert says in fault(line, farm)


def test_what_was_understood_is_told_with_names(farm: Farm) -> None:
    (row,) = rows("Dec 4 cows 1 far", farm)
    assert told_row(row, farm) == "Fri, Dec 4: Spring cows, 1 bale of Late fescue (26-FARR-1)"
    # A day of another season says its year.
    (row,) = rows("2025-12-04 cows 1 far", farm)
    assert told_row(row, farm).startswith("Thu, Dec 4 of 2025: Spring cows")
    (row,) = rows("Dec 4 stockers hulls 74 lb", farm)
    assert "74 lb of Soybean hulls" in told_row(row, farm)


def test_truth_5_a_message_that_comes_twice_counts_once(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    before = farm_of(season)
    text = "Dec 4 cows 2 A1\nDec 4 cows 2 A1\nDec 4 sold 3 A1"
    found = look(None, season.id, text, date(2025, 12, 4))
    assert [one.fault for one in found] == ["", "", ""]
    assert [one.is_new for one in note(None, season.id, found)] == [True, True, True]
    assert [one.is_new for one in note(None, season.id, found)] == [False, False, False]
    after = farm_of(season)
    assert len(after.fed) == len(before.fed) + 2
    sold = MoveRow(date(2025, 12, 4), "A1", MoveKind.SOLD, bales=3.0)
    assert after.moves == (*before.moves, sold)


def test_truth_4_of_two_who_note_a_feeding_at_once_the_second_is_told(
    book: BookPlace, tmp_path: Path
) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    day, told = date(2025, 12, 9), []

    def note_too() -> None:
        try:
            note_fed(None, season.id, [FedRow(day, "A1", "COWS", bales=3.0)], day)
        except NotTaken as problem:
            told.append(str(problem))
        finally:
            connection.close()

    with transaction.atomic():
        note_fed(None, season.id, [FedRow(day, "A1", "COWS", bales=2.0)], day)
        second = threading.Thread(target=note_too)
        second.start()
        second.join(0.2)
        assert second.is_alive()
    second.join(60)
    assert [one.split(" has noted a feeding")[0] for one in told] == ["Somebody"]
    assert [one.bales for one in farm_of(season).fed if one.day == day] == [2.0]


def test_a_count_is_told_and_stands_once(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    text = "Dec 4 count A1 34"
    found = look(None, season.id, text, date(2025, 12, 5))
    assert [told_row(row, farm_of(season)) for row in found[0].rows] == [
        "Thu, Dec 4: counted 34 bales of Barn orchardgrass (A1) in the morning"
    ]
    assert [one.is_new for one in note(None, season.id, found)] == [True]
    assert [one.is_new for one in note(None, season.id, found)] == [False]
    lot = farm_of(season).lots[0]
    assert (lot.lot_id, lot.bales, lot.counted_on) == ("A1", 34.0, date(2025, 12, 4))
    assert [one.bales for one in read_counts(None, season.id)["A1"]][-1] == 34.0
    earlier = look(None, season.id, "Dec 3 counted 36 A1", date(2025, 12, 5))
    with pytest.raises(NotTaken, match="the later count holds"):
        note(None, season.id, earlier)
    with pytest.raises(NotThere):
        count_lot(None, season.id, "no", 3.0, date(2025, 12, 5))


def test_a_count_that_is_not_clear(farm: Farm) -> None:
    assert "bales of a lot" in fault("count far 3 ton", farm)
    assert "What was counted?" in fault("count", farm)
    assert "Write its unit" in fault("count hulls 3", farm)
    assert "bales of a lot" in fault("count hulls 3 lb", farm)


def test_more_than_stands_is_asked_about_once(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    stands = farm_of(season).lots[0].bales
    day = date(2025, 12, 4)

    def asked(text: str) -> tuple[str, ...]:
        return doubts(None, season.id, look(None, season.id, text, day))

    assert asked("Dec 4 cows 2 A1") == ()
    many = f"Dec 4 cows 2 A1\nDec 4 sold {stands:g} A1"
    (question,) = asked(many)
    assert "Barn orchardgrass (A1): this takes " in question
    assert "more than stand by the book on Thu, Dec 4" in question
    assert asked(f"{many}\nDec 4 count A1 {stands:g}") == ()
    note(None, season.id, look(None, season.id, many, day))
    assert asked(many) == ()
