"""Groups, days and choices as arrays: what the engine of cattle takes and gives.

``Herd`` holds a row for each of N groups, ``Days`` an entry for each of T days.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import ColdRule, WindChill
from rickyard.stock.beef.cycle import Breeding, Cycle
from rickyard.stock.beef.gain_path import Growth
from rickyard.types import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class Herd:
    """What decides the needs of N groups, arrays of shape (N,).

    ``final_shrunk_weight_kg`` is NaN for stock that does not grow, ``age_months`` (on the day
    of weighing) NaN where it is not known. ``is_cow`` marks classes that eat by the equations of
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
    calving_on: FloatArray
    interval: FloatArray
    weaned_after: FloatArray
    before_weaned_on: FloatArray
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

    def breeding(self) -> Breeding:
        """Return the breeding years of the groups."""
        return Breeding(self.calving_on, self.interval, self.weaned_after, self.before_weaned_on)

    def growth(self) -> Growth:
        """Return what decides the weight of the groups."""
        return Growth(
            self.shrunk_weight_kg,
            self.weighed_on,
            self.stated_gain_kg,
            self.gain_before_calving_kg,
            self.gain_after_calving_kg,
        )


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
class Choices:
    """What holds for all groups and days."""

    calibrated: bool = True
    cold_rule: ColdRule = ColdRule.NONE
    wind_chill: WindChill = WindChill.CATTLE
    intake_by_weather: bool = False
    maintenance_by_condition: bool = False
    constituents: bool = True


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
