"""The page that says of each demand of a published standard of safety where it is met.

``python -m tools.security_page docs/security.md`` writes it anew.
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

_TABLE: Final = Path(__file__).parent / "data" / "security.csv"

MET: Final = "met"
NOT_MET: Final = "not met"
NOT_OURS: Final = "does not apply"

HEAD: Final = """# Safety of a shared book

What is held against who would read or change a record book that is not theirs. The list is that \
of the OWASP Application Security Verification Standard 4.0.3 (2021, CC BY-SA 4.0), every demand \
of levels 1 and 2, by its number; the words here are ours, and short: read the standard for what \
it asks. Where the standard speaks of things that the program does not have, that is said. It is \
told by who wrote the program; nobody from outside has looked.

A book for one person on one computer answers to that computer alone and asks for no password. \
What follows is about `rickyard serve --shared`.

"""

SCANNED: Final = """## Looked at by a scanner

{scan}

"""

#: What a general scanner found, by whom and when.
SCAN: Final = (
    "Wapiti 3.0.4, 30 November 2026, on a book with the demonstration farm, for one person and "
    "shared with a producer signed in: 19 of its modules, some minutes on a busy computer, so that "
    "each module had 13 seconds. It reached 452 and 517 pages and forms before the last mends, and "
    "after them, with forms sealed as a browser does, 71. No injection, file, redirect or "
    "script was found, and no fault of the program. It tells of four things. X-XSS-Protection is "
    "not sent: browsers have left it, and the policy of content does its work. A book for one "
    "person has no HSTS and no Secure cookie: there is no HTTPS on a computer to itself. Forms "
    '"without a seal": a false alarm, each has one and is refused without it '
    "(`test_what_no_page_asks_for_changes_nothing`)."
)

_PARTS: Final = {
    "1": "How it is built",
    "2": "Signing in",
    "3": "Staying signed in",
    "4": "Who may do what",
    "5": "What comes in and goes out",
    "6": "Cryptography at rest",
    "7": "Faults and the journal",
    "8": "Private data",
    "9": "On the network",
    "10": "Code that means harm",
    "11": "Rules of the trade",
    "12": "Files",
    "13": "Programs that speak to it",
    "14": "How it is set up",
}


@dataclass(frozen=True, slots=True)
class Demand:
    """A demand of the standard: its number and level, what it asks, and what became of it.

    ``where`` names modules, ``tests`` files with the name of a test, or a source file whose
    examples show it.
    """

    number: str
    level: int
    asks: str
    state: str
    how: str
    where: tuple[str, ...]
    tests: tuple[str, ...]


@cache
def demands() -> tuple[Demand, ...]:
    """Return all demands of levels 1 and 2, as they stand in the table.

    Returns
    -------
    tuple of Demand
        By number.

    Examples
    --------
    >>> len(demands())
    260
    """
    with _TABLE.open(encoding="utf-8", newline="") as table:
        return tuple(
            Demand(
                row["number"],
                int(row["level"]),
                row["asks"],
                row["state"],
                row["how"],
                tuple(row["where"].split()),
                tuple(row["tests"].split()),
            )
            for row in csv.DictReader(table)
        )


def _row(one: Demand) -> str:
    shown = [f"`{module.removeprefix('rickyard.')}`" for module in one.where]
    shown += [f"`{test.rpartition('::')[2].rpartition('/')[2]}`" for test in one.tests]
    state = f"**{one.state}**" if one.state == NOT_MET else one.state
    cells = (one.number, str(one.level), one.asks, state, one.how, ", ".join(shown))
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |\n"


def _table(chosen: list[Demand]) -> Iterator[str]:
    yield "| number | level | asks | is | how, or why not | where, and what shows it |\n"
    yield "|---|---|---|---|---|---|\n"
    yield from map(_row, chosen)
    yield "\n"


def page() -> str:
    """Return the page, in Markdown.

    Returns
    -------
    str
        How many are met, what is not, what a scanner said, then all by their part.
    """
    counted = Counter((one.level, one.state) for one in demands())
    parts = [HEAD, "## How it stands\n\n"]
    parts.append("| level | met | not met | does not apply |\n|---|---|---|---|\n")
    for level in (1, 2):
        of = [str(counted[level, state]) for state in (MET, NOT_MET, NOT_OURS)]
        parts.append(f"| {level} | {' | '.join(of)} |\n")
    parts += ["\n## What is not met\n\n"]
    parts += [
        f"- {one.number} (level {one.level}), {one.asks}: {one.how}\n"
        for one in demands()
        if one.state == NOT_MET
    ]
    parts.append("\n" + SCANNED.format(scan=SCAN))
    for key, title in _PARTS.items():
        parts.append(f"## {title}\n\n")
        parts += _table([one for one in demands() if one.number.partition(".")[0] == key])
    return "".join(parts).rstrip() + "\n"


def main(path: str) -> None:
    """Write the page to a file."""
    Path(path).write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
