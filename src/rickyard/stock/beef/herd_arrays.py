"""Groups and days as arrays: what the engine of cattle takes and gives.

``Herd`` holds a row for each of N groups, ``Days`` an entry for each of T days.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from rickyard.stock.common import Breeding, Cycle
from rickyard.types import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class Herd(Breeding):
    """What decides the needs of N groups beside their breeding years, arrays of shape (N,).

    ``stated_gain_kg`` is the gain that was asked for, NaN for none; it holds until the next calving
    of an animal that calves. The gains before the first calving and in the year after it are by
    rule. ``final_shrunk_weight_kg`` is NaN for stock that does not grow, ``age_months`` (on the
    day of weighing) where it is not known. ``is_cow`` marks classes that eat by the equations of
    cows, ``is_heifer`` those in calf for the first time, ``is_breeding_bull`` mature bulls.
    ``mud_adds`` is what mud adds to maintenance under the percent rule, ``mud_left`` what it
    leaves of the coat under the factorial one. ``condition_mcal`` is fed each day before
    ``condition_until`` to change condition.
    """

    shrunk_weight_kg: FloatArray
    weighed_on: FloatArray
    stated_gain_kg: FloatArray
    gain_before_calving_kg: FloatArray
    gain_after_calving_kg: FloatArray
    final_shrunk_weight_kg: FloatArray
    age_months: FloatArray
    is_cow: BoolArray
    is_heifer: BoolArray
    is_breeding_bull: BoolArray
    intact_male: BoolArray
    breed_factor: FloatArray
    activity_factor: FloatArray
    heat_factor: FloatArray
    peak_milk_kg: FloatArray
    birth_weight_kg: FloatArray
    first_birth_weight_kg: FloatArray
    condition_score: FloatArray
    condition_mcal: FloatArray
    condition_until: FloatArray
    critical_c: FloatArray
    hair_cm: FloatArray
    hide_factor: FloatArray
    mud_left: FloatArray
    mud_adds: FloatArray
    windbreak: BoolArray
    appetite_factor: FloatArray

    def rows(self, first: int, last: int) -> Herd:
        """Return the groups from one index up to another."""
        return Herd(*(getattr(self, entry.name)[first:last] for entry in fields(self)))


@dataclass(frozen=True, slots=True)
class Days:
    """The T days asked for, arrays of shape (T,); NaN where the weather is not known.

    ``on`` are ordinals. Under a rule of cold the days must follow one another, because what
    cannot be fed inside a storm is carried over.
    """

    on: FloatArray
    previous_month_c: FloatArray
    temperature_c: FloatArray
    wind_km_per_h: FloatArray
    wet: BoolArray


@dataclass(frozen=True, slots=True)
class HerdNeeds:
    """Needs per head and day of N groups on T days, arrays of shape (N, T).

    ``intake_state`` indexes ``intake.RULES``. ``values`` holds every need by its name with
    unit; ``cold_owed_mcal`` is the energy of storms that could not be fed yet.
    """

    cycle: Cycle
    intake_state: NDArray[np.int8]
    values: dict[str, FloatArray]

    def __getitem__(self, name: str) -> FloatArray:
        """Return one need."""
        return self.values[name]
