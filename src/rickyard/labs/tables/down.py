"""Tables with one line for an analyte: a sample alone, on two bases, or samples side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import compress

from rickyard.labs.columns import is_of_runs, means_instead, not_replaced, own_beside
from rickyard.labs.common import Cell
from rickyard.labs.tables.blocks import Block, Line, has_value, lines_of
from rickyard.labs.tables.cells import Seen, is_year
from rickyard.labs.tables.draft import DraftSample
from rickyard.labs.tables.fields import (
    IDENTITY,
    NUMBER_ALONE,
    OF_SAMPLE,
    in_text,
    is_heading,
    names_asides,
)
from rickyard.labs.tables.headings import Heading, is_sentence, over, understood
from rickyard.labs.tables.names import (
    is_numbered_name,
    is_result,
    may_call,
    name_over,
    name_over_column,
)
from rickyard.labs.tables.places import (
    is_headed_aside,
    of_side,
    other_spans,
    over_groups,
    own_days,
    own_fields,
    same_column,
    span_of,
    spread_over,
    value_columns,
    without_years,
)
from rickyard.labs.tables.values import found_in_line, is_range
from rickyard.labs.vocabulary import (
    Op,
    is_aside,
    written_in,
)

MOST_HEADING_ROWS = 6
#: A name has so many letters at least.
_LEAST_LETTERS = 3
#: Fields that stand over the columns of lines.
_OF_HEADINGS = ("analyte", "result", "unit", "basis")


@dataclass(slots=True)
class _Side:
    """The lines of a block whose labels stand in one column, with the columns of their values."""

    lines: list[Line]
    columns: list[Heading] = field(default_factory=list)


def samples_of(
    block: Block, rows: list[list[Seen]], taken: set[int], gridded: bool
) -> list[DraftSample]:
    """Read a block: one sample, or several in columns or on two sides.

    Parameters
    ----------
    block : Block
        The block.
    rows : list of list of Seen
        The rows of the page.
    taken : set of int
        Rows that are read already; headings of columns are added.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    list of DraftSample
        The samples, from the left.
    """
    sides = _sides(block, gridded)
    samples: list[DraftSample] = []
    apart = len(sides) > 1 and _same_labels(sides)
    before: list[Heading] = []
    for number, side in enumerate(sides):
        own = _fields_of_side(block, sides, number, gridded) if apart else block
        places = value_columns(side.lines, gridded)
        spans = [span_of(column) for column in places]
        every = [*spans, *other_spans(side.lines)]
        heads = [_heading(span, every, side, rows, taken, gridded) for span in spans]
        _centred(heads, side, rows, gridded)
        _as_before(heads, before)
        before = heads
        samples_here = _assigned(own, side, places, heads, gridded)
        if (
            samples
            and len(samples_here) == 1
            and len(samples) == 1
            and not _repeats(samples[0], samples_here[0])
        ):
            samples[0].found.extend(samples_here[0].found)
        else:
            samples.extend(samples_here)
        if apart and len(samples_here) == 1 and samples_here[0] is samples[-1]:
            _named_over(samples[-1], side, rows, gridded)
    return samples


def _named_over(sample: DraftSample, side: _Side, rows: list[list[Seen]], gridded: bool) -> None:
    """Take the name that stands over a side without a label."""
    if "id" in sample.fields or "weak_id" in sample.fields:
        return
    first = min(line.place for line in side.lines)
    for called, cell in name_over(side.lines[0].seen.cell.x0, first, rows, gridded):
        sample.fields.setdefault(called, cell)


def _same_labels(sides: Sequence[_Side]) -> bool:
    """Return whether sides list the same analytes, so that each is a sample of its own."""
    first = {line.label.candidates for line in sides[0].lines}
    return len({side.lines[0].head for side in sides}) == 1 and all(
        2 * sum(line.label.candidates in first for line in side.lines) > len(side.lines)
        for side in sides[1:]
    )


def _fields_of_side(block: Block, sides: Sequence[_Side], number: int, gridded: bool) -> Block:
    """Return a block with the fields that stand on one side of it."""
    slack = 0.0 if gridded else 15.0
    left = sides[number].lines[0].seen.cell.x0 - slack if number else -1e9
    right = sides[number + 1].lines[0].seen.cell.x0 - slack if number + 1 < len(sides) else 1e9
    starts = [side.lines[0].seen.cell.x0 for side in sides]
    fields = [(name, of_side(cells, starts, number, (left, right))) for name, cells in block.fields]
    return Block(block.lines, [one for one in fields if one[1]], block.first)


def _repeats(first: DraftSample, second: DraftSample) -> bool:
    there = {one.label.candidates for one in first.found if one.label.ours}
    here = [one.label.candidates for one in second.found if one.label.ours]
    return sum(1 for one in here if one in there) > 1


def _sides(block: Block, gridded: bool) -> list[_Side]:
    sides: list[_Side] = []
    for line in block.lines:
        at = line.seen.cell.x0
        for side in sides:
            near = 0.5 if gridded else 12.0
            if side.lines[0].head == line.head and abs(side.lines[0].seen.cell.x0 - at) <= near:
                side.lines.append(line)
                break
        else:
            sides.append(_Side([line]))
    one_head = len({line.head for line in block.lines}) == 1
    if not gridded and one_head and len(sides) > max(1.0, len(block.lines) / 2):
        return [_Side(sorted(block.lines, key=lambda one: (one.place, one.seen.cell.x0)))]
    return sides


def _heading(
    where: Cell,
    spans: Sequence[Cell],
    side: _Side,
    rows: list[list[Seen]],
    taken: set[int],
    gridded: bool,
) -> Heading:
    """Return what stands over a column of values."""
    first = min(line.place for line in side.lines)
    texts: list[str] = []
    looked = 0
    for place in range(first - 1, -1, -1):
        row = rows[place]
        if not row:
            continue
        if lines_of(row, place) or place in taken or looked == MOST_HEADING_ROWS:
            break
        looked += 1
        if _heads_nothing(row, side, gridded):
            continue
        beside = _right_of(row, side, gridded)
        one = over(where, beside, gridded, 0.0 if gridded else 10.0, spans)
        number = one is not None and has_value(one) and one.value.op is Op.IS
        number = number and not (one is not None and is_numbered_name(one, beside))
        if one is None or (number and not is_year(one)):
            continue
        if one.cell.x0 <= side.lines[0].seen.cell.x0 and one.cell.x1 < where.x0:
            continue
        texts.insert(0, one.text)
    head = side.lines[0].head
    if not texts and 0 <= head < first and not _tells_fields(rows[head]):
        one = over(
            where, _right_of(rows[head], side, gridded), gridded, 0.0 if gridded else 10.0, spans
        )
        texts = [one.text] if one is not None and not one.is_value else []
    heading = understood(where, texts)
    if heading.label is not None and heading.label.maybe_basis:
        heading.basis, heading.label = "dm", None
    return heading


def _centred(heads: Sequence[Heading], side: _Side, rows: list[list[Seen]], gridded: bool) -> None:
    """Give columns the basis that stands in the middle over several: "%  g/lb  %  g/lb"."""
    first = min(line.place for line in side.lines)
    for row in rows[max(first - MOST_HEADING_ROWS, 0) : first]:
        over_them = _right_of(row, side, gridded)
        bases = [one for one in over_them if _is_basis(one)]
        each, left = divmod(len(heads), max(len(bases), 1))
        if len(bases) < 2 or len(bases) < len(over_them) or each < 2 or left:
            continue
        words = ["dm" if one.label else written_in(one.text).basis for one in bases]
        spans = [heads[n : n + each] for n in range(0, len(heads), each)]
        within = all(
            span[0].cell.x0 <= (one.cell.x0 if gridded else (one.cell.x0 + one.cell.x1) / 2)
            and one.cell.x0 <= span[-1].cell.x1
            for span, one in zip(spans, bases, strict=True)
        )
        if not within or len(set(words)) < len(words):
            continue
        for span, word in zip(spans, words, strict=True):
            for head in span:
                head.basis = word


def _is_basis(one: Seen) -> bool:
    return one.only_basis or (one.label is not None and one.label.maybe_basis)


def _as_before(heads: Sequence[Heading], before: Sequence[Heading]) -> None:
    """Give columns without a basis the one that stood over them further up."""
    if len(heads) != len(before) or any(head.basis for head in heads):
        return
    if all(
        min(one.cell.x1, other.cell.x1) >= max(one.cell.x0, other.cell.x0)
        for one, other in zip(heads, before, strict=True)
    ):
        for one, other in zip(heads, before, strict=True):
            one.basis = other.basis


def _heads_nothing(row: Sequence[Seen], side: _Side, gridded: bool) -> bool:
    """Return whether a row over lines heads none of their columns."""
    if is_sentence(row) or (len(row) < 2 and not gridded and not row[0].only_basis):
        return True
    if len(row) == 1 and len({line.basis for line in side.lines}) > 1:
        return True  # the title of the first section, with another basis further down
    return _tells_fields(row)


def _tells_fields(row: Sequence[Seen]) -> bool:
    """Return whether a row tells fields of the sample, and heads no column."""
    if any(":" in one.text and _inline(one) for one in row):
        return True
    if row[0].field and row[0].text.rstrip().endswith(":"):
        return True
    if names_asides(row) or sum(map(_is_basis, row)) > 1:
        return False  # "As fed   Dry matter   Typical   Comment"
    if is_heading(row) and row[0].field in IDENTITY and not all(one.field for one in row):
        return False  # "Sample   Unit   West 40   East 40"
    told = any(one.field not in ("", *_OF_HEADINGS) for one in row)
    return told and (row[0].field not in ("", *_OF_HEADINGS) or not is_heading(row))


def _inline(one: Seen) -> bool:
    """Return whether a text names a field with its value: "Lab no: 771"."""
    return any(name in OF_SAMPLE for name, _ in in_text(one.cell))


def _right_of(row: Sequence[Seen], side: _Side, gridded: bool) -> Sequence[Seen]:
    """Return the cells of a row that do not stand over the labels."""
    labels = max(line.seen.cell.x1 for line in side.lines[:40])
    if gridded:
        return row
    return [one for one in row if one.cell.x1 > labels or one.cell.x0 > side.lines[0].seen.cell.x1]


def _assigned(
    block: Block,
    side: _Side,
    columns: list[list[tuple[Line, Seen]]],
    heads: list[Heading],
    gridded: bool,
) -> list[DraftSample]:
    """Give each column of values to its sample."""
    kept = _with_results(block, [*zip(columns, heads, strict=True)], gridded)
    several = _several(block, kept, gridded)
    names = _names_over(kept)
    samples: dict[object, DraftSample] = {}
    numbers: dict[str, dict[str, str]] = {}
    for place, (column, head) in enumerate(kept):
        fields = dict(_single_fields(block, gridded))
        if len(kept) == 1 and all(names[0]) and not any(one in fields for one in IDENTITY):
            for called, text in zip(("id", "lab_no"), names[0], strict=True):
                fields[called] = Cell(text, 0, head.cell.x0, head.cell.x1, "the heading")
        key: object = 0
        if several:
            own = own_fields(block, head, place, len(kept), gridded, alone=True)
            name, number = names[place]
            for called, text in (("id", name), ("lab_no", number)):
                _name_by_heading(own, called, text, head)
            days, apart = own_days(block, head, own)
            own = {**days, **own}
            fields = {n: c for n, c in fields.items() if n not in (*IDENTITY, *apart)} | own
            names_of = {n: c.text for n, c in own.items() if n in IDENTITY and n != "lab_no"}
            # A number that stands over the column before, too, does not make a goal a sample.
            numbered = (
                "lab_no" in own
                and not is_aside(own["lab_no"].text)
                and numbers.setdefault(own["lab_no"].text, names_of) == names_of
            )
            named = [c.text for n, c in own.items() if n in IDENTITY and is_aside(c.text, numbered)]
            block.passed.extend(f"{one} ({own['lab_no'].text})" for one in named if "lab_no" in own)
            block.passed.extend(named if "lab_no" not in own else ())
            if named:
                continue
            if _is_beside(block, head, own, gridded):
                continue
            key = tuple(sorted((n, c.text) for n, c in own.items() if n in IDENTITY)) or place
        sample = samples.setdefault(key, DraftSample(fields, place=column[0][1].cell.place))
        for line, one in column:
            sample.found.append(found_in_line(line, one, head))
    return list(samples.values())


def _with_results(
    block: Block, columns: list[tuple[list[tuple[Line, Seen]], Heading]], gridded: bool
) -> list[tuple[list[tuple[Line, Seen]], Heading]]:
    """Return the columns that hold results of samples of this report."""
    columns = _without_runs(block, columns)
    kept = [one for one in columns if _may_hold(*one)]
    if len(kept) > 1:
        kept = [one for one in kept if not is_headed_aside(block, one[1], gridded)] or kept
    kept = without_years(block, kept, gridded)
    kept = [*compress(kept, not_replaced([head.texts for _, head in kept]))]
    named = [any(name_over_column(head)) for _, head in kept]
    kept = [*compress(kept, own_beside([head.texts for _, head in kept], named))]
    single = all(len(cells) < 2 for name, cells in block.fields if name in IDENTITY)
    return _results_alone(block, kept) if single else kept


def _without_runs(
    block: Block, columns: list[tuple[list[tuple[Line, Seen]], Heading]]
) -> list[tuple[list[tuple[Line, Seen]], Heading]]:
    """Return columns without those of single runs, where another holds what they are together."""
    single = [cells for name, cells in block.fields if name in IDENTITY]
    one_sample = bool(single) and all(len(cells) == 1 for cells in single)
    stays = means_instead([head.texts for _, head in columns], one_sample=one_sample)
    if all(stays):
        return columns
    return [(cells, _of_runs(head)) for cells, head in compress(columns, stays)]


def _of_runs(head: Heading) -> Heading:
    """Return the heading of a mean of runs, which is no guide beside the results."""
    texts = [text for text in head.texts if not is_of_runs(text)]
    return replace(head, texts=texts, aside=False) if len(texts) < len(head.texts) else head


def _may_hold(column: Sequence[tuple[Line, Seen]], head: Heading) -> bool:
    """Return whether a column may hold results: no goals, units, prices or ranges."""
    other = head.aside or head.field in ("unit", "method", "order")
    return not other and not is_range([one for _, one in column])


def _name_by_heading(own: dict[str, Cell], called: str, text: str, head: Heading) -> None:
    """Take the name or the number that stands over a column, where no field tells it."""
    if called == "id" and text:
        _take_for_number(own)
    known = ("id", "weak_id") if called == "id" else ("lab_no", "number")
    if text and not any(other in own for other in known):
        own[called] = Cell(text, 0, head.cell.x0, head.cell.x1, "the heading")


def _take_for_number(own: dict[str, Cell]) -> None:
    """Take what is called a name for the laboratory's number, where a name stands over it."""
    named = own.get("id")
    if named is not None and "lab_no" not in own and NUMBER_ALONE.fullmatch(named.text.strip()):
        own["lab_no"] = own.pop("id")


