"""What hay can do to horses above other stock: sugar and blister beetles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.farm import Forage, Lot
from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.values import CLASS_TABLES

_SUGAR: Final = CLASS_TABLES["nsc_horse"]
#: Months of the cuttings in which beetles swarm in alfalfa of the south and center of the United
#: States; midsummer, the months are judgement, no published source.
BEETLE_MONTHS: Final = (7, 8)


def horse_hazards(lot: Lot, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what concerns horses alone: notes, so that they do not drown what concerns cattle."""
    nsc = values.get("nsc")
    if "starch" in values and "wsc" in values:
        nsc = values["starch"] + values["wsc"]
    if nsc is not None and _SUGAR.place(nsc) > 1:
        yield told("sugar", lot.name, nsc=nsc)
    if lot.forage is Forage.ALFALFA and lot.baled_on.month in BEETLE_MONTHS:
        yield told("blister_beetle", lot.name)
