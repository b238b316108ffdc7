"""A farm that is deleted for good: what lets its rows go, and nothing else."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import columns, guarded, table


class Migration(migrations.Migration):
    """A farm that is deleted for good: what lets its rows go, and nothing else."""

    dependencies: ClassVar = [("book", "0009_rations_asked_for")]

    operations: ClassVar = [
        table("Leaving", columns("since:time")),
        # From here on a guard lets rows go while a farm is deleted, and at no other time.
        guarded(
            "Farm",
            "TrailLine",
            "Office",
            "Membership",
            "FarmState",
            "Season",
            "SeasonState",
            "Lot",
            "LotState",
            "Group",
            "GroupState",
            "Feed",
            "FeedState",
            "Report",
            "ReportState",
            "ReportValue",
            "SourceFile",
            "SeasonText",
            "Feeding",
            "Move",
            "Need",
            "Weather",
            "LabPrice",
            "Wish",
            "Program",
            "Adoption",
        ),
    ]
