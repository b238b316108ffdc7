"""Django made ready by code: no file of settings, and nothing that an environment could change."""

from __future__ import annotations

from typing import Final

import django
from django.apps import apps
from django.conf import settings

#: The part of this program that Django looks at, by name, for tables and migrations.
APP: Final = "rickyard.book.app"

#: The name before every table and migration of the book.
LABEL: Final = "book"


def make_ready() -> None:
    """Set Django up unless a program around this one has done so.

    Tables can only be defined after that, and a book only be opened.
    """
    if not settings.configured:
        settings.configure(
            INSTALLED_APPS=[APP],
            DATABASES={},
            USE_TZ=True,
            TIME_ZONE="UTC",
            TASKS={"default": {"BACKEND": "rickyard.book.tasks.tasks.BookTasks"}},
            PASSWORD_HASHERS=["django.contrib.auth.hashers.Argon2PasswordHasher"],
            DEFAULT_AUTO_FIELD="django.db.models.BigAutoField",
            # Whoever runs the program decides what is logged.
            LOGGING_CONFIG=None,
        )
    if not apps.apps_ready:
        django.setup(set_prefix=False)
