"""From no program to a week on paper: asked for, worked out, fed by, each with its page."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import (
    KeptProgram,
    add_line,
    ask_plan,
    programs,
    read_program,
    read_things,
    read_trail,
    standing_dangers,
    stop_plan,
    write_thing,
)
from rickyard.book.working.working import work_once
from rickyard.display import display_for, money_text
from rickyard.farm import Caution, FedRow
from rickyard.kinds import Offered
from rickyard.program.result import Ration, RationThing
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm
from rickyard.sheets.paper import week_list, week_start_of
from rickyard.sheets.wording import answer_of, feeding_lines
from rickyard.web.drawn import Band, Strip, ration_ribbon
from rickyard.web.sections import adequacy_shown
from rickyard.web.shown import season_shown
from rickyard.web.shown.yard import program_wall
from support.farm_folders import SHORT, write_texts

SEASON = "/hill-farm/season/"
LOOK_BACK = "/hill-farm/look-back/?on=2025-12-04"
FEEDING = "/hill-farm/feeding/?on=2025-12-04"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def hill(
    new_book: BookPlace, made: Planned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Any:
    """Return the season of a farm in an open book, for which a program is found at once."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        yield take_in(write_texts(tmp_path / "good", SHORT)).season


def post(address: str, **what: str | list[str]) -> Any:
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
    return client.post(address, what)


def kept_program(hill: Any) -> KeptProgram:
    """Return the program of a season that is worked out now."""
    ask_plan(None, hill.id)
    work_once("w")
    kept = read_program(None, hill.id)
    assert kept is not None
    return kept


