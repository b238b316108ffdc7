"""Purchases of one feed, which stock know as one, put together for its days and parted again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rickyard.farm import Farm
from rickyard.quantities import is_some
from rickyard.types import FloatArray


@dataclass(frozen=True, slots=True)
class OneFeed:
    """Which sources stock know as another: ``known_as`` by the id of each later purchase."""

    known_as: Mapping[str, str]

    @classmethod
    def of(cls, farm: Farm) -> OneFeed:
        """Return what the feeds of a farm are known as."""
        return cls({one.feed_id: one.known_as for one in farm.feeds if one.same_as})

    def __call__(self, source_id: str) -> str:
        """Return the id that stock know a source by."""
        return self.known_as.get(source_id, source_id)

    def together(self, amounts: Mapping[str, FloatArray]) -> dict[str, FloatArray]:
        """Return the amounts of each day with all purchases of a feed under the one id.

        Examples
        --------
        >>> one = OneFeed({"corn_later": "corn"})
        >>> one.together({"corn": np.array([3.0, 1.0]), "corn_later": np.array([0.0, 2.0])})
        {'corn': array([3., 3.])}
        """
        found: dict[str, FloatArray] = {}
        for source_id, kilograms in amounts.items():
            key = self(source_id)
            found[key] = found[key] + kilograms if key in found else kilograms
        return found

    def parted(
        self, amounts: Mapping[str, FloatArray], by: Mapping[str, FloatArray]
    ) -> dict[str, FloatArray]:
        """Return the amounts of each purchase, by what each of them was of the whole.

        Examples
        --------
        >>> one = OneFeed({"corn_later": "corn"})
        >>> by = {"corn": np.array([3.0, 1.0]), "corn_later": np.array([0.0, 3.0])}
        >>> one.parted({"corn": np.array([2.0, 2.0])}, by)
        {'corn': array([2. , 0.5]), 'corn_later': array([0. , 1.5])}
        """
        whole = self.together(by)
        return {
            one: amounts[self(one)]
            if by[one] is whole[self(one)]
            else np.divide(
                amounts[self(one)] * by[one],
                whole[self(one)],
                out=np.zeros(len(by[one])),
                where=is_some(whole[self(one)]),
            )
            for one in by
        }
