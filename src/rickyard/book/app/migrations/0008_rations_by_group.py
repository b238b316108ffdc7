"""Rations by group, and what feeds are measured out with."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added


class Migration(migrations.Migration):
    """Rations by group, and what feeds are measured out with."""

    dependencies: ClassVar = [("book", "0007_accounts")]

    operations: ClassVar = [
        *added("SeasonState", "week_may_lack_pct:number=3.0"),
        *added("GroupState", "rations_at_most:whole? least_ration_days:whole?"),
        *added("GroupState", "things_in_ration:whole? week_may_lack_pct:number?"),
        *added("FeedState", "measure:text= measure_kg:number?"),
    ]
