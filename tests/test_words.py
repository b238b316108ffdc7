"""What is shown is said as the trade says it: phrases that readers stumbled over stay away."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import rickyard
from tools.doors import tree_of

PACKAGE = Path(rickyard.__file__).parent
ROOT = Path(__file__).parents[1]

#: Each with the way it is said now.
STUMBLED_OVER = {
    "other heads": "a different head count",
    "late grass": "late turnout",
    "left out and told": "skipped and listed",
    "sheet that hangs on the wall": "season sheet for the barn wall",
    "be enough with this chance": "are enough this often",
    "There is enough hay with": "Enough hay:",
    "bales now weigh": "about so many bales",
    "Another hay is begun": "Hay changes:",
    "Work of changing hay": "Cost of switching hays",
    "loss of value": "Value lost on carryover hay",
    "holds the cost up": "drives the cost",
    "decides what {group} are fed": "is the limit on the ration of",
    "can hold no more forage fiber": "are full",
    "would enter the program": "worth buying under",
    "read what is said of": "read the note on",
    "is raised slowly": "Step up",
    "saw drought": "grew in drought",
    "in the making": "in the windrow",
    "lets only a little be reached": "limits access",
    "costs cattle gain and feet": "cuts gain and can cause fescue foot",
    "summed from digestible parts": "by the summative equation",
    "As it is, it suits": "Fed alone, it fits",
    "enough almost surely": "almost certainly enough",
    "is written down for it": "you valued it at",
    "printed by the lab (printed": "as printed by the lab",
    "read the cautions before": "the hazard itself",
    "early in lamb": "early gestation",
    "late in kid": "late gestation",
    "dry matter they want": "dry matter intake",
    "wait no longer": "overdue: sample today",
    "the sweat takes": "let hay cure",
    "spare number, not its": "the next spare on the list",
    "half inch of dust away": "Brush off",
    "Where it would keep better": "Ways to cut storage loss",
    "stood before the book": "on hand at the start",
    "stands the sun": "UV-resistant",
    "Mow the place": "Mow the storage site",
    "give the search more seconds": "rerun with more time",
    "all of it at no price": "don't sell all of it",
    "hay that is gone was worth": "Plus the lost hay, worth",
    "eaten, losses divided": "after storage and feeding loss",
    "By corn and soybean meal it is worth": "Priced against corn and soybean meal",
    "taken for granted": "assumptions",
    "nine times in ten": "90% range",
}

#: Places that readers never see: the words of a person's own laboratory, and one line of a comment.
UNSEEN = ("labs", "verify")


def shown(path: Path) -> Iterator[str]:
    """Yield the strings of a source file that may be shown: all but docstrings of the library."""
    nodes = list(ast.walk(tree_of(path)))
    described = set()
    for node in nodes:
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and node.body:
            is_help = isinstance(node, ast.FunctionDef) and node.decorator_list
            first = node.body[0]
            if isinstance(first, ast.Expr) and not (is_help and "cli" in path.parts):
                described.add(id(first.value))
    for node in nodes:
        words = node.value if isinstance(node, ast.Constant) else None
        if isinstance(words, str) and id(node) not in described:
            yield " ".join(words.split())


def everything() -> dict[str, str]:
    found = {}
    for path in sorted(PACKAGE.rglob("*")):
        where = path.relative_to(PACKAGE)
        if where.parts[0] in UNSEEN or path.suffix not in (".py", ".toml", ".csv", ".json"):
            continue
        if path.suffix == ".py":
            found[where.as_posix()] = "\n".join(shown(path))
        else:
            lines = path.read_text(encoding="utf-8-sig").splitlines()
            found[where.as_posix()] = "\n".join(one for one in lines if not one.startswith("#"))
    for path in (
        *sorted((ROOT / "docs").glob("*.md")),
        *sorted((ROOT / "docs/howto").glob("*.md")),
    ):
        found[path.relative_to(ROOT).as_posix()] = re.sub(r"\s+", " ", path.read_text("utf-8"))
    return found


def test_phrases_that_read_badly_are_gone() -> None:
    """One test, since all that is shown must be gathered for it."""
    told = everything()
    assert len(told) > 300
    assert any("is the limit on the ration of" in text for text in told.values())
    assert any("season sheet for the barn wall" in text for text in told.values())
    lower = {name: text.lower() for name, text in told.items()}
    badly = [
        f'{name}: "{phrase}", say "{better}"'
        for phrase, better in STUMBLED_OVER.items()
        for name, text in lower.items()
        if phrase.lower() in text
    ]
    assert badly == []
