"""Two programs of a season side by side: what each costs, feeds, buys and leaves short."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from rickyard.display import Display, clean, display_for, money_text
from rickyard.farm import Farm
from rickyard.program.compare import ComparedRow, Comparison, compare, differs_from_first
from rickyard.service import Planned
from rickyard.sheets.wording import group_name, words

#: So many runs of days on which a group eats another hay are told.
_MOST_RUNS: Final = 12

#: Less than this is no difference. [US dollars]
_HALF_A_DOLLAR: Final = 0.5

_NOTHING: Final = "none"


@dataclass(frozen=True, slots=True)
class BesideTable:
    """Rows of both programs: what it is, then a cell of each."""

    key: str
    title: str
    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class BesideShown:
    """Two programs side by side; ``answer`` says what the newer one costs more or less.

    ``heads`` are the names of both, the newer first. ``other_hay`` says who mostly eats another
    hay and when, ``short`` what each is short of.
    """

    answer: str
    lede: str
    heads: tuple[str, str]
    tables: tuple[BesideTable, ...]
    other_hay: tuple[str, ...]
    more_hay: int
    short: tuple[str, ...]


def beside_shown(newer: Planned, older: Planned, *, fed_by: bool, priced: bool) -> BesideShown:
    """Return two programs of a season side by side.

    Parameters
    ----------
    newer, older : Planned
        The programs with their farms.
    fed_by : bool
        Whether the older one is the one that is fed by.
    priced : bool
        Whether the reader may see what they cost.

    Returns
    -------
    BesideShown
        Words and figures. Hay and feed put out are those of the days that both cover.
    """
    farm, display = newer.farm, display_for(newer.farm.units)
    name = "the program that is fed by" if fed_by else "the one before"
    found = compare([("the newest program", newer.program), (name, older.program)])
    runs = _other_hay(found, farm, display)
    lines = [
        f"{label[0].upper()}{label[1:]}: {display.local(sentence)}"
        for lack in found.lacks
        for label, sentence in zip(found.labels, lack.sentences, strict=True)
        if sentence
    ]
    return BesideShown(
        _answer(found) if priced else "Two programs of one season, side by side.",
        _lede(found, display),
        ("Newest", "Fed by" if fed_by else "Before"),
        tuple(one for one in _tables(found, farm, display, priced=priced) if one.rows),
        tuple(runs[:_MOST_RUNS]),
        max(0, len(runs) - _MOST_RUNS),
        tuple(lines),
    )


def _answer(found: Comparison) -> str:
    now, before = (value or 0.0 for value in found.total.values)
    more = now - before
    if abs(more) < _HALF_A_DOLLAR:
        return "The newest program costs the same."
    told = f"{money_text(abs(more))} {'more' if more > 0.0 else 'less'} than {found.labels[1]}"
    if abs(more) <= max(found.distances_usd):
        return f"No clear change in cost: {told}."
    return f"The newest program costs {told}."


def _lede(found: Comparison, display: Display) -> str:
    if found.spans[0] == found.spans[1]:
        return "Both plan the same days."
    spans = " and ".join(display.span_text(*span) for span in found.spans)
    said = f"They plan different days, {spans}, so their costs are not for the same feeding."
    if found.same_days is None:
        return said
    return f"{said} Hay and feed put out are those of {display.span_text(*found.same_days)}."


def _tables(
    found: Comparison, farm: Farm, display: Display, *, priced: bool
) -> tuple[BesideTable, ...]:
    def rows(
        of: tuple[ComparedRow, ...], write: Callable[[float], str], names: Callable[[str], str]
    ) -> tuple[tuple[str, str, str], ...]:
        return tuple(
            (clean(names(one.key)), _cell(one.values[0], write), _cell(one.values[1], write))
            for one in of
            if any(_is_there(value) for value in one.values)
        )

    said = dict((*words.COST_WORDS, *words.MORE_COST_WORDS))
    costs = rows(found.cost, money_text, lambda key: said.get(key, key.replace("_", " ")))
    now, before = (money_text(value or 0.0) for value in found.total.values)

    def tons(value: float) -> str:
        return display.tons_text(value)

    def named(key: str) -> str:
        return found.names.get(key, key)

    return (
        *(
            [BesideTable("cost", "What they cost", (*costs, ("Total", now, before)))]
            if priced
            else []
        ),
        BesideTable("hay", "Hay put out, dry matter", rows(found.fed_t, tons, named)),
        BesideTable("feed", "Feed put out", rows(found.fed_kg, display.amount_text, named)),
        BesideTable("left", "Hay left at the end, dry matter", rows(found.left_t, tons, named)),
        BesideTable(
            "changes",
            "How often the hay changes",
            rows(found.changes, "{:.0f}".format, lambda key: group_name(farm, key)),
        ),
    )


def _is_there(value: float | None) -> bool:
    return value is not None and value != 0.0


def _cell(value: float | None, write: Callable[[float], str]) -> str:
    text = write(value) if value is not None and _is_there(value) else _NOTHING
    return _NOTHING if text.startswith("0 ") else text


def _other_hay(found: Comparison, farm: Farm, display: Display) -> list[str]:
    """Say where a group mostly eats another hay than in the older program."""
    told = []
    for run in differs_from_first(found, 1):
        now, was = (found.names.get(hay, hay) if hay else "no hay" for hay in run.hays)
        when = display.span_text(run.start, run.end)
        told.append(clean(f"{group_name(farm, run.group_id)}, {when}: {now} instead of {was}."))
    return told
