"""Samples as they are taken: the bales that chance drew, each core, and what was sent away."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import migrations

from rickyard.book.steps import columns, guarded, table, to, undoing


def _ledger(name: str, *more: Any) -> Any:
    """Return the step that makes a ledger of a season."""
    return table(
        name,
        to("written_by", "TrailLine"),
        to("season", "Season"),
        columns("place:count"),
        undoing(name),
        columns("counts:flag=yes"),
        *more,
    )


class Migration(migrations.Migration):
    """Samples as they are taken: the bales that chance drew, each core, and what was sent away."""

    dependencies: ClassVar = [("book", "0015_tasks")]

    operations: ClassVar = [
        _ledger(
            "Sample",
            to("lot", "Lot"),
            columns("code:text day:day drawn:text spares:text cores_a_bale:count"),
        ),
        _ledger("Core", to("sample", "Sample"), columns("bale:count went_in:flag day:day")),
        _ledger(
            "Shipment",
            to("lot", "Lot"),
            columns("code:text lab:text tests:text sent_on:day expected_on:day?"),
        ),
        guarded("Sample", "Core", "Shipment"),
    ]
