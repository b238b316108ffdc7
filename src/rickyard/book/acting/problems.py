"""What keeps a service from being done, each with a sentence that says what to do."""

from __future__ import annotations

from typing import Any, Final

from rickyard.book.acting.roles import PERMISSIONS, Role
from rickyard.book.base import BookProblem

#: The same for what is not there and for what is not one's to see.
NOT_THERE: Final = (
    "The record book has no such thing, or it is not yours to see. Look at the list of farms, or "
    "ask the farm's producer to let you in."
)


class NotThere(BookProblem):
    """What was asked for is not in the book, or not for this person."""

    def __init__(self) -> None:
        super().__init__(NOT_THERE)


class NotAllowed(BookProblem):
    """The person's role does not reach so far."""

    @classmethod
    def of(cls, service: str, role: Role) -> NotAllowed:
        """Return what is told to somebody of a role who asked for a service of a farm."""
        who = " or ".join(sorted(PERMISSIONS[service]))
        return cls(
            f"A {role} may not do this ({service}) on this farm. Ask a {who} of the farm to do it."
        )


class NotTaken(BookProblem):
    """The facts break a rule of the farm folder; the message names each fault."""


class ChangedMeanwhile(BookProblem):
    """Somebody else changed the same thing.

    ``now`` is the thing as it stands, ``revision`` its revision, ``differs`` the fields in which it
    differs from what was to be written, as (field, theirs, mine).
    """

    def __init__(
        self, who: str, revision: int, now: Any, differs: tuple[tuple[str, Any, Any], ...]
    ) -> None:
        self.now, self.revision, self.differs = now, revision, differs
        told = "; ".join(f"{name} is now {_told(a)}, yours {_told(b)}" for name, a, b in differs)
        super().__init__(
            f"{who} changed this after you looked ({told or 'it now says what you wrote'}). "
            "Nothing of yours was written. Look at it as it is now, and write what is to hold."
        )


def _told(value: Any) -> str:
    return "not known" if value is None or value == "" else str(value)
