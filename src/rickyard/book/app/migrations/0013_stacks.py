"""Where the bales of a lot stand in the yard, and what is found in its hay."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations

from rickyard.book.steps import added, columns, guarded, table, to, undoing


class Migration(migrations.Migration):
    """Where the bales of a lot stand in the yard, and what is found in its hay."""

    dependencies: ClassVar = [("book", "0012_shares")]

    operations: ClassVar = [
        table(
            "Stack",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Stack"),
            columns("counts:flag=yes"),
            to("lot", "Lot"),
            columns(
                """
                east_m:number north_m:number turn_deg:number wide:whole high:whole
                gap_m:number?
                """
            ),
        ),
        guarded("Stack"),
        *added("LotState", "dusty:flag? blister_beetles:flag? stone_fruit_leaves:flag?"),
    ]
