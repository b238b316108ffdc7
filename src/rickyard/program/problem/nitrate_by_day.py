"""The nitrate of all that a group eats and drinks on a day, beside the most that its diet may hold.

The program holds the limit on the mean of each period. Hay with nitrate that begins low ends its
period above that mean: there the limit holds for the day.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.types import FloatArray

#: A diet is at its limit where a solver leaves it so little above. [mg/kg DM]
NEARLY_PPM: Final = 0.5


@dataclass(frozen=True, slots=True)
class NitrateByDay:
    """What counts for the nitrate of one group's days.

    ``ppm`` is the nitrate-nitrogen of each source [mg/kg DM], ``eaten`` which part of it is eaten
    [-]. By day, shape (days,), ``drunk_mg`` is that of the water of all [mg] and ``most_ppm`` the
    limit of the whole diet [mg/kg DM].
    """

    ppm: Mapping[str, float]
    eaten: Mapping[str, float]
    drunk_mg: FloatArray
    most_ppm: FloatArray

    def high(self, sources: Iterable[str]) -> list[str]:
        """Return which sources alone are above the limit of some day."""
        least = float(self.most_ppm.min())
        return [one for one in sources if self.ppm.get(one, 0.0) > least]

    def above_mg(self, kg_dm: Mapping[str, FloatArray], sources: Iterable[str]) -> FloatArray:
        """Return by how much the nitrate of some sources is above the limit of their dry matter.

        Parameters
        ----------
        kg_dm : mapping
            Dry matter put out of each source on each day, shape (days,). [kg]
        sources : iterable of str
            The sources that are added up.

        Returns
        -------
        array, shape (days,)
            Below zero where they leave room for more. The water is not in it. [mg]

        Examples
        --------
        >>> none = np.zeros(1)
        >>> herd = NitrateByDay({"A": 2600.0, "B": 900.0}, {}, none, np.full(1, 1500.0))
        >>> hay = {"A": np.array([3.0]), "B": np.array([6.0])}
        >>> herd.above_mg(hay, hay).tolist(), herd.above_mg(hay, ["A"]).tolist()
        ([-300.0], [3300.0])
        """
        zero = np.zeros(len(self.most_ppm))
        each = (
            kg_dm[one] * self.eaten.get(one, 1.0) * (self.ppm.get(one, 0.0) - self.most_ppm)
            for one in sources
        )
        return sum(each, zero)

    def part_of_rise(
        self,
        mean_kg_dm: Mapping[str, FloatArray],
        now_kg_dm: Mapping[str, FloatArray],
        begun: Iterable[str],
        gives_way: Iterable[str],
        most_given_way: float,
    ) -> FloatArray:
        """Return how far hay that begins low may rise above the mean of its period on each day.

        Parameters
        ----------
        mean_kg_dm, now_kg_dm : mapping
            Dry matter of each source on each day, on the mean of its period and as it would be
            put out. [kg]
        begun : iterable of str
            The hay that begins low.
        gives_way : iterable of str
            The hay that gives way to it on the days on which it is above its mean.
        most_given_way : float
            Which part of that can. [-]

        Returns
        -------
        array, shape (days,)
            From 0, the mean, to 1, as it would be; 1 where it is not above the mean. [-]
        """
        begun, gives_way = list(begun), list(gives_way)
        zero = np.zeros(len(self.most_ppm))
        more = {one: now_kg_dm[one] - mean_kg_dm[one] for one in begun}
        rise = sum(more.values(), zero)
        safe = sum((mean_kg_dm[one] for one in gives_way), zero)
        way = np.divide(
            np.minimum(rise, most_given_way * safe), safe, out=zero.copy(), where=safe > 0.0
        )
        each = self.above_mg(more, begun) - way * self.above_mg(mean_kg_dm, gives_way)
        room = -self.drunk_mg - self.above_mg(mean_kg_dm, mean_kg_dm)
        rising = (rise > 0.0) & (each > 0.0)
        part = np.divide(np.maximum(room, 0.0), each, out=np.ones(len(zero)), where=rising)
        return np.minimum(1.0, part)

    def part_kept(
        self,
        kg_dm: Mapping[str, FloatArray],
        mean_kg_dm: Mapping[str, FloatArray],
        makes_up: Mapping[str, FloatArray] | None = None,
    ) -> FloatArray:
        """Return which part of what is above the limit stays on each day, so that all is within it.

        Parameters
        ----------
        kg_dm, mean_kg_dm : mapping
            Dry matter of each source on each day, as it would be put out and on the mean of its
            period. [kg]
        makes_up : mapping, optional
            The hay that stands in for what is cut on each day, by its parts of it. [kg]

        Returns
        -------
        array, shape (days,)
            1 where the day is within the limit, and where its period is above it, which is told
            elsewhere. [-]

        Examples
        --------
        >>> none = np.zeros(1)
        >>> herd = NitrateByDay({"A": 2500.0, "B": 500.0}, {}, none, np.full(1, 1500.0))
        >>> mean, hungry = ({"A": np.array([4.0]), "B": np.array([kg])} for kg in (4.0, 3.0))
        >>> herd.part_kept(hungry, mean).tolist(), herd.part_kept(mean, mean).tolist()
        ([0.75], [1.0])

        A kilogram of the other hay in its place makes room for another:

        >>> herd.part_kept(hungry, mean, {"B": np.ones(1)}).tolist()
        [0.875]
        """
        high, zero = self.high(kg_dm), np.zeros(len(self.most_ppm))
        each, others = self.above_mg(kg_dm, high), makes_up or {}
        above = self.drunk_mg + self.above_mg(kg_dm, kg_dm)
        told = self.drunk_mg + self.above_mg(mean_kg_dm, mean_kg_dm) > NEARLY_PPM * sum(
            mean_kg_dm.values(), zero
        )
        stand_in = sum(others.values(), zero)
        below = np.divide(
            -self.above_mg(others, others), stand_in, out=zero.copy(), where=stand_in > 0.0
        )
        freed = each + below * sum((kg_dm[one] for one in high), zero)
        over = (above > 0.0) & (each > 0.0) & ~told
        return np.maximum(0.0, 1.0 - np.divide(above, freed, out=zero, where=over))


def held_to_shares(
    kg: Mapping[str, float], most: Mapping[str, float], rest_kg: float
) -> dict[str, float]:
    """Return what may be eaten on a day of hays that each have a limit to their share of it.

    Parameters
    ----------
    kg : mapping
        What would be eaten of each hay with a limit. [kg DM]
    most : mapping
        The largest part that each may be of all that is eaten on the day. [-]
    rest_kg : float
        What is eaten beside them. [kg DM]

    Returns
    -------
    dict
        No more of any; nothing stands in for what is left out. [kg DM]

    Examples
    --------
    Of 3 kg beside 3 kg a half stays, and of 3 kg beside 1 kg no more than 1 kg:

    >>> held_to_shares({"A": 3.0}, {"A": 0.5}, 3.0), held_to_shares({"A": 3.0}, {"A": 0.5}, 1.0)
    ({'A': 3.0}, {'A': 1.0})
    >>> held_to_shares({"A": 4.0, "B": 1.0}, {"A": 0.5, "B": 0.25}, 2.0)
    {'A': 3.0, 'B': 1.0}
    """
    free, parts = rest_kg + sum(kg.values()), 0.0
    whole, cut = free, set()
    for one in sorted(kg, key=lambda one: kg[one] / most[one], reverse=True):
        if kg[one] <= most[one] * whole or parts + most[one] >= 1.0:
            break
        cut.add(one)
        # What is cut is its part of all that is then left.
        free, parts = free - kg[one], parts + most[one]
        whole = free / (1.0 - parts)
    return {one: most[one] * whole if one in cut else each for one, each in kg.items()}
