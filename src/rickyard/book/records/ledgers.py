"""Ledgers: lines that are only ever added. A mistake is undone by a new line that names the old.

A line that ``undoes`` another takes its place, or only takes it back where it does not ``count``
itself. No line is undone twice.
"""

from __future__ import annotations

from django.db import models

from rickyard import farm as plain
from rickyard.book.records.columns import with_columns_of
from rickyard.book.records.things import Feed, Group, Lot, Season
from rickyard.book.records.trail import Written

_OF_LOT_OR_FEED = models.Q(lot__isnull=False, feed__isnull=True) | models.Q(
    lot__isnull=True, feed__isnull=False
)


class Line(Written):
    """A line of a ledger of a season, in the order of ``place``."""

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    place = models.PositiveIntegerField()
    undoes = models.OneToOneField("self", models.PROTECT, null=True, related_name="+")
    counts = models.BooleanField(default=True)

    class Meta(Written.Meta):
        """No table of its own."""

        abstract = True


@with_columns_of(plain.FedRow, but=("source_id", "group_id"))
class Feeding(Line):
    """What was fed to a group on a day: of a lot or of a feed."""

    lot = models.ForeignKey(Lot, models.PROTECT, null=True, related_name="+")
    feed = models.ForeignKey(Feed, models.PROTECT, null=True, related_name="+")
    group = models.ForeignKey(Group, models.PROTECT, related_name="+")

    class Meta(Line.Meta):
        """Where it is kept, and what must hold."""

        constraints = (
            models.CheckConstraint(condition=_OF_LOT_OR_FEED, name="book_feeding_of_one"),
        )


@with_columns_of(plain.MoveRow, but=("lot_id", "to_lot_id"))
class Move(Line):
    """A line of the yard's book: what happened to bales of a lot on a day."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="+")
    to_lot = models.ForeignKey(Lot, models.PROTECT, null=True, related_name="+")


@with_columns_of(plain.StatedNeed, but=("group_id",))
class Need(Line):
    """A need that a specialist states in place of the computed one."""

    group = models.ForeignKey(Group, models.PROTECT, related_name="+")


@with_columns_of(plain.WeatherRow)
class Weather(Line):
    """The weather of a day, or the normal of a month."""


@with_columns_of(plain.LabPackage)
class LabPrice(Line):
    """A package of tests that a laboratory sells for one price."""


@with_columns_of(plain.StackRow, but=("lot_id",))
class Stack(Line):
    """Where the bales of a lot stand in the yard; the line that moves a stack undoes the last."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="+")


@with_columns_of(plain.WishRow, but=("source_id", "group_id"))
class Wish(Line):
    """What a person wants of a season program, of a lot or of a feed."""

    lot = models.ForeignKey(Lot, models.PROTECT, null=True, related_name="+")
    feed = models.ForeignKey(Feed, models.PROTECT, null=True, related_name="+")
    group = models.ForeignKey(Group, models.PROTECT, null=True, related_name="+")

    class Meta(Line.Meta):
        """Where it is kept, and what must hold."""

        constraints = (models.CheckConstraint(condition=_OF_LOT_OR_FEED, name="book_wish_of_one"),)
