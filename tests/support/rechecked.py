"""Every program that a test plans is checked against its farm.

``conftest.py`` puts ``install()`` before the test modules are imported, so that each of them gets
a ``plan_season`` and a ``plan_winters`` that look a second time at what they return.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import wraps
from typing import Any

from rickyard.farm import Farm
from rickyard.program.audit.audit import recheck
from rickyard.program.planning import season
from rickyard.program.problem.mid_season import farm_from
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.program.winters import winters
from rickyard.program.winters.winters import WinterPrograms

#: The planning as the package has it.
PLAIN_SEASON = season.plan_season
PLAIN_WINTERS = winters.plan_winters

#: How many programs were looked at in this run, and whether they are looked at now.
looked_at = 0
_looking = [True]


class NotSound(AssertionError):  # noqa: N818 - named for what it finds
    """A program that a test planned does not pass the second look."""


def hold_sound(program: SeasonProgram, farm: Farm) -> None:
    """Check a program against the farm that it was planned for.

    Raises
    ------
    NotSound
        If anything does not hold.
    """
    global looked_at
    looked_at += 1
    breaches = [str(one) for one in recheck(program, farm)]
    if breaches:
        raise NotSound(f"{len(breaches)} breaches: " + "; ".join(breaches[:5]))


@contextmanager
def not_looked_at() -> Iterator[None]:
    """Plan without the second look, where a test breaks the planning itself."""
    before, _looking[0] = _looking[0], False
    try:
        yield
    finally:
        _looking[0] = before


@wraps(PLAIN_SEASON)
def _plan_season(farm: Farm, *args: Any, **kwargs: Any) -> SeasonProgram:
    program = PLAIN_SEASON(farm, *args, **kwargs)
    if _looking[0]:
        options: PlanOptions = kwargs.get("options", PlanOptions())
        hold_sound(program, farm_from(farm, options.from_on).farm)
    return program


@wraps(PLAIN_WINTERS)
def _plan_winters(farm: Farm, *args: Any, **kwargs: Any) -> WinterPrograms:
    found = PLAIN_WINTERS(farm, *args, **kwargs)
    if _looking[0]:
        for winter in found.winters:
            hold_sound(winter.program, winter.farm)
    return found


def install() -> None:
    """Put the second look before everything that imports the planning."""
    for name, module in list(sys.modules.items()):
        if name.startswith("rickyard."):
            if getattr(module, "plan_season", None) is PLAIN_SEASON:
                module.plan_season = _plan_season  # type: ignore[attr-defined]
            if getattr(module, "plan_winters", None) is PLAIN_WINTERS:
                module.plan_winters = _plan_winters  # type: ignore[attr-defined]
