"""Second look at the ceilings of the whole diet, cell by cell, whether or not they could bind."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from rickyard.animals import CAMELIDS, CLASSES, GOATS, HORSES, SHEEP, SMALL_RUMINANTS
from rickyard.farm import FeedKind, Group
from rickyard.forage.hazards import SULFUR_PER_SULFATE, WATER_PCT_BW_BEEF, WATER_PCT_BW_LACTATING
from rickyard.forage.values import (
    DIET_NO3N_CEILING_OTHER_PPM,
    DIET_NO3N_CEILING_PREGNANT_PPM,
)
from rickyard.program.audit.view import AuditView, Breach, at_most, compare, urea_pct
from rickyard.program.inputs import season_weather
from rickyard.program.result import GroupPeriod, SourceValues
from rickyard.quantities import is_some
from rickyard.safety import counts_as_pregnant, diet_spans, water_no3n_ppm
from rickyard.stock.sheep import safe_copper_ppm

#: The ceilings as their sources print them, each where it is used below.
GRAIN_OF_BW: Final = 0.005
MEALS: Final = 2
STARCH_OF_BW_A_MEAL: Final = 0.001
FAT_OF_DM: Final = 0.06
FAT_OF_DM_WITH_SEED: Final = 0.04
SULFUR_G_PER_KG: Final = 4.0
UREA_OF_DM: Final = 0.01
UREA_PROTEIN: Final = 2.81

#: At 40, 70 and 90 degrees Fahrenheit water is printed; without weather it is taken at 70.
_WATER_AT_F: Final = (40.0, 70.0, 90.0)

#: Whole cottonseed, of body weight for mature cattle and for all others, and of the diet.
_COTTONSEED_OF_BW: Final = (0.005, 0.0033)
_COTTONSEED_OF_DM: Final = 0.15

_SEEDS: Final = ("cottonseed", "soybean", "sunflower", "canola", "flax", "linseed", "safflower")


def ceiling_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for diets with too much grain, starch, fat, sulfur, urea or copper."""
    for group in look.farm.groups:
        for period in look.program.periods:
            cell = look.cells.get((group.group_id, period.index))
            if cell is not None:
                yield from _cell(look, group, cell)


def _cell(look: AuditView, group: Group, cell: GroupPeriod) -> Iterator[Breach]:
    where = f"period {cell.period}"
    amounts = look.eaten[group.group_id, cell.period]
    diet = [(kilograms, look.sources[one]) for one, kilograms in amounts.items()]
    yield from at_most(
        f"{group.name}, grain, {where}", _grain(look, amounts), _most_grain(look, cell)
    )
    yield from _nitrate(look, group, cell, diet)
    if group.animal_class in HORSES:
        starch = sum(kg * (one.starch_pct or 0.0) / 100.0 for kg, one in diet if not one.is_forage)
        most = MEALS * STARCH_OF_BW_A_MEAL * cell.full_weight_kg
        yield from at_most(f"{group.name}, starch, {where}", starch, most)
        return
    fat, thinned = _content(diet, "fat_pct")
    seed = any(_may_have(look, group, cell, one) for one in _oilseeds(look))
    most = (FAT_OF_DM_WITH_SEED if seed else FAT_OF_DM) * thinned
    yield from at_most(f"{group.name}, fat, {where}", fat / 100.0, most, 0.1)
    protein = sum(kg * one.cp_pct for kg, one in diet) / 100.0
    from_urea = sum(kg * (one.npn_cp_pct or 0.0) for kg, one in diet) / 100.0
    dm = sum(kg for kg, _ in diet)
    yield from at_most(f"{group.name}, npn, {where}", from_urea, protein / 3.0)
    yield from at_most(f"{group.name}, urea, {where}", from_urea / UREA_PROTEIN, UREA_OF_DM * dm)
    yield from _cottonseed(look, group, cell, dm)
    yield from _copper(group, diet, where)
    yield from _sulfur(look, group, cell, diet)
    yield from _tetany(look, group, cell, diet)
    yield from _milk_fever(look, group, cell, diet)