def _is_beside(block: Block, head: Heading, own: dict[str, Cell], gridded: bool) -> bool:
    """Return whether a column without a name of its own is headed "Limit" among other fields."""

    def here(cell: Cell) -> bool:
        return same_column(cell, head.cell.x0, head.cell.x1, gridded)

    if any(here(cell) for name, cell in own.items() if name in IDENTITY):
        return False
    return any(is_aside(cell.text) for _, cells in block.fields for cell in cells if here(cell))


def _results_alone(
    block: Block, kept: list[tuple[list[tuple[Line, Seen]], Heading]]
) -> list[tuple[list[tuple[Line, Seen]], Heading]]:
    """Return the columns of one sample without those headed by other things: "n", "Price".

    Only where others in the same lines are headed by a basis or as results.
    """
    told = [bool(head.basis or head.year or (head.texts and is_result(head))) for _, head in kept]
    named = any(name in IDENTITY and cells for name, cells in block.fields)
    if not named or not any(told):
        return kept
    lines = {
        id(line) for (column, _), own in zip(kept, told, strict=True) if own for line, _ in column
    }
    beside = [
        not own and all(id(line) in lines for line, _ in column)
        for (column, _), own in zip(kept, told, strict=True)
    ]
    block.passed.extend(
        " ".join(head.texts) for (_, head), out in zip(kept, beside, strict=True) if out
    )
    return [one for one, out in zip(kept, beside, strict=True) if not out]


