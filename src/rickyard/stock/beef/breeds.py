"""What the breed of a group fills in where the group does not say it itself."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rickyard.farm import Assumption, Group
from rickyard.stock.beef.defaults import FROM_MEMORY
from rickyard.stock.equations import cross_of


def with_breed(group: Group) -> tuple[Group, tuple[Assumption, ...]]:
    """Return a group with what its breed tells, and the assumption that it does.

    What it gives itself stands; the factor on maintenance, the birth weight of calves and the peak
    milk are filled in, and told in one assumption. A cross counts as the mean of its two breeds.

    The printed requirement tables use none of it: a factor of 1 and calves of 40 kg. A group
    without a breed is told as they are.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-1; from memory.

    >>> from rickyard.farm import AnimalClass, BeefBreed
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 550.0, breed=BeefBreed.ANGUS,
    ...     crossed_with=BeefBreed.SIMMENTAL)
    >>> filled, _ = with_breed(cows)
    >>> filled.breed_factor, filled.calf_birth_weight_kg, filled.peak_milk_kg_per_day
    (1.1, 35.0, 10.0)
    """
    names = [one.value for one in (group.breed, group.crossed_with) if one is not None]
    if not names:
        return group, ()
    breed = cross_of(*names)
    own: dict[str, Any] = {
        "breed_factor": breed.maintenance_factor,
        "calf_birth_weight_kg": breed.birth_weight_kg,
        "peak_milk_kg_per_day": breed.peak_milk_kg_per_day,
    }
    filled = {name: value for name, value in own.items() if getattr(group, name) is None}
    if not filled:
        return group, ()
    called = " x ".join(name.replace("_", " ").title() for name in names)
    sentence = f"What {group.name} do not say of maintenance, calves and milk is as in {called}."
    return replace(group, **filled), (Assumption(sentence, f"{FROM_MEMORY}, Table 10-1"),)
