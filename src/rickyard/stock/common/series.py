"""What one head of a group needs in a day and through time, in one shape for every kind of stock.

The engine of a species takes what is ``Asked`` and gives a ``NeedSeries``. Which engine serves
which class of animal stands in ``species``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from types import MappingProxyType
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from rickyard.farm import Assumption, Caution, ColdRule, Group, WindChill
from rickyard.quantities import Numeric, OutOfRange
from rickyard.stock.common.weather import DailyWeather
from rickyard.tables import Table, Tabular, counted
from rickyard.types import BoolArray, FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class RuminantNeed:
    """What one head of small ruminants or dairy stock needs a day.

    Numbers are floats, or arrays of one shape. ``None`` means that the edition does not tell
    the constituent. ``dm_kg`` is the dry matter that the need was tabulated at, which is energy
    over the density of an assumed diet and no appetite. ``flags`` says in words where a value
    lies outside the printed range.
    """

    evidence: str
    dm_kg: Numeric
    tdn_kg: Numeric
    me_mcal: Numeric
    de_mcal: Numeric | None
    cp_g: Numeric
    ca_g: Numeric | None
    p_g: Numeric | None
    vitamin_a_iu: Numeric | None = None
    vitamin_d_iu: Numeric | None = None
    vitamin_e_iu: Numeric | None = None
    flags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HorseNeed:
    """What one horse needs a day; numbers are floats, or arrays of one shape.

    Units are in the names: Mcal of digestible energy, g, mg, IU. ``dm_kg`` is the dry matter
    of the edition's fixed share of body weight, at which trace elements are told.
    """

    evidence: str
    dm_kg: Numeric
    de_mcal: Numeric
    cp_g: Numeric
    lysine_g: Numeric
    ca_g: Numeric
    p_g: Numeric
    mg_g: Numeric
    k_g: Numeric
    na_g: Numeric
    cl_g: Numeric
    s_g: Numeric
    cu_mg: Numeric
    zn_mg: Numeric
    mn_mg: Numeric
    fe_mg: Numeric
    se_mg: Numeric
    i_mg: Numeric
    co_mg: Numeric
    vitamin_a_iu: Numeric
    vitamin_d_iu: Numeric
    vitamin_e_iu: Numeric
    flags: tuple[str, ...] = ()


#: In which currency a species counts energy: net energy, or total digestible nutrients,
#: metabolizable energy, digestible energy.
EnergyBasis = Literal["ne", "tdn", "me", "de"]

#: Owed energy from which a storm is spoken of, in days of maintenance: common practice.
TOLD_FROM_DAYS: Final = 1.0
STORM_SOURCE: Final = "common practice; Oklahoma State Univ. (Selk) on cattle with a wet coat"


def _nothing() -> Mapping[str, FloatArray]:
    return MappingProxyType({})


@dataclass(frozen=True, slots=True, repr=False)
class NeedSeries(Tabular):
    """What one head of a group needs on each of T days; every array has shape (T,).

    Weights are without the conceptus. ``nem_mcal`` is the sum of maintenance, lactation,
    pregnancy, cold and condition; ``retained_energy_mcal`` is the net energy for gain, which
    never adds to it. ``intake_rule`` and ``intake_factor`` are those of ``intake.appetite_kg``.
    Values stand also for days on which the group is not ``present``.

    A species that does not count in net energy fills ``nem_mcal`` and its parts with NaN, says
    so in ``energy_basis``, and gives ``energy_mcal`` (of ``me`` or ``de``) and ``tdn_kg``; its
    appetite is ``dry_matter_kg``. ``more`` holds further constituents by name with unit
    (``mg_g``, ``cu_mg``, ``salt_g``, ``vitamin_a_iu``, ``water_l`` ...), ``least`` and ``most``
    the bounds on the whole diet (``cu_ppm``, ``s_pct``, ``forage_pct_bw``, ``nsc_pct`` ...).
    ``evidence`` says of each constituent how its value is known, see ``evidence``.
    """

    stage: tuple[str, ...]
    present: BoolArray
    shrunk_weight_kg: FloatArray
    full_weight_kg: FloatArray
    milk_kg: FloatArray
    nem_maintenance_mcal: FloatArray
    nem_lactation_mcal: FloatArray
    nem_pregnancy_mcal: FloatArray
    nem_mcal: FloatArray
    gain_kg: FloatArray
    retained_energy_mcal: FloatArray
    mp_g: FloatArray
    cp_kg: FloatArray
    ca_kg: FloatArray
    p_kg: FloatArray
    intake_rule: tuple[str, ...]
    intake_factor: FloatArray
    pregnant: BoolArray
    lactating: BoolArray
    assumptions: tuple[Assumption, ...]
    energy_basis: EnergyBasis = "ne"
    nem_cold_mcal: FloatArray | None = None
    nem_condition_mcal: FloatArray | None = None
    energy_mcal: FloatArray | None = None
    tdn_kg: FloatArray | None = None
    dry_matter_kg: FloatArray | None = None
    pregnant_share: FloatArray | None = None
    nursing_share: FloatArray | None = None
    more: Mapping[str, FloatArray] = field(default_factory=_nothing)
    least: Mapping[str, FloatArray] = field(default_factory=_nothing)
    most: Mapping[str, FloatArray] = field(default_factory=_nothing)
    evidence: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def _facts(self) -> tuple[tuple[str, str], ...]:
        first, last = (self.stage[0], self.stage[-1]) if self.stage else ("", "")
        return (("", counted(len(self.stage), "day")), ("from", first), ("to", last))

    def _parts(self) -> dict[str, Sequence[object] | Table]:
        return {"needs": self._by_day(), "assumptions": self.assumptions}

    def _by_day(self) -> Table:
        """Return one row for each day, also of constituents that only some species have."""
        columns = Table(stage=np.array(self.stage, dtype=np.str_))
        for one in fields(self):
            value = getattr(self, one.name)
            if isinstance(value, np.ndarray):
                columns[one.name] = value
        return Table({**columns, **self.more})

    def constituent(self, name: str) -> FloatArray | None:
        """Return a need by its name with unit, or ``None`` where the species tells none."""
        values: FloatArray | None = getattr(self, name, None)
        return self.more.get(name) if values is None else values


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the days asked for are like, beside the group itself.

    ``calibrated`` says whether stock eats what was measured rather than what the equations say.
    ``previous_month_temperature_c`` is the mean of the month before each day, shape (T,) or ();
    ``acclimatise`` takes it from ``weather`` instead. ``weighed_on`` is the day of the group's
    weight, by default the first day asked for. ``weather`` reaches over all days from the
    weighing on, and two months back where it is to acclimatise.
    """

    calibrated: bool = True
    previous_month_temperature_c: ArrayLike | None = None
    weighed_on: date | None = None
    weather: DailyWeather | None = None
    acclimatise: bool = False
    cold_rule: ColdRule = ColdRule.NONE
    wind_chill: WindChill = WindChill.CATTLE
    intake_by_weather: bool = False
    maintenance_by_condition: bool = False


