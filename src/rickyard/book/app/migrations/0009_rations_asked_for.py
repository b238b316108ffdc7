"""Whether a program is asked for with the same amounts over many weeks."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added, guarded


class Migration(migrations.Migration):
    """Whether a program is asked for with the same amounts over many weeks."""

    dependencies: ClassVar = [("book", "0008_rations_by_group")]

    operations: ClassVar = [
        *added("Work", "rations:flag=no"),
        # The step before made these anew on SQLite.
        guarded("SeasonState", "FeedState"),
    ]
