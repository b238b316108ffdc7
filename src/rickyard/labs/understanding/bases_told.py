"""Letters, numbers and signs that a legend gives to the two bases: "A = as sampled"."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import basis_in, is_only_basis, is_only_unit, label_of, printed

_SIGNS: Final = r"[A-Za-z]{1,3}|\d|[*†‡§¶#+°]{1,2}"
#: "A = as sampled (as received)", "(1) dry matter", "D (dry)", "A as received".
_TOLD: Final = re.compile(
    rf"(?:(?<=\s)|(?<=^)|(?<=[(\[;,.:/\"']))[(\[\"']?(?P<code>{_SIGNS})[)\]\"']?\s*"
    r"(?P<sign>=|:|-|–|\bis\b|\bare\b|\bmeans\b|\bstands for\b|\bfor\b|\(|(?=\s))\s*[\"']?"
    r"(?:on (?:an? |the )?|in (?:the )?|per |of |the |values? |results? |figures? |samples? |hay )*"
    r"(?P<means>(?i:(?:as[- ]?(?:received|rec'?d|fed|is|sampled|sent|submitted|delivered|"
    r"(?:it|they) (?:came|reached|arrived|got))|"
    r"dry|fresh|wet|100 ?%|moisture|oven|air)\b"
    r"(?:(?! {2}|\s[A-Za-z0-9]{1,3}\s*[=:])[a-z0-9% -]){0,24}))",
)
#: The same in other languages, where a sign leaves no doubt: "MN = matéria natural".
_TOLD_ABROAD: Final = re.compile(
    r"(?:(?<=[\s;,(])|(?<=^))(?P<code>[A-Za-z]{1,3}|[*†‡§¶#+°]{1,2})\s*(?P<sign>[=:])\s*"
    r"(?P<means>[^\W\d_](?:(?! {2})[^;=|,.:()]){2,40})"
)
#: A sign that says nothing of what it stands for, so that a letter must stand alone before it.
_WEAK: Final = ("", "for", "(")
_WORDS: Final = {"dm": "dry matter basis", "ar": "as received"}
#: A code behind or before a label: "CP A", "Calcium (D)", "D-CP".
_PARTED: Final = re.compile(
    rf"^(?P<label>.*?[^\s._/(\[,-])[\s._/,-]*[(\[]?(?P<code>{_SIGNS})[)\]]?(?P<unit>\s*[,(\[]?\s*%[)\]]?)?$"
)
_LED: Final = re.compile(rf"^[(\[]?(?P<code>{_SIGNS})[)\]]?[\s._/-]+(?P<label>.+)$")
_LEAST: Final = 2
#: A legend stands among so many rows at the top or the foot of a page.
_ENDS: Final = 200
_LONGEST: Final = 70
#: A heading over a column of codes is hardly longer than they are.
_LONGEST_HEAD: Final = 5
_CODE: Final = re.compile(_SIGNS)


def with_bases(document: Document) -> Document:
    """Return a document with the bases in place of the codes that its legend gives them.

    Nothing is done unless one code stands for dry matter and another for the sample as received.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    codes = _codes(document)
    if set(codes.values()) != set(_WORDS):
        return document
    pages = [_spoken(page, codes) for page in document.pages]
    return replace(document, pages=pages)


#: "[A]", "(b)", "*": a mark of a footnote in a cell of its own.
_MARK: Final = re.compile(r"\[\w{1,2}\]|\(\w{1,2}\)|[*†‡§¶]{1,3}|[a-z]\)")
_BRACKET: Final = re.compile(r"\s*\([^()]*\)")
_MOST_OF_KEY: Final = 4


def with_marks_told(document: Document) -> Document:
    """Return a document in which a key that is a table tells each mark in one line.

    "[B] | g/kg | dry matter" is said as "[B] g/kg dry matter", as at the foot of a page.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; as it was where fewer than two marks are told so.
    """
    keys = [row for page in document.pages for row in page.rows if _is_of_key(row)]
    if len(keys) < _LEAST:
        return document
    pages = [
        replace(page, rows=[_in_one(row) if _is_of_key(row) else row for row in page.rows])
        for page in document.pages
    ]
    return replace(document, pages=pages)