def test_a_season_without_a_program_offers_one(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    get = open_pages(new_book)
    page = get(SEASON)
    assert "No program yet." in page.text
    assert not page.looks_again
    assert "Nothing to feed by yet." in get(FEEDING).text


def test_work_says_how_far_it_is_and_can_be_stopped(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    get = open_pages(new_book)
    assert post(f"{SEASON}plan").headers["Location"] == SEASON
    page = get(SEASON)
    assert "A program is being worked out." in page.text
    # It leads nobody away from what is read or typed, but where no script runs.
    assert "Refresh" not in page.headers
    assert page.looks_again == ["every 1s", "3"]
    assert not ask_plan(None, hill.id).is_new
    post(f"{SEASON}stop")
    assert "It stops, and keeps the best it has found." in get(SEASON).text


def test_a_program_is_shown_and_fed_by(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned
) -> None:
    get = open_pages(new_book)
    ask_plan(None, hill.id)
    work_once("w")
    page = get(SEASON)
    program, farm, display = made.program, made.farm, display_for("us")
    assert answer_of(program, farm, display).sentence in page.text
    assert money_text(program.costs.total) in page.text
    who = page.text.index("Who gets what")
    groups = [farm.group(one.group_id).name for one in program.groups if one.period == 0]
    early = get(f"{SEASON}?on=2025-11-01").text
    now = early.partition("To begin on")[2].partition("Before anyone feeds")[0]
    assert groups
    assert all(name in now for name in groups)
    for one in program.cautions:
        assert (one.level != "danger") or page.text.index(one.sentence) < who
    for shortage in program.shortages:
        assert shortage.sentence in page.text
    for ration in program.rations:
        assert ration.why in page.text
    kept = read_program(None, hill.id)
    assert kept is not None
    assert post(f"{SEASON}feed-by", program="none").status_code == 404
    done = post(f"{SEASON}feed-by", program=str(kept.id))
    assert done.headers["Location"] == "/hill-farm/feeding/"
    assert "You feed by this program" in get(SEASON).text


def test_a_program_is_asked_for_as_in_the_terminal(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who says nothing gets the program of ``rickyard plan``, who ticks it that of --weekly."""
    asked: list[PlanRequest] = []

    def planned(_: Any, request: PlanRequest, **__: Any) -> Planned:
        asked.append(request)
        return replace(made, program=replace(made.program, rations=()))

    monkeypatch.setattr(programs, "plan_farm", planned)
    get = open_pages(new_book)
    for said in ({}, {"weekly": "yes"}):
        post(f"{SEASON}plan", **said)
        work_once("w")
    assert asked == [PlanRequest(), PlanRequest(weekly=True)]
    page = get(SEASON)
    for row in feeding_lines(
        replace(made.program, rations=()), made.farm, "COWS", display_for("us")
    ):
        assert row.span in page.text
        assert row.hay in page.text


def test_what_is_weighed_out_is_said_for_all_and_then_a_head(made: Planned) -> None:
    program = made.program
    feed = next(one for one in program.sources if not one.is_hay)
    pounds = 0.45359237
    things = (RationThing(feed.source_id, 0.9, 1.5 * pounds, 30.0 * pounds, None),)
    ration = Ration(
        "COWS", 1, program.start, program.end, Offered.FREE_CHOICE, things, "It begins."
    )
    lines = feeding_lines(replace(program, rations=(ration,)), made.farm, "COWS", display_for("us"))
    assert [one.feeds for one in lines] == [f"{feed.name} 30 lb (1.5 a head)"]


def test_a_danger_is_the_mark_of_the_answer(made: Planned) -> None:
    safe = replace(made, program=replace(made.program, cautions=()))
    harm = Caution("danger", made.program.feeding[0].source_id, "It holds nitrate.", "a source")
    risky = replace(made, program=replace(made.program, cautions=(harm,)))
    day = made.program.start
    assert "m-danger" not in season_shown(safe, day).verdict
    assert not [one.mark for one in season_shown(safe, day).now if one.mark]
    shown = season_shown(risky, day)
    assert "m-danger" in shown.verdict
    assert [one for one in shown.now if "m-danger" in one.mark]
    assert shown.now_title == "What to put out today"
    assert season_shown(risky, made.program.end).now == ()


def test_the_page_folds_all_but_the_answer_this_week_and_dangers(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned, monkeypatch: pytest.MonkeyPatch
) -> None:
    harm = Caution("danger", "A1", "Hay A1 holds nitrate: none to cows in calf.", "a source")
    told = replace(made, program=replace(made.program, cautions=(harm,)))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: told)
    kept_program(hill)
    page = open_pages(new_book)(f"{SEASON}?on=2025-12-04")
    kinds = [(tag, str(said.get("class")), "open" in said) for tag, said in page.elements]
    who = kinds.index(("details", "fold deep", False)) + 1
    groups = [one for tag, kind, one in kinds[who:] if (tag, kind) == ("details", "fold")]
    assert groups[: len(made.farm.groups)] == [True, False, False]
    assert not any(one for _, kind, one in kinds if kind == "fold deep")
    tags = [tag for tag, _ in page.elements]
    before = page.elements[: tags.index("details")]
    assert {"h-now", "h-care"} <= {str(said.get("id")) for _, said in before}
    assert page.text.index(harm.sentence) < page.text.index("Who gets what")


def test_each_danger_is_ticked_before_a_program_is_fed_by(
    open_pages: Any,
    new_book: BookPlace,
    hill: Any,
    made: Planned,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    first = Caution("danger", "A1", "Hay A1 holds nitrate: none to cows in calf.", "a source")
    second = Caution("danger", "", "Lime burns eyes: keep it out of the wind.", "a source")
    program = replace(made.program, cautions=(*made.program.cautions, first, second))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: replace(made, program=program))
    get = open_pages(new_book)
    kept = kept_program(hill)
    assert list(standing_dangers(kept.planned).values()) == [first, second]
    page = get(SEASON)
    boxes = [said for tag, said in page.elements if said.get("name") == "read"]
    assert len(boxes) == 2
    assert all("required" in one and "checked" not in one for one in boxes)
    assert page.text.rindex(second.sentence) < page.text.rindex("Feed by this program")
    assert "#h-by" in page.links
    keys = [one["value"] for one in boxes]
    for ticked in ([], keys[:1], [keys[0], "0" * 16]):
        refused = post(f"{SEASON}feed-by", program=str(kept.id), read=ticked)
        assert refused.status_code == 422
        assert second.sentence in refused.content.decode()
    assert read_program(None, hill.id, only_adopted=True) is None
    assert post(f"{SEASON}feed-by", program=str(kept.id), read=keys).status_code == 302
    assert read_program(None, hill.id, only_adopted=True) is not None
    told = read_trail(None, hill.farm_id)[-1]
    assert (told.service, told.about) == ("adopt", "2 dangers ticked")
    assert not [said for tag, said in get(SEASON).elements if said.get("name") == "read"]


def test_the_yard_says_what_the_program_says_and_no_other_count(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned
) -> None:
    get = open_pages(new_book)
    assert "by a rough count" in get("/hill-farm/?on=2025-12-04").text
    ask_plan(None, hill.id)
    work_once("w")
    page = get("/hill-farm/?on=2025-12-04")
    assert answer_of(made.program, made.farm, display_for("us")).sentence in page.text
    assert "rough" not in page.text.partition("What stands in the yard")[0]
    assert "has changed since" not in page.text
    thing, seen, first = read_things(None, hill.id, "lot")[0]
    write_thing(None, hill.id, "lot", replace(first, note="counted"), thing=thing, seen=seen)
    assert "has changed since" in get("/hill-farm/?on=2025-12-04").text


def test_the_week_is_that_of_the_printed_list(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned
) -> None:
    get = open_pages(new_book)
    kept = kept_program(hill)
    post(f"{SEASON}feed-by", program=str(kept.id))
    start = week_start_of(made.program, made.program.start)
    assert start is not None
    week = week_list(made.program, made.farm, start)
    page = get(f"/hill-farm/feeding/week/{start}")
    assert week.title in page.text
    for group in week.groups:
        for line in group.lines:
            assert " ".join(cell for cell in line.cells if cell) in page.text
    assert get("/hill-farm/feeding/week/2030-01-01").status == 422
    assert get("/hill-farm/feeding/week/2030-02-30").status == 404


def test_looking_back_sets_what_was_fed_beside_the_program(
    open_pages: Any, new_book: BookPlace, hill: Any, made: Planned
) -> None:
    get = open_pages(new_book)
    kept = kept_program(hill)
    assert "No program is fed by" in get(LOOK_BACK).text
    post(f"{SEASON}feed-by", program=str(kept.id))
    program = made.program
    first = [one for one in program.feeding if one.group_id == "COWS" and one.period == 0]
    for row in first:
        amount = row.offered_kg / row.days * (3 if row.source_id == first[0].source_id else 2)
        day = program.start + timedelta(days=1)
        fed = FedRow(day, row.source_id, "COWS", mass_kg=amount)
        add_line(None, hill.id, "fed", fed)
    before = next(one for one in made.farm.fed if one.group_id == "COWS")
    page = get(LOOK_BACK)
    rows = page.rows("h-fed")
    cows = {row[1]: row[2:] for row in rows if row[0] == "Mature cows"}
    names = {one.source_id: one.name for one in program.sources}
    planned = {names[one.source_id]: 2 * one.offered_kg / one.days for one in first}
    display = display_for("us")
    for name, amount in planned.items():
        assert cows[name][0] == display.amount_text(amount)
        extra = name == names[before.source_id] or name == names[first[0].source_id]
        assert extra or cows[name][2] == "as planned"
    assert {row[3] for row in rows if row[0] == "Stockers"} == {"not known"}
    assert "Nothing is noted for" in page.text
    assert "something is noted on 1 of 2 days" in page.text
    assert "No feeding is noted" in get("/hill-farm/look-back/?on=2025-11-14").text


def test_a_form_from_elsewhere_writes_nothing(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    open_pages(new_book)
    strict = Client(SERVER_NAME="127.0.0.1", enforce_csrf_checks=True)
    answer = strict.post(f"{SEASON}plan")
    assert answer.status_code == 403
    assert "Nothing was written" in answer.content.decode()
    assert not stop_plan(None, hill.id)
    assert strict.get(f"{SEASON}plan").status_code == 405


def test_each_week_stands_on_the_line_of_its_need(made: Planned) -> None:
    """The least that a group gets of a need is named, and what is short counts as short."""
    cows = next(one for one in adequacy_shown(made) if "Mature cows" in one.name)
    assert [one.word for one in cows.parts] == ["Energy", "Protein", "Calcium and phosphorus"]
    mine = [one for one in made.program.needs if one.group_id == "COWS" and one.nutrient == "nem"]
    assert cows.parts[0].drawing.count("<rect") == len(mine)
    worst = min(one.supplied / one.need for one in mine)
    if worst > 1.012:
        assert f"{100 * (worst - 1):.0f}% to spare or more" in cows.parts[0].words
    short = replace(mine[0], supplied=0.9 * mine[0].need, shortage=0.1 * mine[0].need)
    program = replace(made.program, needs=(*made.program.needs, short))
    cows = next(
        one for one in adequacy_shown(replace(made, program=program)) if "Mature cows" in one.name
    )
    assert cows.parts[0].words.startswith("10% short in the week of ")
    assert "ok-down" in cows.parts[0].drawing
    assert 'aria-label="Short"' in cows.mark


def test_rations_are_drawn_as_bands_cut_where_they_change(made: Planned) -> None:
    program, day = made.program, made.program.start
    drawn = season_shown(made, day).ribbon
    forage = {one.source_id for one in program.sources if one.is_forage}
    fed = [one for ration in program.rations for one in ration.things]
    assert drawn.count('<rect class="hay"') == sum(one.source_id in forage for one in fed) > 0
    later = [one for one in program.rations if one.number > 1]
    display = display_for(made.farm.units)
    assert all(f">{display.day_text(one.start)}</text>" in drawn for one in later)
    assert ">today<" not in drawn
    assert ">today<" in season_shown(made, day + timedelta(days=7)).ribbon
    assert season_shown(replace(made, program=replace(program, rations=())), day).ribbon == ""


def test_a_band_says_as_much_as_has_room_and_never_half_a_figure() -> None:
    def drawn(until: float) -> str:
        band = Band(0.0, until, "Hill & meadow hay", "210 lb a day, mixed", "", None, False, True)
        return ration_ribbon([Strip("Cows", "9 head", ((band,),), ())], [], None, "Rations")

    assert ">Hill &amp; meadow hay</text>" in drawn(1.0)
    assert ">210 lb a day, mixed</text>" in drawn(1.0)
    assert ">210 lb</text>" in drawn(0.12)
    assert "210" not in drawn(0.05)
    assert ">Hill &amp;…</text>" in drawn(0.12)


def test_hay_left_with_a_danger_is_drawn_apart_from_what_is_safe(made: Planned) -> None:
    lot = max(made.program.lots, key=lambda one: one.left_t)
    assert lot.left_t > 0.0
    display = display_for(made.farm.units)
    for cautions, apart in (
        ((), False),
        ((Caution("danger", lot.lot_id, "It is hot.", "a test"),), True),
    ):
        told = program_wall(replace(made.program, cautions=cautions), display)
        left = [one for one in told.key if one.words == "left, with a danger"]
        assert [one.tons for one in left] == [display.tons_text(lot.left_t)] * apart
        assert ("b-unsafe-f" in told.wide) is apart
