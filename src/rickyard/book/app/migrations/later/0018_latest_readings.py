"""What was read inside a lot on a later day than the hottest."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added


class Migration(migrations.Migration):
    """What was read inside a lot on a later day than the hottest."""

    dependencies: ClassVar = [("book", "0017_readings")]

    operations: ClassVar = [
        *added("LotState", "latest_temperature_c:number?"),
    ]
