"""The pages of all farms: who runs short, what is due, what is dangerous. No money stands here."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.book.district import DueThere, FarmStands, order_of_due
from rickyard.display import Display, clean, count_text, display_for
from rickyard.quantities import KG_PER_TONNE
from rickyard.sheets.wording import opening
from rickyard.web.drawn import lasts_bar, mark, tons_bar
from rickyard.web.shown.prices import without_prices
from rickyard.web.shown.yard import rough_answer

_UNKNOWN: Final = "Cannot be worked out. Open the farm to see why."
_WAITS: Final = "Not looked at yet."

#: So many rows stand on a page of all farms; the rest is a link away, the graver first.
MOST_ROWS: Final = 200


@dataclass(frozen=True, slots=True)
class StandsRow:
    """How a farm stands, in a line: ``by`` says what that was judged by.

    ``of`` says which farms it stands among: those that run short, have a danger, or something due.
    """

    address: str
    name: str
    mark: str
    answer: str
    by: str
    due: str
    danger: str
    danger_mark: str
    heard: str
    drawing: str
    of: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class ThreatRow:
    """What is dangerous at a farm; ``more`` counts what else is said of the same."""

    address: str
    farm: str
    mark: str
    about: str
    sentence: str
    more: str


@dataclass(frozen=True, slots=True)
class More:
    """Where the rows go on that a page has no room for."""

    words: str
    start: int


@dataclass(frozen=True, slots=True)
class DistrictShown:
    """All that stands on the page of all farms."""

    answer: str
    verdict: str
    lede: str
    rows: tuple[StandsRow, ...]
    threats: tuple[ThreatRow, ...]
    where: str
    more: More | None = None


@dataclass(frozen=True, slots=True)
class DueRow:
    """Something due at a farm."""

    address: str
    farm: str
    what: str
    when: str
    mark: str


@dataclass(frozen=True, slots=True)
class DueShown:
    """All that stands on the page of what is due."""

    answer: str
    lede: str
    now: tuple[DueRow, ...]
    later: tuple[DueRow, ...]
    where: str
    more: More | None = None


@dataclass(frozen=True, slots=True)
class ShortRow:
    """A farm that runs short, or what it has left; ``drawing`` is a bar on its table's scale."""

    address: str
    name: str
    tons: str
    drawing: str
    out_on: str
    answer: str
    by: str


@dataclass(frozen=True, slots=True)
class ShortShown:
    """All that stands on the page of who runs short."""

    answer: str
    verdict: str
    lede: str
    short: tuple[ShortRow, ...]
    enough: tuple[ShortRow, ...]
    where: str


def district_shown(stands: Mapping[str, FarmStands], start: int = 0) -> DistrictShown:
    """Return what stands on the page of all farms.

    Parameters
    ----------
    stands : mapping of str to FarmStands
        How the farms stand, by their addresses.
    start : int
        The row with which what may be long begins.

    Returns
    -------
    DistrictShown
        Words, the farms that need something first.
    """
    short = sum(one.is_short for one in stands.values())
    due = sum(any(_is_test_now(what, one.day) for what in one.due) for one in stands.values())
    rows = sorted(stands.items(), key=lambda item: _gravity(item[1]))
    threats = tuple(row for name, one in rows for row in _threat_rows(name, one))
    at_farms = len({one.address for one in threats})
    most = max((_left_t(one) for one in stands.values() if one.is_enough), default=0.0)
    return DistrictShown(
        f"{_run_short(short)} {_are_due(due)}",
        mark("short" if short else "enough", "Short" if short else "Enough")
        if _sure(stands)
        else "",
        " ".join(one for one in (_waiting(stands), _in_danger(at_farms), _rough(stands)) if one),
        tuple(_stands_row(name, one, most) for name, one in rows),
        threats[start : start + MOST_ROWS],
        _where(stands),
        _more(len(threats), start),
    )


def due_shown(stands: Mapping[str, FarmStands], start: int = 0) -> DueShown:
    """Return what stands on the page of what is due.

    Parameters
    ----------
    stands : mapping of str to FarmStands
        How the farms stand, by their addresses.
    start : int
        The row with which what may be long begins.

    Returns
    -------
    DueShown
        Words: fire first, then what is late, then by day.
    """
    every = sorted(
        ((name, one, what) for name, one in stands.items() for what in one.due),
        key=lambda item: (*order_of_due(item[2])[:3], item[1].there.name.casefold(), item[0]),
    )
    now = [item for item in every if _is_now(item[2], item[1].day)]
    lots = sum(what.kind == "core" for _, _, what in now)
    at_farms = len({name for name, _, what in now if what.kind == "core"})
    answer = "No hay is to be cored now."
    if lots:
        answer = f"{count_text(lots, 'lot')} to core now, at {count_text(at_farms, 'farm')}."
    fire = sum(what.kind == "fire" for _, _, what in now)
    late = sum(what.kind == "result" for _, _, what in now)
    waiting = _waiting(stands)
    lede = [waiting] if waiting else []
    if fire:
        lede.append(f"{count_text(fire, 'stack')} to probe for heat today, before all else.")
    if late:
        lede.append(f"{count_text(late, 'result')} late: call the lab.")
    later = [item for item in every if not _is_now(item[2], item[1].day)]
    last = start + MOST_ROWS
    return DueShown(
        answer,
        " ".join(lede),
        tuple(_due_row(*item) for item in now[start:last]),
        tuple(
            _due_row(*item) for item in later[max(0, start - len(now)) : max(0, last - len(now))]
        ),
        _where(stands),
        _more(len(every), start),
    )


