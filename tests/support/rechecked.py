"""Every program that a test plans is checked against its farm.

``conftest.py`` puts ``install()`` before the test modules are imported, so that each of them gets
a ``plan_season`` and a ``plan_winters`` that look a second time at what they return.

A season that another test planned before, of an equal farm with equal options, is not planned
again. A test that asks for one twice gets one that was planned for itself the second time. A test
that puts anything in the place of something else (``monkeypatch``) gets and leaves no program, nor
does one that listens to the planning or may stop it. Where coverage is measured all is planned
anew: there it is asked which test reaches which line.
"""

from __future__ import annotations

import pickle
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import wraps
from math import inf
from typing import Any

from rickyard.cli.shared.planning import Stopper
from rickyard.farm import Farm
from rickyard.program.audit import audit
from rickyard.program.audit.view import Breach
from rickyard.program.planning import season
from rickyard.program.problem.mid_season import farm_from
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.program.winters import winters
from rickyard.program.winters.winters import WinterPrograms

#: The planning as the package has it.
PLAIN_SEASON = season.plan_season
PLAIN_WINTERS = winters.plan_winters
#: The second look.
PLAIN_RECHECK = audit.recheck

#: How many programs were looked at in this run, and whether they are looked at now.
looked_at = 0
_looking = [True]

#: Programs that passed the second look, by farm and options.
_known: dict[bytes, SeasonProgram] = {}
#: No more are kept than this: those planned first make room.
MOST_KNOWN = 300
#: The test that runs now; none where it may not be given what another planned.
_running: list[str | None] = [None]
#: What that test has asked for already.
_asked: set[bytes] = set()
#: Programs and farms of that test that passed the second look: they are not looked at again.
_sound: list[tuple[SeasonProgram, Farm]] = []


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
    breaches = [str(one) for one in _recheck(program, farm)]
    if breaches:
        raise NotSound(f"{len(breaches)} breaches: " + "; ".join(breaches[:5]))


@wraps(PLAIN_RECHECK)
def _recheck(program: SeasonProgram, farm: Farm) -> tuple[Breach, ...]:
    """Look at a program once in a test that leaves the package as it is shipped."""
    same = _running[0] is not None and _looking[0]
    if same and any(program is one and farm == its for one, its in _sound):
        return ()
    breaches = PLAIN_RECHECK(program, farm)
    if not breaches:
        _sound.append((program, farm))
    return breaches


@contextmanager
def not_looked_at() -> Iterator[None]:
    """Plan without the second look, where a test breaks the planning itself."""
    before, _looking[0] = _looking[0], False
    try:
        yield
    finally:
        _looking[0] = before


def begin(test: str, *, as_shipped: bool) -> None:
    """Say which test runs from here on, and whether it leaves the package as it is shipped."""
    _running[0] = test if as_shipped else None
    _asked.clear()
    _sound.clear()


def current() -> str | None:
    """Return the test that runs now; none where it may not be given what another planned."""
    return _running[0]


@contextmanager
def running(test: str | None) -> Iterator[None]:
    """Plan as another test would."""
    before, asked = _running[0], set(_asked)
    _running[0] = test
    _asked.clear()
    try:
        yield
    finally:
        _running[0] = before
        _asked.clear()
        _asked.update(asked)


def _key(farm: Farm, args: tuple[Any, ...], options: PlanOptions) -> bytes | None:
    """Return what tells a season from others, or nothing where it is to be planned anew."""
    coverage = sys.modules.get("coverage")
    measured = coverage is not None and coverage.Coverage.current() is not None
    stop = options.stop
    # The command line asks whether a key was pressed, which changes nothing where none was.
    ends = not (stop is None or (isinstance(stop, Stopper) and not stop.asked))
    # No second at all is as certain as any number of them.
    heard = any(one is not None for one in args) or ends or options.seconds not in (0.0, inf)
    if heard or measured or not _looking[0] or _running[0] is None:
        return None
    return pickle.dumps((farm, replace(options, stop=None)))


@wraps(PLAIN_SEASON)
def _plan_season(farm: Farm, *args: Any, **kwargs: Any) -> SeasonProgram:
    global looked_at
    options: PlanOptions = kwargs.get("options", PlanOptions())
    more = [value for name, value in kwargs.items() if name != "options"]
    key = _key(farm, (*args, *more), options)
    if key is not None and key not in _asked:
        _asked.add(key)
        if key in _known:
            looked_at += 1
            _sound.append((_known[key], farm_from(farm, options.from_on).farm))
            return _known[key]
    program = PLAIN_SEASON(farm, *args, **kwargs)
    if _looking[0]:
        hold_sound(program, farm_from(farm, options.from_on).farm)
    if key is not None:
        while len(_known) >= MOST_KNOWN:
            del _known[next(iter(_known))]
        _known[key] = program
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
            if getattr(module, "recheck", None) is PLAIN_RECHECK:
                module.recheck = _recheck  # type: ignore[attr-defined]