def _column_basis(column: Sequence[tuple[Line, Seen]], head: Heading) -> str:
    """Return the basis of a column: from its heading, else from the first cell that has one."""
    rests = (one.value.rest for _, one in column[:3] if one.is_value)
    return head.basis or next((basis for basis in map(_basis_in_cell, rests) if basis), "")


def _basis_in_cell(rest: str) -> str:
    return written_in(rest).basis if rest else ""


def _names_over(
    kept: Sequence[tuple[list[tuple[Line, Seen]], Heading]],
) -> list[tuple[str, str]]:
    """Return names and numbers over columns; they stand over the columns of both bases.

    What stands over every column is the title of the page, unless nothing else does.
    """
    names: list[tuple[str, str]] = []
    title = set.intersection(*(set(head.texts) for _, head in kept)) if len(kept) > 1 else set()
    texts = [[text for text in head.texts if text not in title] for _, head in kept]
    heights = [sum(map(may_call, one)) for one in texts]
    least = min(filter(None, heights), default=0)
    for place, (_, head) in enumerate(kept):
        own = texts[place]
        if heights[place] > least:  # what stands over some columns alone is of the page
            own = [text for text in own if not may_call(text)]
            own += [text for text in texts[place] if may_call(text)][-least:]
        name = name_over_column(replace(head, texts=own or head.texts))
        before = kept[place - 1][1] if place else None
        basis = _column_basis(*kept[place])
        other = before is not None and basis != _column_basis(*kept[place - 1])
        if basis and other and (not any(name) or (name[1] and name[1] == names[-1][1])):
            name = names[-1]  # the name stands over the first of both, the number over each
        names.append(name)
    return names


