"""Who may eat which lot or feed, when, how much of it, and what of it is wasted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import GOATS, SMALL_RUMINANTS
from rickyard.farm import Assumption, Caution, Farm, Feed, Feeder, FeedKind, Group, Package, Storage
from rickyard.hay.feeding import (
    PlannedLoss,
    group_loss,
    package_of_bales,
    usual_feeder,
    wants_net,
)
from rickyard.program.inputs.class_limits import mineral_kg
from rickyard.program.inputs.grazing import TRAMPLED_PCT
from rickyard.program.inputs.needs import NeedTable
from rickyard.program.inputs.said import assumed, cautioned
from rickyard.program.result import Period, SourceValues
from rickyard.quantities import OutOfRange, is_some
from rickyard.safety import Binding, Rule, amount_of
from rickyard.types import BoolArray, FloatArray

#: Most starch grain with hay, percent of body weight a day.
MOST_GRAIN_PCT_BW: Final = amount_of("grain-diet")

#: Most of a free-choice mineral, kg as fed per head and day: 4 oz (Clemson BC-3001).
MOST_MINERAL_KG: Final = 0.113398

#: Demands that say what one head may have of a mineral.
MINERAL_DEMANDS: Final = ("written", "a_head")

#: Groups that a sentence names; more are counted.
MOST_NAMES: Final = 3

#: A smaller share than this of what stock would take of a mineral is none. Common practice.
LEAST_SHARE_OFFERED: Final = 0.001


def feeding_losses(farm: Farm) -> tuple[FloatArray, list[Assumption]]:
    """Return what each group wastes of each source, and what was assumed.

    Parameters
    ----------
    farm : Farm
        Its groups, lots and feeds are read.

    Returns
    -------
    tuple of (array, list of Assumption)
        Share of what is offered, shape (groups, sources), lots first. [-]
    """
    lots = len(farm.lots)
    loss = np.zeros((len(farm.groups), lots + len(farm.feeds)))
    notes: list[Assumption] = []
    packages = {lot.package for lot in farm.lots} | {
        package_of_bales(feed.bale_weight_kg)
        for feed in farm.feeds
        if feed.kind is FeedKind.FORAGE and feed.feeding_loss_pct is None
    }
    for g, group in enumerate(farm.groups):
        for i, lot in enumerate(farm.lots):
            loss[g, i] = _hay_loss_pct(group, lot.package, lot.storage) / 100.0
        for i, feed in enumerate(farm.feeds, start=lots):
            loss[g, i] = _feed_loss_pct(group, feed) / 100.0
    notes += _loss_notes(farm, sorted(packages))
    in_troughs = [
        feed for feed in farm.feeds if feed.kind not in (FeedKind.FORAGE, FeedKind.GRAZING)
    ]
    if any(feed.feeding_loss_pct is None for feed in in_troughs):
        notes.append(assumed("in_troughs"))
    return loss, notes


def _loss_notes(farm: Farm, packages: Sequence[Package]) -> list[Assumption]:
    """Say who is taken to waste how much of each package of hay, and by which source."""
    alike: dict[tuple[bool, str, Package, PlannedLoss], list[str]] = {}
    for group in farm.groups:
        if group.feeding_loss_pct is not None:
            continue
        for package in packages:
            feeder = group.feeder or usual_feeder(group.animal_class, package)
            loss = group_loss(group, package)
            named = group.feeder is not None
            offered = "no feeder" if feeder is Feeder.NONE else feeder.value.replace("_", " ")
            if wants_net(group, package):
                named, offered = True, "a net, as its caution asks"
            alike.setdefault((named, offered, package, loss), []).append(group.name)
    notes = []
    for (named, offered, package, loss), names in alike.items():
        said = assumed(
            "feeding_loss" if named else "no_feeder",
            group=", ".join(names) if len(names) <= MOST_NAMES else f"{len(names)} groups",
            feeder=offered,
            package=package.value.replace("_", " "),
            loss=loss.pct,
        )
        notes.append(replace(said, source=loss.source))
    return notes


def _feed_loss_pct(group: Group, feed: Feed) -> float:
    if feed.feeding_loss_pct is not None:
        return feed.feeding_loss_pct
    if feed.kind is FeedKind.GRAZING:
        return TRAMPLED_PCT
    if feed.kind is not FeedKind.FORAGE:
        return 0.0
    return _hay_loss_pct(group, package_of_bales(feed.bale_weight_kg))


def _hay_loss_pct(group: Group, package: Package, storage: Storage | None = None) -> float:
    if group.feeding_loss_pct is not None:
        return group.feeding_loss_pct
    return group_loss(group, package, storage).pct


def shares_and_allowed(
    farm: Farm, needs: NeedTable, bound: Sequence[Binding]
) -> tuple[FloatArray, BoolArray]:
    """Return shares of the ration and who may eat what, from rules of safety and dates; (g, i, t).

    Parameters
    ----------
    farm : Farm
        The dates of its lots and feeds are read.
    needs : NeedTable
        Weights and periods.
    bound : sequence of Binding
        The rules of safety that bind on the farm.
    """
    sources = [lot.lot_id for lot in farm.lots] + [feed.feed_id for feed in farm.feeds]
    shape = (len(farm.groups), len(sources), len(needs.periods))
    share = np.ones(shape)
    allowed = np.ones(shape, dtype=bool)
    for i, lot in enumerate(farm.lots):
        last = None if lot.feed_by is None else lot.feed_by + timedelta(days=1)
        allowed[:, i, :] &= _in_time(lot.feed_from, last, needs.periods)
    for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
        allowed[:, i, :] &= _in_time(feed.from_on, feed.to_on, needs.periods)
    group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
    source_at = {source_id: i for i, source_id in enumerate(sources)}
    for one in bound:
        if one.rule.demand not in ("none", "share"):
            continue
        g, i = group_at[one.group_id], source_at[one.source_id]
        held = np.array([one.holds(span.start, span.days) for span in needs.periods], dtype=bool)
        share[g, i, held] = np.minimum(share[g, i, held], one.rule.most_share)
    return share, allowed & is_some(share)


def _in_time(first: date | None, end: date | None, periods: Sequence[Period]) -> BoolArray:
    """Return the periods that lie whole from ``first`` until the day before ``end``."""
    return np.array(
        [
            (first is None or period.start >= first)
            and (end is None or period.start + timedelta(days=period.days) <= end)
            for period in periods
        ],
        dtype=bool,
    )


def least_on_offer(
    farm: Farm,
    values: Sequence[SourceValues],
    needs: NeedTable,
    due: FloatArray,
    most_buy_kg_dm: FloatArray,
) -> tuple[FloatArray, list[Caution]]:
    """Return what each head takes of a mineral on offer, kg DM; nothing where needs are stated.

    ``due`` is what has to be offered in each period for one kilogram a head and day. Where less
    can be bought than all of them take, every head gets its even share, and a caution says so.
    Raises ``OutOfRange`` if a feed that is no mineral should always be on offer.
    """
    least = np.zeros((len(farm.groups), len(values), len(needs.periods)))
    scarce = []
    for number, feed in enumerate(farm.feeds):
        if feed.least_kg_per_head_day is None:
            continue
        if feed.kind is not FeedKind.MINERAL:
            raise OutOfRange(
                f"{feed.name} is no mineral, so it has no least_kg_per_head_day: a feed is begun "
                "slowly. Wish for an amount of it instead."
            )
        i = len(farm.lots) + number
        _refuse_meal(feed, values[i])
        each = [mineral_kg(group, feed.least_kg_per_head_day) for group in farm.groups]
        taken = np.array(each)[:, None] * values[i].dm_pct / 100.0
        rich = copper_bound(farm.groups, values[i])
        if any(rich):
            names = ", ".join(one.name for one, held in zip(farm.groups, rich, strict=True) if held)
            ppm = feed.copper_ppm or 0.0
            scarce.append(
                cautioned("copper_on_offer", feed.feed_id, feed=feed.name, ppm=ppm, group=names)
            )
        least[:, i, :] = np.where(needs.own | np.array(rich)[:, None], 0.0, taken)
        wanted = float((least[:, i, :] * due[:, i, :]).sum())
        if wanted <= most_buy_kg_dm[number]:
            continue
        share = float(most_buy_kg_dm[number]) / wanted
        least[:, i, :] *= share if share > LEAST_SHARE_OFFERED else 0.0
        scarce.append(
            cautioned("little_on_offer", feed.feed_id, feed=feed.name, share=100.0 * share)
        )
    return least, scarce


def copper_bound(groups: Sequence[Group], value: SourceValues) -> list[bool]:
    """Return which groups get a mineral only as far as the copper of their diet bears it.

    A goat mineral holds more copper than a whole diet may. Hay whose copper nobody tested does not
    thin it, so that an amount that has to be fed could leave no program at all.

    Examples
    --------
    >>> from types import SimpleNamespace
    >>> from rickyard.farm import AnimalClass
    >>> does = Group("d", "Does", AnimalClass.DOE, 9, 60.0)
    >>> cows = Group("c", "Cows", AnimalClass.COW, 9, 500.0)
    >>> copper_bound([does, cows], SimpleNamespace(copper_ppm=900.0))
    [True, False]
    """
    most = amount_of("copper-diet-goats")
    rich = value.copper_ppm is not None and value.copper_ppm > most
    return [rich and one.animal_class in GOATS for one in groups]


#: What a mineral that is always on offer holds at most: stock take it as they like, so that the
#: diet must bear it whatever else they eat. Starch: judgement, no published source. [% DM]
MOST_ON_OFFER: Final = {
    "fat_pct": (amount_of("fat-diet-oilseed"), "fat"),
    "starch_pct": (10.0, "starch"),
    "npn_cp_pct": (0.0, "protein from urea or the like"),
}


def _refuse_meal(feed: Feed, value: SourceValues) -> None:
    for name, (most, what) in MOST_ON_OFFER.items():
        held = getattr(value, name)
        if held is not None and held > most:
            raise OutOfRange(
                f"{feed.name} holds {held:g}% {what}, more than the {most:g}% of a mineral that is "
                "always on offer. Write supplement as its kind, and no least_kg_per_head_day: a "
                "feed with so much of it is begun slowly."
            )


def most_a_head(
    farm: Farm, values: Sequence[SourceValues], needs: NeedTable, bound: Sequence[Binding]
) -> FloatArray:
    """Return the most of each source per head and day, kg DM; (g, i, t)."""
    most = np.full((len(farm.groups), len(values), len(needs.periods)), np.inf)
    for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
        dm_frac = values[i].dm_pct / 100.0
        if feed.most_kg_per_head_day is not None:
            most[:, i, :] = feed.most_kg_per_head_day * dm_frac
            if feed.kind is FeedKind.GRAIN:
                small = np.array([one.animal_class in SMALL_RUMINANTS for one in farm.groups])
                usual = MOST_GRAIN_PCT_BW / 100.0 * needs.full_weight_kg
                most[small, i, :] = np.minimum(most[small, i, :], usual[small])
        elif feed.kind is FeedKind.MINERAL:
            # One who says that stock take more than is published has seen them do it.
            least = feed.least_kg_per_head_day or MOST_MINERAL_KG
            most[:, i, :] = max(MOST_MINERAL_KG, least) * dm_frac
        elif feed.kind is FeedKind.GRAIN:
            most[:, i, :] = MOST_GRAIN_PCT_BW / 100.0 * needs.full_weight_kg
    source_at = {feed.feed_id: i for i, feed in enumerate(farm.feeds, start=len(farm.lots))}
    group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
    feeds = {feed.feed_id: feed for feed in farm.feeds}
    for one in bound:
        if one.source_id not in source_at:
            continue
        g, i = group_at[one.group_id], source_at[one.source_id]
        if one.rule.demand == "pct_bw":
            # Stated or not: no one's own experience makes gossypol safe.
            by_weight = (one.rule.amount or 0.0) / 100.0 * needs.full_weight_kg[g]
            most[g, i, :] = np.minimum(most[g, i, :], by_weight)
        elif one.rule.demand in MINERAL_DEMANDS:
            kg = most_mineral_kg(one.rule, farm.groups[g], feeds[one.source_id])
            most[g, i, :] = np.minimum(most[g, i, :], kg * values[i].dm_pct / 100.0)
    return most


def most_mineral_kg(rule: Rule, group: Group, feed: Feed) -> float:
    """Return what a rule of minerals leaves one head of one.

    Parameters
    ----------
    rule : Rule
        Demands so many percent of what is written, or so many grams a head.
    group : Group
        Who eats it: of small stock an ounce counts where more is written.
    feed : Feed
        The mineral.

    Returns
    -------
    float
        As fed. [kg/d]

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> from rickyard.safety import rule_of
    >>> rams = Group("r", "Rams", AnimalClass.RAM, 2, 90.0)
    >>> mineral = Feed("m", "Mineral", FeedKind.MINERAL, 1.0, least_kg_per_head_day=0.01)
    >>> most_mineral_kg(rule_of("mineral-untold"), rams, mineral)
    0.015
    """
    amount = rule.amount or 0.0
    if rule.demand == "a_head":
        return amount / 1000.0
    return amount / 100.0 * mineral_kg(group, feed.least_kg_per_head_day or 0.0)


def whole_loads(feed: Feed) -> int | None:
    """Return how many whole loads of a feed can be bought, and ``None`` where nothing limits it.

    Examples
    --------
    >>> whole_loads(Feed("C", "Corn", FeedKind.GRAIN, 0.2, most_kg=25000.0, load_kg=10000.0))
    2
    """
    if feed.load_kg is None or feed.most_kg is None:
        return None
    # A most that is a multiple of the load, up to rounding, is that multiple.
    return int(feed.most_kg / feed.load_kg + 1e-9)
