"""Samples bale by bale: begun with the first core, taken one by one, and sent to a laboratory."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, acting, heard_of, held_or_read
from rickyard.book.folders import current_lines, current_states, sent_of
from rickyard.book.services import Done, season_there, who_wrote, whole_farm
from rickyard.display import clean
from rickyard.farm import Farm
from rickyard.hay.sampling import Coring, SamplePlan, Sent, Tried, coring
from rickyard.service import Held
from rickyard.service.sections import as_shown, coring_sheet, drawn_for

_OTHER: Final = (
    "A line of this id stands in the book and says something else. Open the coring sheet again, "
    "and go on from there."
)


@dataclass(frozen=True, slots=True)
class SampleBegun:
    """A sample that was begun: its bales as they were drawn then, and how far it is.

    ``last`` is the last bale that was tried with the id of its line, by which it is taken back.
    """

    code: str
    begun_on: date
    spares: tuple[int, ...]
    so_far: Coring
    last: tuple[UUID, Tried] | None


def sample_begun(person: Any, season_id: UUID, lot_id: str, code: str) -> SampleBegun | None:
    """Return how far a sample is.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    lot_id : str
        The lot.
    code : str
        The sample, as its plan names it.

    Returns
    -------
    SampleBegun or None
        ``None`` where no core was taken yet.

    Raises
    ------
    NotThere
        If there is no such season.
    """
    heard_of("read farm", person, season_id)
    found = _begun(season_id, lot_id, code)
    if found is None:
        return None
    row, so_far, tries = found
    last = None if not tries else (tries[-1]["id"], _tried(tries[-1]))
    return SampleBegun(code, row["day"], _numbers(row["spares"]), so_far, last)


def take_core(
    person: Any,
    season_id: UUID,
    lot_id: str,
    bale: int,
    day: date,
    *,
    went_in: bool = True,
    fact: UUID | None = None,
) -> Done:
    """Write that a bale was cored, or that the probe would not go in.

    The first begins the sample: the bales that are drawn for it now stay those of it.

    Parameters
    ----------
    person : records.Person or None
        Who cores.
    season_id : UUID
        The season.
    lot_id : str
        The lot.
    bale : int
        The bale by its number along the stack.
    day : date
        The day on the farm.
    went_in : bool
        Whether the probe brought a core.
    fact : UUID, optional
        An id of this very core, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If the bale was not drawn or has its cores, or nobody may go near the stack.
    """
    season = season_there(person, season_id)
    with acting("take core", person, season.farm_id, lot_id) as act:
        sent = None if fact is None else records.Core.objects.filter(id=fact).first()
        if sent is not None:
            return _as_sent(sent, season, bale, went_in=went_in)
        plan = _plan_of(as_shown(whole_farm(season.id, act.before.id)).farm, lot_id, day)
        begun = _begun(season.id, lot_id, plan.sample_id)
        if begun is None:
            sample, so_far = _begin(act, season, plan, lot_id, day), None
        else:
            sample, so_far = begun[0]["id"], begun[1]
        _refuse_wrong(bale, so_far or coring(*drawn_for(plan), []), plan)
        row = records.Core.objects.create(
            id=fact or uuid4(),
            season=season,
            place=_place(records.Core, season),
            sample_id=sample,
            bale=bale,
            went_in=went_in,
            day=day,
            written_by=act.line,
        )
    return Done(row.id, row.id)


def undo_core(person: Any, season_id: UUID, core: UUID, *, fact: UUID | None = None) -> Done:
    """Take back a core that was written by mistake.

    Parameters
    ----------
    person : records.Person or None
        Who takes it back.
    season_id : UUID
        The season.
    core : UUID
        The line of the core.
    fact : UUID, optional
        An id of this very act.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such core.
    NotTaken
        If it was taken back before.
    """
    return _undo(person, season_id, records.Core, core, fact)


def begin_anew(person: Any, season_id: UUID, lot_id: str, code: str) -> None:
    """Throw a sample away that was begun and not finished: its bales are drawn anew.

    Parameters
    ----------
    person : records.Person or None
        Who does it.
    season_id : UUID
        The season.
    lot_id : str
        The lot.
    code : str
        The sample.

    Raises
    ------
    NotThere
        If no such sample was begun.
    """
    found = _begun(season_there(person, season_id).id, lot_id, code)
    if found is None:
        raise NotThere
    _undo(person, season_id, records.Sample, found[0]["id"], None)


def send_sample(
    person: Any, season_id: UUID, lot_id: str, sent: Sent, *, fact: UUID | None = None
) -> Done:
    """Write that a sample was sent to a laboratory.

    Parameters
    ----------
    person : records.Person or None
        Who sent it.
    season_id : UUID
        The season.
    lot_id : str
        The lot.
    sent : Sent
        The sample, where it went, what was ordered, and when.
    fact : UUID, optional
        An id of this very shipment, so that it counts once.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If it stands there already, or the day cannot be.
    """
    season = season_there(person, season_id)
    with acting("send sample", person, season.farm_id, sent.code) as act:
        row = None if fact is None else records.Shipment.objects.filter(id=fact).first()
        if row is not None:
            if row.season_id != season.id:
                raise NotThere
            return Done(row.id, row.id, is_new=False)
        if any(one.code == sent.code for one in sent_of([season.id])[season.id]):
            raise NotTaken(f"Sample {sent.code} was sent already.")
        if not sent.lab.strip():
            raise NotTaken("Name the lab that the sample was sent to.")
        row = records.Shipment.objects.create(
            id=fact or uuid4(),
            season=season,
            place=_place(records.Shipment, season),
            lot_id=_thing(season.id, lot_id),
            code=sent.code,
            lab=sent.lab,
            tests=sent.tests,
            sent_on=sent.sent_on,
            expected_on=sent.expected_on,
            written_by=act.line,
        )
    return Done(row.id, row.id)


def samples_sent(person: Any, season_id: UUID) -> tuple[Sent, ...]:
    """Return the samples of a season that were sent to a laboratory.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    tuple of Sent
        In the order in which they were sent.
    """
    heard = heard_of("read farm", person, season_id)
    key = (season_id, heard.line)
    return held_or_read(_sent_held, key, lambda: sent_of([season_id])[season_id])


#: Samples that were sent, by the newest line of the trail.
_sent_held: Final = Held[tuple[UUID, UUID], tuple[Sent, ...]](128)


def _plan_of(farm: Farm, lot_id: str, day: date) -> SamplePlan:
    if lot_id not in {one.lot_id for one in farm.lots}:
        raise NotThere
    plan = coring_sheet(farm, lot_id, day)
    if plan.dates.status == "hot":
        raise NotTaken(
            f"{clean(plan.name)}: {' '.join(plan.dates.reasons)} Nobody cores it or goes near it."
        )
    return plan


def _refuse_wrong(bale: int, so_far: Coring, plan: SamplePlan) -> None:
    what = f"{plan.probing.taken} {bale}" if plan.choice is None else f"bale {bale}"
    if so_far.is_whole:
        raise NotTaken("All cores of this sample are taken. Close the bag, and write that down.")
    if bale in so_far.done or bale in so_far.refused:
        raise NotTaken(
            f"{what[:1].upper()}{what[1:]} is done already: somebody else may have written it. "
            "Go on with the one that the sheet names now."
        )
    if bale not in so_far.order:
        drawn = ", ".join(map(str, so_far.order))
        raise NotTaken(
            f"Chance did not draw {what} for this sample; it drew {drawn}. Take one of those: a "
            "neighbor that is easier to core makes the sample untrue."
        )


def _begin(act: Any, season: Any, plan: SamplePlan, lot_id: str, day: date) -> UUID:
    """Begin a sample: what chance drew for it is written down."""
    drawn, spares, each = drawn_for(plan)
    row = records.Sample.objects.create(
        season=season,
        place=_place(records.Sample, season),
        lot_id=_thing(season.id, lot_id),
        code=plan.sample_id,
        day=day,
        drawn=" ".join(map(str, drawn)),
        spares=" ".join(map(str, spares)),
        cores_a_bale=each,
        written_by=act.line,
    )
    made: UUID = row.id
    return made


def _begun(
    season_id: UUID, lot_id: str, code: str
) -> tuple[dict[str, Any], Coring, list[dict[str, Any]]] | None:
    """Return the sample of a code that counts, how far it is, and what was tried in its order."""
    thing = _thing(season_id, lot_id)
    there = [
        one
        for one in current_lines(records.Sample, season_id)
        if one["lot_id"] == thing and one["code"] == code
    ]
    if not there:
        return None
    row = there[-1]
    tries = [one for one in current_lines(records.Core, season_id) if one["sample_id"] == row["id"]]
    so_far = coring(
        _numbers(row["drawn"]),
        _numbers(row["spares"]),
        row["cores_a_bale"],
        [_tried(one) for one in tries],
    )
    return row, so_far, tries


def _undo(person: Any, season_id: UUID, table: Any, old: UUID, fact: UUID | None) -> Done:
    """Undo a line by a new line that names it and does not count itself."""
    season = season_there(person, season_id)
    with acting("undo core", person, season.farm_id, "") as act:
        sent = None if fact is None else table.objects.filter(id=fact).first()
        if sent is not None:
            if sent.season_id != season.id or sent.undoes_id != old:
                raise NotTaken(_OTHER)
            return Done(sent.id, old, is_new=False)
        row = table.objects.filter(id=old, season=season).first()
        if row is None or not row.counts:
            raise NotThere
        undone = table.objects.filter(undoes=row).first()
        if undone is not None:
            raise NotTaken(f"{who_wrote(undone)} has taken this back already.")
        own = {"id", "undoes", "counts", "written_by"}
        same = {
            one.attname: getattr(row, one.attname)
            for one in row._meta.concrete_fields
            if one.name not in own
        }
        new = table.objects.create(
            id=fact or uuid4(), undoes=row, counts=False, written_by=act.line, **same
        )
    return Done(new.id, old)


def _as_sent(row: Any, season: Any, bale: int, *, went_in: bool) -> Done:
    if row.season_id != season.id:
        raise NotThere
    if (row.bale, row.went_in) != (bale, went_in):
        raise NotTaken(_OTHER)
    return Done(row.id, row.id, is_new=False)


def _tried(row: dict[str, Any]) -> Tried:
    return Tried(row["bale"], row["went_in"])


def _numbers(text: str) -> tuple[int, ...]:
    return tuple(map(int, text.split()))


def _thing(season_id: UUID, lot_id: str) -> UUID:
    """Return the lot of a short name."""
    for one in current_states(records.LotState, season_id):
        if one["lot_id"] == lot_id:
            found: UUID = one["thing_id"]
            return found
    raise NotThere


def _place(table: Any, season: Any) -> int:
    places: Sequence[int] = table.objects.filter(season=season).values_list("place", flat=True)
    return max(places, default=-1) + 1
