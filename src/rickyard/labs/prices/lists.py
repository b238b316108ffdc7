"""Price lists of laboratories: packages in rows, in columns, or in lines with their tests."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.farm import LabPackage
from rickyard.labs.common import Cell, Document, Page, Question
from rickyard.labs.vocabulary import label_of, method_in, plain

_PRICE: Final = re.compile(
    r"(?:US)?\$\s*(\d{1,4}(?:[.,]\d{2})?)|(?<![\d.])(\d{1,4}\.\d{2})(?![\d.])"
)
_DAYS: Final = re.compile(r"(\d{1,2})\s*(?:working|business)?\s*days?", re.IGNORECASE)
_HEADS: Final = {
    "package": r"package|test package|analysis|service|what|code|offer|profile|name",
    "price": r"price|cost|fee|charge|\$|per sample",
    "tests": r"what is tested|tests?|includes|included|analytes|components|contents|tested|covers",
    "chemistry": r"how|chemistry|method",
    "days": r"working days|days|turnaround|turn around|time",
}
_OTHER_TESTS: Final = {
    "coliform": "coliform",
    "fermentation": "fermentation",
    "fermentation profile": "fermentation",
    "mycotoxins": "mycotoxins",
    "mycotoxin screen": "mycotoxins",
}
_MARKED: Final = frozenset(["x", "yes", "y", "✓", "✔", "•", "*", "included", "1", "true"])
_NOT_PACKAGE: Final = re.compile(
    r"\b(?:rush|postage|shipping|discount|double|add \$|minimum|tax)\b"
)


def tests_in(text: str) -> tuple[str, ...]:
    """Return the analytes that a list of tests names.

    Examples
    --------
    >>> tests_in("moisture & dry matter, protein, ADF, nitrate-N")
    ('dm', 'cp', 'adf', 'nitrate_no3n')
    """
    found: list[str] = []
    for part in re.split(r"[,;&+/]|\band\b|\n", text):
        bare = plain(part).strip(" .")
        if not bare:
            continue
        name = _OTHER_TESTS.get(bare, "")
        if not name:
            label = label_of(part.strip(" ."))
            if label is None or len(label.candidates) != 1:
                continue
            name = "dm" if label.candidates[0] == "moisture" else label.candidates[0]
        if name not in found:
            found.append(name)
    return tuple(found)


def price_list(document: Document, lab: str) -> tuple[list[LabPackage], list[Question]]:
    """Read a price list.

    Parameters
    ----------
    document : Document
        One way of reading the file.
    lab : str
        The name of the laboratory, where the file tells it.

    Returns
    -------
    packages : list of LabPackage
        The packages with a price and tests.
    questions : list of Question
        What a person should look at: packages with two prices, or without tests.
    """
    lab = re.split(r",|\bprices?\b|\bfees?\b", lab)[0].strip()
    text = " ".join(cell.text for page in document.pages for cell in page.cells())
    if "$" not in text and not re.search(r"\b(?:price|fee|cost)s?\b", plain(text)):
        return [], []
    for page in document.pages:
        found = _rows(page, lab) or _columns(page, lab)
        if found:
            return found, _questions(found)
    lines = [" ".join(cell.text for cell in row) for page in document.pages for row in page.rows]
    packages = _lines(lines, lab)
    return packages, _questions(packages, lines)


def _questions(packages: Sequence[LabPackage], lines: Sequence[str] = ()) -> list[Question]:
    questions = []
    if packages and not packages[0].lab:
        questions.append(
            Question(
                "The list does not name its laboratory. Which one is it?", "lab", (), ("a name",)
            )
        )
    questions += [
        Question(
            f'Package "{one.package}" at ${one.price_usd:g} does not tell its tests. Which are '
            "they?",
            f"tests {one.package}",
        )
        for one in packages
        if not one.tests
    ]
    if any(len(_PRICE.findall(line)) > 1 for line in lines):
        questions.append(
            Question(
                "Some packages have two prices; the first, plain one is taken.",
                "two prices",
                level="note",
            )
        )
    return questions


def _head(row: Sequence[Cell]) -> dict[str, Cell]:
    found: dict[str, Cell] = {}
    for cell in row:
        shown = plain(cell.text)
        for name, pattern in _HEADS.items():
            if name not in found and re.search(rf"(?<![a-z])(?:{pattern})(?![a-z])", shown):
                found[name] = cell
                break
    return found


def _rows(page: Page, lab: str) -> list[LabPackage]:
    for place, row in enumerate(page.rows):
        head = _head(row)
        if "price" not in head or "package" not in head or "tests" not in head:
            continue
        packages = []
        for line in page.rows[place + 1 :]:
            cells = {name: _under(line, cell, page.gridded) for name, cell in head.items()}
            price = _price(cells.get("price", ""))
            if (
                price is None
                or not cells["package"]
                or _NOT_PACKAGE.search(plain(cells["package"]))
            ):
                continue
            packages.append(
                _package(lab, cells["package"], price, tests_in(cells["tests"]),
                         cells.get("chemistry", ""), cells.get("days", ""))
            )  # fmt: skip
        return packages
    return []


def _under(row: Sequence[Cell], head: Cell, gridded: bool) -> str:
    for cell in row:
        if gridded and int(cell.x0) == int(head.x0):
            return cell.text
        if not gridded and min(cell.x1, head.x1) - max(cell.x0, head.x0) > 0:
            return cell.text
    return ""


def _price(text: str) -> float | None:
    found = re.search(r"\d{1,4}(?:[.,]\d{1,2})?", text)
    return float(found[0].replace(",", ".")) if found else None


def _package(
    lab: str, name: str, price: float, tests: Sequence[str], chemistry: str, days: str
) -> LabPackage:
    number = re.search(r"\d{1,2}", days)
    method = method_in(chemistry)
    return LabPackage(
        lab,
        name.strip(),
        price,
        " ".join(tests),
        "" if method == "mixed" else method,
        int(number[0]) if number else None,
    )


def _columns(page: Page, lab: str) -> list[LabPackage]:
    """Read a list with tests down and packages across, marked with x."""
    for place, row in enumerate(page.rows):
        if len(row) < 2 or not any(
            plain(cell.text) in _MARKED
            for line in page.rows[place + 1 : place + 4]
            for cell in line[1:]
        ):
            continue
        packages = []
        for head in row[1:]:
            tests: list[str] = []
            told: dict[str, str] = {}
            for line in page.rows[place + 1 :]:
                if not line:
                    continue
                text = _under(line[1:], head, page.gridded)
                if plain(text) in _MARKED:
                    tests.extend(one for one in tests_in(line[0].text) if one not in tests)
                elif text:
                    told[plain(line[0].text)] = text
            price = next(
                (_price(t) for k, t in told.items() if re.search(_HEADS["price"], k)), None
            )
            if price is None:
                continue
            chemistry = next((t for k, t in told.items() if re.search(_HEADS["chemistry"], k)), "")
            days = next((t for k, t in told.items() if re.search(_HEADS["days"], k)), "")
            packages.append(_package(lab, head.text, price, tests, chemistry, days))
        if packages:
            return packages
    return []


def _lines(lines: Sequence[str], lab: str) -> list[LabPackage]:
    """Read lines with a name and a price, each followed by lines of its tests."""
    packages: list[LabPackage] = []
    place = 0
    while place < len(lines):
        line = lines[place]
        place += 1
        found = _PRICE.search(line)
        name = (
            re.sub(r"^\s*(?:\d+[.)]|[-•*])\s*", "", line[: found.start()]).strip(" .:-…")
            if found
            else ""
        )
        if found is None or not name or _NOT_PACKAGE.search(plain(name)):
            continue
        below = [line[found.end() :]]
        while place < len(lines) and not _PRICE.search(lines[place]) and len(below) < 4:
            below.append(lines[place])
            place += 1
        text = " ".join(below)
        tests = tests_in(re.sub(r"\([^)]*\)", " ", text.replace(". ", ", "))) or tests_in(name)
        days = _DAYS.search(text)
        packages.append(
            _package(lab, name, float((found[1] or found[2]).replace(",", ".")), tests, text,
                     days[1] if days else "")
        )  # fmt: skip
    return [one for one in packages if one.tests] if any(one.tests for one in packages) else []
