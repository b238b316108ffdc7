"""Programs of the book: asked for, made once by a worker, kept as made, adopted, read again."""

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.utils import OperationalError
from django_tasks import TaskResultStatus
from django_tasks.exceptions import InvalidTaskError, TaskResultDoesNotExist

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, Role
from rickyard.book.base import LABEL, BookPlace
from rickyard.book.base.opened import ALIAS
from rickyard.book.folders import take_in
from rickyard.book.services import (
    adopt,
    ask_plan,
    keep_program,
    let_in,
    plan_work,
    programs,
    read_program,
    read_things,
    read_trail,
    stop_plan,
    write_thing,
)
from rickyard.book.tasks import result_of
from rickyard.book.working import working
from rickyard.book.working.working import GONE_AFTER, MOST_TRIES, take, work_once
from rickyard.service import (
    CannotWorkOut,
    OpenedFarm,
    Planned,
    PlanRequest,
    forget_all,
    open_farm,
    plan_farm,
)
from support.farm_folders import GOOD, write_texts

EFFORT = 0.01

#: Five weeks, so that planning takes little.
SHORT = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": "\n".join(
        one for one in GOOD["wishes.csv"].splitlines() if "2026-02-01" not in one
    ),
}


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(SHORT))).season


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[OpenedFarm, Planned]:
    """Return what planning the folder itself gives."""
    opened = open_farm(write_texts(tmp_path_factory.mktemp("made") / "good", dict(SHORT)))
    return opened, plan_farm(opened, PlanRequest(effort=EFFORT))


