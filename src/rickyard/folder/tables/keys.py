"""The keys of ``farm.toml``, as data."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from rickyard.farm import ColdRule, WindChill, Winter
from rickyard.folder.tables import limits, limits_season
from rickyard.folder.tables.columns import Column, day, number, quantity, whole

FORMAT: Final = 1  # of the folder; a later, different one gets the next number
SEASON: Final = "season"


class Units(StrEnum):
    """The units that pages and sheets are written in."""

    US = "us"
    METRIC = "metric"


#: The keys above ``[season]``.
FARM_KEYS: Final = (
    Column("name", "name", "text", "what the farm is called", required=True, blank=""),
    Column("place", "place", "text", "where it is", blank=""),
    Column(
        "units", "units", "word", "units of pages and sheets", words=Units, blank=Units.US.value
    ),
    Column("note", "note", "text", "anything else", blank=""),
    Column(
        "country",
        "country",
        "text",
        "two letters of the country, with its state or province where holidays differ: US-KY",
        blank="",
    ),
    Column(
        "format",
        "format",
        "whole",
        "number of this way of writing a farm folder",
        limit=limits.ColumnLimit(1.0, 1e6, limits.BY_DEFINITION),
        blank=FORMAT,
    ),
)

#: The keys under ``[season]``.
SEASON_KEYS: Final = (
    Column("start", "start", "date", "first day fed", required=True),
    Column("end", "end", "date", "first day no longer fed", required=True),
    Column(
        "period_days",
        "period_days",
        "whole",
        "length of a planning period",
        limit=limits.PERIOD,
        blank=7,
    ),
    quantity(
        "rainfall",
        "rainfall_mm_per_year",
        "length",
        "rain and snow of a usual year; it decides the loss of hay outside",
        limits.RAIN_YEAR,
        field_unit="mm",
        tail="_per_year",
    ),
    Column(
        "carry_over_value_pct",
        "carry_over_value_pct",
        "number",
        "what hay left over is worth, percent of its value now",
        limit=limits.CARRY_OVER,
        blank=100.0,
    ),
    Column(
        "least_forage_pct_bw",
        "least_forage_pct_bw",
        "number",
        "least forage dry matter for every group, percent of live weight",
        limit=limits.FORAGE_SHARE,
    ),
    Column(
        "intake_calibrated",
        "intake_calibrated",
        "flag",
        "whether intake is adjusted to what cows eat of hay",
        blank=True,
    ),
    Column(
        "acclimatise",
        "acclimatise",
        "flag",
        "whether maintenance follows last month's temperature",
        blank=False,
    ),
    Column(
        "cold_rule",
        "cold_rule",
        "word",
        "how days of cold in weather.csv are turned into feed; percent not beside acclimatise",
        words=ColdRule,
        blank=ColdRule.NONE,
    ),
    Column(
        "wind_chill",
        "wind_chill",
        "word",
        "chart by which wind makes the air colder, for cold_rule percent",
        words=WindChill,
        blank=WindChill.CATTLE,
    ),
    Column(
        "winter",
        "winter",
        "word",
        "the winter to plan for, built from weather.csv",
        words=Winter,
        blank=Winter.AS_GIVEN,
    ),
    Column(
        "intake_by_weather",
        "intake_by_weather",
        "flag",
        "whether appetite follows temperature and mud",
        blank=False,
    ),
    Column(
        "maintenance_by_condition",
        "maintenance_by_condition",
        "flag",
        "whether thin cattle need less to live and fat cattle more",
        blank=False,
    ),
    Column(
        "least_ca_to_p",
        "least_ca_to_p",
        "number",
        "least calcium for each part of phosphorus in a diet",
        limit=limits.RATIO,
    ),
    Column(
        "simpler_for_pct",
        "simpler_for_pct",
        "number",
        "how much dearer than the cheapest the program may be to be easier to follow, percent",
        limit=limits.SIMPLER,
        blank=0.0,
    ),
    Column(
        "weighed_on",
        "weighed_on",
        "date",
        "day of the weights and ages of all groups, if earlier than the start",
    ),
    Column(
        "intake_pct",
        "intake_pct",
        "number",
        "what stock eat, percent of what the equations expect",
        limit=limits_season.INTAKE,
        blank=100.0,
    ),
    whole(
        "hays_at_once",
        "most hays a group is fed in a period; left out is no limit",
        limits_season.HAYS_AT_ONCE,
    ),
    whole("least_run_days", "days for which a hay once begun is fed at least", limits_season.RUN),
    Column(
        "change_usd",
        "change_usd",
        "number",
        "what it costs a group to begin another hay after its first, in dollars",
        limit=limits_season.CHANGE,
        blank=0.0,
    ),
    Column(
        "least_serving_pct_bw",
        "least_serving_pct_bw",
        "number",
        "least dry matter in a day of a hay in use, percent of live weight",
        limit=limits_season.SERVING,
        blank=0.25,
    ),
    number("reserve_days", "days of hay to be left at the end", limits_season.RESERVE),
    number(
        "cash_limit_usd",
        "most dollars spent on feed beyond those got for hay sold",
        limits_season.CASH,
    ),
    number(
        "assurance_pct",
        "chance that each group's protein and energy are enough, as far as lots are not "
        "known exactly; left out counts on the means",
        limits_season.ASSURANCE,
    ),
    number(
        "water_sulfate_ppm",
        "sulfate in the water they drink, milligrams in a litre",
        limits_season.SULFATE,
    ),
    day("winter_known_on", "day on which it is known whether the winter is mild, normal or severe"),
    Column(
        "mild_chance_pct",
        "mild_chance_pct",
        "number",
        "chance of a mild winter, for winter_known_on",
        limit=limits_season.CHANCE,
        blank=25.0,
    ),
    Column(
        "severe_chance_pct",
        "severe_chance_pct",
        "number",
        "chance of a severe winter, for winter_known_on",
        limit=limits_season.CHANCE,
        blank=25.0,
    ),
    Column(
        "late_price_pct",
        "late_price_pct",
        "number",
        "how much more feed costs from winter_known_on, percent",
        limit=limits_season.LATE_PRICE,
        blank=0.0,
    ),
)


def headers_of(columns: tuple[Column, ...]) -> dict[str, tuple[Column, str]]:
    """Return the column and unit that each key of a section names."""
    headers: dict[str, tuple[Column, str]] = {}
    for column in columns:
        for unit in column.common_units() if column.dimension else ("",):
            headers[column.header(unit)] = (column, unit)
    return headers