def _is_of_key(row: list[Cell]) -> bool:
    """Return whether a row is a mark, and behind it nothing but units and bases."""
    if not 1 < len(row) <= _MOST_OF_KEY or not _MARK.fullmatch(row[0].text.strip()):
        return False
    return all(is_only_unit(_BRACKET.sub("", cell.text)) for cell in row[1:])


def _in_one(row: list[Cell]) -> list[Cell]:
    words = " ".join(_BRACKET.sub("", cell.text) for cell in row[1:])
    return [replace(row[0], text=f"{row[0].text.strip()} {words}", x1=row[-1].x1)]


#: A code in a column, and the most of them that a key of one column explains.
_SHORT: Final = re.compile(r"[A-Za-z0-9%#*.-]{1,6}")
#: What a code means that stands for none.
_NONE: Final = re.compile(r"none|no (?:unit|basis)|without(?: unit| basis)?|n/?a|-|", re.IGNORECASE)
_MOST_CODES: Final = 12
#: The title over a key, what its codes mean, and the page and row of each.
_Key = tuple[str, dict[str, str], set[tuple[int, int]]]


def with_columns_keyed(document: Document) -> Document:
    """Return a document in which the codes of one column are told as the key of that column does.

    "column u", and under it "p | per cent" and "g | g/kg": each in a section of its own. A key
    of nothing but units needs no title where a column holds nothing but its codes.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document, without the lines of the keys that were used.
    """
    keys = _keys_of_columns(document)
    used: set[tuple[int, int]] = set()
    pages = []
    for page in document.pages:
        told = {}
        for at, texts in _columns(page).items() if keys and page.gridded else ():
            key = next((one for one in keys if _is_key_of(one, texts)), None)
            if key is not None:
                told[at] = key[1]
                used |= key[2]
        pages.append(replace(page, rows=[_in_words(row, told) for row in page.rows]))
    if not used:
        return document
    left = [
        replace(page, rows=[[] if (n, m) in used else row for m, row in enumerate(page.rows)])
        for n, page in enumerate(pages)
    ]
    return replace(document, pages=left)


def _keys_of_columns(document: Document) -> list[_Key]:
    """Return the keys of a document: lines of two cells one under the other."""
    keys: list[_Key] = []
    for number, page in enumerate(document.pages):
        key: _Key = ("", {}, set())
        for place, row in enumerate(page.rows):
            texts = [cell.text.strip() for cell in row]
            if len(texts) == _LEAST and _SHORT.fullmatch(texts[0]) and not _names(texts[1]):
                key[1][texts[0]] = texts[1]
                key[2].add((number, place))
            elif texts:
                keys.append(key)
                key = (texts[0] if len(texts) == 1 else "", {}, set())
        keys.append(key)
    return [one for one in keys if 1 < len(one[1]) <= _MOST_CODES]


def _names(means: str) -> bool:
    """Return whether a code stands for an analyte, and not for a unit or a basis."""
    label = label_of(means)
    return label is not None and not label.maybe_basis


def _columns(page: Page) -> dict[float, list[str]]:
    texts: dict[float, list[str]] = {}
    for row in page.rows:
        for cell in row if len(row) > _LEAST_ACROSS else ():
            texts.setdefault(cell.x0, []).append(cell.text.strip())
    return {at: own for at, own in texts.items() if len(own) > _LEAST_ACROSS}


def _is_key_of(key: _Key, texts: list[str]) -> bool:
    """Return whether a key explains what stands in a column, and everything there."""
    title, codes, _ = key
    head, *below = texts
    if not set(below) <= set(codes) or head in codes:
        return False
    if re.search(rf"(?<!\w){re.escape(head)}(?!\w)", title):
        return True
    told = [one for one in codes.values() if not _NONE.fullmatch(one)]
    units = all(is_only_unit(one) and not is_only_basis(one) for one in told)
    return units and len(set(below)) > 1 and label_of(head) is None