def short_shown(stands: Mapping[str, FarmStands]) -> ShortShown:
    """Return what stands on the page of who runs short.

    Parameters
    ----------
    stands : mapping of str to FarmStands
        How the farms stand, by their addresses.

    Returns
    -------
    ShortShown
        Words: who is out first comes first, then of the others who has least left.
    """
    rows = sorted(stands.items(), key=lambda item: _gravity(item[1]))
    short = [(name, one) for name, one in rows if one.is_short]
    enough = sorted(
        ((name, one) for name, one in rows if one.is_enough),
        key=lambda item: (_left_t(item[1]), item[1].there.name.casefold()),
    )
    first = ""
    if short and (out_on := short[0][1].short_on) is not None:
        one = short[0][1]
        first = f"{clean(one.there.name)} is short first, {_display(one).day_text(out_on)}."
    waits = sum(one.waits for one in stands.values())
    unknown = len(stands) - len(short) - len(enough) - waits
    waiting = _waiting(stands)
    untold = f"Of {count_text(unknown, 'farm')} it cannot be said." if unknown else ""
    return ShortShown(
        _run_short(len(short)),
        mark("short" if short else "enough", "Short" if short else "Enough")
        if _sure(stands)
        else "",
        " ".join(one for one in (waiting, first, untold, _rough(stands)) if one),
        _short_rows(short, _lacks_t, lacks=True),
        _short_rows(enough, _left_t, lacks=False),
        _where(stands),
    )


def _more(count: int, start: int) -> More | None:
    """Return where rows go on; none where all that are left stand on the page."""
    last = start + MOST_ROWS
    if count <= last:
        return None
    return More(f"The next {min(MOST_ROWS, count - last)} of {count}", last)


def _gravity(one: FarmStands) -> tuple[bool, date, bool, bool, str]:
    """Return what puts a farm in its place: the soonest short, then danger, then what is due."""
    day = one.short_on or (one.there.end if one.is_short else date.max)
    return not one.is_short, day, not one.threats, not one.due, one.there.name.casefold()


def _sure(stands: Mapping[str, FarmStands]) -> bool:
    """Return whether a mark may stand: of one short farm, or of all with enough."""
    farms = stands.values()
    return any(one.is_short for one in farms) or all(one.is_enough for one in farms)


def _run_short(count: int) -> str:
    if not count:
        return "No farm is known to run short."
    return f"{count_text(count, 'farm')} {'runs' if count == 1 else 'run'} short."


def _are_due(count: int) -> str:
    if not count:
        return "None is due for a test."
    return f"{count} {'is' if count == 1 else 'are'} due for a test."


def _in_danger(count: int) -> str:
    if not count:
        return ""
    has = "has" if count == 1 else "have"
    return f"{count_text(count, 'farm')} {has} a danger to read before anyone feeds."


def _rough(stands: Mapping[str, FarmStands]) -> str:
    rough = sum(one.program is None and not one.waits for one in stands.values())
    if not rough:
        return ""
    has = "has" if rough == 1 else "have"
    return f"{count_text(rough, 'farm')} {has} no program and {has} a rough count instead."


def _waiting(stands: Mapping[str, FarmStands]) -> str:
    """Return that some farms are not told of, so that nobody takes the answer for all of them."""
    count = sum(one.waits for one in stands.values())
    if not count:
        return ""
    return f"{count_text(count, 'farm')} not looked at yet. Wait for them before you decide."


def _where(stands: Mapping[str, FarmStands]) -> str:
    day = max((one.day for one in stands.values()), default=None)
    told = count_text(len(stands), "farm")
    if day is None:
        return told
    units = next(iter(stands.values())).there.units
    return f"{told}, {display_for(units).weekday_text(day)}, {day.year}"


def _display(one: FarmStands) -> Display:
    return display_for(one.there.units)


def _lacks_t(one: FarmStands) -> float:
    if one.program is not None:
        return one.program.missing_t
    return 0.0 if one.outlook is None else one.outlook.buy_kg / KG_PER_TONNE


