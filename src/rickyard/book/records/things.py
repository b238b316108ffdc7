"""Things that can be edited: each a name that stays, and whole states of it, one after another.

A state has the next revision of its thing, so two people who start from the same state cannot both
have theirs written. ``day`` is the day from which a state holds, where it has one: the day bales
were counted, animals weighed, a price agreed.
"""

from __future__ import annotations

from django.db import models

from rickyard import farm as plain
from rickyard.book.records.columns import with_columns_of
from rickyard.book.records.trail import Farm, Written

_PARTS = ("season", "lots", "reports", "groups", "feeds", "needs", "weather", "fed", "moves")


def _once(name: str, *fields: str) -> models.UniqueConstraint:
    return models.UniqueConstraint(fields=[*fields, "revision"], name=f"book_{name}_once")


@with_columns_of(plain.Farm, but=(*_PARTS, "labs", "wishes", "stacks"))
class FarmState(Written):
    """What a farm is called, where it is, and the time zone its days are counted in."""

    thing = models.ForeignKey(Farm, models.PROTECT, related_name="states")
    revision = models.PositiveIntegerField()
    time_zone = models.TextField(default="")

    class Meta(Written.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("farm", "thing"),)


class Season(Written):
    """One winter or grazing gap of one farm. ``after`` is the season that it was begun from."""

    farm = models.ForeignKey(Farm, models.PROTECT, related_name="seasons")
    after = models.ForeignKey("self", models.PROTECT, null=True, related_name="+")


@with_columns_of(plain.Season)
class SeasonState(Written):
    """The days of a season and the choices that hold for the whole farm."""

    thing = models.ForeignKey(Season, models.PROTECT, related_name="states")
    revision = models.PositiveIntegerField()

    class Meta(Written.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("season", "thing"),)


class Thing(Written):
    """What a farm has and keeps over its seasons, whatever it is called in one of them."""

    farm = models.ForeignKey(Farm, models.PROTECT, related_name="+")

    class Meta(Written.Meta):
        """No table of its own."""

        abstract = True


class State(Written):
    """A thing in a season, whole. ``place`` orders those of a season; ``counts``: is it there."""

    season = models.ForeignKey(Season, models.PROTECT, related_name="+")
    revision = models.PositiveIntegerField()
    place = models.PositiveIntegerField()
    day = models.DateField(null=True)
    counts = models.BooleanField(default=True)

    class Meta(Written.Meta):
        """No table of its own."""

        abstract = True


class Lot(Thing):
    """Hay that is sampled, stored, priced and fed as one thing."""


@with_columns_of(plain.Lot)
class LotState(State):
    """A lot as it was known from a day on; ``bales`` are those counted on ``counted_on``."""

    thing = models.ForeignKey(Lot, models.PROTECT, related_name="states")

    class Meta(State.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("lot", "season", "thing"),)


class Group(Thing):
    """Animals that eat together."""


@with_columns_of(plain.Group)
class GroupState(State):
    """A group as it was known from a day on: how many, how heavy, in what condition."""

    thing = models.ForeignKey(Group, models.PROTECT, related_name="states")

    class Meta(State.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("group", "season", "thing"),)


class Feed(Thing):
    """A feed that can be bought."""


@with_columns_of(plain.Feed)
class FeedState(State):
    """A feed and its price as they were known from a day on."""

    thing = models.ForeignKey(Feed, models.PROTECT, related_name="states")

    class Meta(State.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("feed", "season", "thing"),)


class Report(Thing):
    """A laboratory report on one sample of one lot."""


@with_columns_of(plain.Report, but=("lot_id", "analytes"))
class ReportState(State):
    """A report as a person accepted or corrected it; its values are rows that name it."""

    thing = models.ForeignKey(Report, models.PROTECT, related_name="states")
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="+")

    class Meta(State.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (_once("report", "season", "thing"),)


@with_columns_of(plain.Analyte)
class ReportValue(Written):
    """One value of a report as the laboratory printed it."""

    report = models.ForeignKey(ReportState, models.PROTECT, related_name="values")
    place = models.PositiveIntegerField()

    class Meta(Written.Meta):
        """Where it is kept, and what may not stand twice."""

        constraints = (models.UniqueConstraint(fields=["report", "name"], name="book_value_once"),)