@pytest.fixture
def ready(monkeypatch: pytest.MonkeyPatch, made: tuple[OpenedFarm, Planned]) -> Iterator[None]:
    """Let the worker find at once what it would find."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made[1])
    return


def test_truth_1_a_program_of_the_book_is_that_of_the_folder(
    season: Any, made: tuple[OpenedFarm, Planned]
) -> None:
    assert ask_plan(None, season.id, EFFORT).is_new
    assert work_once("w")
    kept = read_program(None, season.id)
    assert kept is not None
    assert kept.planned.program == made[1].program
    assert kept.planned.farm == made[1].farm
    assert (kept.is_adopted, kept.changed, kept.planned.warnings) == (False, (), ())
    work = plan_work(None, season.id)
    assert work is not None
    assert (work.state, work.is_under_way) == (records.DONE, False)
    assert [one.service for one in read_trail(None, season.farm_id)] == ["import", "plan", "plan"]
    helper = records.Person.objects.create(name="Kim Lee")
    let_in(None, season.farm_id, helper, Role.HELPER)
    told = read_program(helper, season.id)
    assert told is not None
    assert kept.planned.program.cost > 0.0
    assert math.isnan(told.planned.program.cost)
    assert math.isnan(told.planned.program.costs.hay_eaten)
    assert {one.value_usd_per_kg for one in told.planned.farm.lots} == {None}
    assert told.planned.program.feeding == kept.planned.program.feeding


def test_truth_6_a_program_is_adopted_and_says_when_the_farm_has_changed(
    season: Any, ready: None
) -> None:
    assert read_program(None, season.id) is None
    ask_plan(None, season.id)
    work_once("w")
    kept = read_program(None, season.id)
    assert kept is not None
    assert read_program(None, season.id, only_adopted=True) is None
    assert adopt(None, season.id, kept.id).is_new
    assert not adopt(None, season.id, kept.id).is_new
    thing, seen, first = read_things(None, season.id, "lot")[0]
    write_thing(None, season.id, "lot", replace(first, bales=99.0), thing=thing, seen=seen)
    again = read_program(None, season.id, only_adopted=True)
    assert again is not None
    assert (again.is_adopted, again.changed) == (True, ("lots.csv",))
    assert again.planned.program == kept.planned.program
    forget_all()
    assert read_program(None, season.id, only_adopted=True) == again
    with pytest.raises(NotThere):
        adopt(None, season.id, uuid4())


def test_a_season_is_planned_once_at_a_time(season: Any, ready: None) -> None:
    first = ask_plan(None, season.id)
    second = ask_plan(None, season.id)
    assert (second.fact, second.is_new) == (first.fact, False)
    assert work_once("w")
    assert not work_once("w")
    assert ask_plan(None, season.id).fact != first.fact


def test_work_whose_worker_is_gone_is_taken_up_and_kept_once(
    season: Any, made: tuple[OpenedFarm, Planned], ready: None
) -> None:
    ask_plan(None, season.id)
    lost = take("first")
    assert take("second") is None
    for beat in (GONE_AFTER, -GONE_AFTER):
        beat_at = datetime.now(UTC) - beat - timedelta(minutes=1) * (beat > timedelta(0) or -1)
        records.Work.objects.update(beat_at=beat_at, worker="first", tries=1)
        found = take("second")
        assert found.id == lost.id
    with pytest.raises(NotTaken, match="taken this work up"):
        keep_program(lost, "first", *made)
    assert records.Program.objects.count() == 0
    assert work_once("second")
    assert records.Program.objects.count() == 1


def test_work_that_ends_its_worker_again_and_again_is_given_up(season: Any) -> None:
    ask_plan(None, season.id)
    for _ in range(MOST_TRIES):
        assert take("w") is not None
    assert take("w") is None
    work = plan_work(None, season.id)
    assert work is not None
    assert work.state == records.FAILED
    assert "Nothing was changed" in work.told
    assert ask_plan(None, season.id).is_new


def test_a_farm_that_cannot_be_planned_says_why(
    season: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> Planned:
        raise CannotWorkOut("No bale of A1 has a weight.")

    monkeypatch.setattr(programs, "plan_farm", refuse)
    ask_plan(None, season.id)
    work_once("w")
    work = plan_work(None, season.id)
    assert work is not None
    assert (work.state, work.told) == (records.FAILED, "No bale of A1 has a weight.")
    assert records.Program.objects.count() == 0


def test_a_search_that_is_stopped_keeps_the_best_so_far(
    season: Any, made: tuple[OpenedFarm, Planned], monkeypatch: pytest.MonkeyPatch
) -> None:
    def search(*_: object, progress: Any, stop: Any) -> Planned:
        progress("Looking for a better program")
        assert stop_plan(None, season.id)
        assert stop.__self__.wait(60)
        return made[1]

    heard, missed = working._stopped, []

    def once_unheard(*told: Any) -> bool:
        if not missed:
            missed.append(told)
            raise OperationalError("the server starts again")
        return heard(*told)

    monkeypatch.setattr(working, "BEAT", 0.01)
    monkeypatch.setattr(working, "_stopped", once_unheard)
    monkeypatch.setattr(programs, "plan_farm", search)
    assert not stop_plan(None, season.id)
    ask_plan(None, season.id)
    work_once("w")
    assert missed
    assert records.Program.objects.count() == 1
    assert [one.service for one in read_trail(None, season.farm_id)][1:] == [
        "plan",
        "stop plan",
        "plan",
    ]


def test_work_that_ended_this_moment_or_is_no_longer_ours_is_to_stop(season: Any) -> None:
    ask_plan(None, season.id)
    work = take("w")
    assert not working._stopped(work, "w", "Looking")
    assert plan_work(None, season.id).told == "Looking"
    assert working._stopped(work, "another", "Looking")
    records.Work.objects.update(state=records.DONE)
    assert working._stopped(work, "w", "Looking")


def test_what_is_asked_for_is_a_task_of_django_over_the_table_of_the_book(
    season: Any, ready: None
) -> None:
    asked = str(ask_plan(None, season.id, EFFORT).fact)
    result = programs.make_program.get_result(asked)
    assert (result.status, result.attempts) == (TaskResultStatus.READY, 0)
    assert result.kwargs["effort"] == EFFORT
    work_once("w")
    result.refresh()
    kept = read_program(None, season.id)
    assert kept is not None
    assert (result.status, result.worker_ids) == (TaskResultStatus.SUCCESSFUL, ["w"])
    assert result.return_value == str(kept.id)
    for missing in (str(uuid4()), "no id"):
        with pytest.raises(TaskResultDoesNotExist):
            programs.make_program.get_result(missing)
    with pytest.raises(InvalidTaskError, match="which season"):
        programs.make_program.enqueue(person=None, effort=EFFORT, weekly=False)


def test_what_was_asked_for_before_tasks_had_names_is_a_task_after_it(season: Any) -> None:
    connection = connections[ALIAS]
    MigrationExecutor(connection).migrate([(LABEL, "0014_season_shares")])
    before = MigrationExecutor(connection).loader.project_state((LABEL, "0014_season_shares"))
    before.apps.get_model(LABEL, "Work").objects.create(
        id=uuid4(), season_id=season.id, effort=2.0, rations=True, asked_at=datetime.now(UTC)
    )
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
    work = records.Work.objects.get()
    by = {"season": str(season.id), "person": None}
    assert work.arguments == {**by, "effort": 2.0, "weekly": False}
    assert result_of(work).task == programs.make_program
