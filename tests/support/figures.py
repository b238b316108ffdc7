"""Figures of a page held against those of the services, each at the labels that lead to it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from rickyard.display import display_for, localized
from rickyard.farm import Caution, Farm
from rickyard.sheets.wording import said_once
from support.placed import Placed

Place = tuple[str, str, str]


@dataclass
class Wanted:
    """What a page is to hold: figures at their labels, what is ``said``, and what ``may`` be."""

    cells: dict[Place, list[str]] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)
    may: list[str] = field(default_factory=list)

    def row(self, section: str, row: str, **cells: str) -> None:
        """Ask for figures in a row; the name of a column has ``_`` for a blank."""
        for column, figure in cells.items():
            if _has_figure(figure):
                place = (section, " ".join(row.split()), column.replace("_", " "))
                self.cells.setdefault(place, []).append(" ".join(figure.split()))


def answer_parts(sentence: str) -> list[str]:
    """Return an answer in the parts that a page shows apart: what is counted beside is small."""
    head, _, beside = sentence.partition(" (")
    inside, _, more = beside.partition(")")
    parts = [*re.split(r"\. |: as bought", head), inside, *more.split(". ")]
    return [one.strip(". ") for one in parts if one.strip(". ")]


def of_any_page(farm: Farm, day: date, cautions: Iterable[Caution] = ()) -> Wanted:
    """Return what every page of a farm may say: its names and the day; and its cautions, once."""
    display = display_for(farm.units)
    told = localized(said_once(tuple(dict.fromkeys(cautions)), farm), display)
    names = [one.name for one in (*farm.lots, *farm.groups, *farm.feeds)]
    day_words = f"{display.weekday_text(day)}, {day.year}"
    may = [*names, farm.name, farm.place, day_words, *(one.source for one in told)]
    # A caution may be folded behind its first sentence.
    halves = [half for one in told for half in one.sentence.split(". ", 1)]
    return Wanted(said=[one.sentence for one in told], may=[*may, *halves])


def differs(page: str, wanted: Wanted) -> list[str]:
    """Return each figure that a page lacks, has otherwise, or has from no service."""
    every = Placed(page).pieces
    must = {" ".join(one.split()) for one in wanted.said if _has_figure(one)}
    told = sorted({" ".join(one.split()) for one in wanted.may if one} | must, key=len)[::-1]
    found: dict[Place, list[str]] = {}
    wrong = []
    for one in (one for one in every if _has_figure(one.text)):
        if one.place in wanted.cells:
            found.setdefault(one.place, []).append(one.text)
        elif _has_figure(_without(one.text, told)):
            wrong.append(f"from no service: {one.tag} {one.place} {one.text!r}")
    for place, asked in wanted.cells.items():
        if Counter(found.get(place, [])) != Counter(asked):
            wrong.append(f"{place}: page {found.get(place, [])}, service {asked}")
    whole = " ".join(one.text for one in every)
    return wrong + [f"not said: {one!r}" for one in must if one not in whole]


def _without(text: str, told: Iterable[str]) -> str:
    """Return a text without what services say."""
    for one in told:
        text = text.replace(one, "")
    return text


def _has_figure(text: str) -> bool:
    return any(map(str.isdigit, text))
