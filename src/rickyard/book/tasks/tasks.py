"""Django's tasks over the book's own table of work: asked for, looked up, and done by a worker.

What may be under way once at a time, what survives a worker and what a backup holds stands in that
table; how a task is written, asked for and found again is Django's.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final
from uuid import UUID

from django.utils.module_loading import import_string
from django_tasks import TaskContext, TaskResult, TaskResultStatus
from django_tasks.backends.base import BaseTaskBackend
from django_tasks.base import Task, TaskError
from django_tasks.exceptions import InvalidTaskError, TaskResultDoesNotExist
from django_tasks.utils import get_module_path

from rickyard.book import records

_STATUS: Final[dict[str, Any]] = {
    records.WAITING: TaskResultStatus.READY,
    records.RUNNING: TaskResultStatus.RUNNING,
    records.DONE: TaskResultStatus.SUCCESSFUL,
    records.FAILED: TaskResultStatus.FAILED,
}


class NotDone(Exception):  # noqa: N818 - the sentence of a task that ends so is for its reader
    """A task that ends without what was asked of it; its text says why, for whoever asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkContext(TaskContext):
    """What a task of the book is given beside its arguments.

    ``work`` is its row and ``worker`` who took it; ``say`` is told how far it is, and ``stops``
    whether a person asked that it ends with the best so far.
    """

    work: Any
    worker: str
    say: Callable[[str], None]
    stops: Callable[[], bool]


class BookTasks(BaseTaskBackend):
    """Where tasks wait: rows of the book's table of work.

    A task is about one season and asked for by one person: it takes ``season`` and ``person``, by
    name, as the text of their ids (``person`` may be ``None``).
    """

    supports_get_result = True

    def enqueue(self, task: Any, args: Any, kwargs: Any) -> Any:
        """Let a task wait.

        Parameters
        ----------
        task : Task
            The task.
        args : sequence
            None: what a task takes is said by name.
        kwargs : mapping
            What it takes.

        Returns
        -------
        TaskResult
            How far it is.

        Raises
        ------
        InvalidTaskError
            If it is not about a season.
        IntegrityError
            If something about that season is under way.
        """
        self.validate_task(task)
        if args or "season" not in kwargs or "person" not in kwargs:
            raise InvalidTaskError(f"{task.name}: say by name which season, and who asks.")
        row = records.Work.objects.create(
            task=task.module_path,
            season_id=UUID(kwargs["season"]),
            person_id=kwargs["person"] and UUID(kwargs["person"]),
            arguments=dict(kwargs),
            asked_at=datetime.now(UTC),
        )
        return result_of(row)

    def get_result(self, result_id: str) -> Any:
        """Return how far a task is.

        Parameters
        ----------
        result_id : str
            The id that it was given when it was asked for.

        Returns
        -------
        TaskResult
            How far it is.

        Raises
        ------
        TaskResultDoesNotExist
            If the book has no such task.
        """
        try:
            row = records.Work.objects.get(id=UUID(result_id))
        except (ValueError, records.Work.DoesNotExist) as error:
            raise TaskResultDoesNotExist(result_id) from error
        return result_of(row)


def result_of(work: Any) -> Any:
    """Return a row of work as Django tells of a task.

    Parameters
    ----------
    work : records.Work
        The row.

    Returns
    -------
    TaskResult
        Its value, once it is done, is the id of the program that came of it.
    """
    task = import_string(work.task)
    if not isinstance(task, Task):
        raise InvalidTaskError(f"{work.task} is no task.")
    failed = work.state == records.FAILED
    why = [TaskError(exception_class_path=get_module_path(NotDone), traceback=work.told)]
    result: Any = TaskResult(
        task=task,
        id=str(work.id),
        status=_STATUS[work.state],
        enqueued_at=work.asked_at,
        started_at=None,
        finished_at=None,
        last_attempted_at=work.beat_at,
        args=[],
        kwargs=work.arguments,
        backend=task.backend,
        errors=why if failed else [],
        worker_ids=[work.worker] * work.tries,
    )
    if work.program_id:
        object.__setattr__(result, "_return_value", str(work.program_id))
    return result
