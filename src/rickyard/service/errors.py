"""What can go wrong when a person works with a farm, each with a sentence that says what to do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from rickyard.program.solver import SolveError
from rickyard.quantities import OutOfRange


class ServiceError(Exception):
    """Something a person can put right; the message says what it is and what to do."""


class FolderFaulty(ServiceError):  # noqa: N818 - named for what happened, as a person says it
    """The farm folder, or a file read beside it, has faults; the message names each."""


class CannotWorkOut(ServiceError):  # noqa: N818 - named for what happened
    """An equation meets a value it was not made for, or the farm says too little for a question."""


class NotUnderstood(ServiceError, ValueError):  # noqa: N818 - named for what happened
    """Something asked for cannot be read, or speaks of what the farm has not."""


class NoProgram(ServiceError):  # noqa: N818 - named for what happened
    """The solver found no program, or the program does not pass its re-check."""


class CannotWrite(ServiceError):  # noqa: N818 - named for what happened
    """A file cannot be written where it was asked for."""


@contextmanager
def worked_out() -> Iterator[None]:
    """Turn what an equation or the solver refuses into a sentence about the farm.

    ``CannotWorkOut`` comes out of the block instead of ``OutOfRange``, and ``NoProgram`` instead
    of ``SolveError``.
    """
    try:
        yield
    except OutOfRange as problem:
        raise CannotWorkOut(f"The farm cannot be worked out: {problem}") from problem
    except SolveError as error:
        raise NoProgram(str(error)) from error


@contextmanager
def understood(what: str) -> Iterator[None]:
    """Say ``what`` cannot be done where what was asked for is out of range."""
    try:
        yield
    except OutOfRange as problem:
        raise NotUnderstood(f"{what}: {problem}") from problem
