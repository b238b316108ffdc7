"""What to watch for in a class of small stock, horses and dairy cattle, whatever they are fed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Literal, TypeAlias, cast

from rickyard.animals import HORSES, SHEEP
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
    sugars_of,
)
from rickyard.stock.horses import (
    LEAST_FORAGE_PCT_BW,
    NSC_GREEN_PCT,
    NSC_RED_PCT,
    WANTED_FORAGE_PCT_BW,
)
from rickyard.stock.sheep import safe_copper_ppm

DONKEYS: Final = frozenset({AnimalClass.DONKEY, AnimalClass.MULE})

#: Plain minerals of the feed table to which no copper is added.
WITHOUT_COPPER: Final = frozenset(
    {
        "salt",
        "limestone",
        "calcium_carbonate",
        "dicalcium_phosphate",
        "monocalcium_phosphate",
        "magnesium_oxide",
        "potassium_chloride",
    }
)

Level: TypeAlias = Literal["danger", "warning", "note"]
#: A way to say a caution: its level, sentence and source.
_Say: TypeAlias = Callable[[Level, str, str], None]

#: Stands for the groups in a caution that holds for several.
_NAMES: Final = "\0"

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
    found: list[Caution] = []
    for group in farm.groups:
        found += _of_group(group, farm)
    return tuple(dict.fromkeys(found))


def _of_group(group: Group, farm: Farm) -> list[Caution]:
    kind = group.animal_class
    found: list[Caution] = []

    def say(level: Level, sentence: str, source: str) -> None:
        found.append(Caution(level, group.group_id, sentence, source))

    if kind in SHEEP:
        _of_sheep(group, farm, say)
    if kind in HORSES:
        found += care_cautions(group, farm)
        _of_horses(group, farm, say)
    for row in read_rows("class_cautions"):
        if kind.value in row["classes"].split():
            sentence = row["sentence"].format(name=group.name, **_LIMITS)
            say(cast(Level, row["level"]), sentence, row["source"])
    return found


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


def _of_sheep(group: Group, farm: Farm, say: _Say) -> None:
    limit = safe_copper_ppm(["sheep"])
    tested = {
        report.lot_id: analyte.value
        for report in farm.reports
        if (analyte := report.get("cu")) is not None and analyte.value is not None
    }
    for lot in farm.lots:
        copper = tested.get(lot.lot_id)
        if copper is not None and copper > limit:
            say(
                "danger",
                f"{lot.name} holds {copper:.0f} mg/kg of copper; more than {limit:.0f} in the "
                f"whole diet poisons {group.name}. {ASK}",
                _COPPER_SOURCE,
            )


def _of_horses(group: Group, farm: Farm, say: _Say) -> None:
    if group.animal_class in DONKEYS:
        return
    _say_sugars(farm, group, say)
    if group.animal_class is AnimalClass.MARE and not (group.calving_on or group.breeding_on):
        fescue = [lot.name for lot in farm.lots if is_risky_fescue(lot, farm)]
        if fescue:
            say(
                "danger",
                f"Keep {', '.join(fescue)} from {group.name} in the last {FESCUE_DAYS} days before "
                "foaling unless it is free of the fescue endophyte; write the day of foaling in "
                f"calving_on, so that the program keeps it from them. {ASK}",
                FESCUE_SOURCE,
            )


def _say_sugars(farm: Farm, group: Group, say: _Say) -> None:
    """Say which lots hold too much sugar for horses prone to laminitis, where it was tested."""
    for lot in farm.lots:
        for report in farm.reports_of(lot.lot_id):
            verdict = sugars_of(report)
            if verdict is not None and verdict.light != "green":
                say(
                    "warning" if verdict.light == "red" else "note",
                    f"{lot.name} for any of {group.name} prone to laminitis: {verdict.sentence}",
                    "Harris 2011",
                )
                break
