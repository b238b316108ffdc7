"""What to watch for in a class of small stock, horses and dairy cattle, whatever they are fed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, Literal, TypeAlias, cast

from rickyard.animals import CAMELIDS, GOATS, HORSES, SHEEP
from rickyard.display import listed
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import (
    AnimalClass,
    Caution,
    Farm,
    Group,
)
from rickyard.stock.common import read_rows
from rickyard.stock.dairy import CLOSE_UP_DAYS, MOST_K_PCT_BEFORE_CALVING
from rickyard.stock.herd.horse_care import (
    FESCUE_DAYS,
    FESCUE_SOURCE,
    care_cautions,
    is_risky_fescue,
    lot_sugars,
)
from rickyard.stock.horses import (
    LEAST_FORAGE_PCT_BW,
    NSC_GREEN_PCT,
    NSC_RED_PCT,
    WANTED_FORAGE_PCT_BW,
)
from rickyard.stock.sheep import safe_copper_ppm

DONKEYS: Final = frozenset({AnimalClass.DONKEY, AnimalClass.MULE})

Level: TypeAlias = Literal["danger", "warning", "note"]
ASK: Final = "Ask your veterinarian or local extension office."
_COPPER_SOURCE: Final = "Duncan 1997, In Practice 19:503; Berger, Univ. Illinois"


def cautions(farm: Farm) -> tuple[Caution, ...]:
    """Return what to watch for in groups of small stock and horses, by their class.

    Parameters
    ----------
    farm : Farm
        Its groups, lots, feeds and reports are read.

    Returns
    -------
    tuple of Caution
        One for each thing to watch.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> donkeys = Group("D", "Donkeys", AnimalClass.DONKEY, 2, 180.0)
    >>> farm = Farm("F", Season(date(2027, 1, 1), date(2027, 3, 1)), groups=(donkeys,))
    >>> any("starve" in caution.sentence for caution in cautions(farm))
    True
    """
    found = [one for group in farm.groups for one in care_cautions(group, farm)]
    found += [*_of_copper(farm), *_of_sugars(farm), *_of_fescue(farm), *_of_scores(farm)]
    for row in read_rows("class_cautions"):
        found += _said(
            [one for one in farm.groups if one.animal_class.value in row["classes"].split()],
            cast(Level, row["level"]),
            lambda names, row=row: row["sentence"].format(name=names, **_LIMITS),  # type: ignore[misc]
            row["source"],
        )
    return tuple(dict.fromkeys(found))


def _said(
    groups: Sequence[Group],
    level: Level,
    sentence: Callable[[str], str],
    source: str,
    of_sources: Sequence[str] = (),
) -> tuple[Caution, ...]:
    """Say a thing once of all groups that it holds for."""
    if not groups:
        return ()
    about = groups[0].group_id if len(groups) == 1 else ""
    said = sentence(listed([one.name for one in groups]))
    whom = tuple(one.group_id for one in groups)
    return (Caution(level, about, said, source, groups=whom, sources=tuple(of_sources)),)


#: What the cautions of a class name beside the group.
_LIMITS: Final = {
    "ask": ASK,
    "sheep_cu": safe_copper_ppm(["sheep"]),
    "goat_cu": safe_copper_ppm(["goat"]),
    "least_forage": LEAST_FORAGE_PCT_BW,
    "wanted_forage": WANTED_FORAGE_PCT_BW,
    "green_nsc": NSC_GREEN_PCT,
    "red_nsc": NSC_RED_PCT,
    "most_k": MOST_K_PCT_BEFORE_CALVING,
    "close_up": CLOSE_UP_DAYS,
}


def _of_copper(farm: Farm) -> Iterator[Caution]:
    limit = safe_copper_ppm(["sheep"])
    sheep = [group for group in farm.groups if group.animal_class in SHEEP]
    tested = {
        report.lot_id: analyte.value
        for report in farm.reports
        if (analyte := report.get("cu")) is not None and analyte.value is not None
    }
    for lot in farm.lots:
        copper = tested.get(lot.lot_id)
        if copper is not None and copper > limit:
            opening = f"{lot.name} holds {copper:.0f} mg/kg of copper; more than {limit:.0f}"
            yield from _said(
                sheep,
                "danger",
                lambda names, opening=opening: (  # type: ignore[misc]
                    f"{opening} in the whole diet poisons {names}. {ASK}"
                ),
                _COPPER_SOURCE,
                (lot.lot_id,),
            )


#: Stock whose owners score from 1 to 5 as well, and the most that can be such a score.
_TWO_SCALES: Final = SHEEP | GOATS | CAMELIDS | DONKEYS
_OF_FIVE: Final = 5.0


def _of_scores(farm: Farm) -> Iterator[Caution]:
    """Ask of a score that may have been given from 1 to 5."""
    for group in farm.groups:
        score = group.condition_score
        if group.animal_class in _TWO_SCALES and score is not None and score <= _OF_FIVE:
            yield from _said(
                [group],
                "note",
                lambda name, score=score: (  # type: ignore[misc]
                    f"Condition {score:g} of {name} is read on the scale from 1 to 9, where 5 is "
                    "the middle. If it was scored from 1 to 5, write "
                    f"{2.0 * score - 1.0:g} instead."
                ),
                COMMON_PRACTICE,
            )


def _of_fescue(farm: Farm) -> tuple[Caution, ...]:
    mares = [
        group
        for group in farm.groups
        if group.animal_class is AnimalClass.MARE and not (group.calving_on or group.breeding_on)
    ]
    risky = [lot for lot in farm.lots if is_risky_fescue(lot, farm)]
    fescue = [lot.name for lot in risky]
    return _said(
        mares if fescue else (),
        "danger",
        lambda names: (
            f"Keep {', '.join(fescue)} from {names} in the last {FESCUE_DAYS} days before "
            "foaling unless it is free of the fescue endophyte; write the day of foaling in "
            f"calving_on, so that the program keeps it from them. {ASK}"
        ),
        FESCUE_SOURCE,
        [lot.lot_id for lot in risky],
    )


def _of_sugars(farm: Farm) -> Iterator[Caution]:
    """Say which lots hold too much sugar for horses prone to laminitis, where it was tested."""
    horses = [
        group
        for group in farm.groups
        if group.animal_class in HORSES and group.animal_class not in DONKEYS
    ]
    for lot in farm.lots:
        verdict = lot_sugars(lot, farm)
        if verdict is not None and verdict.light != "green":
            yield from _said(
                horses,
                "warning" if verdict.light == "red" else "note",
                lambda names, name=lot.name, found=verdict.sentence: (  # type: ignore[misc]
                    f"{name} for any of {names} prone to laminitis: {found} Give such horses "
                    "other hay; soaking takes out a third of the sugar at best. Ask your "
                    "veterinarian."
                ),
                "Harris 2011",
                (lot.lot_id,),
            )
