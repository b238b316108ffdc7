"""How results are laid out: a row, a column or a block for each sample, or a row for each value."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from .content import Analyte, Content
from .grid import Grid

#: Columns and rows beside the results that are none, with how each is headed.
BESIDE = {
    "last year": ("last year", "Last year", "2024", "Previous year", "prior result"),
    "typical": ("Typical", "typical value", "Average hay", "Usual", "Reference"),
    "target": ("Target", "Desired range", "Goal", "Normal range"),
    "difference": ("Difference", "Change", "+/-", "Diff."),
    "flag": ("Flag", "Rating", "Remark"),
    "error": ("Std. error", "Uncertainty", "SD"),
}
ROWS_BESIDE = ("Average", "Mean of samples", "Typical grass hay", "Lab average 2024", "Minimum",
               "Previous season", "Target", "Std. deviation")  # fmt: skip
IDS = ("Sample", "Sample ID", "Bag", "Field", "Description", "Lot", "Identification")
NUMBERS = ("Lab no.", "Lab number", "Laboratory no.", "Lab ID", "Lab #")
DAYS = ("Sampled", "Date sampled", "Sampling date", "Collected")


@dataclass
class Way:
    """Where a sheet prints units and bases, and what it prints beside its results."""

    random: Random
    unit_at: str
    basis_at: str
    beside: list[str]
    heads: tuple[str, str, str]
    dated: bool
    brackets: str

    def label(self, content: Content, analyte: Analyte, basis: str) -> str:
        """Return the words over or before a value, with what of unit and basis stands there."""
        inner = analyte.shown_unit if self.unit_at == "label" else ""
        own = content.basis_of(analyte, basis)
        if self.basis_at == "label" and own and analyte.key not in ("dm", "moisture"):
            inner = f"{inner} {content.shown_bases[own]}".strip()
        words = analyte.words
        if self.basis_at == "mark" and own == "ar":
            words += "*"
        return self.brackets.format(words, inner) if inner else words

    def behind(self, analyte: Analyte) -> str:
        return analyte.shown_unit if self.unit_at == "cell" else ""

    def other(self, kind: str, analyte: Analyte, content: Content, bag: int) -> str:
        """Return what stands in a column or row beside a result."""
        text = analyte.printed(content.bags[bag].forage, content.bases[-1])
        places = len(text.partition(".")[2])
        number = float(text) * self.random.uniform(0.85, 1.15)
        if kind == "target":
            return f"{number * 0.9:.{places}f}-{number * 1.1:.{places}f}"
        if kind == "difference":
            return f"{float(text) - number:+.{places}f}"
        if kind == "flag":
            return self.random.choice(("H", "L", "OK", "", ""))
        return f"{number * (0.03 if kind == 'error' else 1.0):.{places}f}"


def way_of(random: Random, content: Content) -> Way:
    """Return a way by chance that tells all that a careful reader needs."""
    two = len(content.bases) > 1
    bases = ("label", "row") if two else ("label", "row", "legend", "title", "mark")
    basis_at = random.choice(bases)
    if basis_at == "mark" and content.bases != ["dm"]:
        basis_at = "legend"
    beside = random.sample(list(BESIDE), random.choice((0, 0, 1, 1, 2, 3)))
    return Way(
        random,
        random.choice(("label", "row", "cell", "legend")),
        basis_at,
        beside,
        (random.choice(IDS), random.choice(NUMBERS), random.choice(DAYS)),
        random.random() < 0.6,
        random.choice(("{} ({})", "{}, {}", "{} {}", "{} [{}]")),
    )


def told(way: Way, content: Content) -> list[str]:
    """Return the sentences that tell units and bases of the whole sheet."""
    lines = []
    if way.basis_at in ("legend", "mark", "title"):
        lines.append(
            "* as received; all other results on dry matter basis."
            if way.basis_at == "mark"
            else "All results are on a dry matter basis; dry matter and moisture as received."
            if content.bases == ["dm"]
            else "All results are as received."
        )
    if way.unit_at == "legend":
        by: dict[str, list[str]] = {}
        for one in content.analytes:
            if one.unit:
                by.setdefault(one.shown_unit, []).append(one.words)
        lines.append("Units: " + "; ".join(f"{', '.join(n)} in {u}" for u, n in by.items()) + ".")
    return lines


def wide(content: Content, way: Way, grid: Grid, analytes: list[Analyte] | None = None) -> None:
    """Lay out a row for each sample, under one to three rows of headings."""
    analytes = analytes or content.analytes
    columns: list[tuple[str, Analyte | None, str]] = [("id", None, ""), ("lab", None, "")]
    columns += [("day", None, "")] if way.dated else []
    if way.random.random() < 0.25:
        way.random.shuffle(columns)
    values: list[list[tuple[str, Analyte | None, str]]] = []
    for analyte in analytes:
        own = content.bases if content.basis_of(analyte, "dm") == "dm" else content.bases[:1]
        here: list[tuple[str, Analyte | None, str]] = [("value", analyte, one) for one in own]
        if way.random.random() < 0.5:
            here += [(kind, analyte, "") for kind in way.beside]
        values.append(here)
    grouped = len(content.bases) > 1 and way.random.random() < 0.5
    flat = [one for here in values for one in here]
    if grouped:  # all of one basis together
        flat = [one for basis in content.bases for one in flat if one[2] in (basis, "")]
        flat = [one for n, one in enumerate(flat) if one[2] or one not in flat[:n]]
    columns = [*flat, *columns] if way.random.random() < 0.12 else [*columns, *flat]
    top = grid.height
    grid.tables.append(top)
    for row, text in enumerate(_head_rows(content, way, columns)):
        for column, words in enumerate(text):
            grid.put(top + row, column, words)
    _wide_rows(content, way, grid, columns)


def _head_rows(content: Content, way: Way, columns: list[tuple[str, Analyte | None, str]]
               ) -> list[list[str]]:  # fmt: skip
    names, units, bases = [], [], []
    heads = dict(zip(("id", "lab", "day"), way.heads, strict=True))
    for kind, analyte, basis in columns:
        if analyte is None:
            names.append(heads[kind])
            units.append("")
            bases.append("")
            continue
        own = content.basis_of(analyte, basis)
        if kind == "value":
            names.append(way.label(content, analyte, basis))
            bases.append(content.shown_bases.get(own, ""))
            units.append(analyte.shown_unit)
        else:
            word = way.random.choice(BESIDE[kind])
            names.append(f"{analyte.words} {word}")
            units.append("" if kind in ("flag", "target") else analyte.shown_unit)
            bases.append("")
    rows = [names]
    if way.basis_at == "row":
        rows.insert(way.random.choice((0, 1)), bases)
    if way.unit_at == "row":
        rows.insert(len(rows) if way.random.random() < 0.8 else 1, units)
    return rows


def _wide_rows(content: Content, way: Way, grid: Grid,
               columns: list[tuple[str, Analyte | None, str]]) -> None:  # fmt: skip
    for number, bag in enumerate(content.bags):
        row = grid.height
        fields = {"id": bag.name, "lab": bag.number, "day": bag.day.isoformat()}
        for column, (kind, analyte, basis) in enumerate(columns):
            if analyte is None:
                grid.put(row, column, fields[kind])
            elif kind == "value":
                grid.value(row, column, content, number, analyte, basis, way.behind(analyte))
            else:
                grid.put(row, column, way.other(kind, analyte, content, number))
    for name in way.random.sample(ROWS_BESIDE, way.random.choice((0, 0, 1, 2))):
        row = grid.height
        for column, (kind, analyte, _) in enumerate(columns):
            if kind == "id":
                grid.put(row, column, name)
            elif kind == "value" and analyte is not None:
                grid.put(row, column, way.other("typical", analyte, content, 0))


def split(content: Content, way: Way, grid: Grid) -> None:
    """Lay out two tables one under the other, each with some of the analytes of all samples."""
    half = len(content.analytes) // 2
    wide(content, way, grid, content.analytes[:half])
    grid.line()
    wide(content, way, grid, content.analytes[half:])


def across(content: Content, way: Way, grid: Grid) -> None:
    """Lay out a column for each sample and a row for each analyte."""
    fields = [("id", [one.name for one in content.bags]), ("lab", [b.number for b in content.bags])]
    if way.dated:
        fields.append(("day", [one.day.isoformat() for one in content.bags]))
    if way.random.random() < 0.3:
        way.random.shuffle(fields)
    columns: list[tuple[str, int]] = [("label", 0)]
    columns += [("unit", 0)] if way.unit_at == "row" else []
    columns += [("basis", 0)] if way.basis_at == "row" else []
    bags = [("bag", n) for n in range(len(content.bags))]
    bags += [(kind, 0) for kind in way.beside if kind not in ("flag", "difference", "error")]
    if way.random.random() < 0.3:
        way.random.shuffle(bags)
    if way.random.random() < 0.25 and len(columns) > 1:
        columns = [columns[0], *bags, *columns[1:]]
    else:
        columns += bags
    heads = dict(zip(("id", "lab", "day"), way.heads, strict=True))
    grid.tables.append(grid.height)
    for place, (name, texts) in enumerate(fields):
        row = grid.height
        for column, (kind, number) in enumerate(columns):
            words = heads[name] if kind == "label" else texts[number] if kind == "bag" else ""
            if not place and kind in ("unit", "basis"):
                words = kind.title()
            elif not place and kind in BESIDE:
                words = way.random.choice(BESIDE[kind])
            grid.put(row, column, words)
    _across_rows(content, way, grid, columns)


def _again(content: Content, analyte: Analyte, basis: str) -> bool:
    """Return whether a value with one basis only is printed already."""
    return analyte.key in ("dm", "moisture", "rfv") and basis != content.bases[0]


def _across_rows(content: Content, way: Way, grid: Grid, columns: list[tuple[str, int]]) -> None:
    for basis in content.bases:
        for analyte in content.analytes:
            own = content.basis_of(analyte, basis)
            if _again(content, analyte, basis):
                continue
            row = grid.height
            for column, (kind, number) in enumerate(columns):
                if kind == "bag":
                    grid.value(row, column, content, number, analyte, basis, way.behind(analyte))
                    continue
                words = {
                    "label": way.label(content, analyte, basis),
                    "unit": analyte.shown_unit,
                    "basis": content.shown_bases.get(own, ""),
                }.get(kind)
                words = way.other(kind, analyte, content, 0) if words is None else words
                grid.put(row, column, words)


def blocks(content: Content, way: Way, grid: Grid, left: int = 0, bags: list[int] | None = None
           ) -> None:  # fmt: skip
    """Lay out each sample by itself: its name and number, then a line for each analyte."""
    columns = ["label", *content.bases, *way.beside]
    columns += ["unit"] if way.unit_at == "row" else []
    rest = columns[1:]
    if way.random.random() < 0.5:
        way.random.shuffle(rest)
    columns = ["label", *rest]
    words = {kind: way.random.choice(BESIDE[kind]) for kind in way.beside}
    words |= {"label": "Analysis", "unit": "Unit"}
    words |= {basis: content.shown_bases[basis] for basis in content.bases}
    if len(content.bases) == 1 and way.basis_at in ("legend", "title", "mark", "label"):
        words[content.bases[0]] = "Result"
    for number in range(len(content.bags)) if bags is None else bags:
        bag = content.bags[number]
        row = grid.height if bags is None else 0
        if row and bags is None:
            row = grid.line() + 1
        fields = list(zip(way.heads, (bag.name, bag.number, bag.day.isoformat()), strict=True))
        for name, text in fields if way.dated else fields[:2]:
            grid.put(row, left, f"{name}:")
            grid.put(row, left + 1, text)
            row += 1
        grid.tables.append(row)
        for column, kind in enumerate(columns):
            grid.put(row, left + column, words[kind])
        for analyte in content.analytes:
            row += 1
            _block_row(content, way, grid, (row, left), columns, number, analyte)


def _block_row(content: Content, way: Way, grid: Grid, place: tuple[int, int], columns: list[str],
               number: int, analyte: Analyte) -> None:  # fmt: skip
    row, left = place
    for column, kind in enumerate(columns):
        at = left + column
        if kind in content.bases:
            own = content.basis_of(analyte, kind)
            if own == kind or (kind == content.bases[0] and own != "ar") or len(content.bases) == 1:
                grid.value(row, at, content, number, analyte, kind, way.behind(analyte))
        elif kind == "label":
            grid.put(row, at, way.label(content, analyte, content.bases[0])
                     if len(content.bases) == 1 else _plain_label(way, analyte))  # fmt: skip
        elif kind == "unit":
            grid.put(row, at, analyte.shown_unit)
        else:
            grid.put(row, at, way.other(kind, analyte, content, number))


def _plain_label(way: Way, analyte: Analyte) -> str:
    inner = analyte.shown_unit if way.unit_at == "label" else ""
    return way.brackets.format(analyte.words, inner) if inner else analyte.words


def beside(content: Content, way: Way, grid: Grid) -> None:
    """Lay out the blocks of two samples side by side."""
    if len(content.bags) < 2:
        blocks(content, way, grid)
        return
    content.bags = content.bags[:2]
    blocks(content, way, grid, 0, [0])
    width = max(map(len, grid.rows))
    grid.tables.clear()
    blocks(content, way, grid, width + 1, [1])


def long(content: Content, way: Way, grid: Grid) -> None:
    """Lay out a row for each value."""
    columns = ["lab", "id", "analyte", "result", "unit", "basis", *way.beside]
    columns += ["day"] if way.dated else []
    if way.random.random() < 0.5:
        way.random.shuffle(columns)
    words = {kind: way.random.choice(BESIDE[kind]) for kind in way.beside}
    words |= dict(zip(("id", "lab", "day"), way.heads, strict=True))
    words |= {"analyte": way.random.choice(("Analyte", "Test", "Component", "Parameter")),
              "result": way.random.choice(("Result", "Value")), "unit": "Unit",
              "basis": "Basis"}  # fmt: skip
    grid.tables.append(grid.height)
    grid.line(*(words[kind] for kind in columns))
    for number, bag in enumerate(content.bags):
        for analyte in content.analytes:
            for basis in content.bases:
                own = content.basis_of(analyte, basis)
                if _again(content, analyte, basis):
                    continue
                row = grid.height
                for column, kind in enumerate(columns):
                    if kind == "result":
                        grid.value(row, column, content, number, analyte, basis)
                        continue
                    text = {"lab": bag.number, "id": bag.name, "day": bag.day.isoformat(),
                            "analyte": analyte.words, "unit": analyte.shown_unit,
                            "basis": content.shown_bases.get(own, "")}.get(kind)  # fmt: skip
                    grid.put(row, column, way.other(kind, analyte, content, number)
                             if text is None else text)  # fmt: skip


SHAPES: dict[str, Callable[[Content, Way, Grid], None]] = {
    "wide": wide, "split": split, "across": across, "blocks": blocks, "beside": beside,
    "long": long,
}  # fmt: skip
