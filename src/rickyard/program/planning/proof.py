"""What the farm lacks told apart from what the search has not found yet, and the hay to buy."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rickyard.program.model import Model
from rickyard.program.result import NEEDS_OF_HAY, SeasonProgram, Shortage
from rickyard.types import FloatArray

#: What is short is proven when the season without whole numbers lacks at least this share of it:
#: the rest comes from whole weeks and whole loads, which no search does away with. Judgement, no
#: published source.
PROVEN_SHARE: Final = 0.5


def with_proof(
    program: SeasonProgram, model: Model, x: FloatArray, relaxed: FloatArray
) -> SeasonProgram:
    """Return a program that says of each shortage whether it is proven.

    ``relaxed``: the season without whole numbers.

    Notes
    -----
    Needs that hay meets are judged together and for the whole farm, because hay that one group
    does without can be fed to another. Minerals and what there is too much of follow from the
    hay where that is short, and are judged by themselves elsewhere.
    """
    if not program.shortages:
        return program

    def usd(names: frozenset[str], at: FloatArray) -> float:
        columns = model.columns
        found = 0.0
        for name in sorted(names):
            index = columns.shortage.get(name)
            if index is not None:
                there = index[index >= 0]
                found += float(model.cost[there] @ at[there])
            if name in columns.farm_short:
                found += float(model.cost[columns.farm_short[name]] * at[columns.farm_short[name]])
        return found

    def is_proven(names: frozenset[str]) -> bool:
        return usd(names, relaxed) >= PROVEN_SHARE * usd(names, x)

    of_hay = is_proven(NEEDS_OF_HAY)
    hay_is_short = any(one.nutrient in NEEDS_OF_HAY for one in program.shortages)

    def proven(one: Shortage) -> bool:
        if one.nutrient in NEEDS_OF_HAY:
            return of_hay
        own = is_proven(frozenset((one.nutrient,)))
        return own or (bool(one.group_id) and hay_is_short and of_hay)

    return replace(
        program,
        shortages=tuple(replace(one, proven=proven(one)) for one in program.shortages),
    )
