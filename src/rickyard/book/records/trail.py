"""Who acts, and the trail of what was done: a line for every action, written with what it wrote."""

from __future__ import annotations

import uuid

from django.db import models

from rickyard.book.base import LABEL, make_ready

# Before any table is defined: every other file of tables imports this one or `columns`.
make_ready()


class Person(models.Model):
    """Somebody who may act in the book. The name can be put right; ``version`` counts that."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    name = models.TextField()
    email = models.TextField(default="")
    version = models.PositiveIntegerField(default=1)

    class Meta:
        """Where it is kept."""

        app_label = LABEL


class Farm(models.Model):
    """A farm; all it is called and all that it has stands in rows that name it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)

    class Meta:
        """Where it is kept."""

        app_label = LABEL


class TrailLine(models.Model):
    """One action: what service, when, by whom, on what farm; the rows that it wrote name it.

    ``number`` counts the lines of a farm, and tells their order where a clock does not.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    farm = models.ForeignKey(Farm, models.PROTECT, null=True, related_name="+")
    number = models.BigIntegerField()
    person = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    service = models.TextField()
    about = models.TextField(default="")
    at = models.DateTimeField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (models.UniqueConstraint(fields=["farm", "number"], name="book_trail_once"),)


class Leaving(models.Model):
    """A farm whose rows are being taken away, by its id: guards let rows go while one stands here.

    It is written and taken away in the transaction that deletes the farm, so nobody else ever sees
    one.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    since = models.DateTimeField()

    class Meta:
        """Where it is kept."""

        app_label = LABEL


class Written(models.Model):
    """What every row has: an id made by whoever made the fact, and the action that wrote it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    written_by = models.ForeignKey(TrailLine, models.PROTECT, related_name="+")

    class Meta:
        """No table of its own."""

        abstract = True
        app_label = LABEL


class Office(Written):
    """A specialist's desk: those who may advise the farms that asked them to."""

    name = models.TextField()


class Membership(Written):
    """What a person may do, on one farm or for an office; a later revision takes its place.

    ``counts`` is false where it ended.
    """

    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    farm = models.ForeignKey(Farm, models.PROTECT, null=True, related_name="+")
    office = models.ForeignKey(Office, models.PROTECT, null=True, related_name="+")
    role = models.TextField()
    revision = models.PositiveIntegerField()
    counts = models.BooleanField(default=True)

    class Meta(Written.Meta):
        """Where it is kept, and what must hold."""

        constraints = (
            models.CheckConstraint(
                condition=models.Q(farm__isnull=False) | models.Q(office__isnull=False),
                name="book_membership_of_something",
            ),
            models.UniqueConstraint(
                fields=["person", "farm", "office", "revision"],
                name="book_membership_once",
                nulls_distinct=False,
            ),
        )
