"""What was worked out of a farm once and is kept, small, so that many farms are read at once."""

from __future__ import annotations

import uuid
from typing import Final

from django.db import models

from rickyard.book.base import LABEL
from rickyard.book.records.things import Season

#: What a summary is of.
OF_PROGRAM: Final = "program"
OF_YARD: Final = "yard"


class Summary(models.Model):
    """What a season's newest program, or its yard on a day, came to.

    No fact stands here: all of it can be dropped, and is worked out again. ``made_of`` names what
    it was worked out of, and by what; where that is another by now it does not count.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    kind = models.TextField()
    made_of = models.TextField()
    told = models.TextField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(fields=["season", "kind"], name="book_summary_once"),
        )
