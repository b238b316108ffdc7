"""Where a mother stands in her year, for species other than beef cattle.

Days are ordinals (``datetime.date.toordinal``). A group whose births are spread is many mothers
of whom each has her own day, so arrays have shape (N, T): mothers by days.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Group
from rickyard.stock.common.spread import calving_offsets
from rickyard.types import BoolArray, FloatArray, IntArray

#: Days of pregnancy; from memory.
GESTATION_DAYS: Final = {
    "sheep": 147,
    "goat": 150,
    "horse": 340,
    "donkey": 340,
    "alpaca": 342,
    "llama": 350,
    "cattle": 280,
}

#: Births follow each other by a year unless a breeding day says otherwise. Common practice.
YEAR_DAYS: Final = 365


@dataclass(frozen=True, slots=True)
class Mothers:
    """Where each of N mothers stands on each of T days, arrays of shape (N, T).

    ``day_pregnant`` is 0 and ``days_since_birth`` -1 where she is not pregnant and does not
    nurse; ``days_to_birth`` is infinite where no birth is to come. ``days_to_breeding`` is 0 on
    the day of breeding and negative after it. ``births`` counts the births so far.
    """

    day_pregnant: FloatArray
    days_to_birth: FloatArray
    days_since_birth: FloatArray
    days_to_breeding: FloatArray
    births: FloatArray

    @property
    def pregnant(self) -> BoolArray:
        """Return whether she is pregnant."""
        return self.day_pregnant > 0.0

    @property
    def nursing(self) -> BoolArray:
        """Return whether she nurses."""
        return self.days_since_birth >= 0.0


def mothers(group: Group, days: IntArray, gestation_days: int, weaning_days: int) -> Mothers:
    """Return where the mothers of a group stand on each day.

    Parameters
    ----------
    group : Group
        Its dates of birth, weaning and breeding are read, and the spread of births. With
        neither a birth nor a breeding they are open and dry.
    days : array of int, shape (T,)
        Days as ordinals. [d]
    gestation_days : int
        Length of pregnancy. [d]
    weaning_days : int
        Days from birth to weaning when no weaning day is given. [d]

    Returns
    -------
    Mothers
        Arrays of shape (N, T), N the days of birth that are followed.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 3, 500.0, calving_on=date(2027, 4, 1))
    >>> asked = np.array([date(2027, 3, 1).toordinal(), date(2027, 4, 11).toordinal()])
    >>> year = mothers(mares, asked, 340, 183)
    >>> year.day_pregnant.tolist(), year.days_since_birth.tolist()
    ([[309.0, 0.0]], [[-1.0, 10.0]])
    """
    first = _first_birth(group, gestation_days)
    if first is None:
        shape = (1, len(days))
        none, never = np.zeros(shape), np.full(shape, np.inf)
        return Mothers(none, never, np.full(shape, -1.0), never.copy(), none.copy())
    births = first + calving_offsets(group.calving_spread_days or 0)[:, np.newaxis]
    interval = _interval(group, first, gestation_days)
    passed = np.maximum(np.floor((days - births) / interval) + 1.0, 0.0)
    last, following = births + (passed - 1.0) * interval, births + passed * interval
    to_birth = following - days
    since = days - last
    nursed = _weaned_after(group, first, weaning_days)
    born = np.where((passed > 0.0) & (since < nursed), since, -1.0)
    before = _nursing_from_year_before(group, first, days, births)
    to_breeding = to_birth - gestation_days
    since_bred = np.where(to_breeding <= 0.0, -to_breeding, 0.0)
    return Mothers(
        day_pregnant=since_bred,
        days_to_birth=to_birth,
        days_since_birth=np.where(before >= 0.0, before, born),
        days_to_breeding=to_breeding,
        births=passed,
    )


def _first_birth(group: Group, gestation_days: int) -> float | None:
    if group.calving_on is not None:
        return float(group.calving_on.toordinal())
    if group.breeding_on is not None:
        return float(group.breeding_on.toordinal() + gestation_days)
    return None


def _interval(group: Group, first: float, gestation_days: int) -> float:
    if group.calving_on is None or group.breeding_on is None:
        return float(YEAR_DAYS)
    again = float(group.breeding_on.toordinal() + gestation_days)
    return again - first if again > first + gestation_days else float(YEAR_DAYS)


def _weaned_after(group: Group, first: float, weaning_days: int) -> float:
    if group.weaning_on is None or group.weaning_on.toordinal() <= first:
        return float(weaning_days)
    return group.weaning_on.toordinal() - first


def _nursing_from_year_before(
    group: Group, first: float, days: IntArray, births: FloatArray
) -> FloatArray:
    """Return days since the birth of the year before while its young nurse, else -1."""
    since = days - (births - YEAR_DAYS)
    if group.weaning_on is None or group.weaning_on.toordinal() > first:
        return np.full(since.shape, -1.0)
    nursing = (days < group.weaning_on.toordinal()) & (since >= 0.0) & (days < births)
    return np.where(nursing, since, -1.0)


def mean_mother(group: Group, days: IntArray, gestation_days: int, weaning_days: int) -> Mothers:
    """Return the mother who gives birth on the mean day, N being 1.

    Parameters
    ----------
    group : Group
        The group.
    days : array of int, shape (T,)
        Days as ordinals.
    gestation_days : int
        Length of pregnancy. [d]
    weaning_days : int
        Days from birth to weaning. [d]

    Returns
    -------
    Mothers
        One mother, with N of 1.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 3, 500.0, calving_on=date(2027, 4, 1),
    ...               calving_spread_days=40)
    >>> mean_mother(mares, np.array([date(2027, 4, 1).toordinal()]), 340, 183).births.tolist()
    [[1.0]]
    """
    return mothers(replace(group, calving_spread_days=None), days, gestation_days, weaning_days)


def stage_words(mother: Mothers, birth: str, idle: str = "dry, not pregnant") -> tuple[str, ...]:
    """Return the stage of a mother on each day in words.

    Parameters
    ----------
    mother : Mothers
        One mother, N being 1.
    birth : str
        What her birth is called: ``lambing``, ``kidding``, ``foaling``.
    idle : str
        What she is when neither pregnant nor nursing.

    Returns
    -------
    tuple of str
        One stage per day.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 9, 70.0, calving_on=date(2027, 3, 1))
    >>> asked = np.array([date(2027, 2, 28).toordinal(), date(2027, 3, 8).toordinal()])
    >>> stage_words(mother=mothers(ewes, asked, 147, 90), birth="lambing")
    ('pregnant, 1 day to lambing', 'nursing, week 2')
    """
    words = []
    for day in range(mother.day_pregnant.shape[1]):
        if mother.nursing[0, day]:
            words.append(f"nursing, week {int(mother.days_since_birth[0, day]) // 7 + 1}")
        elif mother.pregnant[0, day]:
            left = int(mother.days_to_birth[0, day])
            words.append(f"pregnant, {left} day{'' if left == 1 else 's'} to {birth}")
        else:
            words.append(idle)
    return tuple(words)
