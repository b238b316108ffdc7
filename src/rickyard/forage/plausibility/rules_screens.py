"""Screens S01-S03: values and ratios that are rare or impossible for the forage.

The limits stand in the table of ``screens``, which a district may replace by its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.plausibility.rules import Cause, Level, Rule, Test, Values
from rickyard.forage.plausibility.rules_structure import PURE_LEGUMES
from rickyard.forage.plausibility.rules_units import (
    COMPOSITION,
    MAJOR_MINERAL_ABOVE_PCT,
    MAJOR_MINERALS,
    limits_of,
    would_fit_as_g_per_kg,
)
from rickyard.forage.values import (
    ReportColumns,
    Screens,
    kind_of,
    screened_values,
    shipped_screens,
    word_of,
)
from rickyard.types import BoolArray, FloatArray

#: Iron above it comes from soil, in parts per million; from memory.
SOIL_IRON_ABOVE_PPM: Final = 400.0
#: ADF to NDF between these is that of some forage, so that another forage is the likely cause;
#: the outer limits of the ratio screens; judgement, no published source.
SOME_FORAGE_ADF_TO_NDF: Final = (0.46, 0.90)
_GRASSES: Final = frozenset(Forage) - PURE_LEGUMES - {Forage.LEGUME_GRASS}
_WITH_G_PER_KG: Final = frozenset((*COMPOSITION, "ca", "p", "k", "mg"))
_RARE: Final = "It is mistyped, or the hay is unlike others of its kind."
_NOT_USUAL: Final = "Compare it with the printed report, and look whether the forage is right."


def _value(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    values = screened_values(c, quantity)
    return np.full(len(c), np.nan) if values is None else values


def _beyond(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    values, limits = _value(c, s, quantity), limits_of(c, s, quantity)
    beyond = (values < limits.hard_low) | (values > limits.hard_high)
    if quantity in _WITH_G_PER_KG:
        beyond &= ~would_fit_as_g_per_kg(c, s, quantity)
    if quantity in MAJOR_MINERALS:
        beyond &= values <= MAJOR_MINERAL_ABOVE_PCT
    return beyond


def _unusual(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    values, limits = _value(c, s, quantity), limits_of(c, s, quantity)
    below = (values < limits.low) & (values >= limits.hard_low)
    return below | ((values > limits.high) & (values <= limits.hard_high))


def _low(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    return limits_of(c, s, quantity).low


def _high(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    return limits_of(c, s, quantity).high


def _told(quantity: str) -> dict[str, Values]:
    return {
        "value": partial(_value, quantity=quantity),
        "low": partial(_low, quantity=quantity),
        "high": partial(_high, quantity=quantity),
    }


def _screen(quantity: str, rule: str, level: Level, cause: Cause, broken: Test, why: str) -> Rule:
    needs = ("dm",) if quantity == "dm_wet" else tuple(quantity.split("/"))
    if len(needs) == 2:
        what = f"has {{value:.2f}} times as much {word_of(needs[0])} as {word_of(needs[1])}"
        usual = "where {low:g}-{high:g} times are usual for {forage}"
    else:
        unit = "ppm" if kind_of(needs[0]).measure == "ppm" else "%"
        basis = "" if needs[0] == "dm" else " in the dry matter"
        gap = "" if unit.startswith("%") else " "
        what = f"gives {{value:g}}{gap}{unit} {word_of(needs[0])}{basis}"
        usual = f"where {{low:g}}-{{high:g}}{gap}{unit} are usual for {{forage}}"
    return Rule(
        rule,
        level,
        cause,
        needs,
        broken,
        f"Report {{report}} {what}, {usual}.",
        why,
        "It counts as printed until then. " + _NOT_USUAL if level == "error" else _NOT_USUAL,
        told=_told(quantity),
        yields=True,
    )  # fmt: skip


def _looks_like(c: ReportColumns, s: Screens, forages: frozenset[Forage], high: bool) -> BoolArray:
    ratio, limits = _value(c, s, "adf/ndf"), limits_of(c, s, "adf/ndf")
    low_edge, high_edge = SOME_FORAGE_ADF_TO_NDF
    some = (ratio >= low_edge) & (ratio <= high_edge)
    off = ratio > limits.high if high else ratio < limits.low
    marked: BoolArray = c.of(forages) & some & off
    return marked


def _fiber_ratio_odd(c: ReportColumns, s: Screens) -> BoolArray:
    species = _looks_like(c, s, _GRASSES, True) | _looks_like(c, s, PURE_LEGUMES, False)
    return _unusual(c, s, "adf/ndf") & ~species


def _below(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    return _value(c, s, quantity) < limits_of(c, s, quantity).low


def _above(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    return _value(c, s, quantity) > limits_of(c, s, quantity).high


def _calcium_species(c: ReportColumns, s: Screens, high: bool) -> BoolArray:
    """Mark calcium unusual for the forage but usual for legumes, or for grasses."""
    model = s.limits["ca"]
    code = list(Forage).index(Forage.ALFALFA if high else Forage.COOL_GRASS)
    usual = (c["ca"] >= model.low[code]) & (c["ca"] <= model.high[code])
    mine = c.of(_GRASSES if high else PURE_LEGUMES)
    side = _above(c, s, "ca") if high else _below(c, s, "ca")
    marked: BoolArray = mine & usual & side
    return marked


def _calcium_odd(c: ReportColumns, s: Screens) -> BoolArray:
    species = _calcium_species(c, s, True) | _calcium_species(c, s, False)
    return _unusual(c, s, "ca") & ~species


def _calcium_beyond(c: ReportColumns, s: Screens) -> BoolArray:
    return _beyond(c, s, "ca") & ~_calcium_species(c, s, True)


_LEGUME_LIKE: Final = "That is usual for a legume: the lot is probably another forage or a mixture."
_GRASS_LIKE: Final = "That is usual for a grass: the lot is probably another forage or a mixture."


def _ratio_screens() -> Iterator[Rule]:
    yield _screen(
        "adf/ndf",
        "S02",
        "warning",
        Cause.SPECIES,
        partial(_looks_like, forages=_GRASSES, high=True),
        _LEGUME_LIKE,
    )
    yield _screen(
        "adf/ndf",
        "S02",
        "warning",
        Cause.SPECIES,
        partial(_looks_like, forages=PURE_LEGUMES, high=False),
        _GRASS_LIKE,
    )
    yield _screen("adf/ndf", "S02", "warning", Cause.TYPING, _fiber_ratio_odd, _RARE)
    yield _screen(
        "lignin/ndf",
        "S02",
        "warning",
        Cause.METHOD,
        partial(_unusual, quantity="lignin/ndf"),
        "Lignin is the least repeatable of the fibers: another method, or mistyped.",
    )
    yield _screen(
        "adicp/cp",
        "S02",
        "warning",
        Cause.HEAT,
        partial(_above, quantity="adicp/cp"),
        "The hay has probably heated, or the bound protein is in another unit.",
    )
    yield _screen(
        "adicp/cp",
        "S02",
        "warning",
        Cause.NITROGEN,
        partial(_below, quantity="adicp/cp"),
        "The bound protein is probably given as nitrogen, or mistyped.",
    )
    yield _screen(
        "ca/p",
        "S02",
        "warning",
        Cause.SWAPPED,
        partial(_below, quantity="ca/p"),
        "Calcium and phosphorus are probably swapped, or one is mistyped.",
    )
    yield _screen("ca/p", "S02", "warning", Cause.TYPING, partial(_above, quantity="ca/p"), _RARE)


def _class_screens() -> Iterator[Rule]:
    for quantity in shipped_screens().limits:
        if "/" in quantity:
            continue
        beyond: Test = partial(_beyond, quantity=quantity)
        unusual: Test = partial(_unusual, quantity=quantity)
        if quantity == "ca":
            beyond, unusual = _calcium_beyond, _calcium_odd
        yield _screen(
            quantity,
            "S01",
            "error",
            Cause.TYPING,
            beyond,
            "It is probably mistyped, in another unit, or of another forage.",
        )
        yield _screen(quantity, "S01", "warning", Cause.TYPING, unusual, _RARE)
    yield _screen(
        "ca",
        "S01",
        "warning",
        Cause.SPECIES,
        partial(_calcium_species, high=True),
        _LEGUME_LIKE,
    )
    yield _screen(
        "ca",
        "S01",
        "warning",
        Cause.SPECIES,
        partial(_calcium_species, high=False),
        _GRASS_LIKE,
    )


SCREEN_RULES: Final[tuple[Rule, ...]] = (
    *_ratio_screens(),
    *_class_screens(),
    Rule(
        "S03",
        "note",
        Cause.SOIL,
        ("fe",),
        lambda c, s: c["fe"] > SOIL_IRON_ABOVE_PPM,
        "Report {report} gives {fe:,.0f} ppm iron in the dry matter.",
        "So much iron comes from soil in the hay.",
        "Look at its ash, and rake and mow higher next time.",
    ),
)  # fmt: skip