def _in_words(row: list[Cell], told: Mapping[float, dict[str, str]]) -> list[Cell]:
    """Return a row with what codes mean in their place, and what they are over them."""
    made = []
    for cell in row if told and len(row) > _LEAST_ACROSS else ():
        codes = told.get(cell.x0)
        means = codes.get(cell.text.strip()) if codes else None
        if codes and means is None:
            told_by = [one for one in codes.values() if not _NONE.fullmatch(one)]
            bases, units = all(map(is_only_basis, told_by)), all(map(is_only_unit, told_by))
            means = "basis" if bases else "unit" if units else cell.text
        if means is not None and _NONE.fullmatch(means):
            continue
        made.append(cell if means is None else replace(cell, text=means, number=None))
    return made or row


def ends_of(page: Page) -> list[list[Cell]]:
    """Return the rows at the top and at the foot of a page, where legends stand.

    Parameters
    ----------
    page : Page
        The page.

    Returns
    -------
    list of list of Cell
        All its rows, if they are not very many.
    """
    rows = page.rows
    return rows if len(rows) <= 2 * _ENDS else [*rows[:_ENDS], *rows[-_ENDS:]]


def _codes(document: Document) -> dict[str, str]:
    """Return the basis of each code that a sentence explains; not of one that it explains twice."""
    found: dict[str, str] = {}
    for page in document.pages:
        lines = [[cell.text for cell in row if cell.number is None] for row in ends_of(page)]
        for row in [*lines, *_runs(lines)]:
            text = _joined(row)
            told = [one for one in _TOLD.finditer(text) if _explains(one)]
            told = told or [one for one in _TOLD_ABROAD.finditer(text) if _explains(one)]
            if len({one["code"] for one in told}) < _LEAST:
                continue  # one alone may be a footnote, which is read as such
            for one in told:
                basis = basis_in(one["means"])
                if found.setdefault(one["code"], basis) != basis:
                    return {}
    return found


def _joined(texts: list[str]) -> str:
    """Return the texts of a row as one; a basis behind a code was parted from it at its sign."""
    parts = texts[:1]
    for before, text in itertools.pairwise(texts):
        means = _CODE.fullmatch(before.strip()) and is_only_basis(text)
        parts.append(f" = {text}" if means else f"  {text}")
    return "".join(parts)


#: So many cells make a row of a table, and so many rows tell that a column holds codes.
_LEAST_ACROSS: Final = 3
_LEAST_BELOW: Final = 4


def _columns_of_codes(page: Page, codes: dict[str, str]) -> set[float]:
    """Return where columns stand that hold nothing but codes of both bases under their heading."""
    texts: dict[float, list[str]] = {}
    for row in page.rows:
        for cell in row if len(row) >= _LEAST_ACROSS else ():
            texts.setdefault(cell.x0, []).append(cell.text.strip())
    under = {at: own if own[0] in codes else own[1:] for at, own in texts.items()}
    if page.gridded:  # under a heading they are told as the column of a key
        under = {at: own for at, own in under.items() if texts[at][0] in codes}
    return {
        at
        for at, below in under.items()
        if len(below) >= (_LEAST if below[:1] == texts[at][:1] else _LEAST_BELOW)
        and {codes.get(text) for text in below} == set(_WORDS)
        and len(texts[at][0]) <= _LONGEST_HEAD
    }


def _runs(lines: list[list[str]]) -> list[list[str]]:
    """Return lines one under the other of which each explains one code, run by run."""
    runs: list[list[str]] = [[]]
    for row in lines:
        text = " ".join(row).strip(" .;,")
        told = _TOLD.match(text) if 0 < len(row) <= _LEAST else None
        whole = told is not None and told.end() >= len(text)
        if told is not None and whole and not told["code"].islower():
            runs[-1].append(f"{told['code']} = {told['means']};")
        elif row:
            runs.append([])
    return [run for run in runs if len(run) >= _LEAST]