def _several(
    block: Block, kept: list[tuple[list[tuple[Line, Seen]], Heading]], gridded: bool
) -> bool:
    """Return whether the columns are samples and not bases of one sample."""
    bases = [_column_basis(*one) for one in kept]
    one_each = not gridded and sum(len(column) for column, _ in kept) <= len(block.lines)
    if one_each or len(kept) < 2 or (all(bases) and len(set(bases)) == len(kept)):
        return False  # "AR  DM", or one value in each line: all is of one sample
    for name, cells in block.fields:
        if (
            name in IDENTITY
            and len(cells) >= 2
            and spread_over(cells, [one for _, one in kept], gridded)
        ):
            return True
        if name in IDENTITY and not gridded and over_groups(cells, [one for _, one in kept]):
            return True
    called = [name for name, cells in block.fields if name in ("id", "lab_no") and len(cells) == 1]
    if set(called) == {"id", "lab_no"} and len(called) == len(set(called)):
        return False  # a sample with a name and a number is one, whatever heads its columns
    names = _names_over(kept)
    by_basis = {(name, _column_basis(*one)) for name, one in zip(names, kept, strict=True)}
    return all(map(any, names)) and len(by_basis) == len(kept) and len(set(names)) > 1


def _single_fields(block: Block, gridded: bool) -> dict[str, Cell]:
    found: dict[str, Cell] = {}
    for name, cells in block.fields:
        if name == "id" and _number_and_name(cells):
            found.setdefault("lab_no", cells[0])
            found.setdefault("id", cells[1])
        elif cells:
            found.setdefault(name, cells[0])
    return found


def _number_and_name(cells: Sequence[Cell]) -> bool:
    """Return whether two cells are the number and the name of one sample: "SE41  Lamb field"."""
    alone = [bool(NUMBER_ALONE.fullmatch(cell.text.strip())) for cell in cells]
    return alone == [True, False] and sum(map(str.isalpha, cells[1].text)) >= _LEAST_LETTERS
