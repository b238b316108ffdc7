"""A farm whose stock turn from one hay to another."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from rickyard.farm import Farm
from support.delivery_farms import START, cows, farm_of, lot


def turning_farm(days: int | None, *, old_goes_on: bool = True) -> Farm:
    """Return cows that must leave a cheap hay for a dear one in the third week."""
    turn = START + timedelta(days=14)
    old = lot("A", feed_by=None if old_goes_on else turn - timedelta(days=1))
    new = lot("B", value_usd_per_kg=0.2, feed_from=turn)
    farm = farm_of((old, new), (cows(change_over_days=days, feed_every_days=1),), weeks=6)
    end = farm.season.end
    (need,) = farm.needs
    better = replace(need, start=turn, tdn_kg=6.2)
    tested = replace(new, forage=new.forage.ALFALFA)
    return replace(
        farm, lots=(old, tested), needs=(replace(need, end=turn), replace(better, end=end))
    )
