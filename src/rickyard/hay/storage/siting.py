"""Where bales stand best: advice for the place and the way a lot is stored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Package, Storage

_UNCOVERED: Final = (Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED)
_GROUND: Final = (Storage.EXPOSED_GROUND, Storage.COVERED_GROUND)
_COVERED: Final = (Storage.COVERED_GROUND, Storage.COVERED_ELEVATED)

#: Hay under a tarp should be no wetter (Univ. Kentucky).
TARP_MOISTURE_PCT: Final = 18.0


@dataclass(frozen=True, slots=True)
class Advice:
    """One sentence of advice and where it is printed."""

    sentence: str
    source: str


def site_advice(
    storage: Storage,
    package: Package,
    moisture_pct: float | None = None,
    *,
    silage: bool = False,
) -> tuple[Advice, ...]:
    """Say how the place of a lot could be better.

    Parameters
    ----------
    storage : Storage
        Where it stands.
    package : Package
        How it is put up.
    moisture_pct : float, optional
        Moisture of the hay. [%]
    silage : bool
        Whether loose forage is silage and not hay.

    Returns
    -------
    tuple of Advice
        What to do, most useful first; empty under a roof on dry ground.

    Examples
    --------
    >>> [one.source for one in site_advice(Storage.EXPOSED_GROUND, Package.ROUND)][0]
    'Kansas State, Round bale storage tips; Selk'
    """
    if silage and package is Package.LOOSE:
        return (
            Advice(
                "Keep the cover sealed, check for holes every day and keep rodents away; take at "
                "least 12 inches (30 cm) a day off the face.",
                f"{COMMON_PRACTICE}; 12 inches from Drovers",
            ),
        )
    found = []
    if storage in _GROUND:
        what = "hay" if package is Package.LOOSE else "bales"
        found.append(
            Advice(
                f"Set the {what} on 4 to 6 inches (10 to 15 cm) of coarse rock, poles or pallets: "
                "ground contact can cause more than half of the loss, up to 12 inches (30 cm) of "
                "the bottom.",
                "Kansas State, Round bale storage tips; Selk",
            )
        )
    if storage in _UNCOVERED:
        found.extend(_uncovered(package))
    if storage in _COVERED:
        found.append(
            Advice("Leave the ends of the tarp open so moisture can escape.", "Univ. Kentucky")
        )
        if moisture_pct is not None and moisture_pct > TARP_MOISTURE_PCT:
            found.append(
                Advice(
                    f"At {moisture_pct:g}% moisture it is too wet to tarp: {TARP_MOISTURE_PCT:g}% "
                    "is the limit. Let it dry first and watch for heat.",
                    "Univ. Kentucky, alfalfa conference 2002",
                )
            )
    if storage is Storage.WRAPPED:
        found.append(
            Advice(
                "Check for holes every day and close them with UV-resistant silage tape; keep "
                "rodents and weeds down.",
                f"Undersander; {COMMON_PRACTICE}",
            )
        )
    return tuple(found)


def _uncovered(package: Package) -> list[Advice]:
    found = []
    if package is Package.ROUND:
        found.append(
            Advice(
                "Butt bales end to end in north-south rows 3 feet (1 m) apart, on a slope, in sun "
                "and wind, not under trees. Where snow drifts run the rows northwest to southeast, "
                "with 6 to 10 inches (15 to 25 cm) between bales.",
                "Selk; Kansas State; Univ. Missouri; snow: Yaremcio, Alberta",
            )
        )
    found.append(
        Advice(
            "Never stack uncovered round bales: pyramids lose most, butted rows least."
            if package is Package.ROUND
            else "Cover it or put it under a roof: only round bales shed rain.",
            "South Dakota and Missouri; other hay common practice",
        )
    )
    found.append(Advice("Mow the storage site before the hay comes.", "Univ. Missouri"))
    return found
