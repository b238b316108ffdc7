"""Files as they came: the bytes, and what they say of how a farm folder was written."""

from __future__ import annotations

from django.db import models

from rickyard.book.records.things import Season
from rickyard.book.records.trail import Farm, Written


class SourceFile(Written):
    """A file as it came, with the SHA-256 of its bytes; the same file of a farm stands once."""

    farm = models.ForeignKey(Farm, models.PROTECT, related_name="+")
    name = models.TextField()
    sha256 = models.TextField()
    content = models.BinaryField()

    class Meta(Written.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (
            models.UniqueConstraint(fields=["farm", "name", "sha256"], name="book_file_once"),
        )


class SeasonText(Written):
    """A file of the farm folder that a season came from: in which columns and units it is written.

    What it says counts no longer once a row says otherwise.
    """

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    source = models.ForeignKey(SourceFile, models.PROTECT, related_name="+")


class Reading(Written):
    """What was read of a laboratory's file when it was used: a later reading stands beside it.

    ``told`` is the reading as ``rickyard intake`` writes it, with the printed text and the place of
    each value; ``answers`` are those that were given to its questions, by whom and when.
    """

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    source = models.ForeignKey(SourceFile, models.PROTECT, related_name="+")
    made_by_version = models.TextField()
    answers = models.TextField()
    told = models.TextField()
