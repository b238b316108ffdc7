"""The ledgers of a season."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations, models

from rickyard.book.steps import columns, guarded, table, to, undoing


def of_lot_or_feed(name: str) -> models.CheckConstraint:
    """Return the rule that a line names a lot or a feed, and not both."""
    one = models.Q(lot__isnull=False, feed__isnull=True)
    other = models.Q(lot__isnull=True, feed__isnull=False)
    return models.CheckConstraint(condition=one | other, name=name)


class Migration(migrations.Migration):
    """The ledgers of a season."""

    dependencies: ClassVar = [("book", "0001_farms_and_things")]

    operations: ClassVar = [
        table(
            "Feeding",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Feeding"),
            columns("counts:flag=yes"),
            to("lot", "Lot", unknown=True),
            to("feed", "Feed", unknown=True),
            to("group", "Group"),
            columns("day:day bales:number? mass_kg:number? note:text="),
            rules=[of_lot_or_feed("book_feeding_of_one")],
        ),
        table(
            "Move",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Move"),
            columns("counts:flag=yes"),
            to("lot", "Lot"),
            to("to_lot", "Lot", unknown=True),
            columns(
                """
                day:day kind:text bales:number? mass_kg:number? named:text=
                note:text=
                """
            ),
        ),
        table(
            "Need",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Need"),
            columns("counts:flag=yes"),
            to("group", "Group"),
            columns(
                """
                start:day end:day nem_mcal:number? tdn_kg:number?
                cp_kg:number? ca_kg:number? p_kg:number? least_dm_kg:number?
                most_dm_kg:number?
                """
            ),
        ),
        table(
            "Weather",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Weather"),
            columns(
                """
                counts:flag=yes day:day monthly:flag
                mean_temperature_c:number? wind_km_per_h:number?
                precipitation_mm:number?
                """
            ),
        ),
        table(
            "LabPrice",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("LabPrice"),
            columns(
                """
                counts:flag=yes lab:text package:text price_usd:number
                tests:text chemistry:text= working_days:whole? note:text=
                """
            ),
        ),
        table(
            "Wish",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("place:count"),
            undoing("Wish"),
            columns("counts:flag=yes"),
            to("lot", "Lot", unknown=True),
            to("feed", "Feed", unknown=True),
            to("group", "Group", unknown=True),
            columns(
                """
                wish:text start:day? end:day? as_fed_kg_per_head_day:number?
                note:text=
                """
            ),
            rules=[of_lot_or_feed("book_wish_of_one")],
        ),
        guarded("Feeding", "Move", "Need", "Weather", "LabPrice", "Wish"),
    ]
