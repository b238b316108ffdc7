"""What was worked out of a farm once and is kept, small; it can be dropped at any time."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import columns, once, table, to


class Migration(migrations.Migration):
    """What was worked out of a farm once and is kept, small; it can be dropped at any time."""

    dependencies: ClassVar = [("book", "0010_leaving")]

    operations: ClassVar = [
        table(
            "Summary",
            to("season", "Season"),
            columns("kind:text made_of:text told:text"),
            rules=[once("book_summary_once", "season", "kind")],
        ),
    ]
