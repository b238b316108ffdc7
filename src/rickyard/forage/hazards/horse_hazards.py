"""What hay can do to horses above other stock: sugar and blister beetles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.farm import Forage, Lot
from rickyard.forage.hazards.hazard import Hazard
from rickyard.forage.hazards.hazard_tables import NSC_HORSE

# Equi-Analytical, as quoted in 2018: usual limit for horses prone to laminitis. [% DM]
NSC_LAMINITIS_LIMIT_PCT: Final = 12.0
#: Months of the cuttings in which beetles swarm in alfalfa of the south and center of the United
#: States; midsummer, the months are judgement, no published source.
BEETLE_MONTHS: Final = (7, 8)
BEETLE_SOURCE: Final = (
    "Equine Disease Quarterly 2016; Merck Veterinary Manual; Cantharidin in "
    "blister beetles, Colorado"
)


def horse_hazards(lot: Lot, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what concerns horses alone.

    Parameters
    ----------
    lot : Lot
        The lot; forage and day of baling are read.
    values : mapping of str to float
        ``starch`` and ``wsc``, or ``nsc``, in percent of dry matter, where measured.

    Yields
    ------
    Hazard
        Notes, so that they do not drown what concerns cattle.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Package, Storage
    >>> lot = Lot("L1", "Barn", Forage.ALFALFA, Package.SMALL_SQUARE, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 7, 20), date(2026, 10, 1))
    >>> [one.name for one in horse_hazards(lot, {"starch": 2.0, "wsc": 12.0})]
    ['sugar for horses', 'blister beetle']
    """
    yield from _sugar(lot.name, values)
    if lot.forage is Forage.ALFALFA and lot.baled_on.month in BEETLE_MONTHS:
        yield Hazard(
            "blister beetle",
            "note",
            f"{lot.name} is alfalfa cut in midsummer, when blister beetles swarm in the southern "
            "and central states",
            "any beetle found",
            BEETLE_SOURCE,
            "horses; other stock bear more",
            "for horses shake open every flake, and throw out any bale with a beetle in it, dead "
            "or in pieces; the poison lasts.",
            "Ask which cutting bought hay is, and call the veterinarian at the first colic.",
        )


def _sugar(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    nsc = values.get("nsc")
    if "starch" in values and "wsc" in values:
        nsc = values["starch"] + values["wsc"]
    if nsc is None or nsc <= NSC_LAMINITIS_LIMIT_PCT:
        return
    yield Hazard(
        "sugar for horses",
        "note",
        f"Starch and sugar (NSC) of {name} are {nsc:.1f}% of the dry matter, above the "
        f"{NSC_LAMINITIS_LIMIT_PCT:.0f}% limit usual for horses prone to founder",
        f"{NSC_HORSE.name}, {NSC_HORSE.unit}",
        NSC_HORSE.source,
        "horses and ponies prone to laminitis; it does not harm cattle",
        "give such horses other hay; soaking for 30 to 60 minutes removes a third of the sugar at "
        "best.",
        "Ask the lab for wet chemistry, and the veterinarian about the horse.",
    )
