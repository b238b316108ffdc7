"""What was read of a laboratory's file when it was used, with the answers that were given."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import columns, guarded, table, to


class Migration(migrations.Migration):
    """What was read of a laboratory's file when it was used, with the answers that were given."""

    dependencies: ClassVar = [("book", "0016_samples")]

    operations: ClassVar = [
        table(
            "Reading",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            to("source", "SourceFile"),
            columns("made_by_version:text answers:text told:text"),
        ),
        guarded("Reading"),
    ]
