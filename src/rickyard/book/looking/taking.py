"""What was learned of appetite taken into the season, and given back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.acting import Act, NotTaken, acting, allow
from rickyard.book.folders import farm_of
from rickyard.book.looking.appetite import learned_appetite
from rickyard.book.looking.dated import dated
from rickyard.book.looking.eaten import eaten_of
from rickyard.book.services import Done, look_at, season_there
from rickyard.service import worked_out

_TAKE: Final = "take intake"
_GIVE_BACK: Final = "give back intake"


def take_intake(
    person: Any, season_id: UUID, day: date, pct: float, *, fact: UUID | None = None
) -> Done:
    """Write what was learned of appetite into the season, so that programs count with it.

    Parameters
    ----------
    person : records.Person or None
        Who takes it.
    season_id : UUID
        The season.
    day : date
        The last day that was looked at.
    pct : float
        What was offered on that day, as it was shown. [% of the equations]
    fact : UUID, optional
        An id of this very fact, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotTaken
        If nothing is offered, or by now something else is.
    """
    season = season_there(person, season_id)
    with acting(_TAKE, person, season.farm_id, f"{pct:g}%") as act:
        sent = None if fact is None else records.SeasonState.objects.filter(id=fact).first()
        if sent is not None and sent.thing_id == season.id:
            return Done(sent.id, season.id, is_new=False)
        farm = farm_of(season)
        with worked_out():
            ate = eaten_of(farm, dated(season_id, "group"), day)
            found = learned_appetite(farm.season, ate)
        offered = None if found is None else found.offered_pct
        if offered is None:
            raise NotTaken(
                "What the stock eat cannot be taken: not enough is noted of a group that is fed as "
                "much as it likes, or what is noted is not to be believed. Nothing was written."
            )
        if offered != pct:
            raise NotTaken(
                f"The log says something else by now: {offered:g}% and not {pct:g}%. Nothing was "
                "written. Look at it again, and take what it says then."
            )
        return _written(act, season, farm, offered, fact)


def give_back_intake(person: Any, season_id: UUID, *, fact: UUID | None = None) -> Done:
    """Let the season count again with what it counted with before the last was taken.

    Parameters
    ----------
    person : records.Person or None
        Who does it.
    season_id : UUID
        The season.
    fact : UUID, optional
        An id of this very fact, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotTaken
        If nothing was taken that still holds.
    """
    season = season_there(person, season_id)
    with acting(_GIVE_BACK, person, season.farm_id, "") as act:
        sent = None if fact is None else records.SeasonState.objects.filter(id=fact).first()
        if sent is not None and sent.thing_id == season.id:
            return Done(sent.id, season.id, is_new=False)
        before = _before(season)
        if before is None:
            raise NotTaken(
                "Nothing that was taken from the log holds any more, so nothing was given back. "
                "Write intake_pct of the season instead."
            )
        return _written(act, season, farm_of(season), before, fact)


def taken_intake(person: Any, season_id: UUID) -> float | None:
    """Return what the season would count with if what was taken were given back.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.

    Returns
    -------
    float or None
        ``None`` where nothing that was taken holds. [% of the equations]
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    return _before(season)


def _before(season: Any) -> float | None:
    """Return what was counted with before the last was taken, where that still holds."""
    rows = records.SeasonState.objects.filter(thing=season).order_by("revision")
    before: float | None = None
    last: float | None = None
    for pct, service in rows.values_list("intake_pct", "written_by__service"):
        if service == _TAKE:
            before = last
        elif service == _GIVE_BACK or pct != last:
            before = None
        last = pct
    return before


def _written(act: Act, season: Any, farm: plain.Farm, pct: float, fact: UUID | None) -> Done:
    """Write the season with another appetite, as its next revision."""
    last = records.SeasonState.objects.filter(thing=season).order_by("-revision").first()
    looked = look_at(replace(farm, season=replace(farm.season, intake_pct=pct)), "season")
    state = records.SeasonState.objects.create(
        id=fact or uuid4(),
        thing=season,
        revision=last.revision + 1,
        written_by=act.line,
        **records.plain_values(looked.farm.season),
    )
    return Done(state.id, season.id, questions=looked.questions)
