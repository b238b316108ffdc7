"""Links by which somebody without an account is shown one lot, until a day."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import columns, once, table, to


class Migration(migrations.Migration):
    """Links by which somebody without an account is shown one lot, until a day."""

    dependencies: ClassVar = [("book", "0011_summaries")]

    operations: ClassVar = [
        table(
            "Share",
            to("season", "Season"),
            to("lot", "Lot"),
            columns("code_sha256:text"),
            to("shared_by", "Person", unknown=True),
            columns("until:time"),
            rules=[once("book_share_once", "code_sha256")],
        ),
    ]
