"""Season programs, which of them is fed by, and the work of making one."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations, models

from rickyard.book.steps import columns, guarded, once, table, to


class Migration(migrations.Migration):
    """Season programs, which of them is fed by, and the work of making one."""

    dependencies: ClassVar = [("book", "0005_potassium_in_feeds")]

    operations: ClassVar = [
        table(
            "Program",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("inputs:bytes sha256:text result:text made_by_version:text"),
        ),
        table(
            "Adoption",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            to("program", "Program"),
            columns("revision:count"),
            rules=[once("book_adoption_once", "season", "revision")],
        ),
        table(
            "Work",
            to("season", "Season"),
            to("person", "Person", unknown=True),
            columns("effort:number state:text=waiting asked_at:time worker:text="),
            columns("beat_at:time? tries:count=0 stop:flag=no told:text="),
            to("program", "Program", unknown=True),
            rules=[
                models.UniqueConstraint(
                    fields=["season"],
                    condition=models.Q(state__in=("waiting", "running")),
                    name="book_work_once_at_a_time",
                )
            ],
        ),
        guarded("Program", "Adoption"),
    ]