def _explains(one: re.Match[str]) -> bool:
    code, basis = one["code"], basis_in(one["means"])
    strong = one["sign"].strip() not in _WEAK
    if one["sign"] == "are" and one[0][:1] not in "([":
        return False  # "NDF and Ca are on dry matter" speaks of calcium
    return basis in _WORDS and (strong or code.isupper() or not code.isalpha())


def _spoken(page: Page, codes: dict[str, str]) -> Page:
    rows = []
    columns = _columns_of_codes(page, codes)
    lone = {_bare(row[0].text) for row in page.rows if len(row) == 1} & set(codes)
    for row in page.rows:
        if len(row) == 1 and len(lone) >= _LEAST and (code := _bare(row[0].text)) in lone:
            rows.append([replace(row[0], text=_WORDS[codes[code]], number=None)])
            continue  # "[D]" over the lines that are dry
        text = _joined([cell.text for cell in row])
        every = (*_TOLD.finditer(text), *_TOLD_ABROAD.finditer(text))
        told = {one["code"] for one in every if one["code"] in codes}
        if len(told) >= _LEAST or (told and len(row) == 1 and _MARK.match(row[0].text.strip())):
            rows.append(row)  # the legend itself
            continue
        if len(row) >= _LEAST_ACROSS and any(cell.x0 in columns for cell in row):
            rows.append([_of_column(cell, codes) if cell.x0 in columns else cell for cell in row])
            continue
        rows.append(_heads(row, codes) if _has_no_values(row) else _line(row, codes))
    return replace(page, rows=rows)


def _of_column(cell: Cell, codes: dict[str, str]) -> Cell:
    """Return a cell of a column of codes with what it stands for, and its heading as "basis"."""
    basis = codes.get(cell.text.strip(), "")
    return replace(cell, text=_WORDS[basis] if basis else "basis", number=None)


def _has_no_values(row: list[Cell]) -> bool:
    return not any(
        cell.number is not None or (printed(cell.text).value is not None and cell.text not in "123")
        for cell in row
    )


def _heads(row: list[Cell], codes: dict[str, str]) -> list[Cell]:
    """Return headings with the words of a basis for a code that is alone, or beside a label."""
    alone = sum(_bare(cell.text) in codes for cell in row)
    made = []
    for cell in row:
        code = _bare(cell.text)
        if code in codes and (alone >= _LEAST or len(row) > _LEAST):
            made.append(replace(cell, text=_WORDS[codes[code]], number=None))
        else:
            made.append(_with_label(cell, codes))
    return made


def _bare(text: str) -> str:
    return text.strip(" ()[]:.%\"'")


def _with_label(cell: Cell, codes: dict[str, str]) -> Cell:
    """Return a heading in which a code beside a label is spoken: "CP A" as of the sample."""
    if len(cell.text) > _LONGEST:
        return cell
    for pattern in (_PARTED, _LED):
        told = pattern.match(cell.text)
        if told is None or told["code"] not in codes:
            continue
        label = label_of(told["label"])
        if label is not None and label.ours and not label.misspelled and not label.basis:
            unit = "%" if "%" in (told.groupdict().get("unit") or "") else ""
            words = f"{told['label']} ({unit + ' ' if unit else ''}{_WORDS[codes[told['code']]]})"
            return replace(cell, text=words)
    return cell


def _line(row: list[Cell], codes: dict[str, str]) -> list[Cell]:
    """Return a line with values, with the basis for a code in a cell of its own behind a label."""
    labels = [n for n, cell in enumerate(row) if label_of(cell.text) is not None]
    spoken = [
        n
        for n, cell in enumerate(row)
        if cell.text.strip() in codes and not cell.text.isdigit() and labels and n > labels[0]
    ]
    if len(spoken) != 1:
        return [
            _with_label(cell, codes) if n == 0 and cell.number is None else cell
            for n, cell in enumerate(row)
        ]
    at = spoken[0]
    if is_only_basis(row[at].text):
        return row
    words = _WORDS[codes[row[at].text.strip()]]
    return [replace(cell, text=words) if n == at else cell for n, cell in enumerate(row)]
