"""Links by which somebody without an account is shown one lot, or a season, until a day."""

from __future__ import annotations

import uuid

from django.db import models

from rickyard.book.base import LABEL
from rickyard.book.records.things import Lot, Season
from rickyard.book.records.trail import Person


class Share(models.Model):
    """A link that shows one lot, or a season where it names none, as it stands when it is opened.

    No fact of a farm stands here, and of the link only a digest: the row is taken away where it
    stands once the link is ended.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    lot = models.ForeignKey(Lot, models.PROTECT, null=True, related_name="+")
    code_sha256 = models.TextField()
    shared_by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    until = models.DateTimeField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (models.UniqueConstraint(fields=["code_sha256"], name="book_share_once"),)
