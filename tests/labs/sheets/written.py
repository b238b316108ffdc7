"""Reports as somebody writes them, by chance: letters, lists, protocols and keys in sentences.

What stands before the values of a sample, how each value is written, where unit and basis are
told and what is said beside them are drawn each for itself, in fourteen languages.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from corpus.paper import Paper

from .chance import Sheet
from .content import Analyte, Content, content
from .strange import TONGUES, _with_comma

HEADS = ("bracket", "quoted", "square", "fields", "led", "titled", "before", "name alone")
VALUES = ("commas", "semicolons", "gaps", "lines", "bullets", "dots", "first", "equals", "coded")
BASES = ("told", "foot", "sections", "label", "behind", "title of each")
FILES = ("text", "text", "mail", "answered", "paper")
NUMBERS = ("Q{0}", "{1}a", "EL{2}", "TZ/{2}", "25-{1}", "{0}", "K-{2}", "26/{0}")
ASIDES = (
    "The invoice of 78.50 follows.", "Telephone 555 01 88.", "Samples were ground to 1 mm.",
    "Page 1 of 1", "Results relate only to the samples as received.",
    "A good hay of your county has 11 to 13 % protein.", "Please pay within 30 days.",
    "{name} had {old} protein last year.", "Bales weighed 1100 lb.", "Order 118 of 4 July 2025",
)  # fmt: skip


@dataclass
class _Maker:
    random: Random
    tongue: str
    content: Content
    head: str
    how: str
    basis_at: str
    unit_at: str
    comma: bool
    shown: dict[str, str]
    said: dict[str, str]

    @property
    def words(self) -> dict[str, object]:
        return TONGUES[self.tongue]

    def word(self, name: str) -> str:
        return self.random.choice(self.words[name].split("|"))

    def number(self, text: str) -> str:
        return _with_comma(text) if self.comma else text


def _maker(number: int) -> _Maker:
    random = Random(f"written {number}")
    tongue = random.choice(["en"] * 12 + list(TONGUES))
    words = TONGUES[tongue]
    held = content(random, 4)
    held.analytes = [one for one in held.analytes if one.key in words["analytes"]]
    for one in held.analytes:
        one.words = random.choice(words["analytes"][one.key].split("|"))
        one.shown_unit = {"pct": "%", "g_per_kg": "g/kg", "ppm": random.choice(("mg/kg", "ppm")),
                          "": ""}.get(one.unit, one.shown_unit)  # fmt: skip
    held.bases = held.bases[:1]
    form = random.choice(NUMBERS)
    first = random.randint(10, 80)
    for n, bag in enumerate(held.bags):
        bag.number = form.format(4000 + 7 * first + n, 100 + first + n, first + n)
    how = random.choice(VALUES)
    shown = {
        basis: random.choice(words["bases"][basis].split("|")).removeprefix("% ")
        for basis in ("dm", "ar")
    }
    shown = {
        b: t if not t.startswith(("g/kg", "/")) else t.replace("g/kg ", "")
        for b, t in shown.items()
    }
    said = {b: random.choice(words["sentences"][b].split("|")) for b in ("dm", "ar")}
    basis_at = random.choice(BASES)
    if how == "coded":
        basis_at = random.choice(("told", "foot", "key"))
    return _Maker(
        random, tongue, held, random.choice(HEADS), how, basis_at,
        random.choice(("cell", "cell", "cell", "label", "none")),
        tongue != "en" and random.random() < 0.8, shown, said,
    )  # fmt: skip


def written(number: int) -> Sheet:
    """Return the report of that number; the same each time."""
    make = _maker(number)
    random, held = make.random, make.content
    lines = [make.words["title"], ""]
    own = dict.fromkeys(range(len(held.bags)), held.bases[0])
    if make.basis_at == "sections" and len(held.bags) > 1:
        half = len(held.bags) // 2
        own = {n: ("dm" if n < half else "ar") for n in own}
    elif make.basis_at == "sections":
        make.basis_at = "told"
    told = make.words["told"]
    if make.basis_at == "told" or (make.basis_at == "key"):
        lines += [told.format(b=make.said[own[0]]), ""]
    if make.how == "coded":
        lines += _coded(make, own)
    else:
        before = ""
        for bag in range(len(held.bags)):
            if make.basis_at == "sections" and own[bag] != before:
                before = own[bag]
                lines += ["", told.format(b=make.said[before]), ""]
            lines += _sample(make, bag, own[bag])
            lines += [""] if make.how not in ("commas", "semicolons", "gaps") else []
    if make.basis_at == "foot":
        lines += ["", told.format(b=make.said[own[0]])]
    if make.tongue == "en":
        for aside in random.sample(ASIDES, random.choice((0, 1, 1, 2))):
            lines += ["", aside.format(name=held.bags[0].name, old="10.1")]
    data, kind = _file(make, lines)
    name = f"{number}-{make.tongue}-{make.head}-{make.how}-{make.basis_at}-{make.unit_at}-{kind}"
    return Sheet(name, data, held, {})


def _label(make: _Maker, one: Analyte, basis: str) -> str:
    own = make.content.basis_of(one, basis)
    inner = one.shown_unit if make.unit_at == "label" else ""
    if make.basis_at == "label" and own and one.key not in ("dm", "moisture"):
        inner = f"{inner} {make.shown[own]}".strip()
    return f"{one.words} ({inner})" if inner else one.words


def _value(make: _Maker, bag: int, one: Analyte, basis: str) -> str:
    make.content.bases = [basis]
    text = make.number(make.content.take(bag, one, basis))
    own = make.content.basis_of(one, basis)
    # a unit that the number alone does not tell is printed with it
    unit = one.shown_unit if make.unit_at == "cell" or (
        make.unit_at == "none" and one.unit != "pct") else ""  # fmt: skip
    behind = make.shown[own] if make.basis_at == "behind" and own and one.key not in (
        "dm", "moisture") else ""  # fmt: skip
    return " ".join(part for part in (text, unit, behind) if part)


def _sample(make: _Maker, bag: int, basis: str) -> list[str]:
    pairs = [(_label(make, a, basis), _value(make, bag, a, basis)) for a in make.content.analytes]
    inline = make.how in ("commas", "semicolons", "gaps")
    head = _head(make, bag)
    if make.basis_at == "title of each":
        head[-1:] = [f"{head[-1].rstrip(':')}", make.words["told"].format(b=make.said[basis])]
        inline_head = False
    else:
        inline_head = inline and len(head) == 1
    if inline:
        sign = {"commas": ", ", "semicolons": "; ", "gaps": "   "}[make.how]
        if sign == ", " and make.comma:
            sign = "; "
        text = sign.join(f"{label} {value}" for label, value in pairs)
        return [f"{head[0].rstrip(':')}: {text}"] if inline_head else [*head, text]
    form = {
        "lines": "{}: {}",
        "bullets": "  - {}: {}",
        "dots": "{} ........ {}",
        "equals": "{} = {}",
    }
    if make.how == "first":
        return [*head, *(f"{value} {label}" for label, value in pairs)]
    return [*head, *(form[make.how].format(label, value) for label, value in pairs)]


def _head(make: _Maker, bag: int) -> list[str]:
    one = make.content.bags[bag]
    day = one.day.strftime("%Y-%m-%d")
    ids = make.words["id"].split("|")[0]
    lab = make.words["lab"].split("|")[0]
    sampled = make.words["sampled"].split("|")[0]
    return {
        "bracket": [f"{one.name} ({one.number}):"],
        "quoted": [f'{one.number} "{one.name}":'],
        "square": [f"{one.name} [{one.number}]"],
        "fields": [f"{ids}: {one.name}", f"{lab}: {one.number}"],
        "led": [f"{ids} {one.name} ({lab} {one.number}), {sampled} {day}:"],
        "titled": [f"## {one.number} / {one.name}"],
        "before": [f"{one.number}  {one.name}"],
        "name alone": [f"{one.name}:"],
    }[make.head]  # fmt: skip


def _coded(make: _Maker, own: dict[int, str]) -> list[str]:
    """Return a table with codes over its columns, and the sentences that explain them."""
    analytes = make.content.analytes
    basis = own[0]
    letters = make.random.sample("BDFGHJLQRTVWX", len(analytes))
    codes = [f"{letter}{make.random.choice('QXYZW')}" for letter in letters]
    ids = make.words["id"].split("|")[0]
    rows = [[ids, *codes]]
    for bag, one in enumerate(make.content.bags):
        make.content.bases = [basis]
        rows.append([one.name, *(
            make.number(make.content.take(bag, a, basis)) for a in analytes)])  # fmt: skip
    widths = [max(len(row[n]) for row in rows) + 3 for n in range(len(rows[0]))]
    lines = ["".join(text.ljust(w) for text, w in zip(row, widths, strict=True)).rstrip()
             for row in rows]  # fmt: skip
    sign = make.random.choice((" = ", ": ", " "))
    end = make.random.choice(("; ", ", "))
    if sign == ": " or make.unit_at != "cell":
        end = "; "
    parts = [f"{c}{sign}{a.words}" + (f" ({a.shown_unit})" if a.shown_unit else "")
             for c, a in zip(codes, analytes, strict=True)]  # fmt: skip
    key = end.join(parts) + "."
    made, line = [], ""
    for word in key.split(" "):
        if len(line) + len(word) > 76:
            made.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, "", *made, line]


def _file(make: _Maker, lines: list[str]) -> tuple[bytes, str]:
    kind = make.random.choice(FILES)
    if kind == "paper" and not all(line.isascii() for line in lines):
        kind = "text"
    if kind == "mail":
        lines = ["From: results desk", "To: hay desk", "Subject: your hay", "", "Hello,", "",
                 *lines, "", "Regards, the desk"]  # fmt: skip
    if kind == "answered":
        lines = ["Thank you, these came today.", "", *(f"> {line}".rstrip() for line in lines)]
    if kind != "paper":
        return ("\n".join(lines) + "\n").encode(), kind
    paper = Paper((612.0, max(792.0, 80 + 13.0 * len(lines))))
    for n, line in enumerate(lines):
        x = 50.0
        if make.how == "coded":
            paper.text(x, 50 + 13 * n, line, 8.0, font="Courier")
        else:
            paper.text(x, 50 + 13 * n, line, 9.0)
    return paper.content(), kind
