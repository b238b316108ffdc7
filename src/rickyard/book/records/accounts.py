"""Accounts of a shared book: how a person signs in, who was invited, and what holds meanwhile.

No fact of a farm stands here, so these rows are changed and taken away where they stand. Of every
secret only a digest is kept.
"""

from __future__ import annotations

import uuid

from django.db import models

from rickyard.book.base import LABEL
from rickyard.book.records.trail import Farm, Person


class Account(models.Model):
    """How a person signs in. ``email`` is in small letters, ``password`` hashed with Argon2id.

    ``secret`` is that of the person's time-based codes, empty where none are asked for; ``step``
    is the last of them that was used.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    email = models.TextField()
    password = models.TextField()
    secret = models.TextField(default="")
    step = models.BigIntegerField(null=True)

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(fields=["email"], name="book_account_email_once"),
            models.UniqueConstraint(fields=["person"], name="book_account_person_once"),
        )


class Invitation(models.Model):
    """A link that lets somebody in on a farm, once, until a moment."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    farm = models.ForeignKey(Farm, models.PROTECT, related_name="+")
    role = models.TextField()
    name = models.TextField()
    code_sha256 = models.TextField()
    invited_by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    until = models.DateTimeField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(fields=["code_sha256"], name="book_invitation_once"),
        )


class SignedIn(models.Model):
    """A browser in which somebody is signed in, until a moment."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    account = models.ForeignKey(Account, models.PROTECT, related_name="+")
    token_sha256 = models.TextField()
    browser = models.TextField(default="")
    since = models.DateTimeField()
    seen_at = models.DateTimeField()
    until = models.DateTimeField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(fields=["token_sha256"], name="book_signed_in_once"),
        )


class SignInTry(models.Model):
    """How often somebody tried to sign in to an account, or from an address, since a moment."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    about_sha256 = models.TextField()
    since = models.DateTimeField()
    often = models.PositiveIntegerField()

    class Meta:
        """Where it is kept, and what may not stand twice."""

        app_label = LABEL
        constraints = (
            models.UniqueConstraint(fields=["about_sha256"], name="book_sign_in_try_once"),
        )
