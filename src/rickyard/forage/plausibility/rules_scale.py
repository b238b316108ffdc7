"""Values off their scale: P01, and fractions of one where percent is asked for.

A spreadsheet that shows 20.1 % may hold 0.201, and a pH without its point reads 46. A rule says
so and proposes a reading; it never applies it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final

import numpy as np

from rickyard.forage.plausibility.rules import Cause, Rule, Test, Values
from rickyard.forage.plausibility.rules_structure import PER_KG_IN_PCT
from rickyard.forage.plausibility.rules_units import limits_of
from rickyard.forage.values import (
    FRACTION_UP_TO,
    KINDS,
    MOST_PH,
    ReportColumns,
    Screens,
    word_of,
)
from rickyard.types import BoolArray, FloatArray

#: Composition that is told as a fraction of one when it is at most one and fits so. Judgement.
_FRACTIONS: Final = ("cp", "adf", "ndf")
_PH_WITHOUT_POINT: Final = 10.0  # how many times too high, by definition
_ENTER_AGAIN: Final = "Enter it again from the report; the value is not used."


def _above_whole(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    return c[name] > 100.0


def _negative(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    return c[name] < 0.0


def _tenth(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    return c[name] / PER_KG_IN_PCT


def _hundredfold(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    return 100.0 * c[name]


def _dm_fraction(c: ReportColumns, s: Screens) -> BoolArray:
    return (c["dm"] > 0.0) & (c["dm"] <= FRACTION_UP_TO)


def _fraction(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    limits, hundredfold = limits_of(c, s, name), _hundredfold(c, s, name)
    possible = (hundredfold >= limits.hard_low) & (hundredfold <= limits.hard_high)
    return (c[name] > 0.0) & (c[name] <= FRACTION_UP_TO) & possible


def _beyond_ph(c: ReportColumns, s: Screens) -> BoolArray:
    return (c["ph"] <= 0.0) | (c["ph"] > MOST_PH)


def _ph_with_point(c: ReportColumns, s: Screens) -> FloatArray:
    return np.where(c["ph"] > MOST_PH, c["ph"] / _PH_WITHOUT_POINT, np.nan)


def _not_a_share(
    name: str, cause: Cause, broken: Test, why: str, proposed: tuple[str, Values] | None
) -> Rule:
    return Rule(
        "P01",
        "error",
        cause,
        (name,),
        broken,
        "Report {report} gives " + word_of(name) + " as {" + name + ":g}%, which no forage can "
        "have.",
        why,
        "Look at the unit on the report and enter it again; the value is not used.",
        drops=(name,),
        proposed=proposed,
    )


def _shares() -> Iterator[Rule]:
    for name, kind in KINDS.items():
        if kind.measure != "percent":
            continue
        yield _not_a_share(
            name,
            Cause.UNIT,
            partial(_above_whole, name=name),
            "Most often the value is in g/kg or ppm.",
            (name, partial(_tenth, name=name)),
        )
        yield _not_a_share(
            name,
            Cause.TYPING,
            partial(_negative, name=name),
            "A minus sign slipped in, or the value is mistyped.",
            None,
        )


def _fraction_rule(rule: str, name: str, broken: Test, basis: str = "") -> Rule:
    return Rule(
        rule,
        "error",
        Cause.UNIT,
        (name,),
        broken,
        "Report {report} gives {" + name + ":g}% " + word_of(name) + basis + ", less than any "
        "forage has.",
        "It is probably a fraction of one: then it is {proposed:.1f}%, and other values may be "
        "fractions too.",
        _ENTER_AGAIN,
        drops=(name,),
        proposed=(name, partial(_hundredfold, name=name)),
    )


SCALE_RULES: Final[tuple[Rule, ...]] = (
    *_shares(),
    Rule(
        "P01",
        "error",
        Cause.TYPING,
        ("ph",),
        _beyond_ph,
        "Report {report} gives a pH of {ph:g}, which no forage can have.",
        "The decimal point was probably left out.",
        _ENTER_AGAIN,
        drops=("ph",),
        proposed=("ph", _ph_with_point),
    ),
    *(
        _fraction_rule("U02", name, partial(_fraction, name=name), " in the dry matter")
        for name in _FRACTIONS
    ),
    _fraction_rule("U08", "dm", _dm_fraction),
)
