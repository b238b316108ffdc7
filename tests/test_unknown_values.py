"""One rule for what nobody knows, and for what cannot be, held by every science function.

An array gives NaN where a value it depends on is NaN, and the same numbers as before elsewhere. A
single NaN is refused or comes out again. What lies far outside is refused, or it counts: nothing is
quietly put back to the edge, except where a docstring says that a rule is held there.
"""

import inspect
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Group
from rickyard.quantities import OutOfRange, unknown
from rickyard.stock.herd import group_needs
from support.rows import each_row
from support.science import functions, middle, needed, numbers_of, numeric_arguments

CASES = [
    (function, name)
    for _, function in functions()
    for name in numeric_arguments(function)
    if middle(function, name) is not None
]


def named(one: object) -> str:
    """Name a function by where it stands."""
    return f"{one.__module__}.{one.__name__}" if inspect.isfunction(one) else str(one)


def asked(function: Callable[..., Any], name: str, value: object) -> list[np.ndarray]:
    return numbers_of(function(**{**needed(function), name: value}))


@cache
def depends(function: Callable[..., Any], name: str, value: float) -> bool:
    """Return whether the function changes when the value does by a few percent."""
    here = asked(function, name, value)
    for other in (value * 1.03 if value else 0.5, value * 0.97):
        try:
            there = asked(function, name, other)
        except OutOfRange:
            continue
        if any(not np.array_equal(a, b, equal_nan=True) for a, b in zip(here, there, strict=True)):
            return True
    return False


@each_row(("function", "name"), CASES, ids=named)
def test_unknown_in_unknown_out(function: Callable[..., Any], name: str) -> None:
    value = middle(function, name)
    assert value is not None
    if not depends(function, name, value):
        return
    alone = asked(function, name, value)
    both = asked(function, name, np.array([value, np.nan]))
    assert any(len(one) == 2 and np.isnan(one[1]) for one in both if one.ndim == 1)
    for one, whole in zip(alone, both, strict=True):
        known = np.broadcast_to(whole, (2,))[0] if whole.ndim <= 1 else whole[0]
        np.testing.assert_allclose(known, one, rtol=1e-9, equal_nan=True)


@each_row(("function", "name"), CASES, ids=named)
def test_a_single_nan_is_refused_or_comes_out(function: Callable[..., Any], name: str) -> None:
    value = middle(function, name)
    assert value is not None
    if not depends(function, name, value):
        return
    try:
        found = asked(function, name, float("nan"))
    except OutOfRange:
        return
    assert any(np.isnan(one).any() for one in found)


@each_row(("function", "name"), CASES, ids=named)
@each_row("far", [1e6, -1e6])
def test_far_outside_is_refused_or_counts(
    function: Callable[..., Any], name: str, far: float
) -> None:
    value = middle(function, name)
    assert value is not None
    if not depends(function, name, value):
        return
    try:
        # What has no value out there, such as the power of a negative weight, is NaN.
        with np.errstate(all="ignore"):
            there, farther = asked(function, name, far), asked(function, name, 2.0 * far)
    except (OutOfRange, OverflowError):
        return
    clipped = all(
        np.array_equal(a, b) and np.isfinite(a).all() for a, b in zip(there, farther, strict=True)
    )
    if clipped and (function.__name__, name) not in NO_EDGE:
        said = (inspect.getdoc(function) or "").lower()
        assert re.search(r"\bheld\b|level ends|classes with steps", said), (
            f"{name} is held silently"
        )


#: What comes to rest far outside by its own formula, with no edge put to it.
NO_EDGE = {
    ("dry_dairy_intake_kg", "days_to_calving"): "the fall before calving dies away",
    ("capital_recovery", "years"): "with very many years only the interest is left",
    ("milk_kg", "week"): "milk dies away",
    ("reserve", "days"): "a share of the total stays when thirty days of it are next to nothing",
    ("total_sulfur_pct", "weight_kg"): "the weight cancels but for rounding",
}


def test_an_array_may_hold_what_nobody_knows_and_a_single_number_may_not() -> None:
    assert unknown(np.array([1.0, np.nan])).tolist() == [False, True]
    assert not unknown(float("nan"))


def test_a_group_whose_weight_is_no_number_has_no_needs() -> None:
    """NaN in a table of needs means that nothing is constrained: it must never come from a slip."""
    cows = Group("c", "Cows", AnimalClass.COW, 40, 555.0, calving_on=date(2027, 3, 1))
    for field in ("weight_kg", "condition_score", "peak_milk_kg_per_day"):
        with pytest.raises(OutOfRange, match=field):
            group_needs(replace(cows, **{field: float("nan")}), [date(2027, 1, 1)])
