"""Pages of all farms: who runs short, what is due, what is dangerous, in few queries."""

import sys
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from rickyard.book import records
from rickyard.book.acting import PERMISSIONS, Role
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.district import Keeper, district
from rickyard.book.district.district import AT_ONCE
from rickyard.book.folders import take_in
from rickyard.book.services import (
    add_line,
    ask_plan,
    let_in,
    programs,
    read_farm,
    read_program,
    read_things,
)
from rickyard.book.working.working import work_once
from rickyard.farm import FedRow
from rickyard.service import Held, PlanRequest, open_farm, plan_farm
from rickyard.sheets.wording import yard_totals
from support.farm_folders import GOOD, SHORT, write_texts

ON = "?on=2025-12-04"
DAY = date(2025, 12, 4)
PAGES = ("/", "/due", "/short")

#: Pages of a farm, and how often the database is asked for each that was looked at before.
OF_A_FARM = {
    "": 4,
    "hay/": 2,
    "hay/A1": 2,
    "stock/": 2,
    "yard-map": 2,
    "look-back/": 6,
    "years/": 4,
    "tests/": 7,
    "season/": 6,
    "feeding/": 2,
}


def bring_in(folder: Path, names: list[str], **texts: str) -> list[Any]:
    toml = {**GOOD, **texts}["farm.toml"]
    return [
        take_in(
            write_texts(
                folder / name,
                {**GOOD, **texts, "farm.toml": toml.replace("Hill farm", name)},
            )
        ).season
        for name in names
    ]


NOON = datetime(2025, 12, 4, 12, tzinfo=UTC)


