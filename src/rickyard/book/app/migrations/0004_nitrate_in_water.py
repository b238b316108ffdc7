"""What is known of nitrate in the water that stock drink."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added


class Migration(migrations.Migration):
    """What is known of nitrate in the water that stock drink."""

    dependencies: ClassVar = [("book", "0003_hours_at_hay")]

    operations: ClassVar = [
        *added("SeasonState", "water_nitrate_no3n_ppm:number? water_nitrate_no3_ppm:number?"),
    ]
