"""Sheets in fourteen languages with the troubles of real ones, by chance, each with what it holds.

A trouble is something beside the results that a hasty reader takes for one of them: a row that
is taken back, a table of another laboratory, a column of methods, sentences that contradict.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from random import Random

from .chance import WRITERS, Sheet
from .content import Analyte, Content, content
from .grid import Grid, Key

TONGUES = json.loads(Path(__file__).with_name("tongues.json").read_text("utf-8"))
#: Names on bags that are words of something else.
NAMES = (
    "DM 4", "Dry Creek", "Ash Grove", "K 12", "P4 north", "Protein field", "As fed pile",
    "Max Hollow", "Field 12/7", "Nr. 5", "Hof Süd", "Pré du lac", "East 40, stack 2",
    "Salt lick end", "Iron gate", "2nd cut alfalfa", "Lot 3 (wet)", "N of road", "S-17",
    "Sulphur Spring", "Wet corner", "Fresh Pond", "3/4 section", "Norma's field", "Copper Hill",
)  # fmt: skip
TROUBLES = ("none", "void", "replaced", "two tables", "method", "not found", "contradicted",
            "mean", "heads again", "asides")  # fmt: skip
LAYOUTS = ("wide", "across", "blocks", "long")
_FILES = {True: ("semicolon", "tab", "xlsx", "fixed"), False: ("csv", "tab", "xlsx", "fixed")}
_NO_COMMA = ("en",)
_UNIT_BEFORE = re.compile(r"^(?:%|g/kg|/|per kg|pr\. kg) ?(?:per kg)?")
_ORDER = {"de": "%d.%m.%Y", "pl": "%d.%m.%Y", "da": "%d.%m.%Y", "nl": "%d-%m-%Y"}


@dataclass
class Strange:
    """A sheet, of what it holds the values that must be asked, and words in place of values."""

    sheet: Sheet
    must_ask: set[Key] = field(default_factory=set)
    words: dict[Key, str] = field(default_factory=dict)

    def right_words(self, key: Key, romance: bool) -> bool:
        """Return whether the word in place of a value says for certain that none was found."""
        word = self.words.get(key, "")
        return bool(word) and not (word == "n.d." and romance)


class _Maker:
    """What is drawn for one sheet, and the grid in which it is laid out."""

    def __init__(self, number: int) -> None:
        self.random = Random(f"strange {number}")
        self.tongue = self.random.choice(["en", "en", "en", *TONGUES])
        self.words = TONGUES[self.tongue]
        self.trouble = TROUBLES[number % len(TROUBLES)]
        wide = self.trouble in ("void", "replaced", "two tables", "method", "mean", "heads again")
        self.layout = "wide" if wide else self.random.choice(LAYOUTS)
        self.content = self._content()
        self.comma = self.tongue not in _NO_COMMA and self.random.random() < 0.8
        self.unit_at = self.random.choice(("label", "row"))
        two = len(self.content.bases) > 1
        self.basis_at = self.random.choice(("label", "row") if two else ("label", "row", "told"))
        if self.trouble == "two tables":
            self.basis_at = "told"
        # "% TS" has its unit in it: beside another one it would be a contradiction
        self.shown = {
            basis: _UNIT_BEFORE.sub("", self.word(self.words["bases"][basis])) or "DM"
            for basis in ("dm", "ar")
        }
        self.said = {basis: self.word(self.words["sentences"][basis]) for basis in ("dm", "ar")}
        self.heads = {name: self.word(self.words[name]) for name in (
            "id", "lab", "sampled", "method", "analyte", "result", "unit", "basis", "beside",
        )}  # fmt: skip
        self.grid = Grid()
        self.must_ask: set[Key] = set()
        self.instead: dict[Key, str] = {}

    def word(self, words: str) -> str:
        return self.random.choice(words.split("|"))

    def _content(self) -> Content:
        held = content(self.random, 5)
        known = self.words["analytes"]
        held.analytes = [one for one in held.analytes if one.key in known]
        for one in held.analytes:
            one.words = self.word(known[one.key])
            one.shown_unit = {"pct": "%", "g_per_kg": "g/kg", "ppm": "mg/kg"}[one.unit]
        if self.trouble in ("two tables", "contradicted"):
            held.bases = held.bases[:1]
        if self.random.random() < 0.5:
            for bag, name in zip(held.bags, self.random.sample(NAMES, len(held.bags)), strict=True):
                bag.name = name
        return held

    def label(self, analyte: Analyte, basis: str) -> str:
        own = self.content.basis_of(analyte, basis)
        inner = analyte.shown_unit if self.unit_at == "label" else ""
        if self.basis_at == "label" and own and analyte.key not in ("dm", "moisture"):
            shown = self.shown[own]
            # "% TS" has its unit in it: beside another one it would be a contradiction
            inner = (
                f"{inner} {re.sub(r'^(?:%|g/kg|/|per kg|pr. kg) ?(?:per kg)?', '', shown)}".strip()
            )
        return f"{analyte.words} ({inner})" if inner else analyte.words

    def day(self, day: date) -> str:
        return day.strftime(_ORDER.get(self.tongue, "%Y-%m-%d"))

    def fields(self) -> list[tuple[str, list[str]]]:
        bags = self.content.bags
        return [(self.heads["id"], [one.name for one in bags]),
                (self.heads["lab"], [one.number for one in bags]),
                (self.heads["sampled"], [self.day(one.day) for one in bags])]  # fmt: skip

    def printed(self) -> list[tuple[Analyte, str]]:
        """Return each analyte with each basis on which it is printed."""
        return [
            (one, basis)
            for basis in self.content.bases
            for one in self.content.analytes
            if basis == self.content.bases[0] or self.content.basis_of(one, basis) == basis
        ]

    def other(self, analyte: Analyte, basis: str, bag: int = 0) -> str:
        """Return a number that is like a result and none."""
        text = analyte.printed(self.content.bags[bag].forage, basis)
        return f"{float(text) * self.random.uniform(0.85, 1.15):.{analyte.places}f}"


def strange(number: int) -> Strange:
    """Return the sheet of that number; the same each time."""
    make = _Maker(number)
    make.grid.line(make.words["title"])
    if make.basis_at == "told" and make.trouble != "two tables":
        make.grid.line(make.words["told"].format(b=make.said[make.content.bases[0]]))
    if make.trouble == "contradicted" and make.basis_at != "told":
        other = {"dm": "ar", "ar": "dm"}[make.content.bases[0]]
        make.grid.line(make.words["told"].format(b=make.said[other]))
    make.grid.line()
    {"wide": _wide, "across": _across, "blocks": _blocks, "long": _long}[make.layout](make)
    make.grid.line()
    for noise in make.words["noise"].split("|")[: make.random.choice((0, 1, 2))]:
        make.grid.line(noise)
    if make.trouble == "contradicted" and make.basis_at != "told":
        make.must_ask |= {key for key in make.content.truth if key[1] not in ("dm", "moisture")
                          and key[2]}  # fmt: skip
    kind = make.random.choice(_FILES[make.comma])
    if make.comma:
        make.grid.rows = [[_with_comma(text) for text in row] for row in make.grid.rows]
    data, _ = WRITERS[kind](make.grid)
    name = (
        f"{number}-{make.tongue}-{make.layout}-{make.trouble}-{kind}-{make.unit_at}-{make.basis_at}"
    )
    return Strange(Sheet(name, data, make.content, {}), make.must_ask, make.instead)


def _with_comma(text: str) -> str:
    return text.replace(".", ",") if re.fullmatch(r"[<+-]?\d+\.\d+", text) else text


def _wide(make: _Maker) -> None:
    if make.trouble == "two tables":
        _two_tables(make)
        return
    _wide_heads(make)
    half = len(make.content.bags) // 2
    for bag in range(len(make.content.bags)):
        if make.trouble == "heads again" and bag == half and half:
            _wide_heads(make)
        _wide_row(make, bag)
    if make.trouble == "mean":
        make.grid.line(make.word("Average|Mean|Max|Min|Target"), "", "",
                       *(make.other(one, basis) for one, basis in make.printed()))  # fmt: skip


def _status(make: _Maker) -> list[str]:
    return ["Status"] if make.trouble in ("void", "replaced") else (
        [make.heads["method"]] if make.trouble == "method" else []
    )  # fmt: skip


def _wide_heads(make: _Maker) -> None:
    more = _status(make)
    columns = make.printed()
    make.grid.line(*(name for name, _ in make.fields()), *more,
                   *(make.label(one, basis) for one, basis in columns))  # fmt: skip
    empty = [""] * (3 + len(more))
    if make.basis_at == "row":
        make.grid.line(*empty, *(
            make.shown.get(make.content.basis_of(one, basis), "") for one, basis in columns
        ))  # fmt: skip
    if make.unit_at == "row":
        make.grid.line(*empty, *(one.shown_unit for one, _ in columns))


def _wide_row(make: _Maker, bag: int) -> None:
    again = make.trouble in ("void", "replaced") and bag == 0
    names = [texts[bag] for _, texts in make.fields()]
    if again:
        said = make.random.choice(("VOID", "void - see next line", "withdrawn", "cancelled"))
        first = said if make.trouble == "void" else "final"
        make.grid.line(*names, first, *(make.other(one, basis) for one, basis in make.printed()))
    row = make.grid.line(*names)
    told = {"void": "final", "replaced": "re-run" if again else "final",
            "method": make.random.choice(("NIR", "wet", "wet chem"))}.get(make.trouble)  # fmt: skip
    if told is not None:
        make.grid.put(row, 3, told)
    for place, (one, basis) in enumerate(make.printed()):
        make.grid.value(row, 3 + len(_status(make)) + place, make.content, bag, one, basis)
        if make.trouble == "not found" and one.unit == "ppm" and bag == 0:
            _not_found(make, row, 3 + place, (bag, one.key, make.content.basis_of(one, basis)))


def _not_found(make: _Maker, row: int, column: int, key: Key) -> None:
    """Print a word in place of a value; "n.d." may mean two things."""
    word = make.random.choice(
        (make.word(make.words["absent"]), make.word(make.words["found"]), "n.d.")
    )
    make.grid.put(row, column, word)
    make.content.truth.pop(key)
    make.grid.at.pop(key)
    make.instead[key] = word


def _two_tables(make: _Maker) -> None:
    """Print the samples in two tables, each on the basis that the line over it tells."""
    first = make.content.bases[0]
    half = max(len(make.content.bags) // 2, 1)
    for basis, bags in ((first, range(half)), ("ar" if first == "dm" else "dm",
                                               range(half, len(make.content.bags)))):  # fmt: skip
        make.content.bases = [basis]
        make.grid.line(make.words["told"].format(b=make.said[basis]))
        _wide_heads(make)
        for bag in bags:
            _wide_row(make, bag)
        make.grid.line()
        make.grid.line()


def _across(make: _Maker) -> None:
    aside = make.trouble == "asides"
    bags = list(range(len(make.content.bags)))
    places: list[int | None] = [*bags]
    if aside:
        places.insert(make.random.choice((0, len(places))), None)
    units = [""] if make.unit_at == "row" else []
    bases = [""] if make.basis_at == "row" else []
    for at, (name, texts) in enumerate(make.fields()):
        heads = [make.heads["unit"] if units else "", make.heads["basis"] if bases else ""]
        lead = [heads[0]] * len(units) + [heads[1]] * len(bases) if not at else units + bases
        aside = make.heads["beside"] if not at else ""
        make.grid.line(name, *lead, *(aside if n is None else texts[n] for n in places))
    for one, basis in make.printed():
        lead = [one.shown_unit] * len(units)
        lead += [make.shown.get(make.content.basis_of(one, basis), "")] * len(bases)
        row = make.grid.line(make.label(one, basis), *lead)
        for place, bag in enumerate(places):
            if bag is None:
                make.grid.put(row, 1 + len(lead) + place, make.other(one, basis))
            else:
                make.grid.value(row, 1 + len(lead) + place, make.content, bag, one, basis)


def _blocks(make: _Maker) -> None:
    for bag in range(len(make.content.bags)):
        for name, texts in make.fields():
            make.grid.line(f"{name}:", texts[bag])
        heads = [make.heads["analyte"]]
        heads += [make.heads["unit"]] if make.unit_at == "row" else []
        first = 1 + (make.unit_at == "row")
        told = make.basis_at == "told"
        heads += [make.heads["result"]] if told else [make.shown[b] for b in make.content.bases]
        heads += [make.heads["beside"]] if make.trouble == "asides" else []
        make.grid.line(*heads)
        for one in make.content.analytes:
            words = (
                f"{one.words} ({one.shown_unit})"
                if make.unit_at == "label" and one.shown_unit
                else one.words
            )
            row = make.grid.line(words, *([one.shown_unit] if first > 1 else []))
            for place, basis in enumerate(make.content.bases):
                own = make.content.basis_of(one, basis)
                if own in (basis, "") or len(make.content.bases) == 1:
                    make.grid.value(row, first + place, make.content, bag, one, basis)
            if make.trouble == "asides":
                make.grid.put(row, first + len(make.content.bases), make.other(one, "dm"))
        make.grid.line()


def _long(make: _Maker) -> None:
    heads = [
        make.heads[name] for name in ("id", "lab", "sampled", "analyte", "result", "unit", "basis")
    ]
    make.grid.line(*heads, *([make.heads["beside"]] if make.trouble == "asides" else []))
    for bag in range(len(make.content.bags)):
        names = [texts[bag] for _, texts in make.fields()]
        for one, basis in make.printed():
            own = make.content.basis_of(one, basis)
            row = make.grid.line(*names, one.words, "", one.shown_unit, make.shown.get(own, ""))
            make.grid.value(row, 4, make.content, bag, one, basis)
            if make.trouble == "asides":
                make.grid.put(row, 7, make.other(one, basis, bag))
