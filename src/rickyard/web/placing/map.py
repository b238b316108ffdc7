"""The yard as it is drawn, and the form by which a stack is placed without a mouse."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.display import Display, clean, count_text, display_for
from rickyard.farm import Caution, Farm, Lot, StackRow, Storage
from rickyard.hay.yard import REACH_SOURCE, YardLine, YardPage, bale_sides_m, stack_of
from rickyard.quantities import M_PER_FT
from rickyard.web.drawn import OnMap, extent, flags_of, yard_map
from rickyard.web.shown import bales_text

#: So many rows side by side, and bales on each other, where nobody said how a lot is stacked.
_GUESSED_WIDE: Final = 4
_GUESSED_HIGH: Final = 1
#: Room between stacks that nobody placed. [ft]
_APART: Final = 30.0
_ROOFS: Final[Mapping[Storage, str]] = {
    Storage.ENCLOSED_BARN: "roof",
    Storage.ROOF_OPEN_SIDES: "roof open",
    Storage.COVERED_GROUND: "roof open",
    Storage.COVERED_ELEVATED: "roof open",
}


@dataclass(frozen=True, slots=True)
class Choice:
    """A lot that can be placed."""

    lot_id: str
    name: str
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class Field:
    """A field of the form: its question, what stands in it, and its fault."""

    name: str
    question: str
    unit: str
    text: str
    fault: str = ""


@dataclass(frozen=True, slots=True)
class MapShown:
    """The drawing of a yard with its form."""

    drawing: str
    guesses: str
    reach: tuple[str, ...]
    reach_source: str
    choices: tuple[Choice, ...]
    chosen: str
    fields: tuple[Field, ...]
    drawn_line: str


def map_shown(
    farm: Farm,
    page: YardPage,
    cautions: Sequence[Caution],
    chosen: str = "",
    texts: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
) -> MapShown:
    """Return the drawing of a yard, and the form that places one of its stacks.

    Parameters
    ----------
    farm : Farm
        The farm.
    page : YardPage
        Its yard on a day.
    cautions : sequence of Caution
        What was read of its lots.
    chosen : str
        The lot whose stack is being placed.
    texts : mapping of str to str, optional
        What was typed, where it was at fault.
    faults : mapping of str to str, optional
        What is wrong with it, by field.

    Returns
    -------
    MapShown
        Words and drawing.
    """
    display = display_for(farm.units)
    lines = {one.lot_id: one for one in page.lines if one.standing.bales > 0.0 or _gone(one)}
    rows = {one.lot_id: one for one in farm.stacks if one.lot_id in lines}
    dangers = {one.about for one in (*cautions, *page.cautions) if one.level == "danger"}
    placed = [_on_map(farm, lines[key], row, display, dangers, chosen) for key, row in rows.items()]
    bare = [one for key, one in lines.items() if key not in rows and one.standing.bales > 0.0]
    guessed = _guessed(farm, bare, placed, display, dangers, chosen)
    every = [*placed, *guessed]
    label = f"The yard from above, to scale: {count_text(len(every), 'stack')}"
    row = rows.get(chosen)
    return MapShown(
        yard_map(every, label, metric=farm.units == "metric"),
        _guesses_text(len(guessed)),
        tuple(_reach(farm.lot(key), lines[key], rows[key]) for key in rows),
        REACH_SOURCE,
        tuple(Choice(key, clean(one.name), key == chosen) for key, one in lines.items()),
        clean(farm.lot(chosen).name) if chosen in lines else "",
        _fields(row, display, texts or {}, faults or {}),
        "" if row is None else chosen,
    )


def _gone(line: YardLine) -> float:
    return -sum(bales for bales in line.account.bales.values() if bales < 0.0)


def _guesses_text(many: int) -> str:
    if not many:
        return ""
    return (
        f"{count_text(many, 'stack')} with a dashed frame: nobody has said where. "
        "Put each where it stands."
    )


def _on_map(
    farm: Farm,
    line: YardLine,
    row: StackRow,
    display: Display,
    dangers: set[str],
    chosen: str,
    *,
    is_guess: bool = False,
) -> OnMap:
    lot = farm.lot(line.lot_id)
    stack = stack_of(lot, row, line.standing.bales, _gone(line))
    says = bales_text(line.standing.bales, lot)
    if row.high > 1:
        says += f", {row.high} high"
    if line.lot_id in dangers:
        says += ": danger, read first"
    else:
        says += f", will lose {display.percent_text(line.will_lose_pct)}"
    across, _, _ = bale_sides_m(lot)
    said = (
        ("lot", line.lot_id),
        ("wide", str(row.wide)),
        ("high", str(row.high)),
        ("gap", f"{(row.gap_m or 0.0) / M_PER_FT:.1f}"),
        ("bale", f"{across / M_PER_FT:.1f}"),
    )
    return OnMap(
        f"?stack={line.lot_id}#place",
        clean(line.name),
        display.local(says),
        flags_of(farm.lots)[line.lot_id],
        stack,
        row.east_m / M_PER_FT,
        row.north_m / M_PER_FT,
        row.turn_deg,
        said,
        line.lot_id in dangers,
        is_guess,
        line.lot_id == chosen,
        _ROOFS.get(lot.storage, ""),
    )


def _guessed(
    farm: Farm,
    lines: Sequence[YardLine],
    placed: Sequence[OnMap],
    display: Display,
    dangers: set[str],
    chosen: str,
) -> list[OnMap]:
    """Return the stacks that nobody placed, beside each other over those that somebody did."""
    north = max((one.north + extent(one)[1] for one in placed), default=0.0) + _APART
    most = max([360.0, *(one.east + extent(one)[0] for one in placed)])
    found: list[OnMap] = []
    east, deepest = _APART, 0.0
    for line in lines:
        row = StackRow(line.lot_id, 0.0, 0.0, 0.0, _GUESSED_WIDE, _GUESSED_HIGH)
        flat = _on_map(farm, line, row, display, dangers, chosen, is_guess=True)
        half_wide, half_deep = extent(flat)
        room = max(half_wide, 55.0)
        if found and east + 2 * room > most:
            north, east, deepest = north + deepest + _APART, _APART, 0.0
        at = StackRow(
            line.lot_id,
            (east + half_wide) * M_PER_FT,
            (north + half_deep) * M_PER_FT,
            0.0,
            _GUESSED_WIDE,
            _GUESSED_HIGH,
        )
        found.append(_on_map(farm, line, at, display, dangers, chosen, is_guess=True))
        east, deepest = east + 2 * room + _APART, max(deepest, 2 * half_deep)
    return found


def _reach(lot: Lot, line: YardLine, row: StackRow) -> str:
    """Return how much of a stack can be cored from the ground."""
    stack = stack_of(lot, row, line.standing.bales, _gone(line))
    name, there = clean(line.name), bales_text(line.standing.bales, lot)
    return f"{name}: {stack.reach} of {there} can be cored from the ground."


def _fields(
    row: StackRow | None,
    display: Display,
    texts: Mapping[str, str],
    faults: Mapping[str, str],
) -> tuple[Field, ...]:
    metric = display.system != "us"
    unit, per_m = ("m", 1.0) if metric else ("ft", 1.0 / M_PER_FT)

    def far(meters: float | None) -> str:
        return "" if meters is None else f"{meters * per_m:.1f}".removesuffix(".0")

    told = {
        "east_m": far(None if row is None else row.east_m),
        "north_m": far(None if row is None else row.north_m),
        "turn_deg": "0" if row is None else f"{row.turn_deg:g}",
        "wide": str(_GUESSED_WIDE if row is None else row.wide),
        "high": str(_GUESSED_HIGH if row is None else row.high),
        "gap_m": far(None if row is None else row.gap_m),
    }
    words = (
        ("east_m", "Its middle is east of the yard's southwest corner by", unit),
        ("north_m", "and north of it by", unit),
        ("turn_deg", "Its rows run north, turned clockwise by", "degrees"),
        ("wide", "Rows side by side", ""),
        ("high", "Bales on each other", ""),
        ("gap_m", "Space between the rows; blank where they touch", unit),
    )
    return tuple(
        Field(name, question, of, texts.get(name, told[name]), faults.get(name, ""))
        for name, question, of in words
    )
