"""What the choices under ``[season]`` must be to each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from rickyard.farm import ColdRule, Season, Winter
from rickyard.folder.tables import Fault, TableRow, limits, plain_number

_CERTAIN_PCT: Final = 100.0

#: Choices that count only where it is known from some day on which winter it is.
_OF_WINTERS: Final = ("mild_chance_pct", "severe_chance_pct", "late_price_pct")


@dataclass(frozen=True, slots=True)
class SeasonFault:
    """What is to be said of one key under ``[season]``."""

    key: str
    problem: str
    suggestion: str
    expected: str = ""


def season_faults(season: Mapping[str, Any]) -> Iterator[SeasonFault]:
    """Yield what is wrong between the choices of a season.

    Parameters
    ----------
    season : mapping of str to object
        The values that could be read, by field of ``Season``.

    Yields
    ------
    SeasonFault
        The faults.
    """
    if season.get("acclimatise") and season.get("cold_rule") is ColdRule.PERCENT:
        yield SeasonFault(
            "cold_rule",
            '"percent" and acclimatise both count the cold, and together count it twice.',
            "Leave acclimatise out for days of cold, or cold_rule out for months of cold.",
        )
    start, weighed = season.get("start"), season.get("weighed_on")
    if start is not None and weighed is not None and weighed > start:
        yield SeasonFault(
            "weighed_on",
            f'"{weighed}" is after the start, {start}.',
            "Write the day of the weights, or leave the key out for weights of the start.",
            f"{start} or earlier",
        )
    yield from _length_faults(season)
    yield from _winter_faults(season)


def _length_faults(season: Mapping[str, Any]) -> Iterator[SeasonFault]:
    start, end, period = (season.get(name) for name in ("start", "end", "period_days"))
    if start is None or end is None:
        return
    days = (end - start).days
    expected = "a later date"
    if days <= 0:
        yield SeasonFault(
            "end",
            f'"{end}" is not after the start, {start}.',
            "Write the first day no longer fed; check the year.",
            expected,
        )
    elif days > limits.LONGEST_SEASON_DAYS:
        most = limits.LONGEST_SEASON_DAYS
        yield SeasonFault(
            "end",
            f'"{end}" is {days} days after the start, and {most} is the most.',
            "Check the year, or plan one season at a time.",
            expected,
        )
    elif period is not None and days < period:
        after = "1 day" if days == 1 else f"{days} days"
        yield SeasonFault(
            "end",
            f'"{end}" is {after} after the start, less than one period of {period} days.',
            "Write a later end or a smaller period_days.",
            expected,
        )


def _winter_faults(season: Mapping[str, Any]) -> Iterator[SeasonFault]:
    known, start, end = (season.get(name) for name in ("winter_known_on", "start", "end"))
    if known and start and end and start < end and not start < known < end:
        yield SeasonFault(
            "winter_known_on",
            f'"{known}" is not inside the season, {start} to {end}.',
            "Write a day after its start and before its end; check the year.",
            "a day inside the season",
        )
    mild, severe = season.get("mild_chance_pct"), season.get("severe_chance_pct")
    if mild is not None and severe is not None and mild + severe > _CERTAIN_PCT:
        both = plain_number(round(mild + severe, 6))
        default = Season.__dataclass_fields__["severe_chance_pct"].default
        yield SeasonFault(
            "mild_chance_pct" if severe == default else "severe_chance_pct",
            f"a mild winter has {plain_number(mild)}% and a severe one {plain_number(severe)}%, "
            f"{both}% in total.",
            "Write both, so that what is left of 100 is the chance of a normal winter.",
            "at most 100% in total",
        )


def season_questions(season: Season, has_weather: bool) -> Iterator[SeasonFault]:
    """Yield what is possible in a season but worth a second look.

    Parameters
    ----------
    season : Season
        The season.
    has_weather : bool
        Whether the farm has days or normals of weather.

    Yields
    ------
    SeasonFault
        The questions.
    """
    run, period = season.least_run_days, season.period_days
    if run is not None and run < period:
        yield SeasonFault(
            "least_run_days",
            f'"{run}" is less than a period of {period} days, and no run is shorter than that.',
            "Is it written in days?",
        )
    if season.winter_known_on is None:
        for name in _OF_WINTERS:
            if getattr(season, name) != Season.__dataclass_fields__[name].default:
                yield SeasonFault(
                    name,
                    "it counts only together with winter_known_on, and that is not written.",
                    "On which day will the winter be known?",
                )
        return
    if not has_weather:
        yield SeasonFault(
            "winter_known_on",
            "mild and severe winters are built from weather.csv, and it has no rows.",
            "Is the weather still to be added? Without it all winters are the same.",
        )
    if season.winter is not Winter.AS_GIVEN:
        yield SeasonFault(
            "winter",
            f'"{season.winter.value}" is one winter to plan for, and winter_known_on is for all '
            "three.",
            "Which of the two is meant?",
        )


def outside_season(row: TableRow, season: Season, who: str) -> Iterator[Fault]:
    """Yield a question for each end of the days of a group or feed that misses the season."""
    first, last = row.get("from_on"), row.get("to_on")
    asked = f"Is the year right? {who} is not fed in this season."
    if first is not None and first >= season.end:
        yield row.fault(
            "from_on", f'"{first}" is after the season, which ends {season.end}.', asked
        )
    if last is not None and last <= season.start:
        yield row.fault(
            "to_on", f'"{last}" is before the season, which starts {season.start}.', asked
        )
