"""What a workbook says beside its values: number formats, hidden parts, formulas without result."""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
import zlib
from dataclasses import dataclass, field
from typing import Final
from xml.etree import ElementTree

_BUILT_IN: Final = {
    1: "0",
    2: "0.00",
    3: "#,##0",
    4: "#,##0.00",
    9: "0%",
    10: "0.00%",
    11: "0.00E+00",
}
#: What a damaged part may raise while it is unpacked or parsed.
_BROKEN: Final = (
    zipfile.BadZipFile,
    zlib.error,
    ElementTree.ParseError,
    KeyError,
    ValueError,
    OSError,
    EOFError,
    NotImplementedError,
    RuntimeError,
    IndexError,
)
_REFERENCE: Final = re.compile(r"([A-Z]{1,3})(\d{1,7})$")


@dataclass
class SheetParts:
    """The formats of number cells by row and column, and what is hidden or without value."""

    formats: dict[tuple[int, int], str] = field(default_factory=dict)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    without_value: set[tuple[int, int]] = field(default_factory=set)


def shown(number: float, code: str) -> str:
    """Return a number as its format shows it.

    Examples
    --------
    >>> shown(0.3, "0.00"), shown(0.112, "0.0%"), shown(12.7, ""), shown(71820.0, "General")
    ('0.30', '11.2%', '12.7', '71820')
    """
    code = re.sub(r'"[^"]*"|\\.|\[[^\]]*\]|_.|\*.', "", code.split(";")[0])
    if re.search(r"[ymdhs]", code, re.IGNORECASE) or "E" in code:
        return _general(number)
    found = re.search(r"[0#?]+(?:,[0#?]+)*(?:\.([0#?]+))?", code)
    if not found or "/" in code:
        return _general(number * 100) + "%" if "%" in code else _general(number)
    places = len(found[1] or "")
    text = f"{number * (100 if '%' in code else 1):.{places}f}"
    return text + "%" if "%" in code else text


def _general(number: float) -> str:
    if number == int(number) and abs(number) < 1e15:
        return str(int(number))
    return f"{number:.10g}"


def parts_of(data: bytes) -> dict[str, SheetParts]:
    """Return what each sheet of an XLSX workbook says beside its values, by its name."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            formats = _formats(archive)
            return {name: _sheet(archive, path, formats) for name, path in _sheets(archive).items()}
    except _BROKEN:
        return {}


def _tag(element: ElementTree.Element) -> str:
    return element.tag.rsplit("}", 1)[-1]


def _formats(archive: zipfile.ZipFile) -> list[str]:
    if "xl/styles.xml" not in archive.namelist():
        return []
    root = ElementTree.fromstring(archive.read("xl/styles.xml"))
    own = {
        int(one.get("numFmtId", "0")): one.get("formatCode", "")
        for one in root.iter()
        if _tag(one) == "numFmt"
    }
    cell_formats = next((one for one in root if _tag(one) == "cellXfs"), None)
    if cell_formats is None:
        return []
    ids = [int(one.get("numFmtId", "0")) for one in cell_formats]
    return [own.get(one, _BUILT_IN.get(one, "")) for one in ids]


def _sheets(archive: zipfile.ZipFile) -> dict[str, str]:
    relations = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {one.get("Id", ""): one.get("Target", "") for one in relations}
    root = ElementTree.fromstring(archive.read("xl/workbook.xml"))
    found = {}
    for one in root.iter():
        if _tag(one) != "sheet":
            continue
        key = next((value for name, value in one.attrib.items() if name.endswith("}id")), "")
        target = targets.get(key, "")
        path = target.lstrip("/") if target.startswith("/") else posixpath.join("xl", target)
        found[one.get("name", "")] = posixpath.normpath(path)
    return found


def _sheet(archive: zipfile.ZipFile, path: str, formats: list[str]) -> SheetParts:
    parts = SheetParts()
    with archive.open(path) as stream:
        for _, one in ElementTree.iterparse(stream):
            tag = _tag(one)
            if tag == "c":
                _note_cell(one, parts, formats)
            elif tag == "row":
                if one.get("hidden") in ("1", "true"):
                    parts.hidden_rows.add(int(one.get("r", "0")) - 1)
                one.clear()
            elif tag == "col" and one.get("hidden") in ("1", "true"):
                first, last = int(one.get("min", "1")), int(one.get("max", "1"))
                parts.hidden_columns.update(range(first - 1, min(last, first + 500)))
    return parts


def _note_cell(one: ElementTree.Element, parts: SheetParts, formats: list[str]) -> None:
    found = _REFERENCE.match(one.get("r", ""))
    if not found:
        return
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - 64
    at = (int(found[2]) - 1, column - 1)
    style = int(one.get("s", "0"))
    if style and style < len(formats) and formats[style]:
        parts.formats[at] = formats[style]
    tags = {_tag(child): child for child in one}
    stored = tags.get("v")
    if "f" in tags and (stored is None or not (stored.text or "")) and one.get("t") != "str":
        parts.without_value.add(at)
