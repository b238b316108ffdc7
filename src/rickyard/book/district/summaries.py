"""Small summaries of programs and yards, kept in the book as text: dropped and made anew at will.

A summary counts for what it was made of: one program, or one day of a farm up to one line of its
trail, by one version of this program.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict
from datetime import date
from typing import Any, Final, TypeVar
from uuid import UUID

from rickyard.book import records
from rickyard.book.district.told import DueThere, ProgramTold, Threat, YardTold
from rickyard.hay.yard import Outlook
from rickyard.version import __version__

#: The form of the texts below: one more with each change of what is told.
_FORM: Final = 1

#: What a program is told by, ``None`` where it is of a form that is no longer read.
ProgramFound = ProgramTold | None

Told = TypeVar("Told")


def program_mark(program: UUID) -> str:
    """Return what a summary of a program is made of.

    Parameters
    ----------
    program : UUID
        The program, which never changes.

    Returns
    -------
    str
        A mark, to be compared.
    """
    return f"{__version__} {_FORM} {program}"


def yard_mark(line: int, day: date) -> str:
    """Return what a summary of a yard is made of.

    Parameters
    ----------
    line : int
        The newest line of the farm's trail: whatever is written leaves one.
    day : date
        The day.

    Returns
    -------
    str
        A mark, to be compared.
    """
    return f"{__version__} {_FORM} {line} {day}"


def kept_programs(marks: Mapping[UUID, str]) -> dict[UUID, ProgramFound]:
    """Return the summaries of programs that are kept.

    Parameters
    ----------
    marks : mapping of UUID to str
        By season, what each must be made of.

    Returns
    -------
    dict of UUID to ProgramTold or None
        By season, those that count.
    """
    return _kept(records.OF_PROGRAM, marks, program_of_text)


def kept_yards(marks: Mapping[UUID, str]) -> dict[UUID, YardTold]:
    """Return the summaries of yards that are kept.

    Parameters
    ----------
    marks : mapping of UUID to str
        By season, what each must be made of.

    Returns
    -------
    dict of UUID to YardTold
        By season, those that count.
    """
    return _kept(records.OF_YARD, marks, yard_of_text)


def _kept(kind: str, marks: Mapping[UUID, str], read: Callable[[str], Told]) -> dict[UUID, Told]:
    if not marks:
        return {}
    rows = records.Summary.objects.filter(kind=kind, season_id__in=list(marks))
    return {
        season: read(told)
        for season, made_of, told in rows.values_list("season_id", "made_of", "told")
        if made_of == marks[season]
    }


def keep(season: UUID, kind: str, made_of: str, told: ProgramFound | YardTold) -> None:
    """Keep a summary in the place of the one before.

    Parameters
    ----------
    season : UUID
        The season.
    kind : str
        What it is of.
    made_of : str
        What it was made of.
    told : ProgramTold, YardTold or None
        What it came to.
    """
    said = {"made_of": made_of, "told": as_text(told)}
    records.Summary.objects.update_or_create(said, season_id=season, kind=kind)


def as_text(told: ProgramFound | YardTold) -> str:
    """Return a summary as text.

    Parameters
    ----------
    told : ProgramTold, YardTold or None
        The summary.

    Returns
    -------
    str
        JSON.

    Examples
    --------
    >>> hot = YardTold(None, (DueThere("fire", date(2026, 11, 30), "Flat", is_late=False),), (), "")
    >>> yard_of_text(as_text(hot)) == hot
    True
    >>> program_of_text(as_text(None)) is None
    True
    """
    said = None if told is None else asdict(told)
    return json.dumps(said, ensure_ascii=False, default=date.isoformat)


def program_of_text(text: str) -> ProgramFound:
    """Return the summary of a program that a text holds.

    Parameters
    ----------
    text : str
        What `as_text` gave.

    Returns
    -------
    ProgramTold or None
        The summary.
    """
    said = json.loads(text)
    if said is None:
        return None
    threats = _threats(said.pop("threats"))
    return ProgramTold(**{**said, "short_on": _day(said["short_on"])}, threats=threats)


def yard_of_text(text: str) -> YardTold:
    """Return the summary of a yard that a text holds.

    Parameters
    ----------
    text : str
        What `as_text` gave.

    Returns
    -------
    YardTold
        The summary.
    """
    said = json.loads(text)
    outlook = said["outlook"]
    if outlook is not None:
        days = {name: _day(outlook[name]) for name in ("day", "until", "out_on")}
        outlook = Outlook(**{**outlook, **days})
    due = tuple(DueThere(**{**one, "day": _day(one["day"])}) for one in said["due"])
    return YardTold(outlook, due, _threats(said["threats"]), said["fault"])


def _threats(said: Iterable[Mapping[str, Any]]) -> tuple[Threat, ...]:
    return tuple(Threat(**one) for one in said)


def _day(said: str | None) -> date | None:
    return None if said is None else date.fromisoformat(said)