def storm_cautions(group: Group, daily: NeedSeries) -> tuple[Caution, ...]:
    """Return a caution where cold takes more from a group than can be fed in time.

    Source: common practice; Selk, Oklahoma State Univ.

    Parameters
    ----------
    group : Group
        The group.
    daily : NeedSeries
        Its needs by day, told under a rule of cold.

    Returns
    -------
    tuple of Caution
        One where more than a day of maintenance stays owed, else none.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass
    >>> from rickyard.stock.herd.herd import group_needs
    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> storm_cautions(bulls, group_needs(bulls, [date(2027, 1, 1)]))
    ()
    """
    owed = daily.more.get("cold_owed_mcal")
    if owed is None:
        return ()
    late = daily.present & (owed > TOLD_FROM_DAYS * daily.nem_maintenance_mcal)
    days = int(np.count_nonzero(late))
    if days == 0:
        return ()
    most = float(owed[late].max())
    sentence = (
        f"Cold takes more out of {group.name} than can be fed back in time: on {days} "
        f"day{'' if days == 1 else 's'} this season they fall up to {most:.0f} Mcal a head behind, "
        "which comes off body condition. Wind shelter, dry bedding and clean coats help more than "
        "feed; call your veterinarian if they shiver or go down."
    )
    return (Caution("warning", group.group_id, sentence, STORM_SOURCE),)


_BY_MIDDLE = ("stage", "intake_rule")
_BY_ANY = ("present", "pregnant", "lactating")


def period_means(series: NeedSeries, lengths: Sequence[int]) -> NeedSeries:
    """Return needs per head and day, each the mean over the days of a period.

    Parameters
    ----------
    series : NeedSeries
        Needs on days in a row.
    lengths : sequence of int
        Days of each period; they add up to the days of the series. Each has one, and they cover the
        days exactly. [d]

    Returns
    -------
    NeedSeries
        One entry for each period. The stage and the rule of intake are those of its middle day;
        it counts as pregnant, nursing or present if any of its days does.

    Examples
    --------
    >>> from datetime import date, timedelta
    >>> from rickyard.farm import AnimalClass, Group
    >>> from rickyard.stock.herd.herd import group_needs
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> daily = group_needs(cows, [date(2027, 3, 1) + timedelta(days=one) for one in range(14)])
    >>> weekly = period_means(daily, [7, 7])
    >>> bool(np.isclose(7.0 * weekly.nem_mcal.sum(), daily.nem_mcal.sum()))
    True
    """
    counts = np.asarray(lengths, dtype=np.int64)
    if np.any(counts < 1) or counts.sum() != len(series.stage):
        raise OutOfRange("Periods must cover the days of a series exactly.")
    starts = np.concatenate(([0], np.cumsum(counts)[:-1]))
    changed: dict[str, Any] = {}
    for entry in fields(NeedSeries):
        value = getattr(series, entry.name)
        if entry.name in _BY_MIDDLE:
            changed[entry.name] = tuple(value[at] for at in (starts + counts // 2).tolist())
        elif entry.name in _BY_ANY:
            changed[entry.name] = np.logical_or.reduceat(value, starts)
        elif isinstance(value, np.ndarray):
            changed[entry.name] = _means(value, starts, counts)
        elif isinstance(value, Mapping) and entry.name != "evidence":
            changed[entry.name] = MappingProxyType(
                {name: _means(values, starts, counts) for name, values in value.items()}
            )
    return replace(series, **changed)


def _means(values: FloatArray, starts: IntArray, counts: IntArray) -> FloatArray:
    return np.asarray(np.add.reduceat(values, starts) / counts, dtype=np.float64)
