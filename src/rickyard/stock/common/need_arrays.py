"""What the engines of small stock, horses and dairy share: a group asked for, and what is told.

``Asked`` is a group on its days; ``NeedArrays`` the needs of its N mothers, filled stage by stage
and told as a series of one head.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from types import EllipsisType, MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.evidence import COMMON_PRACTICE, FLAG_OF, FROM_MEMORY
from rickyard.farm import Assumption, Group
from rickyard.quantities import OutOfRange
from rickyard.stock.common.births import Breeding, Cycle, calving_offsets
from rickyard.stock.common.series import (
    Conditions,
    EnergyBasis,
    HorseNeed,
    NeedSeries,
    RuminantNeed,
)
from rickyard.stock.common.tables import find_row, weakest
from rickyard.types import BoolArray, FloatArray, IntArray

#: The appetite of these animals is no equation but a range: see ``most_dm_kg``. A season
#: program that looks for an equation of this name is refused, so that it states needs instead.
INTAKE_RULE: Final = "by published range"

NO_DATES: Final = "no day of birth or breeding, so counted open and dry."

#: What a series has fields of its own for, and what stands beside the numbers of a need.
_FIELDS: Final = frozenset({"dm_kg", "tdn_kg", "me_mcal", "de_mcal", "cp_g", "ca_g", "p_g"})
_WORDS: Final = frozenset({"evidence", "flags"})


def practice(sentence: str) -> Assumption:
    """Return an assumption that rests on common practice.

    Parameters
    ----------
    sentence : str
        What is taken for granted.

    Returns
    -------
    Assumption
        With the words for what has no published source.
    """
    return Assumption(sentence, COMMON_PRACTICE)


@dataclass(frozen=True, slots=True)
class Births:
    """How births of a kind are spoken of, and its days of pregnancy and to weaning."""

    young: str
    mother: str
    birth: str
    gestation_days: int
    weaning_days: int


@dataclass(frozen=True, slots=True)
class Asked:
    """A group and the T days asked for, also as ordinals, and what these are like.

    ``start`` is the day of its weight and age, as an ordinal; never before the group comes.
    """

    group: Group
    dates: Sequence[date]
    conditions: Conditions
    days: IntArray
    start: int

    @classmethod
    def of(cls, group: Group, dates: Sequence[date], conditions: Conditions | None = None) -> Asked:
        """Return what is asked, on days that are like the usual ones unless told."""
        conditions = conditions or Conditions()
        start = (conditions.weighed_on or dates[0]).toordinal()
        if group.from_on is not None:
            start = max(start, group.from_on.toordinal())
        days = np.array([day.toordinal() for day in dates], dtype=np.int64)
        return cls(group, dates, conditions, days, start)

    @property
    def dated(self) -> bool:
        """Return whether a day of birth or of breeding is known."""
        return not (self.group.calving_on is None and self.group.breeding_on is None)

    @property
    def present(self) -> BoolArray:
        """Return on which days the group is there, shape (T,)."""
        first = -np.inf if self.group.from_on is None else self.group.from_on.toordinal()
        last = np.inf if self.group.to_on is None else self.group.to_on.toordinal()
        return np.asarray((self.days >= first) & (self.days < last))

    def year(self, births: Births, *, spread: bool = True, start: bool = False) -> Cycle:
        """Return where the mothers stand on each day, or the one of the mean day of birth.

        With ``start`` it is asked for the day of the weight alone.
        """
        group = self.group
        birth, *others = Breeding.year(
            group.calving_on,
            group.weaning_on,
            group.breeding_on,
            births.gestation_days,
            births.weaning_days,
        )
        offsets = np.zeros(1)
        if spread and np.isfinite(birth):
            offsets = calving_offsets(group.calving_spread_days or 0)
        years = Breeding(birth + offsets, *(np.full(offsets.shape, one) for one in others))
        return years.cycle(np.array([self.start]) if start else self.days, births.gestation_days)

    def stages(self, births: Births, idle: str = "dry, not pregnant") -> tuple[str, ...]:
        """Return the stage of the mother of the mean day in words."""
        mean = self.year(births, spread=False)
        return mean.stages(births.birth, (idle,) * len(self.days))

    def near_breeding(self, days: int) -> BoolArray:
        """Return on which days a male is at breeding, or so many days away, shape (1, T)."""
        if self.group.breeding_on is None:
            return np.zeros((1, len(self.days)), dtype=np.bool_)
        return np.abs(self.days - self.group.breeding_on.toordinal())[np.newaxis, :] <= days

    def weight(self, shape: tuple[int, ...] | None = None) -> FloatArray:
        """Return the weight of grown stock [kg], the same on every day, full or shrunk as given."""
        return np.full((1, len(self.days)) if shape is None else shape, self.group.weight_kg)

    def path(
        self, gain_kg: Callable[[float, int], float], most_kg: float
    ) -> tuple[FloatArray, FloatArray]:
        """Return weight [kg] and gain [kg/d] of growing stock, shape (T,).

        The gain of a day hangs on the weight and the day; no growth is counted from ``most_kg``
        on, nor before ``start``.

        >>> from rickyard.farm import AnimalClass
        >>> lambs = Group("l", "Lambs", AnimalClass.FEEDER_LAMB, 9, 30.0)
        >>> days = [date(2027, 1, one) for one in (5, 10, 12, 31)]
        >>> asked = Asked.of(lambs, days, Conditions(weighed_on=days[1]))
        >>> weight, gain = asked.path(lambda weight, day: 0.2, 33.0)
        >>> weight.round(1).tolist(), gain.tolist()
        ([30.0, 30.0, 30.4, 33.0], [0.0, 0.2, 0.2, 0.0])
        """
        count = max(int(self.days.max()), self.start) - self.start + 1
        weights, gains = np.empty(count), np.zeros(count)
        weight = self.group.weight_kg
        for at in range(count):
            weights[at] = weight
            gains[at] = gain_kg(weight, self.start + at) if weight < most_kg else 0.0
            weight = min(weight + gains[at], max(most_kg, weight))
        index = np.maximum(self.days - self.start, 0)
        return weights[index], np.where(self.days < self.start, 0.0, gains[index])

    def wanted_gain_kg(self) -> float | None:
        """Return the gain wanted [kg/d], by itself or by a target; ``None`` where none is.

        Raises ``OutOfRange`` if it is negative or the target day is not after that of the weight.
        """
        group, gain = self.group, self.group.gain_kg_per_day
        if gain is None and group.target_weight_kg is not None and group.target_on is not None:
            span = group.target_on.toordinal() - self.start
            if span <= 0:
                raise OutOfRange(f"{group.name}: the target weight comes before the weighing.")
            gain = (group.target_weight_kg - group.weight_kg) / span
        if gain is not None and gain < 0.0:
            raise OutOfRange(f"{group.name}: a need is known for a gain of zero or more.")
        return gain

    def young(self, usual: float) -> float:
        """Return the young [-] that a mother bears and raises, one to three."""
        young = usual if self.group.young is None else self.group.young
        if not 1.0 <= young <= 3.0:
            raise OutOfRange(
                "A mother raises one to three young; barren ones are a group of their own."
            )
        return young

    def say_births(self, young: float, births: Births, milk: str = "") -> list[Assumption]:
        """Return what is taken of births where the group says nothing itself.

        >>> from rickyard.farm import AnimalClass
        >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 9, 70.0, calving_on=date(2027, 3, 1))
        >>> lambing = Births("lamb", "ewe", "lambing", 147, 90)
        >>> Asked.of(ewes, [date(2027, 1, 1)]).say_births(1.5, lambing)[0].sentence
        'Ewes raise 1.5 lambs per ewe.'
        """
        group = self.group
        if not self.dated:
            return [practice(f"{group.name}: {NO_DATES}")]
        said = []
        if group.young is None:
            raised = f"{young:g} {births.young}s per {births.mother}"
            said.append(practice(f"{group.name} raise {raised}."))
        if milk:
            said.append(practice(milk))
        if group.weaning_on is None:
            weaned = f"{births.young.capitalize()}s are weaned {births.weaning_days} days"
            said.append(practice(f"{weaned} after {births.birth}."))
        days = f"Pregnancy of {births.mother}s lasts {births.gestation_days} days."
        return [*said, Assumption(days, FROM_MEMORY)]


@dataclass(slots=True)
class NeedArrays:
    """Needs of N mothers on T days, arrays of shape (N, T), on their way to a series.

    ``values`` holds amounts by the names of a need. ``most_dm_kg`` is the most they can eat and
    ``least_dm_kg`` the least they should, NaN where nothing is published; ``most`` and ``least``
    are bounds on the whole diet. What is one number holds for all.
    """

    asked: Asked
    weight_kg: FloatArray
    edition: str
    energy_basis: EnergyBasis = "tdn"
    stage: Sequence[str] = ()
    values: dict[str, FloatArray] = field(default_factory=dict)
    most_dm_kg: FloatArray | float = np.nan
    least_dm_kg: FloatArray | float = np.nan
    milk_kg: FloatArray | float = 0.0
    gain_kg: FloatArray | float = 0.0
    pregnant: BoolArray | bool = False
    nursing: BoolArray | bool = False
    most: dict[str, float] = field(default_factory=dict)
    least: dict[str, float] = field(default_factory=dict)
    evidence: list[str] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)

    def put(
        self,
        where: BoolArray,
        need_at: Callable[[FloatArray], RuminantNeed | HorseNeed],
        share: float = 1.0,
    ) -> None:
        """Add a share of the need at the weights of some days."""
        if share and np.any(where):
            self.add(need_at(self.weight_kg[where]), where, share)

    def add(
        self,
        need: RuminantNeed | HorseNeed,
        where: BoolArray | EllipsisType = ...,
        share: float = 1.0,
    ) -> None:
        """Add a share of a need that was computed for some days, or for all."""
        for one in fields(need):
            amount = getattr(need, one.name)
            if one.name in _WORDS or amount is None:
                continue
            if one.name not in self.values:
                self.values[one.name] = np.zeros(self.weight_kg.shape)
            self.values[one.name][where] += share * amount
        self.evidence.append(need.evidence)
        for flag in need.flags:
            said = practice(f"{self.asked.group.name}: {flag}.")
            if said not in self.assumptions:
                self.assumptions.append(said)

    def cap(self, where: BoolArray | Literal[True], hay_rate: str) -> None:
        """Set the most that is eaten on some days by the published range of a class of hay rates.

        It is never less than the dry matter at which a need is told.
        """
        rate = float(find_row("hay_rates", **{"class": hay_rate})["high_pct_bw"])
        most = np.maximum(rate / 100.0 * self.weight_kg, self.values["dm_kg"])
        self.most_dm_kg = np.where(where, most, self.most_dm_kg)

    def limit_copper(self, animal: str) -> None:
        """Hold the copper of the whole diet [mg/kg DM] to what is safe for a kind of animal."""
        row = find_row("copper", animal=animal, kind="safe_upper")
        self.most["cu_ppm"] = float(row["high_ppm"])

    def series(self) -> NeedSeries:
        """Return the needs of one head: means over the mothers; net energies are NaN."""
        count, shape = len(self.asked.days), self.weight_kg.shape

        def mean(values: FloatArray | BoolArray | float) -> FloatArray:
            whole = np.asarray(values, dtype=np.float64)
            return np.asarray(np.broadcast_to(whole, shape).mean(axis=0))

        def bounds(
            dm_kg: FloatArray | float, others: dict[str, float]
        ) -> MappingProxyType[str, FloatArray]:
            told = {name: np.full(count, value) for name, value in others.items()}
            return MappingProxyType({"dm_kg": mean(dm_kg), **told})

        group, values = self.asked.group, self.values
        unknown, weight = np.full(count, np.nan), mean(self.weight_kg)
        pregnant, nursing = mean(self.pregnant), mean(self.nursing)
        more = {name: mean(one) for name, one in values.items() if name not in _FIELDS}
        flag = f"{FLAG_OF[weakest(*self.evidence)].value}: {self.edition}"
        if group.weight_is_shrunk:
            full = f"The shrunk weight of {group.name} is taken as their full weight."
            self.assumptions.append(practice(full))
        return NeedSeries(
            stage=tuple(self.stage),
            present=self.asked.present,
            shrunk_weight_kg=weight,
            full_weight_kg=weight,
            milk_kg=mean(self.milk_kg),
            nem_maintenance_mcal=unknown,
            nem_lactation_mcal=unknown,
            nem_pregnancy_mcal=unknown,
            nem_mcal=unknown,
            gain_kg=mean(self.gain_kg),
            retained_energy_mcal=np.zeros(count),
            mp_g=unknown,
            cp_kg=mean(values["cp_g"]) / 1000.0,
            ca_kg=mean(values["ca_g"]) / 1000.0,
            p_kg=mean(values["p_g"]) / 1000.0,
            intake_rule=(INTAKE_RULE,) * count,
            intake_factor=np.ones(count),
            pregnant=pregnant.astype(np.bool_),
            lactating=nursing.astype(np.bool_),
            assumptions=tuple(self.assumptions),
            energy_basis=self.energy_basis,
            energy_mcal=mean(values["de_mcal" if self.energy_basis == "de" else "me_mcal"]),
            tdn_kg=mean(values["tdn_kg"]),
            dry_matter_kg=mean(values["dm_kg"]),
            pregnant_share=pregnant,
            nursing_share=nursing,
            more=MappingProxyType(more),
            least=bounds(self.least_dm_kg, self.least),
            most=bounds(self.most_dm_kg, self.most),
            evidence=MappingProxyType(
                dict.fromkeys(("tdn_kg", "energy_mcal", "cp_kg", "ca_kg", "p_kg", *more), flag)
            ),
        )