def _left_t(one: FarmStands) -> float:
    if one.program is not None:
        return one.program.left_t
    return 0.0 if one.outlook is None else max(0.0, one.outlook.over_kg) / KG_PER_TONNE


def _answer(one: FarmStands) -> str:
    """Return whether the hay of a farm lasts, in a sentence without money."""
    if one.program is not None:
        return str(without_prices(one.program.sentence))
    if one.waits:
        return _WAITS
    return _UNKNOWN if one.outlook is None else rough_answer(one.outlook, _display(one))[0]


def _by(one: FarmStands) -> str:
    if one.made_at is not None:
        return f"by the program of {_display(one).day_text(one.made_at.date())}"
    return "" if one.outlook is None else "no program yet"


def _lasts(one: FarmStands, most_left_t: float) -> str:
    """Return how long the hay of a farm lasts as a bar; nothing where that is not known."""
    if one.is_enough:
        return lasts_bar(1.0, _left_t(one) / most_left_t if most_left_t else 0.0)
    if one.short_on is None:
        return ""
    to_end = (one.there.end - one.day).days
    lasts = (one.short_on - one.day).days
    return lasts_bar(min(1.0, max(0.0, lasts / to_end)), 0.0) if to_end > 0 else ""


def _stands_row(name: str, one: FarmStands, most_left_t: float) -> StandsRow:
    now = [what for what in one.due if _is_now(what, one.day)]
    shown = now or list(one.due)
    due = ""
    if shown:
        more = f", and {len(shown) - 1} more" if len(shown) > 1 else ""
        due = f"{_what(shown[0])}, {_when(shown[0], one)}{more}"
    abouts = list(dict.fromkeys(threat.about for threat in one.threats))
    danger = ", ".join(abouts[:2]) + (f" and {len(abouts) - 2} more" if len(abouts) > 2 else "")
    if one.fault:
        danger = f"{danger}. Not all could be read" if danger else "could not be read"
    sign = ("short", "Short") if one.is_short else ("enough", "Enough") if one.is_enough else None
    return StandsRow(
        name,
        clean(one.there.name),
        mark(*sign) if sign else "",
        _answer(one),
        _by(one),
        due,
        danger,
        mark("danger") if danger else "",
        _display(one).day_year_text(one.heard_at.date()),
        _lasts(one, most_left_t),
        frozenset(
            kind
            for kind, holds in (("short", one.is_short), ("danger", danger), ("due", due))
            if holds
        ),
    )


def _threat_rows(name: str, one: FarmStands) -> list[ThreatRow]:
    """Return each thing that is dangerous at a farm and how the first caution of it opens."""
    said: dict[str, list[str]] = {}
    for threat in one.threats:
        said.setdefault(threat.about, []).append(threat.sentence)
    return [
        ThreatRow(
            name,
            clean(one.there.name),
            mark("danger"),
            about,
            opening(sentences[0]),
            f"{count_text(len(sentences) - 1, 'danger')} more" if len(sentences) > 1 else "",
        )
        for about, sentences in said.items()
    ]


def _is_now(what: DueThere, day: date) -> bool:
    return what.is_late or (what.day is not None and what.day <= day)


def _is_test_now(what: DueThere, day: date) -> bool:
    return what.kind == "core" and _is_now(what, day)


def _what(what: DueThere) -> str:
    words = {
        "fire": f"Probe {what.name} for heat",
        "core": f"Core {what.name}",
        "result": f"Result of {what.name} has not come: call the lab",
        "feed": f"Last day to feed {what.name}",
    }
    return words[what.kind]


def _when(what: DueThere, one: FarmStands) -> str:
    if what.day is None:
        return "now"
    day = _display(one).day_text(what.day)
    if what.is_late:
        return f"late since {day}"
    return "today" if what.day <= one.day else day


def _due_row(name: str, one: FarmStands, what: DueThere) -> DueRow:
    sign = "danger" if what.kind == "fire" else "warning" if what.is_late else ""
    return DueRow(
        name, clean(one.there.name), _what(what), _when(what, one), mark(sign) if sign else ""
    )


def _short_rows(
    farms: Sequence[tuple[str, FarmStands]], tons_of: Callable[[FarmStands], float], *, lacks: bool
) -> tuple[ShortRow, ...]:
    """Return farms with what they lack or have left, drawn on one scale."""
    most = max((tons_of(one) for _, one in farms), default=0.0)
    return tuple(_short_row(name, one, tons_of(one), most, lacks) for name, one in farms)


def _short_row(name: str, one: FarmStands, tons: float, most: float, lacks: bool) -> ShortRow:
    display = _display(one)
    return ShortRow(
        name,
        clean(one.there.name),
        display.tons_text(tons) if tons > 0.0 else "",
        tons_bar(tons, most, lacks=lacks) if tons > 0.0 else "",
        "" if one.short_on is None else display.day_text(one.short_on),
        _answer(one),
        _by(one),
    )
