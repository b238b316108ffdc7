"""Accounts, invitations, who is signed in, and how often somebody tried to."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import columns, once, table, to


class Migration(migrations.Migration):
    """Accounts, invitations, who is signed in, and how often somebody tried to."""

    dependencies: ClassVar = [("book", "0006_programs")]

    operations: ClassVar = [
        table(
            "Account",
            to("person", "Person"),
            columns("email:text password:text secret:text= step:whole?"),
            rules=[
                once("book_account_email_once", "email"),
                once("book_account_person_once", "person"),
            ],
        ),
        table(
            "Invitation",
            to("farm", "Farm"),
            columns("role:text name:text code_sha256:text"),
            to("invited_by", "Person", unknown=True),
            columns("until:time"),
            rules=[once("book_invitation_once", "code_sha256")],
        ),
        table(
            "SignedIn",
            to("account", "Account"),
            columns("token_sha256:text browser:text= since:time seen_at:time until:time"),
            rules=[once("book_signed_in_once", "token_sha256")],
        ),
        table(
            "SignInTry",
            columns("about_sha256:text since:time often:count"),
            rules=[once("book_sign_in_try_once", "about_sha256")],
        ),
    ]
