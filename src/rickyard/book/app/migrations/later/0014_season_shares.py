"""Links that show a season and no one lot."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import to


class Migration(migrations.Migration):
    """Links that show a season and no one lot."""

    dependencies: ClassVar = [("book", "0013_stacks")]

    operations: ClassVar = [migrations.AlterField("Share", *to("lot", "Lot", unknown=True))]
