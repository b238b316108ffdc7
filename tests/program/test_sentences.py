"""Every sentence that is kept in a file is said somewhere, and all its braces are filled in."""

import ast
import re
import tomllib
from functools import cache
from pathlib import Path
from string import Formatter

import rickyard
from support.rows import each_row
from tools.doors import tree_of

PROGRAM = Path(rickyard.__file__).parent / "program"
SENTENCES = tomllib.loads((PROGRAM / "inputs" / "data" / "sentences.toml").read_text("utf-8"))
#: The functions by which a sentence is asked for.
ASKED = ("assumed", "cautioned")
#: What is said beside a sentence: whom and what it is of, and when it holds.
BESIDE = {"of_groups", "of_sources", "start", "end"}
ASKING = re.compile(rf"\b({'|'.join(ASKED)})\(")


@cache
def calls() -> list[tuple[str, str, set[str]]]:
    """Return how the sentences are asked for: by which function, by which key, filled how."""
    found = []
    for path in sorted(PROGRAM.rglob("*.py")):
        # A file in which neither is called need not be looked at closer.
        if not ASKING.search(path.read_text("utf-8")):
            continue
        for node in ast.walk(tree_of(path)):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id in ASKED
                and isinstance(node.args[0], ast.Constant | ast.IfExp)
            ):
                values = {one.arg or "" for one in node.keywords} - BESIDE
                first = node.args[0]
                keys = (first.body, first.orelse) if isinstance(first, ast.IfExp) else (first,)
                for key in keys:
                    assert isinstance(key, ast.Constant)
                    found.append((node.func.id, str(key.value), values))
    return found


def braces(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name}


def test_every_sentence_is_said() -> None:
    assert {key for _, key, _ in calls()} == set(SENTENCES)


def name_of(value: str | set[str]) -> str:
    """Name a value alike in every process, whatever the order of its set."""
    return value if isinstance(value, str) else ",".join(sorted(value))


@each_row(("function", "key", "values"), calls(), ids=name_of)
def test_every_brace_is_filled_in(function: str, key: str, values: set[str]) -> None:
    assert values == braces(SENTENCES[key]["text"])
    assert (function == "cautioned") == ("level" in SENTENCES[key])
    assert SENTENCES[key].get("level", "note") in ("danger", "warning", "note")
