"""The demonstration farm, and the same farm made short."""

from __future__ import annotations

from dataclasses import replace
from importlib.resources import as_file, files

from rickyard.farm import Farm, FeedKind
from rickyard.folder.io.read import read_folder
from rickyard.program.result.options import PlanOptions

#: A search long enough to keep the rules, and no longer.
SHORT = PlanOptions(effort=0.2, weekly=True)


def shipped_farm(period_days: int = 28) -> Farm:
    """Return the demonstration farm with all its rules, by four weeks: a quarter of the work."""
    with as_file(files("rickyard") / "demo_farm") as folder:
        farm = read_folder(folder).farm
    return replace(farm, season=replace(farm.season, period_days=period_days))


def demo_farm(simpler_for_pct: float, period_days: int = 28) -> Farm:
    """Return the demonstration farm as a linear program: no rule about hays, load, sale or wish."""
    farm = shipped_farm(period_days)
    season = replace(
        farm.season,
        simpler_for_pct=simpler_for_pct,
        hays_at_once=None,
        least_run_days=None,
        change_usd=0.0,
        reserve_days=None,
    )
    return replace(
        farm,
        season=season,
        lots=tuple(replace(one, sale_usd_per_kg=None) for one in farm.lots),
        groups=tuple(replace(one, hays_at_once=None, feed_every_days=None) for one in farm.groups),
        feeds=tuple(
            replace(one, load_kg=None) for one in farm.feeds if one.kind is not FeedKind.GRAZING
        ),
        wishes=(),
    )


def farm_fed_corn() -> Farm:
    """Return the demonstration farm without distillers grains to be had: corn is stepped up."""
    farm = shipped_farm()
    return replace(farm, feeds=tuple(one for one in farm.feeds if one.feed_id != "ddgs"))
