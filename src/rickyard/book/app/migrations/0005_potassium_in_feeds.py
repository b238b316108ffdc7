"""How much potassium feeds hold."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added


class Migration(migrations.Migration):
    """How much potassium feeds hold."""

    dependencies: ClassVar = [("book", "0004_nitrate_in_water")]

    operations: ClassVar = [
        *added("FeedState", "potassium_pct:number?"),
    ]
