"""Ceilings of the whole diet: grain, starch, fat, sulfur, urea, copper, nitrate, potassium.

Each reads ``already + sum(amount x) <= most + share sum(against x)``, linear because the share of
the diet is multiplied out. Where no mix of what is allowed could break a ceiling it is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.animals import CAMELIDS, GOATS, HORSES, SHEEP, SMALL_RUMINANTS
from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT
from rickyard.farm import Assumption, Farm, Feed, FeedKind
from rickyard.forage.values import pct_to_meq_per_kg
from rickyard.program.inputs import (
    NeedTable,
    SourceTable,
    assumed,
    bound_in,
    water_no3n_mg,
    water_sulfur_g,
)
from rickyard.quantities import is_some
from rickyard.safety import amount_of
from rickyard.types import BoolArray, FloatArray

#: Starch grain of all kinds together, percent of body weight a day; of horses, a meal. For sheep,
#: goats and llamas nothing is published that is known here: as cattle, judgement.
GRAIN_PCT_BW: Final = amount_of("grain-diet")
SMALL_GRAIN_PCT_BW: Final = amount_of("grain-diet-small")
HORSE_GRAIN_PCT_BW: Final = amount_of("grain-diet-horses")

#: Starch of one meal of a horse, g per kg of body weight. Meals a day: common practice.
HORSE_STARCH_G_PER_KG_MEAL: Final = amount_of("starch-diet-horses")
HORSE_MEALS: Final = 2.0

#: Fat of the diet of ruminants, percent of dry matter: where an oilseed may be fed and otherwise.
FAT_WITH_OILSEED_PCT: Final = amount_of("fat-diet-oilseed")
FAT_PCT: Final = amount_of("fat-diet")

#: Sulfur of feed and water together, percent of dry matter.
SULFUR_PCT: Final = amount_of("sulfur-diet")

#: Non-protein nitrogen of ruminants on forage, of all nitrogen, and urea of the dry matter; urea
#: for one point of protein from it (45 % N).
NPN_OF_PROTEIN: Final = amount_of("urea-third") / 100.0
UREA_PCT: Final = amount_of("urea-one-percent")
PROTEIN_PER_UREA: Final = 2.81

#: The rules that hold potassium to calcium and magnesium.
TETANY_RULES: Final = ("tetany-diet", "tetany-diet-ewes")

#: The rule that holds potassium of dairy cows before they calve.
MILK_FEVER_RULE: Final = "milk-fever-diet"

#: A ceiling that could be passed by less than this, in its unit, is left out.
NEVER: Final = 1e-9

#: The most copper of the whole diet, by rule and the classes that it binds. [mg/kg DM]
_COPPER: Final = {
    "copper-diet-sheep": SHEEP,
    "copper-diet-goats": GOATS,
    "copper-diet-camelids": CAMELIDS,
}


@dataclass(frozen=True, slots=True)
class Ceiling:
    """One ceiling, for every group and period where it can bind.

    ``amount`` and ``against`` are per kilogram of dry matter of each source, (i,); ``share``,
    ``most`` and ``already`` are per head and day, (g, t); ``active`` says where it is needed.
    A ceiling that is ``missable`` can be broken before anything is eaten.
    """

    name: str
    amount: FloatArray
    against: FloatArray
    share: FloatArray
    most: FloatArray
    already: FloatArray
    active: BoolArray
    missable: bool = False


def ceilings_of(
    farm: Farm, needs: NeedTable, sources: SourceTable
) -> tuple[tuple[Ceiling, ...], tuple[Assumption, ...]]:
    """Return the ceilings that can bind, and what was assumed of them."""
    work = _Work(farm, needs, sources)
    found = [
        work.grain(),
        work.starch(),
        work.fat(),
        work.sulfur(),
        *work.urea(),
        work.copper(),
        work.tetany(),
        work.milk_fever(),
    ]
    kept = [one for one in (*found, work.nitrate()) if one.active.any()]
    return tuple(kept), work.assumptions(kept)


def is_oilseed(feed: Feed) -> bool:
    """Say whether a feed is a whole seed that brings its fat into the rumen.

    Examples
    --------
    >>> is_oilseed(Feed("W", "Gin run", FeedKind.SUPPLEMENT, 0.2, table_id="whole_cottonseed"))
    True
    """
    text = f"{feed.table_id} {feed.name}".lower()
    seeds = ("cottonseed", "soybean", "sunflower", "canola", "flax", "linseed", "safflower")
    return "whole" in text and any(seed in text for seed in seeds)


class _Work:
    def __init__(self, farm: Farm, needs: NeedTable, sources: SourceTable) -> None:
        self.farm, self.needs, self.sources = farm, needs, sources
        self.shape = needs.head_days.shape
        lots = sources.lot_count
        self.kinds: list[FeedKind | None] = [None] * lots + [feed.kind for feed in farm.feeds]
        classes = [group.animal_class for group in farm.groups]
        self.horses = is_some(self._rows(np.array([one in HORSES for one in classes], dtype=float)))
        small = [one in SMALL_RUMINANTS for one in classes]
        self.small = is_some(self._rows(np.array(small, dtype=float)))
        self.copper_ppm = self._rows(
            np.array(
                [
                    next(
                        (amount_of(name) for name, bound in _COPPER.items() if one in bound), np.nan
                    )
                    for one in classes
                ]
            )
        )

    def _rows(self, by_group: FloatArray) -> FloatArray:
        return np.repeat(by_group[:, None], self.shape[1], axis=1)

    def _none(self) -> FloatArray:
        return np.zeros(self.shape)

    def _counted(self, name: str) -> tuple[FloatArray, FloatArray]:
        """Return a content in percent, and which sources have one; the rest count for nothing."""
        known = [getattr(value, name) for value in self.sources.values]
        return (
            np.array([one or 0.0 for one in known]),
            np.array([float(one is not None) for one in known]),
        )

    def _ceiling(
        self,
        name: str,
        amount: FloatArray,
        against: FloatArray,
        share: FloatArray,
        most: FloatArray,
        already: FloatArray | None = None,
    ) -> Ceiling:
        """Keep a ceiling where the worst that is allowed would break it."""
        before = self._none() if already is None else already
        over = amount[None, :, None] - share[:, None, :] * against[None, :, None]
        most_kg = np.where(self.sources.allowed, self.sources.most_kg_dm, 0.0)
        with np.errstate(invalid="ignore"):
            worst = np.where(is_some(over), over, 0.0)
            worst = np.where(is_some(worst), worst * most_kg, 0.0).sum(axis=1)
        here = self.needs.here & np.isfinite(share) & np.isfinite(most)
        active = here & (before + worst > most * (1.0 + NEVER) + NEVER)
        return Ceiling(name, amount, against, share, most, before, active, already is not None)

    def grain(self) -> Ceiling:
        is_grain = np.array([float(kind is FeedKind.GRAIN) for kind in self.kinds])
        weight = self.needs.full_weight_kg
        share = np.where(self.small, SMALL_GRAIN_PCT_BW, GRAIN_PCT_BW)
        share = np.where(self.horses, HORSE_MEALS * HORSE_GRAIN_PCT_BW, share)
        # One who says that cattle are fed more of a grain than is published has seen them do it.
        own = [
            (feed.most_kg_per_head_day or 0.0) * value.dm_pct / 100.0
            for feed, value in zip(
                self.farm.feeds, self.sources.values[self.sources.lot_count :], strict=True
            )
            if feed.kind is FeedKind.GRAIN
        ]
        usual = share / 100.0 * weight
        held = [one.animal_class in HORSES | SMALL_RUMINANTS for one in self.farm.groups]
        most = np.where(np.array(held)[:, None], usual, np.maximum(usual, max(own, default=0.0)))
        return self._ceiling("grain", is_grain, np.zeros_like(is_grain), self._none(), most)

    def starch(self) -> Ceiling:
        pct, _ = self._counted("starch_pct")
        in_meals = np.array([float(not value.is_forage) for value in self.sources.values])
        a_day = HORSE_MEALS * HORSE_STARCH_G_PER_KG_MEAL / 1000.0
        most = np.where(self.horses, a_day * self.needs.full_weight_kg, np.nan)
        amount = pct / 100.0 * in_meals
        return self._ceiling("starch", amount, np.zeros_like(amount), self._none(), most)

    def fat(self) -> Ceiling:
        pct, known = self._counted("fat_pct")
        seeds = np.zeros(len(pct), dtype=bool)
        seeds[self.sources.lot_count :] = [is_oilseed(feed) for feed in self.farm.feeds]
        with_seed = self.sources.allowed[:, seeds, :].any(axis=1)
        share = np.where(with_seed, FAT_WITH_OILSEED_PCT, FAT_PCT) / 100.0
        share = np.where(self.horses, np.nan, share)
        return self._ceiling("fat", pct / 100.0, known, share, self._none())

    def sulfur(self) -> Ceiling:
        pct, known = self._counted("sulfur_pct")
        share = np.where(self.horses, np.nan, 10.0 * SULFUR_PCT)
        water, _ = water_sulfur_g(self.farm, self.needs)
        return self._ceiling("sulfur", 10.0 * pct, known, share, self._none(), water)

    def tetany(self) -> Ceiling:
        """Hold the charge of potassium to that of calcium and magnesium while young are nursed."""
        known = [one.potassium_pct is not None for one in self.sources.values]
        pct = {
            name: np.array([getattr(one, f"{name}_pct") or 0.0 for one in self.sources.values])
            for name in ("potassium", "ca", "magnesium")
        }
        charge = np.where(known, pct_to_meq_per_kg("k", pct["potassium"]), 0.0)
        against = pct_to_meq_per_kg("ca", pct["ca"]) + pct_to_meq_per_kg("mg", pct["magnesium"])
        # Hay of unknown potassium thins nothing; a mineral holds none.
        counts = np.array(known, dtype=bool) | self.sources.is_mineral
        share = np.full(self.shape, np.nan)
        for rule_id in TETANY_RULES:
            share = np.where(self._binds(rule_id), amount_of(rule_id), share)
        against = np.asarray(np.where(counts, against, 0.0))
        none = self._none()
        return self._ceiling("tetany", np.asarray(charge), against, share, none, none)

    def _binds(self, rule_id: str) -> BoolArray:
        """Return the periods of each group in which a rule of the whole diet holds."""
        return bound_in(rule_id, self.farm, self.needs.periods)

    def milk_fever(self) -> Ceiling:
        """Hold potassium to a share of the diet of dairy cows before they calve."""
        pct = [one.potassium_pct for one in self.sources.values]
        known = np.array([one is not None for one in pct], dtype=np.float64)
        amount = np.array([10.0 * (one or 0.0) for one in pct])
        binds = self._binds(MILK_FEVER_RULE)
        share = np.where(binds, 10.0 * amount_of(MILK_FEVER_RULE), np.nan)
        none = self._none()
        return self._ceiling("milk_fever", amount, known, share, none, none)

    def urea(self) -> tuple[Ceiling, Ceiling]:
        npn, _ = self._counted("npn_cp_pct")
        protein = np.array([value.cp_pct / 100.0 for value in self.sources.values])
        third = np.where(self.horses, np.nan, NPN_OF_PROTEIN)
        one_pct = np.where(self.horses, np.nan, UREA_PCT / 100.0)
        urea = npn / 100.0 / PROTEIN_PER_UREA
        return (
            self._ceiling("npn", npn / 100.0, protein, third, self._none()),
            self._ceiling("urea", urea, np.ones_like(npn), one_pct, self._none()),
        )

    def copper(self) -> Ceiling:
        ppm, known = self._counted("copper_ppm")
        return self._ceiling("copper", ppm, known, self.copper_ppm, self._none())

    def nitrate(self) -> Ceiling:
        ppm, _ = self._counted("nitrate_no3n_ppm")
        ppm = np.maximum(ppm, unknown_nitrate_ppm(self.sources))
        share = self.needs.most_nitrate_ppm
        water, _ = water_no3n_mg(self.farm, self.needs)
        return self._ceiling("nitrate", ppm, np.ones_like(ppm), share, self._none(), water)

    def assumptions(self, kept: list[Ceiling]) -> tuple[Assumption, ...]:
        """Say which ceilings hold and what stands in for what nobody measured."""
        names = {one.name for one in kept}
        notes = [Assumption(*_TOLD[name]) for name in _TOLD if name in names]
        if "sulfur" in names:
            notes += water_sulfur_g(self.farm, self.needs)[1]
        if "nitrate" in names:
            notes += water_no3n_mg(self.farm, self.needs)[1]
        notes = list(dict.fromkeys(notes))
        for name, (value_name, words) in _ASKED_FOR.items():
            if name in names:
                notes += self._unmeasured(value_name, words)
        return tuple(notes)

    def _unmeasured(self, value_name: str, words: str) -> list[Assumption]:
        fed = np.flatnonzero(self.sources.allowed.any(axis=(0, 2))).tolist()
        values = [self.sources.values[i] for i in fed if not self.sources.is_mineral[i]]
        stand_in = "typical values stand in, the highest of any hay where its own forage has none"
        if value_name == "starch_pct":  # which counts only what is fed in meals
            values = [one for one in values if not one.is_forage]
            stand_in = "as much as in corn is counted"
        book = [one.name for one in values if one.origins.get(value_name) == "book"]
        unknown = [one.name for one in values if getattr(one, value_name) is None]
        notes = []
        if book:
            notes.append(
                assumed("nobody_measured", words=words, names=_named(book), stand_in=stand_in)
            )
        if unknown:
            notes.append(assumed("unknown_in_ceiling", words=words, names=_named(unknown)))
        return notes


def unknown_nitrate_ppm(sources: SourceTable) -> FloatArray:
    """Return what counts for the nitrate of each source that may hold much and was not tested.

    Parameters
    ----------
    sources : SourceTable
        The rules that bind on them are read.

    Returns
    -------
    array, shape (sources,)
        Nothing for what was tested or cannot hold much. [ppm DM]
    """
    counted = amount_of("nitrate-counted-as")
    unknown = {
        one.source_id
        for one in sources.bound
        if one.rule.hazard == "nitrate" and one.rule.known == "unknown"
    }
    return np.array([counted * (value.source_id in unknown) for value in sources.values])


def _named(names: list[str]) -> str:
    """Name a few, and count the many."""
    if len(names) > 3:
        return f"{len(names)} lots and feeds"
    return ", ".join(names)


_ASKED_FOR: Final = {
    "starch": ("starch_pct", "starch"),
    "fat": ("fat_pct", "fat"),
    "sulfur": ("sulfur_pct", "sulfur"),
}

_TOLD: Final = {
    "grain": (
        f"All starch grain stays under {GRAIN_PCT_BW:g}% of body weight a day, for "
        f"horses in each of {HORSE_MEALS:g} meals; only cattle are fed more, up to the most a head "
        "and day that feeds.csv states of a grain.",
        f"University of Illinois Extension 2015; sheep, goats and llamas as cattle: {JUDGEMENT}; "
        f"horses: {COMMON_PRACTICE}",
    ),
    "starch": (
        f"Starch of grain and supplements stays under {HORSE_STARCH_G_PER_KG_MEAL:g} g per kg of "
        f"body weight in each of {HORSE_MEALS:g} meals a day of a horse.",
        "a feed manufacturer's technical note, the safe end; two meals: common practice",
    ),
    "fat": (
        f"Fat stays under {FAT_PCT:g}% of the dry matter of ruminants, and under "
        f"{FAT_WITH_OILSEED_PCT:g}% where they may be fed a whole oilseed.",
        "extension article on whole cottonseed in beef cattle diets; 6% from memory",
    ),
    "sulfur": (
        f"Sulfur of feed and water stays under {SULFUR_PCT:.2f}% of the dry matter.",
        "NRC, as given in Beef Magazine 2007",
    ),
    "tetany": (
        "Potassium stays under 2.2 times calcium and magnesium together, by charge, in the diet of "
        "cattle and ewes that nurse; untested cool-season grass and small grain hay counts as high "
        "in potassium.",
        "Oetzel 1993; University of Nebraska, winter tetany; ewes and the untested: judgement, no "
        "published source",
    ),
    "milk_fever": (
        f"Potassium stays under {amount_of(MILK_FEVER_RULE):g}% of the dry matter of dairy cows in "
        "the last 21 days before calving, as far as it is known; untested cool-season grass and "
        "small grain hay counts as high. No number is held for the balance of charges (DCAD).",
        "from memory: under 1.3-1.5% in the last three weeks; the untested: judgement, no "
        "published source",
    ),
    "npn": (
        "Urea and the like give no more than a third of the protein, and urea is no more than "
        f"{UREA_PCT:g}% of the dry matter of stock on forage.",
        "from memory; University of Nebraska: on forage only a small amount is useful",
    ),
    "copper": (
        "Hay rich in copper is fed to sheep, goats and llamas only with hay whose copper is known "
        "to be lower.",
        "Duncan 1997, In Practice 19:503; Berger, University of Illinois",
    ),
}
