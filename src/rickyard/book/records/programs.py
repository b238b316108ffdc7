"""Season programs that were made, which of them is fed by, and the work of making one."""

from __future__ import annotations

import uuid
from typing import Final

from django.db import models

from rickyard.book.base import LABEL
from rickyard.book.records.things import Season
from rickyard.book.records.trail import Person, Written

#: How far a piece of work has come.
WAITING: Final = "waiting"
RUNNING: Final = "running"
DONE: Final = "done"
FAILED: Final = "failed"


class Program(Written):
    """A season program, never edited.

    ``inputs`` is the farm folder that it was made from, as a zip; ``sha256`` the digest of that
    folder, ``result`` the program as JSON.
    """

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    inputs = models.BinaryField()
    sha256 = models.TextField()
    result = models.TextField()
    made_by_version = models.TextField()


class Adoption(Written):
    """Which program a season is fed by from now on; the newest revision counts."""

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    program = models.ForeignKey(Program, models.PROTECT, related_name="+")
    revision = models.PositiveIntegerField()

    class Meta(Written.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (
            models.UniqueConstraint(fields=["season", "revision"], name="book_adoption_once"),
        )


class Work(models.Model):
    """A program being made. It says how far it is, so it is the one row that changes.

    No fact stands here: what comes of it is a program. ``task`` is the task and ``arguments`` what
    it takes; ``worker`` is who works on it and ``beat_at`` when that was last heard of; ``tries``
    counts how often it was begun.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    person = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    task = models.TextField()
    arguments = models.JSONField()
    state = models.TextField(default=WAITING)
    asked_at = models.DateTimeField()
    worker = models.TextField(default="")
    beat_at = models.DateTimeField(null=True)
    tries = models.PositiveIntegerField(default=0)
    stop = models.BooleanField(default=False)
    told = models.TextField(default="")
    program = models.ForeignKey(Program, models.PROTECT, null=True, related_name="+")

    class Meta:
        """Where it is kept; a season is planned once at a time."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(
                fields=["season"],
                condition=models.Q(state__in=(WAITING, RUNNING)),
                name="book_work_once_at_a_time",
            ),
        )
