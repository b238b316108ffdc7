"""Headings over columns: which texts stand over a column, and what they say together."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Container, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from rickyard.labs.columns import counts_runs
from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen, beside, is_year
from rickyard.labs.vocabulary import (
    STATING,
    Label,
    basis_in,
    basis_of_title,
    field_of,
    in_vocabulary,
    is_aside,
    is_only_basis,
    is_only_unit,
    label_of,
    method_in,
    plain,
    unaccented,
    written_in,
    year_in,
)


@dataclass(slots=True)
class Heading:
    """A column: where it stands, and what its headings say."""

    cell: Cell
    texts: list[str] = field(default_factory=list)
    label: Label | None = None
    label_text: str = ""
    unit: str = ""
    basis: str = ""
    title_basis: str = ""
    companions: list[Heading] = field(default_factory=list)
    field: str = ""
    aside: bool = False
    method: str = ""
    year: int | None = None
    units_apart: bool = False

    @property
    def shown(self) -> str:
        """Return the headings from top to bottom in one text."""
        return " ".join(self.texts)

    def maybe_basis_label(self) -> bool:
        """Return whether the column says "Dry matter", which here is a basis."""
        return self.label is not None and self.label.maybe_basis and not self.unit


def is_sentence(row: Sequence[Seen]) -> bool:
    """Return whether a row is a line of text and no heading of columns.

    It may be led by a word with a colon: "Units:   ADF, NDF in percent; Zn in mg/kg".
    """
    led = len(row) > 1 and row[0].text.rstrip().endswith(":")
    text = row[-1].text
    return len(row) == 1 + led and (len(text) > 40 or len(text.split()) > 5)


def over(
    cell: Cell, row: Sequence[Seen], gridded: bool, reach: float, others: Sequence[Cell] = ()
) -> Seen | None:
    """Return the cell of a row that stands over another: the one that overlaps it most.

    A cell that only stands near is taken if it does not overlap one of ``others``, the other
    columns, and is not nearer to one of them.
    """
    best: tuple[float, float] | None = None
    found = None
    for one in _reaching(cell, row) if gridded else row:
        apart = beside(one.cell, cell, gridded)
        if apart > reach:
            continue
        if apart > 0.0 and any(beside(one.cell, other, gridded) < apart for other in others):
            continue
        shared = min(one.cell.x1, cell.x1) - max(one.cell.x0, cell.x0)
        rank = (apart, -shared)
        if best is None or rank < best:
            best, found = rank, one
    return found


def _reaching(cell: Cell, row: Sequence[Seen]) -> Sequence[Seen]:
    """Return the cells of a row of a grid that reach over another, found without trying all."""
    last = bisect_right(row, cell.x1, key=lambda one: one.cell.x0)
    first = last
    while first and row[first - 1].cell.x1 >= cell.x0:
        first -= 1
    return row[first:last]


#: "K-1042", "58510", and no year.
_NUMBER_OF_LAB = re.compile(r"[A-Z]{1,4}[-/.]?\d{3,}|(?!(?:19|20)\d\d$)\d{4,}")
_OF_YEAR = re.compile(r"(?:crop |harvest |sample |hay |test )?(?:year|yr)")


def understood(cell: Cell, texts: list[str]) -> Heading:
    """Put the headings of one column together.

    Parameters
    ----------
    cell : Cell
        Where the column stands.
    texts : list of str
        Its headings from top to bottom.

    Examples
    --------
    >>> heading = understood(Cell("", 0, 0, 1, ""), ["Dry Matter Basis", "CP", "%"])
    >>> heading.label.candidates, heading.unit, heading.basis
    (('cp',), 'pct', 'dm')
    """
    known = _known(tuple(text for text in texts if text))
    return replace(known, cell=cell, texts=list(known.texts), companions=[])


@lru_cache(maxsize=16384)
def _known(texts: tuple[str, ...]) -> Heading:
    """Return what headings say together, wherever they stand."""
    heading = Heading(Cell("", 0, 0.0, 0.0, ""), list(texts))
    _find_label(heading)
    if heading.label is not None and _is_field(heading, heading.label):
        heading.label, heading.label_text = None, ""
    for text in reversed(heading.texts):
        if text == heading.label_text:
            continue
        known = written_in(text)
        if known.unit and not takes_unit(heading.label, known.unit):
            continue  # "Mcal/lb, % of DM" over protein
        if is_only_unit(text) or is_only_basis(text) or heading.label is None or _group(text):
            heading.unit = heading.unit or known.unit
            tells = heading.label is not None or _tells_basis(text)
            heading.basis = heading.basis or (known.basis if tells else "")
    units = {known.unit for text in heading.texts if (known := written_in(text)).unit}
    shares = {unit for unit in units if takes_unit(heading.label, unit)}
    heading.units_apart = len(shares) > 1 and heading.label is not None
    together = written_in(heading.shown)
    if heading.label is None and is_only_unit(heading.shown) and len(heading.texts) > 1:
        # "Dry" over "matter", "as" over "received": one heading on two lines.
        heading.unit = heading.unit or together.unit
        heading.basis = heading.basis or together.basis
    elif heading.label is None:
        whole = field_of(heading.shown)
        singles = [field_of(text) for text in heading.texts]
        told = [one for one in reversed(singles) if one]
        named = [one for one in told if one not in ("basis", "unit")]  # those head their rows
        heading.field = whole or next(iter([*named, *told]), "")
    ours = heading.label is not None and heading.label.ours
    numbered = any(map(_NUMBER_OF_LAB.fullmatch, heading.texts))
    shown = " ".join(text for text in heading.texts if not _NUMBER_OF_LAB.fullmatch(text))
    heading.aside = (is_aside(shown, numbered) and not ours) or any(
        is_aside(text, numbered) and label_of(text) is None
        for text in heading.texts
        if not (ours and text in heading.label_text.split(" "))  # "Total" over "digestible"
    )
    heading.aside |= any(map(_of_analyte_aside, (*heading.texts, shown)))
    methods = (method_in(text) for text in heading.texts if not _NAMES_WET.search(text))
    heading.method = next((one for one in methods if one and one != "mixed"), "")
    heading.year = next((y for y in map(year_in, heading.texts) if y), None)
    if heading.label is None and _OF_YEAR.fullmatch(heading.shown.casefold()):
        heading.field = "year"
    return heading


#: What parts the basis from the name of a sample: "West 40 (dry matter)", "West 40 - as received".
_PARTS = re.compile(r"[()\[\],;|/:]|\s[-–]\s")


#: Words of names as much as of a basis: "Lot 3 (wet)".
_BARE = re.compile(r"dry|wet|fresh|damp", re.IGNORECASE)
_NAMES_WET = re.compile(r"\w.*[(\[](?:dry|wet|fresh|damp)[)\]]", re.IGNORECASE)


def _tells_basis(text: str) -> bool:
    """Return whether a heading without an analyte tells a basis, and names no sample with it.

    Examples
    --------
    >>> _tells_basis("West 40 (dry matter)"), _tells_basis("Results as received")
    (True, True)
    >>> _tells_basis("As fed pile"), _tells_basis("Cane (wet ones)"), _tells_basis("Lot 3 (wet)")
    (False, False, False)
    """
    if _NAMES_WET.search(text):
        return False
    if is_only_unit(text) or any(
        is_only_unit(part) and written_in(part).basis and not _BARE.fullmatch(part.strip())
        for part in _PARTS.split(text)
    ):
        return True
    rest = written_in(text).rest
    words = re.findall(r"[^\W\d_]{3,}", rest)
    if not words and any(map(str.isdigit, rest)):
        return False  # "DM 4" is a bag
    told = ("analyte", "result", "unit", "basis")
    if all(field_of(word) in told or unaccented(word) in STATING for word in words):
        return True
    return bool(basis_of_title(text)) and plain(text).startswith(rest)


#: "Zn Diff.", "CP (rating)": an analyte, and a word for what is no result of it.
_LAST_WORD = re.compile(r"(?P<of>\S.*?)(?:\s*[,:(\[]\s*|\s+[-–]?\s*)(?P<word>[^\W\d]+)[.)\]]*")


def _of_analyte_aside(text: str) -> bool:
    """Return whether a heading names what stands beside the results of an analyte."""
    if text.rstrip().endswith(("+/-", "±")):
        return True
    told = _LAST_WORD.fullmatch(text.strip())
    if told is None or not is_aside(told["word"]) or label_of(text) is not None:
        return False
    label = label_of(told["of"])
    return label is not None and label.ours


def _is_field(heading: Heading, label: Label) -> bool:
    """Return whether headings with a label name a field of the sample all the same."""
    if not label.ours and field_of(heading.shown):
        return True  # "basis cd" is no cadmium
    last = heading.texts[-1]
    bare = label.candidates == ("dm",) and label_of(last) is None
    return bare and bool(field_of(last))  # "Sample" under "Dry matter"


def takes_unit(label: Label | None, unit: str) -> bool:
    """Return whether an analyte that a label names can be printed in a unit.

    Parameters
    ----------
    label : Label or None
        The label; with none any unit can be.
    unit : str
        The unit.

    Returns
    -------
    bool
        Whether it can.
    """
    if label is None or not label.ours:
        return True
    return any(in_vocabulary(one, unit) for one in label.candidates)


def _group(text: str) -> bool:
    """Return whether a heading over several columns is made of words of a basis or a unit."""
    known, label = written_in(text), label_of(text)
    return bool(known.basis or known.unit) and (label is None or len(label.candidates) > 1)


_YEAR = re.compile(r"\b(?:19|20)\d\d\b")


#: "% MS", "g/kg TM": a unit with a basis behind it.
UNIT_FIRST = re.compile(r"\s*[(\[]?(?:%|pct|percent|pp[mb]|m?g\s?/|mcal|mj)", re.IGNORECASE)


def _find_label(heading: Heading) -> None:
    texts = heading.texts
    own = _under_title(texts)
    if own is not None:
        _take_label(heading, texts[-1], own)
        return
    options = [" ".join(texts)]
    options += [" ".join(texts[first:]) for first in range(1, len(texts))]
    options += [" ".join(texts[:last]) for last in range(len(texts) - 1, 0, -1)]
    options += texts
    options += [re.sub(r"- (?=[a-z])", "", option) for option in options]
    options += [_YEAR.sub(" ", option).strip() for option in options if year_in(option)]
    # "% MS" under a name that is not known is its unit, and no dry matter.
    alone = len(texts) > 1
    labels = [
        (option, label_of(option))
        for option in dict.fromkeys(options)
        if not (alone and is_only_unit(option) and UNIT_FIRST.match(option))
    ]
    if any(_names_other(label) for option, label in labels if option in texts):
        # "TS" over "mg/kg", under "Cu", is its basis
        labels = [one for one in labels if one[1] is None or one[1].candidates != ("dm",)]
    # "Dry matter" over another label is its basis, so it comes last.
    # What names one analyte counts before what may name several: "TDN" under "Energy, dry matter".
    for maybe_basis, several in ((False, False), (False, True), (True, False)):
        for option, label in labels:
            if label is None or label.maybe_basis is not maybe_basis:
                continue
            if (len(label.candidates) > 1) is several:
                _take_label(heading, option, label)
                return


def _names_other(label: Label | None) -> bool:
    """Return whether a label names another analyte than dry matter for certain."""
    if label is None or not label.ours or label.misspelled or label.maybe_basis:
        return False
    return len(label.candidates) == 1 and label.candidates != ("dm",)


def _under_title(texts: Sequence[str]) -> Label | None:
    """Return what a name says alone that would be another thing together with its title.

    "Dry matter basis, %" over "NDF" is no "% NDF" of the dry matter.
    """
    if len(texts) < 2 or not all(map(is_only_unit, texts[:-1])) or is_only_unit(texts[-1]):
        return None
    own, whole = label_of(texts[-1]), label_of(" ".join(texts))
    if own is None or whole is None or not own.ours or own.maybe_basis:
        return None
    return own if whole.candidates != own.candidates else None


def _take_label(heading: Heading, text: str, label: Label) -> None:
    heading.label, heading.label_text = label, text
    heading.unit = label.unit if takes_unit(label, label.unit) else ""
    heading.basis = label.basis


#: "Zn, Cu in ppm of dry matter": analytes in a title, and what they are printed in.
_PRINTED_IN = re.compile(r"(?P<of>[A-Za-z][\w ,&]*?)\s+(?:in|as)\s+(?P<unit>\S.*)", re.IGNORECASE)


def take_units(columns: Sequence[Heading], title: str) -> None:
    """Give columns without a unit the one with which a title over the table names them.

    Parameters
    ----------
    columns : sequence of Heading
        The columns of the table.
    title : str
        The line over it.
    """
    for clause in re.split(r"[;()]", title):
        told = _PRINTED_IN.fullmatch(clause.strip(" .:"))
        known = written_in(told["unit"]) if told else None
        if told is None or known is None or not known.unit or not is_only_unit(told["unit"]):
            continue
        labels = [label_of(one) for one in re.split(r"[,&]|\band\b", told["of"]) if one.strip()]
        named = [one.candidates for one in labels if one is not None and one.ours]
        for column in columns:
            if column.label and not column.unit and column.label.candidates in named:
                column.unit, column.basis = known.unit, column.basis or known.basis


#: "CP unit", "Protein basis": what a column beside the values of an analyte holds.
_COMPANION = re.compile(
    r"^(?P<of>.*?)[\s_.:-]*\b(?P<what>units?|uom|basis|method|flags?|qualifier|qual|limit|mdl|lod|"
    r"loq|rl|sd|error|uncertainty|rank|rating|grade)\s*$",
    re.IGNORECASE,
)


def find_companions(columns: Sequence[Heading]) -> None:
    """Tell columns of units, bases and methods that belong to the column of one analyte.

    Such a column is headed by the name of the analyte and the word, or by the word alone right
    behind the column of the analyte, again and again.
    """
    alone = [one for one in columns if one.field in ("unit", "basis", "method", "qualifier")]
    again = len(alone) > len({one.field for one in alone})
    before: Heading | None = None
    owners: dict[tuple[str, ...], Heading] = {}
    for one in columns:
        if one.label and not _COMPANION.match(one.shown.replace("_", " ")):
            owners.setdefault(one.label.candidates, one)
    for column in columns:
        told = column.texts[-1:] if column.texts and written_in(column.texts[-1]).basis else []
        own = bool(told) and is_only_unit(told[0])  # "% DM basis" tells how, and holds values
        found = None if own else _COMPANION.match(column.shown.replace("_", " "))
        if found and found["what"].casefold() == "basis" and column.basis:
            found = None  # "Fat, % dry matter basis" holds values
        label = label_of(found["of"]) if found and found["of"] else None
        owner = owners.get(label.candidates) if label is not None and label.ours else None
        if owner is not None:
            column.label, column.label_text = None, ""
        elif column.label is not None:
            before = column
            continue
        if owner is None and again and column in alone:
            owner = before
        if owner is not None:
            column.field = "companion"
            owner.companions.append(column)


#: So many texts stand in a row of heads that is printed again.
_LEAST_AGAIN = 2
#: "PAGE 2", "RUN 11/14/25 06:12": what stands at the head of each page, with figures of its own.
_OF_PAGE = re.compile(
    r"\b(?:page|sheet|run|printed|seite|p[aá]gina|pagina)\b\s*:?\s*(?:date|on|no\.?)?\s*:?\s*\d?",
    re.IGNORECASE,
)


def is_head_again(
    rows: Sequence[Sequence[Seen]], place: int, over_them: Container[str], last: int
) -> bool:
    """Return whether a row is of the heads of a page, printed again on the next one.

    It stands over the table too, and no new title stands before it.

    Parameters
    ----------
    rows : sequence of rows
        The rows of the page.
    place : int
        Which of them it is.
    over_them : container of str
        What ``without_figures`` makes of the rows over the table.
    last : int
        The row of the table before it.

    Returns
    -------
    bool
        Whether it is.
    """
    row = rows[place]
    of_page = any(_OF_PAGE.search(one.text) for one in row)
    if not row or without_figures(row) not in over_them:
        return False
    numbers = any(one.is_value and one.value.value is not None for one in row)
    if not of_page and (len(row) < _LEAST_AGAIN or numbers):
        return False
    between = [one for one in rows[last + 1 : place] if len(one) == 1]
    return all(without_figures(one) in over_them for one in between)


def without_figures(row: Sequence[Seen]) -> str:
    """Return the texts of a row with a sign for each number: "PAGE 1" and "PAGE 2" are alike.

    Parameters
    ----------
    row : sequence of Seen
        The row.

    Returns
    -------
    str
        The texts.
    """
    return re.sub(r"\d+", "0", "  ".join(" ".join(one.text.split()) for one in row))


def tells_bases(text: str) -> bool:
    """Return whether a clause of a text tells a basis.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    bool
        Whether one does.

    Examples
    --------
    >>> tells_bases("(moisture as received, others pct dry basis)"), tells_bases("Hay, dairy")
    (True, False)
    """
    return any(map(basis_in, re.split("[,;()]", text)))


def is_years(row: Sequence[Seen]) -> bool:
    """Return whether the numbers of a row are years: "2023  2024  2025".

    Parameters
    ----------
    row : sequence of Seen
        The row.

    Returns
    -------
    bool
        Whether they are, if there are any.
    """
    return len(row) > 1 and all(is_year(one) for one in row if one.is_value)


def head_runs(columns: Sequence[Heading]) -> None:
    """Name the column that counts the runs of each sample: "Pan", "Rep".

    Parameters
    ----------
    columns : sequence of Heading
        The columns of a table; the one that does is given its field.
    """
    for column in columns:
        if column.label is None and counts_runs(column.shown):
            column.field, column.aside = "run", False
