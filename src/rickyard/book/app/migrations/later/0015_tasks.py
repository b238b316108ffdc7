"""What is asked of the worker is a task, with what it takes; it may be any, and not a program."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import migrations, models

#: What all that was asked for so far is.
_MAKE_PROGRAM = "rickyard.book.services.programs.make_program"


def _take_over(apps: Any, _: Any) -> None:
    """Say of what was asked for before which task it is."""
    for work in apps.get_model("book", "Work").objects.all():
        work.task = _MAKE_PROGRAM
        work.arguments = {
            "season": str(work.season_id),
            "person": work.person_id and str(work.person_id),
            "effort": work.effort,
            "weekly": not work.rations,
        }
        work.save(update_fields=["task", "arguments"])


class Migration(migrations.Migration):
    """What is asked of the worker is a task, with what it takes."""

    dependencies: ClassVar = [("book", "0014_season_shares")]

    operations: ClassVar = [
        migrations.AddField("Work", "task", models.TextField(default=""), preserve_default=False),
        migrations.AddField(
            "Work", "arguments", models.JSONField(default=dict), preserve_default=False
        ),
        migrations.RunPython(_take_over, migrations.RunPython.noop),
        migrations.RemoveField("Work", "effort"),
        migrations.RemoveField("Work", "rations"),
    ]
