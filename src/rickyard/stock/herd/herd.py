"""A group of any species through the season: what one head of it needs on each day."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from math import isnan
from types import MappingProxyType
from typing import Final

from numpy.typing import ArrayLike

from rickyard.animals import CLASSES, YOUNG_BULL_KNOWN, Stock
from rickyard.farm import AnimalClass, ColdRule, Group, WindChill
from rickyard.quantities import OutOfRange
from rickyard.stock.beef import beef_needs
from rickyard.stock.camelids import camelid_needs
from rickyard.stock.common import Asked, Conditions, DailyWeather, NeedSeries
from rickyard.stock.dairy import dairy_needs
from rickyard.stock.fill import LATE_DAYS, fill_rule
from rickyard.stock.goats import KIDDING, goat_needs
from rickyard.stock.horses import horse_needs
from rickyard.stock.sheep import LAMBING, YOUNG_PER_EWE, sheep_needs

#: How births are counted where the last weeks before them leave less room for forage.
BIRTHS: Final = MappingProxyType({Stock.SHEEP: LAMBING, Stock.GOATS: KIDDING})

#: Which engine tells the needs of which kind of stock. To add one, write its engine, give it a row
#: here and its classes rows in ``animals``.
ENGINES: Final[Mapping[Stock, Callable[[Asked], NeedSeries]]] = MappingProxyType(
    {
        Stock.BEEF: beef_needs,
        Stock.SHEEP: sheep_needs,
        Stock.GOATS: goat_needs,
        Stock.HORSES: horse_needs,
        Stock.DAIRY: dairy_needs,
        Stock.CAMELIDS: camelid_needs,
    }
)


def missing_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group that its class needs and that are not given.

    >>> missing_inputs(Group("g1", "Steers", AnimalClass.STOCKER, head=40, weight_kg=250.0))
    ('finish_weight_kg', 'age_months', 'gain_kg_per_day')
    """
    kind, facts = group.animal_class, CLASSES[group.animal_class]
    given = {one.name for one in fields(group) if getattr(group, one.name) is not None}
    paced, half = "gain_kg_per_day" in given, "target_weight_kg" in given
    parts = facts.known
    if kind is AnimalClass.BULL and (paced or half):
        parts = YOUNG_BULL_KNOWN
    missing = []
    for ways in parts:
        if not any(given.issuperset(way) for way in ways):
            begun = next((way for way in ways if way[0] in given), ways[0])
            missing += [name for name in begun if name not in given]
    by_target = facts.stock in (Stock.BEEF, Stock.GOATS) and kind is not AnimalClass.COW
    if by_target and half and not paced and "target_on" not in {*given, *missing}:
        missing.append("target_on")
    return tuple(missing)


def group_needs(
    group: Group,
    days: Sequence[date],
    *,
    calibrated: bool = True,
    previous_month_temperature_c: ArrayLike | None = None,
    weighed_on: date | None = None,
    weather: DailyWeather | None = None,
    acclimatise: bool = False,
    cold_rule: ColdRule = ColdRule.NONE,
    wind_chill: WindChill = WindChill.CATTLE,
    intake_by_weather: bool = False,
    maintenance_by_condition: bool = False,
) -> NeedSeries:
    """Return what one head of a group needs on each day.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    group : Group
        The group. Its weight and age are those of ``weighed_on``.
    days : sequence of date, length T
        The days asked for.
    calibrated : bool
        Whether cows eat what was measured rather than what the equations say. On to ask whether
        the hay lasts, off for tables of diet density.
    previous_month_temperature_c : array, shape (T,) or (), optional
        Mean temperature of the month before each day. When ``None``, weather is without
        effect. [degC]
    weighed_on : date, optional
        The day of the group's weight, by default the first of ``days``; never before the group
        comes (``from_on``).
    weather : DailyWeather, optional
        The weather of every day from the weighing on, see ``weather.weather_of``.
    acclimatise : bool
        Whether maintenance follows the month before by ``weather``, which must then reach two
        months back.
    cold_rule : ColdRule
        How days of cold are counted; the percent rule never beside acclimatisation.
    wind_chill : WindChill
        The chart of the percent rule.
    intake_by_weather : bool
        Whether appetite follows the temperature of the day.
    maintenance_by_condition : bool
        Whether the condition score changes maintenance.

    Returns
    -------
    NeedSeries
        Needs per head and day.

    Raises
    ------
    OutOfRange
        If the class needs a value that the group does not give (see ``missing_inputs``), a
        wanted gain is negative, a weight lies outside what the equations cover, no day is
        asked for, or the cold would be counted twice; the message names the group.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    >>> needs = group_needs(cows, [date(2027, 1, 1), date(2027, 4, 1)])
    >>> needs.stage
    ('pregnant, 59 days to calving', 'nursing, week 5')
    >>> needs.nem_mcal.round(1).tolist()
    [11.7, 16.1]
    """
    conditions = Conditions(
        calibrated=calibrated,
        previous_month_temperature_c=previous_month_temperature_c,
        weighed_on=weighed_on,
        weather=weather,
        acclimatise=acclimatise,
        cold_rule=cold_rule,
        wind_chill=wind_chill,
        intake_by_weather=intake_by_weather,
        maintenance_by_condition=maintenance_by_condition,
    )
    return needs_in(group, days, conditions)


def needs_in(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what ``group_needs`` does, what the days are like being told together.

    Parameters
    ----------
    group : Group
        The group.
    days : sequence of date
        The days asked for.
    conditions : Conditions
        What they are like.

    Returns
    -------
    NeedSeries
        Needs per head and day.
    """
    missing = missing_inputs(group)
    if missing:
        raise OutOfRange(
            f"{group.name}: the needs cannot be worked out without {', '.join(missing)}."
        )
    if not days:
        raise OutOfRange("Needs are for at least one day.")
    _refuse_nan(group)
    try:
        asked = Asked.of(group, days, conditions)
        series = ENGINES[CLASSES[group.animal_class].stock](asked)
        return series if CLASSES[group.animal_class].stock is Stock.BEEF else _filled(asked, series)
    except OutOfRange as problem:
        named = str(problem).startswith(group.name)
        raise OutOfRange(str(problem) if named else f"{group.name}: {problem}") from problem


def _filled(asked: Asked, series: NeedSeries) -> NeedSeries:
    """Return needs with the rule by which forage fills the animals on each day."""
    group, births = asked.group, BIRTHS.get(CLASSES[asked.group.animal_class].stock)
    late = [False] * len(asked.days)
    if births is not None and asked.dated:
        to_birth = asked.year(births, spread=False).days_to_birth[0]
        late = ((to_birth >= 0.0) & (to_birth <= LATE_DAYS)).tolist()
    young = YOUNG_PER_EWE if group.young is None else group.young
    rules = tuple(
        fill_rule(group.animal_class, nursing=nursing, late=last, young=young)
        for nursing, last in zip(series.lactating.tolist(), late, strict=True)
    )
    return replace(series, intake_rule=rules)


def _refuse_nan(group: Group) -> None:
    """Refuse a group with a NaN in it: among needs NaN means that nothing is constrained."""
    for one in fields(group):
        value = getattr(group, one.name)
        if isinstance(value, float) and isnan(value):
            raise OutOfRange(
                f"{group.name}: {one.name} is not a number. Leave it out (None) where it is not "
                "known."
            )
