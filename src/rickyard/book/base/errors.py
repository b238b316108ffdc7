"""What can be wrong with a record book, each with a sentence that says what to do."""

from __future__ import annotations

from rickyard.service import ServiceError


class BookProblem(ServiceError):  # noqa: N818 - named for what the person is shown
    """Something about the record book that a person can put right."""
