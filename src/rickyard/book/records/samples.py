"""Samples as they are taken: the bales that chance drew, each core, and what was sent away."""

from __future__ import annotations

from django.db import models

from rickyard.book.records.ledgers import Line
from rickyard.book.records.things import Lot


class Sample(Line):
    """A sample that was begun: its code as on the bag, and the bales that were drawn for it.

    ``drawn`` and ``spares`` are numbers of bales, spaces between them: hay that is fed or brought
    meanwhile changes what would be drawn now, and not what was.
    """

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="+")
    code = models.TextField()
    day = models.DateField()
    drawn = models.TextField()
    spares = models.TextField()
    cores_a_bale = models.PositiveIntegerField()


class Core(Line):
    """A bale that was tried for a sample: a core, or a probe that would not go in."""

    sample = models.ForeignKey(Sample, models.PROTECT, related_name="+")
    bale = models.PositiveIntegerField()
    went_in = models.BooleanField()
    day = models.DateField()


class Shipment(Line):
    """A sample that was sent to a laboratory, with the tests it is to make."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="+")
    code = models.TextField()
    lab = models.TextField()
    tests = models.TextField()
    sent_on = models.DateField()
    expected_on = models.DateField(null=True)