def _cottonseed(look: AuditView, group: Group, cell: GroupPeriod, dm: float) -> Iterator[Breach]:
    amounts = look.eaten[group.group_id, cell.period]
    of_weight = _COTTONSEED_OF_BW[0 if CLASSES[group.animal_class].grown_cattle else 1]
    for feed_id in _oilseeds(look):
        feed = look.feeds[feed_id]
        if "cottonseed" in f"{feed.table_id} {feed.name}".lower():
            what = f"{group.name}, whole cottonseed, period {cell.period}"
            amount = amounts.get(feed_id, 0.0)
            yield from at_most(what, amount, of_weight * cell.full_weight_kg)
            yield from at_most(what, amount, _COTTONSEED_OF_DM * dm)


def _content(diet: list[tuple[float, SourceValues]], name: str) -> tuple[float, float]:
    """Return a content times kilograms, and the kilograms of which it is known."""
    known = [(kg, getattr(one, name)) for kg, one in diet if getattr(one, name) is not None]
    return sum(kg * content for kg, content in known), sum(kg for kg, _ in known)


def _grain(look: AuditView, amounts: dict[str, float]) -> float:
    return sum(
        kg
        for one, kg in amounts.items()
        if one in look.feeds and look.feeds[one].kind is FeedKind.GRAIN
    )


def _most_grain(look: AuditView, cell: GroupPeriod) -> float:
    animal = look.farm.group(cell.group_id).animal_class
    meals = MEALS if animal in HORSES else 1
    if animal in HORSES or animal in SMALL_RUMINANTS:
        return meals * GRAIN_OF_BW * cell.full_weight_kg
    own = [
        (feed.most_kg_per_head_day or 0.0) * look.sources[feed.feed_id].dm_pct / 100.0
        for feed in look.farm.feeds
        if feed.kind is FeedKind.GRAIN
    ]
    return max([meals * GRAIN_OF_BW * cell.full_weight_kg, *own])


def _oilseeds(look: AuditView) -> list[str]:
    found = []
    for feed in look.farm.feeds:
        text = f"{feed.table_id} {feed.name}".lower()
        if "whole" in text and any(seed in text for seed in _SEEDS):
            found.append(feed.feed_id)
    return found


def _may_have(look: AuditView, group: Group, cell: GroupPeriod, feed_id: str) -> bool:
    barred = look.is_barred(group.group_id, feed_id, cell.period)
    kept = barred or not look.in_season(feed_id, cell.period)
    light = is_some(urea_pct(look.feeds[feed_id]))
    return not kept and not light


def _copper(group: Group, diet: list[tuple[float, SourceValues]], where: str) -> Iterator[Breach]:
    kinds = (("sheep", SHEEP), ("goat", GOATS), ("camelid", CAMELIDS))
    for kind, members in kinds:
        if group.animal_class in members:
            copper, thinned = _content(diet, "copper_ppm")
            most = safe_copper_ppm([kind]) * thinned
            yield from at_most(f"{group.name}, copper, {where}", copper, most, 10.0)


def _sulfur(
    look: AuditView, group: Group, cell: GroupPeriod, diet: list[tuple[float, SourceValues]]
) -> Iterator[Breach]:
    """Add the sulfur of feed and water; what is too much must be claimed and named."""
    pct, thinned = _content(diet, "sulfur_pct")
    total = 10.0 * pct + _water_sulfur_g(look, group, cell)
    most = SULFUR_G_PER_KG * thinned
    yield from _claimed(look, group, cell, "sulfur", (total, most))


#: Charge of one percent, and the most potassium for one of calcium and magnesium (Oetzel 1993).
_MEQ: Final = {"potassium_pct": 255.74, "ca_pct": 499.0, "magnesium_pct": 822.64}
_MOST_K: Final = 2.2


def _tetany(
    look: AuditView, group: Group, cell: GroupPeriod, diet: list[tuple[float, SourceValues]]
) -> Iterator[Breach]:
    """Weigh potassium against calcium and magnesium in the diet of cattle and ewes that nurse."""
    period = look.program.periods[cell.period]
    end = period.start + timedelta(days=period.days)
    spans = [diet_spans(one, group, look.farm) or () for one in ("tetany-diet", "tetany-diet-ewes")]
    nursing = any(first < end and period.start < last for both in spans for first, last in both)
    if not nursing:
        return
    meq = dict.fromkeys(_MEQ, 0.0)
    minerals = {one.feed_id for one in look.farm.feeds if one.kind is FeedKind.MINERAL}
    for kg, one in diet:
        if one.potassium_pct is not None or one.source_id in minerals:
            for name, charge in _MEQ.items():
                meq[name] += kg * charge * (getattr(one, name) or 0.0)
    most = _MOST_K * (meq["ca_pct"] + meq["magnesium_pct"])
    yield from _claimed(look, group, cell, "tetany", (meq["potassium_pct"], most))