@pytest.fixture
def forget(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Return what makes this process forget the farms that it has read."""
    room = sys.modules["rickyard.book.district.district"]

    def forget() -> None:
        for held in ("_programs", "_yards"):
            monkeypatch.setattr(room, held, Held(2_000))

    return forget


def keep_all(now: datetime = NOON) -> int:
    """Make every summary that is missing; return how many."""
    keeper, many = Keeper(), 0
    while keeper.keep_next(now):
        many += 1
    return many


def asked_for_again(get: Callable[..., Any]) -> dict[str, int]:
    """Return how often the database is asked for each page of a farm once it was looked at."""
    found = {}
    for name in OF_A_FARM:
        assert get(f"/farm-1/{name}{ON}").status == 200
        with CaptureQueriesContext(connection) as asked:
            get(f"/farm-1/{name}{ON}")
        found[name] = len(asked)
    return found


def test_twelve_farms_ask_no_more_of_the_database_than_three(
    open_pages: Any, new_book: BookPlace, tmp_path: Path, forget: Callable[[], None]
) -> None:
    counts = []
    with opened_book(new_book):
        get = open_pages(new_book)
        for first, last in ((0, 3), (3, 12)):
            bring_in(tmp_path, [f"Farm {one}" for one in range(first, last)])
            assert keep_all() == last - first
            forget()
            for _ in range(2):
                with CaptureQueriesContext(connection) as asked:
                    page = get("/" + ON)
                counts.append(len(asked))
            assert len(page.rows("h-call")) == last + 1
            assert "not looked at" not in page.text
            assert not any("lotstate" in one["sql"].casefold() for one in asked)
            assert asked_for_again(get) == OF_A_FARM
        assert counts[0] == counts[2]
        # What was kept is not worked out, and what was read once is not read again.
        assert counts[1] == counts[3] == counts[0] - 1
        assert [get(one + ON).status for one in PAGES] == [200, 200, 200]


def test_what_is_kept_can_be_dropped_and_comes_out_the_same(
    new_book: BookPlace, tmp_path: Path, forget: Callable[[], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    with opened_book(new_book):
        one, _ = bring_in(tmp_path, ["Dale farm", "Moor farm"], **SHORT)
        made = plan_farm(open_farm(tmp_path / "Dale farm"), PlanRequest(effort=0.01, weekly=True))
        monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
        ask_plan(None, one.id)
        assert work_once("w")
        worked_out = district(None, NOON, DAY)
        assert keep_all() == 3
        assert keep_all() == 0
        forget()
        with CaptureQueriesContext(connection) as asked:
            assert district(None, NOON, DAY) == worked_out
        assert not any("lotstate" in one["sql"].casefold() for one in asked)
        records.Summary.objects.all().delete()
        forget()
        assert district(None, NOON, DAY) == worked_out
        assert keep_all() == 3
        # Of another day yards are made anew, and a program is not.
        assert keep_all(NOON + timedelta(days=1)) == 2


def test_farms_that_nobody_looked_at_yet_are_said_to_be_so(
    open_pages: Any, new_book: BookPlace, tmp_path: Path, forget: Callable[[], None]
) -> None:
    with opened_book(new_book):
        bring_in(tmp_path, [f"Farm {one}" for one in range(AT_ONCE + 2)])
        forget()
        get = open_pages(new_book)
        page = get("/" + ON)
        assert page.text.count("Not looked at yet.") == 2
        assert "2 farms not looked at yet. Wait for them before you decide." in page.text
        assert page.looks_again == ["every 3s", "3"]
        # Each look takes a few more, so it ends where nobody keeps summaries either.
        page = get("/due" + ON)
        assert "not looked at" not in page.text
        assert not page.looks_again


def test_a_kept_program_is_told_and_read_once(
    open_pages: Any, new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with opened_book(new_book):
        one, other = bring_in(tmp_path, ["Dale farm", "Moor farm"], **SHORT)
        made = plan_farm(open_farm(tmp_path / "Dale farm"), PlanRequest(effort=0.01, weekly=True))
        monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
        ask_plan(None, one.id)
        assert work_once("w")
        now = datetime(2025, 12, 4, 12, tzinfo=UTC)
        told = {at.there.season: at for at in district(None, now, DAY)}
        kept = read_program(None, one.id)
        assert kept is not None
        program = told[one.id].program
        assert program is not None
        assert program.left_t == yard_totals(kept.planned.program).left_t
        assert told[one.id].made_at == kept.made_at
        assert (told[other.id].program, told[other.id].made_at) == (None, None)
        with CaptureQueriesContext(connection) as asked:
            district(None, now, DAY)
        assert not any('"inputs"' in one["sql"] for one in asked)
        page = open_pages(new_book)("/" + ON)
        assert "by the program of" in page.text
        assert "1 farm has no program" in page.text
        assert "$" not in page.text


def test_what_is_written_is_seen_at_the_next_visit(new_book: BookPlace, tmp_path: Path) -> None:
    now = datetime(2025, 12, 4, 12, tzinfo=UTC)
    with opened_book(new_book):
        one, other = bring_in(tmp_path, ["Dale farm", "Moor farm"])
        before = {at.there.season: at for at in district(None, now, DAY)}
        farm = read_farm(None, one.id)
        lot = farm.lots[0]
        groups = read_things(None, one.id, "group")
        fed = FedRow(
            day=lot.counted_on, group_id=groups[0][2].group_id, source_id=lot.lot_id, bales=1.0
        )
        add_line(None, one.id, "fed", fed)
        after = {at.there.season: at for at in district(None, now, DAY)}
    assert after[other.id] == before[other.id]
    assert after[one.id].outlook != before[one.id].outlook


def test_a_person_sees_only_farms_with_a_role(new_book: BookPlace, tmp_path: Path) -> None:
    # Whoever has a role may read the farm, so the list needs no second look at the table.
    assert PERMISSIONS["read farm"] == frozenset(Role)
    now = datetime(2025, 12, 4, 12, tzinfo=UTC)
    with opened_book(new_book):
        one, _ = bring_in(tmp_path, ["Dale farm", "Moor farm"])
        who = records.Person.objects.create(name="Kim Lee")
        assert district(who, now, DAY) == ()
        let_in(None, one.farm_id, who, Role.HELPER)
        assert [at.there.season for at in district(who, now, DAY)] == [one.id]
        assert "$" not in str(district(who, now, DAY)[0].due)


def test_a_day_that_is_none_is_told(get: Any) -> None:
    assert get("/due?on=tomorrow").status == 422
    assert "to core now" in get("/due?on=2026-11-28").text
    assert get("/short?on=2026-11-28").rows("h-enough") or get("/short").rows("h-short")


def test_dangers_stand_by_farm_and_no_farm_with_faults_hides_the_others(
    open_pages: Any, new_book: BookPlace, tmp_path: Path
) -> None:
    with opened_book(new_book):
        bring_in(tmp_path, ["Dale farm", "Moor farm"])
        get = open_pages(new_book)
        # Before the season's hay was counted there is no yard: that is said, not passed over.
        page = get("/?on=1990-01-01")
        assert page.status == 200
        assert len(page.rows("h-call")) == 3


def test_long_lists_go_on_behind_a_link(get: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    on = "on=2026-11-28"

    def rows(page: Any) -> list[list[str]]:
        return [
            row for part in ("h-now", "h-later") for row in page.rows(part) if "When" not in row
        ]

    monkeypatch.setattr(sys.modules["rickyard.web.shown.district"], "MOST_ROWS", 1)
    whole = []
    for start in range(20):
        page = get(f"/due?from={start}&{on}")
        whole += rows(page)
        if f"?from={start + 1}&{on}" not in page.links:
            break
    assert len(whole) > 1
    monkeypatch.undo()
    assert rows(get(f"/due?{on}")) == whole
    assert rows(get(f"/due?from=x&{on}")) == whole
    assert rows(get(f"/due?from=99999999999999999999&{on}")) == []
