"""Records of programs (JSON, lines of JSON, XML) as pages: one for each sample, in lines."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias
from xml.etree import ElementTree

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.parsing import MOST_CELLS, MOST_TEXT
from rickyard.labs.vocabulary import field_of, is_only_basis, is_only_unit, label_of

Node: TypeAlias = "Mapping[str, Node] | Sequence[Node] | str"

#: Deeper than this no report is nested; and a sample has so many values at least.
_DEEPEST: Final = 12
_LEAST_VALUES: Final = 2
#: The text of an element of XML that has attributes too.
_OWN: Final = "value"
_RESULTS: Final = frozenset(["value", "val", "result", "amount", "reading", "number", "measured"])
_NAMES: Final = frozenset(["name", "label", "code", "id", "key", "title", "abbr", "type", "of"])
#: What is told of a laboratory or of whoever sent the sample, and of no sample.
_OTHERS: Final = re.compile(
    r"(?:lab|laboratory|client|customer|account|grower|producer|sender|contact|address|invoice|"
    r"meta|metadata|schema|reference|typical|average|previous|guide|limits?|ranges?)(?:[_ ]?info)?",
    re.IGNORECASE,
)
_LOG_PAIR: Final = re.compile(r'(?P<key>[A-Za-z][\w.-]*)=(?P<value>"[^"]*"|[^\s"]+)')
#: A line of such pairs and nothing else, four at least.
_LOG_LINE: Final = re.compile(
    r'[ \t]*(?:[A-Za-z][\w.-]*=(?:"[^"\n]*"|[^\s"]+)(?:[ \t]+|(?=\n|$))){4,}(?:\n|$)'
)
_DOCTYPE: Final = re.compile(r"<!(?:DOCTYPE|ENTITY)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Around:
    """What is told once around several values: basis, unit and method."""

    basis: str = ""
    unit: str = ""
    method: str = ""


def record_document(text: str) -> Document | None:
    """Return the samples of a text that a program wrote as records, or ``None`` where it is none.

    Parameters
    ----------
    text : str
        The whole text.

    Returns
    -------
    Document or None
        A page for each sample, with a line for each value.

    Examples
    --------
    >>> document = record_document('{"name": "East", "cp": {"value": 12.2, "unit": "%"}}')
    >>> [[cell.text for cell in row] for row in document.pages[0].rows]
    [['name', 'East'], ['cp', '12.2', '%']]
    """
    node = _node_of(text)
    if node is None or isinstance(node, str):
        return None
    table = _table(node)
    samples = [table] if table else [_rows_of(one) for one in _samples(node, "", 0)]
    pages = [
        Page(f"record {n + 1}", _cells(rows, n), True) for n, rows in enumerate(samples) if rows
    ]
    if not pages or sum(len(page.rows) for page in pages) * 2 > MOST_CELLS:
        return None
    return Document("records", pages)


def _cells(rows: list[list[str]], sample: int) -> list[list[Cell]]:
    return [
        [
            Cell(text[:MOST_TEXT], n, at, at + 0.9, f"record {sample + 1}, {row[0][:40] or n + 1}")
            for at, text in enumerate(row)
            if text.strip()
        ]
        for n, row in enumerate(rows)
    ]


def _node_of(text: str) -> Node | None:
    bare = text.strip().lstrip("\ufeff")
    log = "\n".join(line for line in bare.splitlines() if not line.startswith("#"))
    if _LOG_LINE.match(log.strip()):
        return _log_lines(bare)
    if bare[:1] in ("{", "["):
        return _json(bare)
    if bare[:1] == "<" and not _DOCTYPE.search(bare):
        try:
            return _element(ElementTree.fromstring(bare), 0)
        except (ElementTree.ParseError, ValueError):
            return None
    return None


def _log_lines(text: str) -> Node | None:
    """Return the records of lines such as ``sample="West" cp=12.2``; one a line."""
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if not all(map(_LOG_LINE.match, lines)):
        return None
    return [
        {one["key"].replace(".", " "): one["value"].strip('"') for one in _LOG_PAIR.finditer(line)}
        for line in lines
    ]


def _json(text: str) -> Node | None:
    try:
        return _plain(json.loads(text, parse_float=str, parse_int=str), 0)
    except (ValueError, RecursionError):
        pass
    try:
        return _plain(
            [
                json.loads(line.rstrip().rstrip(","), parse_float=str, parse_int=str)
                for line in text.splitlines()
                if line.strip()
            ],
            0,
        )
    except (ValueError, RecursionError):
        return None


def _plain(found: object, deep: int) -> Node:
    """Return what was parsed with texts for all numbers; what is nested too deep is left out."""
    if deep > _DEEPEST:
        return ""
    if isinstance(found, dict):
        return {str(key): _plain(value, deep + 1) for key, value in found.items()}
    if isinstance(found, list):
        return [_plain(value, deep + 1) for value in found]
    return "" if found is None else str(found)


def _element(element: ElementTree.Element, deep: int) -> Node:
    """Return an element of XML as a record: attributes and children by their names."""
    own = " ".join((element.text or "").split())
    made: dict[str, Node] = {_bare(name): value for name, value in element.attrib.items()}
    children = list(element) if deep < _DEEPEST else []
    again = len(children) > len({child.tag for child in children})
    if again and not made:
        tags = [_bare(child.tag) for child in children]
        nodes = [_element(child, deep + 1) for child in children]
        if len(set(tags)) == 1:
            return nodes
    for child in children:
        name, node = _bare(child.tag), _element(child, deep + 1)
        before = made.get(name)
        if before is None:
            made[name] = node
        elif isinstance(before, list):
            before.append(node)
        else:
            made[name] = [before, node]
    if not made:
        return own
    if own:
        made[_OWN] = own
    return made


def _bare(tag: object) -> str:
    return str(tag).rpartition("}")[2]


def _table(node: Node) -> list[list[str]]:
    """Return the rows of a table that is kept as lists of cells, with its headings."""
    if isinstance(node, Mapping):
        heads = [one for one in node.values() if _is_row(one)]
        bodies = [
            one
            for one in node.values()
            if not isinstance(one, str) and len(one) > 0 and all(map(_is_row, _each(one)))
        ]
        if len(heads) == 1 and len(bodies) == 1:
            return [_row(heads[0]), *map(_row, _each(bodies[0]))]
        inner = [_table(one) for one in node.values() if isinstance(one, Mapping)]
        return next((one for one in inner if one), [])
    if not isinstance(node, str) and len(node) > 1 and all(map(_is_row, _each(node))):
        return [_row(one) for one in _each(node)]
    return []


def _each(node: Node) -> Iterator[Node]:
    if isinstance(node, Mapping):
        yield from node.values()
    elif not isinstance(node, str):
        yield from node


def _is_row(node: Node) -> bool:
    return (
        not isinstance(node, (str, Mapping))
        and len(node) > _LEAST_VALUES
        and all(isinstance(one, str) for one in node)
    )


def _row(node: Node) -> list[str]:
    return [one for one in _each(node) if isinstance(one, str)]


def _samples(node: Node, key: str, deep: int) -> list[Node]:
    """Return the records of single samples in a record, named by their key where they have one."""
    if isinstance(node, str) or _OTHERS.fullmatch(key):
        return []
    inner = [(name, one) for name, one in _named(node) if not isinstance(one, str)]
    if deep < _DEEPEST and _several([one for _, one in inner]):
        return [found for name, one in inner for found in _samples(one, name, deep + 1)]
    holders = [(n, one) for n, one in inner if len(_analytes(one)) >= _LEAST_VALUES]
    if len(holders) == 1 and _inside_several(holders[0][1], deep):
        return _samples(holders[0][1], holders[0][0], deep + 1)
    named = key and isinstance(node, Mapping) and not any(map(_is_identity, node))
    if named and not _known(key) and isinstance(node, Mapping) and deep:
        return [{"Sample": key, **node}]
    return [node]


def _inside_several(node: Node, deep: int) -> bool:
    return deep < _DEEPEST and len(_samples(node, "", deep + 1)) > 1


def _known(key: str) -> bool:
    """Return whether a key is a word of reports, and no name of a sample."""
    words = key.replace("_", " ")
    return bool(
        field_of(words)
        or label_of(words)
        or is_only_unit(words)
        or re.fullmatch(r"(?:data|analys[ei]s|report|body|tests?|nutrients?|\d+)", words.casefold())
    )


def _named(node: Node) -> list[tuple[str, Node]]:
    if isinstance(node, Mapping):
        return list(node.items())
    return [("", one) for one in _each(node)]


def _is_identity(key: str) -> bool:
    return field_of(key.replace("_", " ")) in ("id", "weak_id", "lab_no", "number")


def _several(nodes: Sequence[Node]) -> bool:
    """Return whether records hold the same analytes, so that each is a sample of its own."""
    every = [found for one in nodes if len(found := _analytes(one)) >= _LEAST_VALUES]
    keyed = sum(isinstance(one, Mapping) and any(map(_is_identity, one)) for one in nodes)
    if len(every) < 2:
        return False
    if keyed >= len(every):
        return True
    return all(2 * len(one & every[0]) >= len(one) for one in every[1:])


def _analytes(node: Node) -> set[str]:
    """Return the analytes of which a record holds values."""
    found = set()
    for row in _rows_of(node):
        label = label_of(row[0].replace("_", " ")) if len(row) > 1 else None
        if label is not None and label.ours:
            found.add(label.candidates[0])
    return found


def _rows_of(node: Node) -> list[list[str]]:
    return list(_lines(node, "", _Around(), 0))


def _lines(node: Node, key: str, around: _Around, deep: int) -> Iterator[list[str]]:
    """Give the lines of a record: its fields first, then its values."""
    if deep > _DEEPEST or (_OTHERS.fullmatch(key) and not isinstance(node, str)):
        return
    if isinstance(node, str):
        yield _line(key, node, around)
        return
    if not isinstance(node, Mapping):
        for one in node:
            yield from _lines(one, key, around, deep + 1)
        return
    measured = _measured(node, key, around)
    if measured is not None:
        yield measured
        return
    around = _told(node, around)
    yield from _single_lines(node, key, around)
    for name, one in node.items():
        if isinstance(one, str):
            continue
        if _groups_by_basis(name, one):
            yield from _lines(one, key, replace(around, basis=name.replace("_", " ")), deep + 1)
        else:
            yield from _lines(one, name, around, deep + 1)


def _single_lines(node: Mapping[str, Node], key: str, around: _Around) -> Iterator[list[str]]:
    """Give the lines of what a record holds itself, the fields of the sample first."""
    single = [(name, one) for name, one in node.items() if isinstance(one, str)]
    for name, one in sorted(single, key=lambda pair: not field_of(pair[0].replace("_", " "))):
        words = name.replace("_", " ")
        if field_of(words) in ("unit", "basis"):
            continue
        if label_of(key.replace("_", " ")) and is_only_basis(words):
            yield _line(key, one, replace(around, basis=words))
        else:
            yield _line(name, one, around)


def _groups_by_basis(name: str, node: Node) -> bool:
    """Return whether a key is the basis of the values under it; "dry_matter" may be a value."""
    if not is_only_basis(name.replace("_", " ")):
        return False
    label = label_of(name.replace("_", " "))
    if label is None or not isinstance(node, Mapping):
        return True
    inner = [label_of(key.replace("_", " ")) for key in node]
    return any(one is not None and one.ours and not one.maybe_basis for one in inner)


def _line(name: str, value: str, around: _Around) -> list[str]:
    label = label_of(name.replace("_", " "))
    if label is None or not label.ours:
        return [name, value]
    more = (around.unit, around.basis, around.method)
    return [name, value, *(one for one in more if one)]


def _told(node: Mapping[str, Node], around: _Around) -> _Around:
    """Return what a record tells of all its values."""
    for name, one in node.items():
        what = field_of(name.replace("_", " "))
        if isinstance(one, str) and what == "unit":
            around = replace(around, unit=one)
        elif isinstance(one, str) and what == "basis":
            around = replace(around, basis=one)
    return around


def _measured(node: Mapping[str, Node], key: str, around: _Around) -> list[str] | None:
    """Return the line of a record that is one value: its name, number, unit, basis, method."""
    texts = {name: one for name, one in node.items() if isinstance(one, str)}
    kinds = {name: field_of(name.replace("_", " ")) for name in texts}
    value = next((n for n in texts if n.casefold() in _RESULTS or kinds[n] == "result"), None)
    if value is None:
        return None
    named = [
        texts[n]
        for n in texts
        if n != value and (kinds[n] == "analyte" or n.casefold() in _NAMES) and label_of(texts[n])
    ]
    if not named and label_of(key.replace("_", " ")) is None:
        return None
    told = {kinds[n]: texts[n] for n in texts if n != value}
    sign = told.get("qualifier", "").strip()
    number = f"{sign if sign in ('<', '>') else ''}{texts[value]}"
    unit = told.get("unit", around.unit)
    basis = told.get("basis", around.basis)
    method = told.get("method", around.method)
    longest = max(named, key=len, default=key)
    return [longest, number, *(one for one in (unit, basis, method) if one)]
