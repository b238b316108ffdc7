"""Plain lines of a helper, as "Dec 4 cows 2 hill, corn 74 lb" or "sold 12 tarp", understood."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

from rickyard.display import clean, display_for
from rickyard.farm import Farm, FedRow, FeedKind, Lot, MoveKind, MoveRow
from rickyard.quantities import QuantityError, parse_quantity

_MONTHS: Final = (
    "jan",
    "feb",
    "mar",
    "apr",
    "may",
    "jun",
    "jul",
    "aug",
    "sep",
    "oct",
    "nov",
    "dec",
)
_ISO: Final = re.compile(r"\s*(\d{4}-\d{2}-\d{2})\b[\s,:]*")
_SPOKEN: Final = re.compile(
    r"\s*(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[\s,.]+)?"
    r"(?:([a-z]{3})[a-z]*\.?\s+(\d{1,2})|(\d{1,2})\.?\s+([a-z]{3})[a-z]*)(?:st|nd|rd|th)?\b[\s,:]*",
    re.I,
)
_NEAR: Final = re.compile(r"\s*(today|yesterday)\b[\s,:]*", re.I)
_AMOUNT: Final = re.compile(
    r"(?<![\w.-])((?:\d+|one|two|three|four) \d+/\d+|\d+/\d+|\d+(?:[.,]\d+)*"
    r"|a half|half|a|one|two|three|four)(?![\w-])",
    re.I,
)
#: As phones write them, and as they are read.
_FRACTIONS: Final = str.maketrans(
    {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⁄": "/"}
)
_AND_A_HALF: Final = re.compile(r"\b(\d+|one|two|three|four) and (?:a|one) half\b", re.I)
_WORDS: Final[Mapping[str, float]] = {
    "a": 1.0,
    "one": 1.0,
    "two": 2.0,
    "three": 3.0,
    "four": 4.0,
    "half": 0.5,
    "a half": 0.5,
}
_MASS: Final = ("lb", "lbs", "pound", "pounds", "kg", "kilos", "ton", "tons", "t")
_SAME: Final[Mapping[str, str]] = {
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "kilos": "kg",
    "tons": "ton",
}
#: What a line begins with that is about no group.
_KINDS: Final[Mapping[str, MoveKind]] = {
    "sold": MoveKind.SOLD,
    "bought": MoveKind.BOUGHT,
    "lost": MoveKind.LOST,
    "spoiled": MoveKind.LOST,
}
#: What a line begins with that says how many bales of a lot are there.
_COUNTS: Final = ("count", "counted")
#: Words that say nothing of what was fed.
_FILLERS: Final = frozenset(
    (
        *("a", "an", "bale", "bales", "load", "loads", "of", "the", "fed", "to", "hay"),
        *("gave", "got", "bag", "from"),
    )
)


@dataclass(frozen=True, slots=True)
class Counted:
    """How many bales of a lot were counted on the morning of a day."""

    day: date
    lot_id: str
    bales: float


#: What a line can say.
Row = FedRow | MoveRow | Counted


@dataclass(frozen=True, slots=True)
class Understood:
    """A line with what it says was fed, sold, bought, lost or counted, or what is not clear."""

    line: str
    rows: tuple[Row, ...]
    fault: str = ""


class _Unclear(Exception):  # noqa: N818 - what the line is
    """A part of a line is not clear; the message says what, and what to write."""


def understand(
    text: str,
    farm: Farm,
    today: date,
    likely: Mapping[str, Collection[str]] | None = None,
) -> tuple[Understood, ...]:
    """Understand lines of text as feedings, or as hay that was sold, bought, lost or counted.

    Parameters
    ----------
    text : str
        A line for each day and group: the day (today where none is said), the group, and after
        that amounts with what they are of, parted by commas. ``sold``, ``bought``, ``lost``,
        ``spoiled`` or ``count`` in the place of the group is about lots.
    farm : Farm
        Its groups, lots and feeds are what can be named.
    today : date
        The day on the farm.
    likely : mapping of str to collection of str, optional
        What each group is fed by its program: of several things of a name that is meant.

    Returns
    -------
    tuple of Understood
        One for each line that says anything, in their order.
    """
    found = []
    for line in text.splitlines():
        if not line.strip():
            continue
        said = clean(line)
        try:
            found.append(Understood(said, _rows(said, farm, today, likely or {})))
        except _Unclear as unclear:
            found.append(Understood(said, (), str(unclear)))
    return tuple(found)


def told_row(row: Row, farm: Farm) -> str:
    """Return what was understood as it is shown before it is written.

    Parameters
    ----------
    row : FedRow, MoveRow or Counted
        What was fed, or sold, bought, lost or counted.
    farm : Farm
        Gives names and units.

    Returns
    -------
    str
        A sentence without its end.
    """
    display = display_for(farm.units)
    is_of_season = farm.season.start <= row.day <= farm.season.end
    day = display.weekday_text(row.day) + ("" if is_of_season else f" of {row.day.year}")
    if isinstance(row, Counted):
        named = next(lot.name for lot in farm.lots if lot.lot_id == row.lot_id)
        many = f"{row.bales:g} bale{'s' if row.bales != 1.0 else ''}"
        return f"{day}: counted {many} of {clean(named)} ({row.lot_id}) in the morning"
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {feed.feed_id: feed.name for feed in farm.feeds}
    amount = (
        f"{row.bales:g} bales" if row.bales is not None else display.mass_text(row.mass_kg or 0)
    )
    amount = amount.replace("1 bales", "1 bale") if row.bales == 1.0 else amount
    if isinstance(row, MoveRow):
        who, source = row.kind.value, row.lot_id
    else:
        who, source = f"{clean(farm.group(row.group_id).name)},", row.source_id
    what = f"{clean(names[source])} ({source})"
    return f"{day}: {who} {amount} of {what}"


def _rows(
    line: str, farm: Farm, today: date, likely: Mapping[str, Collection[str]]
) -> tuple[Row, ...]:
    day, rest = _day(_AND_A_HALF.sub(r"\1 1/2", line.translate(_FRACTIONS)), farm, today)
    first, _, after = rest.strip().partition(" ")
    if first.rstrip(":,").casefold() in _COUNTS:
        return _counted(day, after, farm)
    kind = _KINDS.get(first.rstrip(":,").casefold())
    if kind is not None:
        return _moved(day, kind, after, farm)
    group_id, rest = _group(rest, farm)
    parts = _parts(rest)
    if not parts:
        raise _Unclear(f"What was fed to {group_id}? Write amounts, as: 2 hill, corn 74 lb.")
    rows = []
    for part in parts:
        source_id, bales, mass_kg = _fed(part, farm, likely.get(group_id, ()))
        rows.append(FedRow(day, source_id, group_id, bales=bales, mass_kg=mass_kg))
    return tuple(rows)


def _parts(rest: str) -> list[str]:
    return [one for one in re.split(r",(?!\d{3}\b)|;|\band\b|\+|&", rest) if one.strip()]


def _moved(day: date, kind: MoveKind, rest: str, farm: Farm) -> tuple[MoveRow, ...]:
    """Return what a line says was sold, bought or lost of lots."""
    rows = []
    for part in _parts(rest):
        source, bales, mass_kg = _fed(part, farm, ())
        if source not in {lot.lot_id for lot in farm.lots}:
            raise _Unclear(
                f"{source} is a feed, of which no stock is kept. Write a lot, as: "
                f"{kind.value} 12 {farm.lots[0].lot_id if farm.lots else 'LOT'}."
            )
        rows.append(MoveRow(day, source, kind, bales=bales, mass_kg=mass_kg))
    if not rows:
        raise _Unclear(f"What was {kind.value}? Write amounts of lots, as: {kind.value} 12 hill.")
    return tuple(rows)


def _counted(day: date, rest: str, farm: Farm) -> tuple[Counted, ...]:
    """Return what a line says was counted of lots."""
    rows = []
    for part in _parts(rest):
        source, bales, _ = _fed(part, farm, ())
        if bales is None:
            raise _Unclear(f"A count is of bales of a lot. Write as: count {source} 34.")
        rows.append(Counted(day, source, bales))
    if not rows:
        raise _Unclear("What was counted? Write lots with their bales, as: count hill 34.")
    return tuple(rows)


def _day(line: str, farm: Farm, today: date) -> tuple[date, str]:
    """Return the day of a line and the rest of it."""
    near = _NEAR.match(line)
    if near:
        return today - timedelta(days=near[1].casefold() == "yesterday"), line[near.end() :]
    iso = _ISO.match(line)
    if iso:
        try:
            return date.fromisoformat(iso[1]), line[iso.end() :]
        except ValueError as error:
            raise _Unclear(f'"{iso[1]}" is no day of the calendar.') from error
    said = _SPOKEN.match(line)
    if not said:
        return today, line
    month = (said[1] or said[4]).casefold()
    if month not in _MONTHS:
        return today, line
    return _in_season(month, int(said[2] or said[3]), farm), line[said.end() :]


def _in_season(month: str, number: int, farm: Farm) -> date:
    """Return the day of the season that a month and a number mean."""
    season = farm.season
    for year in range(season.start.year, season.end.year + 1):
        try:
            day = date(year, _MONTHS.index(month) + 1, number)
        except ValueError:
            continue
        if season.start <= day <= season.end:
            return day
    raise _Unclear(
        f"{month.capitalize()} {number} is no day of the season, which goes from {season.start} to "
        f"{season.end}. Write the day with its year, as {season.start}."
    )


def _group(rest: str, farm: Farm) -> tuple[str, str]:
    """Return the group that a line begins with and the rest of it."""
    words = rest.split()
    names = {one.group_id: (one.group_id, one.name) for one in farm.groups}
    for count in range(min(len(words), 5), 0, -1):
        asked = " ".join(words[:count]).rstrip(",:")
        found = _named(asked, names)
        if len(found) == 1:
            return found[0], " ".join(words[count:])
        if len(found) > 1 and count == 1:
            raise _Unclear(_several(asked, found, names))
    known = ", ".join(f"{one.name} ({one.group_id})" for one in farm.groups)
    raise _Unclear(f"Which group? After the day write one of: {known}.")


def _fed(part: str, farm: Farm, likely: Collection[str]) -> tuple[str, float | None, float | None]:
    """Return what a part of a line says was fed: the source, and bales or kilograms."""
    said = " ".join(part.split())
    amount = _AMOUNT.search(said)
    if amount is None:
        raise _Unclear(f'How much of "{said}"? Write a number before it or after it.')
    number = _number(amount[1])
    after = said[amount.end() :].split()
    unit = after[0].casefold().rstrip(".") if after else ""
    has_unit = unit in _MASS
    words = said[: amount.start()].split() + (after[1:] if has_unit else after)
    name = " ".join(one for one in words if one.casefold() not in _FILLERS)
    source = _source(name, farm, likely)
    if has_unit:
        try:
            mass = parse_quantity(f"{number} {_SAME.get(unit, unit)}", "mass", "lb")
        except QuantityError as problem:
            raise _Unclear(str(problem)) from problem
        return source, None, mass
    if source in {lot.lot_id for lot in farm.lots}:
        return source, number, None
    raise _Unclear(f"{amount[1]} of what is {name}? Write its unit, as {amount[1]} lb.")


def _number(text: str) -> float:
    said = text.casefold()
    if " " in said and "/" in said:
        whole, _, part = said.partition(" ")
        return _number(whole) + _number(part)
    if said in _WORDS:
        return _WORDS[said]
    if "/" in said:
        above, _, below = said.partition("/")
        if not float(below):
            raise _Unclear(f'"{text}" is no number.')
        return float(above) / float(below)
    try:
        return float(re.sub(r",(?=\d{3}\b)", "", said).replace(",", "."))
    except ValueError as error:
        raise _Unclear(f'"{text}" is no number.') from error


def _source(name: str, farm: Farm, likely: Collection[str]) -> str:
    if not name:
        raise _Unclear("Of what? Write the lot or the feed beside each amount.")
    names: dict[str, Sequence[str]] = {one.lot_id: _words_of(one) for one in farm.lots}
    names |= {
        one.feed_id: (one.feed_id, one.name)
        for one in farm.feeds
        if one.kind is not FeedKind.GRAZING
    }
    found = _named(name, names)
    if len(found) > 1:
        planned = [one for one in found if one in likely]
        found = planned if len(planned) == 1 else found
    if not found:
        raise _Unclear(
            f'"{name}" is no lot and no feed of this farm. Its lots and feeds are: '
            f"{', '.join(names)}."
        )
    if len(found) > 1:
        raise _Unclear(_several(name, found, names))
    return found[0]


def _words_of(lot: Lot) -> tuple[str, ...]:
    return (lot.lot_id, lot.name, lot.field_name, lot.species)


def _several(asked: str, found: Sequence[str], names: Mapping[str, Sequence[str]]) -> str:
    told = " or ".join(f"{names[one][1]} ({one})" for one in found)
    return f'"{asked}" may be {told}. Write more of its name, or what stands in the parentheses.'


def _named(asked: str, names: Mapping[str, Sequence[Any]]) -> list[str]:
    """Return what has a name, or else all of whose words begin words of its names."""
    plain = asked.casefold()
    exact = [one for one, said in names.items() if plain in {str(word).casefold() for word in said}]
    if exact:
        return exact
    wanted = re.findall(r"[^\W_]+", plain)
    found = []
    for one, said in names.items():
        there = re.findall(r"[^\W_]+", " ".join(said).casefold())
        if wanted and all(any(word.startswith(part) for word in there) for part in wanted):
            found.append(one)
    return found