#: Potassium of dairy cows in the last three weeks before calving, of the dry matter (from memory).
_MILK_FEVER_K_PCT: Final = 1.3


def _milk_fever(
    look: AuditView, group: Group, cell: GroupPeriod, diet: list[tuple[float, SourceValues]]
) -> Iterator[Breach]:
    """Weigh the potassium that is known in the diet of dairy cows before they calve."""
    period = look.program.periods[cell.period]
    end = period.start + timedelta(days=period.days)
    spans = diet_spans("milk-fever-diet", group, look.farm) or ()
    if not any(first < end and period.start < last for first, last in spans):
        return
    pct, thinned = _content(diet, "potassium_pct")
    total, most = 10.0 * pct, 10.0 * _MILK_FEVER_K_PCT * thinned
    yield from _claimed(look, group, cell, "milk_fever", (total, most))


def _nitrate(
    look: AuditView, group: Group, cell: GroupPeriod, diet: list[tuple[float, SourceValues]]
) -> Iterator[Breach]:
    """Add the nitrate of feed and of water that was tested."""
    ppm = water_no3n_ppm(look.farm)
    if ppm is None:
        return
    fed, _ = _content(diet, "nitrate_no3n_ppm")
    total = fed + _litres(look, group, cell) * ppm
    pregnant = bool(look.series(group).pregnant.any()) or counts_as_pregnant(group, look.farm)
    ceiling = DIET_NO3N_CEILING_PREGNANT_PPM if pregnant else DIET_NO3N_CEILING_OTHER_PPM
    if is_some(total):
        most = ceiling * sum(kg for kg, _ in diet)
        yield from _claimed(look, group, cell, "nitrate", (total, most))


def _claimed(
    look: AuditView, group: Group, cell: GroupPeriod, nutrient: str, both: tuple[float, float]
) -> Iterator[Breach]:
    """Compare what there is and what there may be with what is claimed; too much is named."""
    total, most = both
    row = look.claimed.get((group.group_id, cell.period, nutrient))
    what = f"{group.name}, {nutrient}, period {cell.period}"
    if row is None:
        yield from at_most(what, total, most)
        return
    yield from compare(f"{what}, need", row.need, most, 1.0)
    yield from compare(f"{what}, supplied", row.supplied, total, 1.0)
    yield from at_most(f"{what}, too much", total - most, row.shortage, max(most, 1.0))
    named = any(
        one.group_id == group.group_id
        and one.nutrient == nutrient
        and one.start <= cell.start < one.end
        for one in look.program.shortages
    )
    if is_some(row.shortage) and not named:
        yield Breach(f"{what}, too much that is not named", 0.0, row.shortage)


def _water_sulfur_g(look: AuditView, group: Group, cell: GroupPeriod) -> float:
    sulfate = look.farm.season.water_sulfate_ppm
    if sulfate is None:
        return 0.0
    return _litres(look, group, cell) * sulfate * SULFUR_PER_SULFATE / 1000.0


def _litres(look: AuditView, group: Group, cell: GroupPeriod) -> float:
    milk = is_some(float(look.series(group).milk_kg[cell.period]))
    printed = WATER_PCT_BW_LACTATING if milk else WATER_PCT_BW_BEEF
    return _between(_air_f(look, cell.period), printed) / 100.0 * cell.full_weight_kg


def _air_f(look: AuditView, period: int) -> float:
    """Return the mean air temperature of a period, 70 where it is not known. [degF]."""
    if not look.farm.weather:
        return _WATER_AT_F[1]
    weather = season_weather(look.farm)
    one = look.program.periods[period]
    days = [(one.start + timedelta(days=day) - weather.first).days for day in range(one.days)]
    mean = sum(float(weather.temperature_c[day]) for day in days) / one.days
    return mean * 1.8 + 32.0 if mean == mean else _WATER_AT_F[1]


def _between(air_f: float, printed: tuple[float, float, float]) -> float:
    low, middle, high = printed
    cold, mild, hot = _WATER_AT_F
    if air_f <= mild:
        return low + (middle - low) * max(0.0, air_f - cold) / (mild - cold)
    return middle + (high - middle) * min(1.0, (air_f - mild) / (hot - mild))
