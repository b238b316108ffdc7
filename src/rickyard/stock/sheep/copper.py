"""Copper in the whole diet: how much is safe for whom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rickyard.quantities import OutOfRange
from rickyard.stock.common import find_row

#: Copper to molybdenum by mass, above which copper builds up; 6 to 10 is the aim (from memory).
MOST_CU_TO_MO: Final = 10.0

Light = Literal["green", "amber", "red"]

#: Who is judged by which limits; where kinds share a feeder the strictest holds.
COPPER_ANIMALS: Final = ("sheep", "goat", "camelid", "cattle")


@dataclass(frozen=True, slots=True)
class CopperVerdict:
    """How much copper a whole diet holds and what that means, in one sentence.

    ``certain`` is False when molybdenum, sulfur or iron are not known: copper alone does not
    tell the copper status of sheep.
    """

    light: Light
    copper_ppm: float
    cu_to_mo: float | None
    certain: bool
    sentence: str


def diet_copper_ppm(dm_kg: Sequence[float], copper_ppm: Sequence[float]) -> float:
    """Return the copper of a whole diet, the mineral mix counted.

    Parameters
    ----------
    dm_kg : sequence of float
        Dry matter of every feed eaten, the mineral with them; not negative, some above 0. [kg/d]
    copper_ppm : sequence of float
        Copper of each. [mg/kg DM]

    Returns
    -------
    float
        Copper of the diet. [mg/kg DM]

    Examples
    --------
    >>> round(diet_copper_ppm([1.586, 0.014], [8.0, 1500.0]), 1)
    21.1
    """
    amounts, values = np.asarray(dm_kg, float), np.asarray(copper_ppm, float)
    if amounts.shape != values.shape or np.any(amounts < 0.0) or not amounts.sum() > 0.0:
        raise OutOfRange("Give an amount and a copper value for each feed, and some feed.")
    return float((amounts * values).sum() / amounts.sum())


def safe_copper_ppm(animals: Sequence[str]) -> float:
    """Return the most copper that a diet may hold for all who eat of it.

    Parameters
    ----------
    animals : sequence of str
        Of ``COPPER_ANIMALS``.

    Returns
    -------
    float
        The strictest of their limits. [mg/kg DM]

    Examples
    --------
    >>> safe_copper_ppm(["goat", "sheep"])
    15.0
    """
    limits = [_limit(animal, "safe_upper") for animal in animals]
    if not limits:
        raise OutOfRange("Name at least one kind of animal.")
    return min(limits)


def judge_copper(
    copper_ppm: float,
    animals: Sequence[str] = ("sheep",),
    *,
    molybdenum_ppm: float | None = None,
    sulfur_pct: float | None = None,
    iron_ppm: float | None = None,
) -> CopperVerdict:
    """Judge the copper of a whole diet.

    Source: Duncan (1997), In Practice 19:503 (15 for sheep, seen); need of 7-11 and the ratio from
    memory; Berger, Univ. Illinois: poisoning seen from 10 mg/kg.

    Parameters
    ----------
    copper_ppm : float
        Copper of the whole diet, minerals counted, see ``diet_copper_ppm``. [mg/kg DM]
    animals : sequence of str
        Who eats it, of ``COPPER_ANIMALS``; sheep in a mixed group set the limit.
    molybdenum_ppm, iron_ppm : float, optional
        Molybdenum and iron of the diet. [mg/kg DM]
    sulfur_pct : float, optional
        Sulfur of the diet. [% DM]

    Returns
    -------
    CopperVerdict
        For sheep green up to 11 mg/kg, amber to 15 or when copper exceeds ten times
        molybdenum, red above 15. For others green up to what is needed at most, amber up to
        the limit, red above it.

    Examples
    --------
    >>> judge_copper(9.0, molybdenum_ppm=0.5).light
    'amber'
    >>> judge_copper(21.1).sentence
    '21.1 mg/kg of copper is above the 15 mg/kg that is safe for sheep: do not feed it.'
    """
    limit = safe_copper_ppm(animals)
    who = min(animals, key=lambda animal: _limit(animal, "safe_upper"))
    needed = _most_needed(who)
    ratio = None if not molybdenum_ppm else copper_ppm / molybdenum_ppm
    unbalanced = who == "sheep" and ratio is not None and ratio > MOST_CU_TO_MO
    said = f"{copper_ppm:.1f} mg/kg of copper"
    light: Light
    if copper_ppm > limit:
        light = "red"
        said = f"{said} is above the {limit:.0f} mg/kg that is safe for {who}: do not feed it."
    elif copper_ppm > needed:
        light = "amber"
        said = f"{said} is more than {who} need ({needed:.0f} mg/kg); {limit:.0f} is the limit."
    elif unbalanced:
        light = "amber"
        said = f"{said} is over ten times the molybdenum, which lets it build up in {who}."
    else:
        light = "green"
        said = f"{said} is within what {who} need."
    certain = None not in (molybdenum_ppm, sulfur_pct, iron_ppm)
    if not certain:
        said += "" if light == "red" else (
            " Copper status cannot be judged from copper alone: have molybdenum, sulfur and iron "
            "tested."
        )  # fmt: skip
    return CopperVerdict(light, copper_ppm, ratio, certain, said)


def _limit(animal: str, kind: str) -> float:
    return float(find_row("copper", animal=animal, kind=kind)["high_ppm"])


def _most_needed(animal: str) -> float:
    # Growing goats need the most of the goats; cattle are counted by their limit alone.
    named = {"sheep": "sheep", "goat": "goat_growing", "camelid": "camelid"}
    if animal not in named:
        return _limit(animal, "safe_upper")
    return _limit(named[animal], "need")
