"""Horses that need more care than their class: sugar and starch, and fescue before foaling.

Sugar that is not known counts as high; the endophyte of fescue harms mare and foal.
"""

from __future__ import annotations

import re
from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import (
    Basis,
    Care,
    Caution,
    Farm,
    FeedKind,
    Group,
    Lot,
    Report,
)
from rickyard.quantities import UNITS
from rickyard.stock.horses import (
    Verdict,
    horse_nsc_pct,
    judge_nsc,
)

#: Horses for which the sugar and starch of all they eat is limited.
SUGAR_LIMITED: Final = frozenset({Care.EASY_KEEPER, Care.FOUNDER_PRONE, Care.METABOLIC})
SUGAR_SOURCE: Final = "Harris 2011"

#: Days before foaling in which mares get no fescue that may hold the endophyte; from memory.
FESCUE_DAYS: Final = 90
FESCUE_SOURCE: Final = "Oregon State Univ.; days from memory"
_ASK: Final = "Ask your veterinarian first."

#: The name of tall fescue, and of the old variety of it that is sown most and holds the endophyte.
_FESCUE: Final = re.compile(r"fescue|\b(?:k|ky|kentucky)[ -]?31\b")


def sugars_of(report: Report) -> Verdict | None:
    """Return the judgement of a report's sugars; the wider measure first."""
    starch, wsc, esc = (_pct_of_dm(report, name) for name in ("starch", "wsc", "esc"))
    stated = _pct_of_dm(report, "nsc")
    if starch is not None and wsc is not None:
        return judge_nsc(float(horse_nsc_pct(starch, wsc)), "starch + WSC")
    if stated is not None:
        return judge_nsc(stated, "starch + WSC")
    if starch is not None and esc is not None:
        return judge_nsc(float(horse_nsc_pct(starch, esc)), "starch + ESC")
    return None


def lot_sugars(lot: Lot, farm: Farm) -> Verdict | None:
    """Return the newest judgement of a lot's sugars.

    Parameters
    ----------
    lot : Lot
        The hay.
    farm : Farm
        Its reports are read.

    Returns
    -------
    Verdict or None
        ``None`` where nobody measured them.
    """
    told = (sugars_of(report) for report in farm.reports_of(lot.lot_id))
    return next((verdict for verdict in told if verdict is not None), None)


def care_cautions(group: Group, farm: Farm) -> tuple[Caution, ...]:
    """Return what to watch for in a group by its care.

    Parameters
    ----------
    group : Group
        The group.
    farm : Farm
        Its lots, reports and feeds are read.

    Returns
    -------
    tuple of Caution
        What is to be watched beside the rules of safety.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass, Season
    >>> ponies = Group("P", "Ponies", AnimalClass.HORSE, 2, 250.0, care=Care.SENIOR)
    >>> farm = Farm("F", Season(date(2027, 1, 1), date(2027, 3, 1)), groups=(ponies,))
    >>> [one.level for one in care_cautions(ponies, farm)]
    ['note']
    """
    found = []
    if group.care is Care.SENIOR:
        sentence = (
            f"Watch the chewing and the weight of {group.name}: old teeth leave long hay; soaked "
            "cubes or pellets can stand in for it. Ask your veterinarian about teeth."
        )
        found.append(Caution("note", group.group_id, sentence, COMMON_PRACTICE))
    if group.care not in SUGAR_LIMITED:
        return tuple(found)
    for lot in farm.lots:
        verdict = lot_sugars(lot, farm)
        if verdict is not None and verdict.light == "amber":
            sentence = f"{lot.name} for {group.name}: {verdict.sentence}"
            whom = (group.group_id,)
            found.append(Caution("warning", lot.lot_id, sentence, SUGAR_SOURCE, groups=whom))
    # What holds an ionophore is for no horse, whatever its sugar.
    unknown = [
        feed
        for feed in farm.feeds
        if feed.starch_pct is None and feed.kind is FeedKind.SUPPLEMENT and not feed.ionophore
    ]
    if unknown:
        names = ", ".join(one.name for one in unknown)
        sentence = (
            f"The sugar and starch of {names} count as high for {group.name} until the tag says "
            f"less. {_ASK}"
        )
        of = tuple(one.feed_id for one in unknown)
        found.append(Caution("warning", group.group_id, sentence, COMMON_PRACTICE, sources=of))
    return tuple(found)


def _pct_of_dm(report: Report, name: str) -> float | None:
    found = report.get(name)
    if found is None or found.value is None or found.basis is not Basis.DRY_MATTER:
        return None
    unit = UNITS.get(found.unit)
    if unit is None or unit.dimension != "percent":
        return None
    return unit.to_canonical(found.value)


def says_fescue(text: str) -> bool:
    """Say whether a name tells of fescue and not that it is free of the toxic endophyte.

    Parameters
    ----------
    text : str
        A name as a person wrote it.

    Returns
    -------
    bool
        Whether it speaks of fescue that may hold the endophyte.

    Examples
    --------
    >>> says_fescue("Far field, tall fescue"), says_fescue("Endophyte-free fescue")
    (True, False)
    >>> says_fescue("Bought KY-31 rounds")
    True
    """
    lower = text.lower()
    free = "endophyte-free" in lower or "endophyte free" in lower or "novel endophyte" in lower
    return _FESCUE.search(lower) is not None and not free


def is_risky_fescue(lot: Lot, farm: Farm) -> bool:
    """Say whether a lot is fescue of which no test or word says that it has no ergovaline.

    Parameters
    ----------
    lot : Lot
        Its species and name are read.
    farm : Farm
        Its reports are read.

    Returns
    -------
    bool
        Whether it may hold the endophyte.
    """
    if not says_fescue(f"{lot.species} {lot.name}"):
        return False
    found = [one for report in farm.reports_of(lot.lot_id) if (one := report.get("ergovaline"))]
    return not found or any(one.value is None or one.value > 0.0 for one in found)
