"""What can go wrong when a person works with a farm, each with a sentence that says what to do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

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
def worked_out(opening: str = "The farm cannot be worked out: ") -> Iterator[None]:
    """Turn a value outside an equation's range into a sentence about the farm.

    ``opening``: what stands before the reason. The block is run; ``CannotWorkOut`` comes out of it
    instead of ``OutOfRange``.
    """
    try:
        yield
    except OutOfRange as problem:
        raise CannotWorkOut(f"{opening}{problem}") from problem
