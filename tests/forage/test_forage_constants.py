"""No threshold or coefficient of the forage science stands outside a named, sourced constant."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

FORAGE = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "forage"
FILES = sorted(FORAGE.glob("*.py"))
#: Numbers that are no finding of anyone: nothing, one, a half, a pair, and the percent.
PLAIN = {0, 1, 2, -1, 0.5, 100}
COUNTING = ("round", "range", "enumerate")
#: Words by which a comment or a text says where a number is from.
SOURCED = re.compile(
    r"19\d\d|20\d\d|\bet al\b|Universit|Extension|Laborator|NRC|NASEM|USDA|FDA|NFTA|"
    r"(Ohio|Kansas|Penn|Oregon|Colorado) State|Purdue|Wisconsin|Garrett|Undersander|"
    r"Clemson|ServiTech|Rohweder|Moore|Table \d|from memory|common practice|"
    r"[Jj]udgement|by definition|Definition|molar mass|published|equation|derived|source|"
    r"convention|any number|halves|measured|covers|_SOURCE\b|COMMON_PRACTICE|JUDGEMENT|"
    r"_(AUTHOR|K_STATE|COLLINS)\b",
)


def literals(node: ast.AST) -> Iterator[ast.Constant]:
    for one in ast.walk(node):
        number = isinstance(one, ast.Constant) and type(one.value) in (int, float)
        if number and one.value not in PLAIN:
            yield one


def in_format(tree: ast.AST) -> set[ast.AST]:
    """Return what only shapes text or places: formats, indices, slices, how far to round."""
    spared: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            spared.update(ast.walk(node.format_spec))
        if isinstance(node, ast.Subscript):
            spared.update(ast.walk(node.slice))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in COUNTING:
            spared.update(one for arg in node.args for one in ast.walk(arg))
        if isinstance(node, ast.Compare) and any(
            isinstance(side, ast.Call) and getattr(side.func, "id", "") == "len"
            for side in (node.left, *node.comparators)
        ):
            spared.update(ast.walk(node))
    return spared


def loose_numbers(source: str) -> list[str]:
    """Return the numbers within functions and methods, which no name tells."""
    tree = ast.parse(source)
    spared = in_format(tree)
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.Lambda):
            found += [
                f"line {one.lineno}: {one.value}" for one in literals(node) if one not in spared
            ]
    return sorted(set(found))


def unsourced(source: str) -> list[str]:
    """Return the named constants with a number and no word of where it is from."""
    lines = source.splitlines()
    found = []
    for node in ast.parse(source).body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        name = getattr(target, "id", "")
        if not list(literals(node.value)):
            continue
        if name.upper() != name:
            found.append(f"line {node.lineno}: {name} is not written as a constant")
            continue
        said = "\n".join(
            (comment_above(lines, node.lineno), *lines[node.lineno - 1 : node.end_lineno])
        )
        if not SOURCED.search(said):
            found.append(f"line {node.lineno}: {name}")
    return found


def comment_above(lines: list[str], number: int) -> str:
    """Return the comments of the block that a line stands in, up to a blank line."""
    start = number - 1
    while start > 0 and lines[start - 1].strip():
        start -= 1
    return "\n".join(line for line in lines[start : number - 1] if "#" in line)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_no_number_stands_loose_in_a_function(path: Path) -> None:
    assert loose_numbers(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_constant_says_where_it_is_from(path: Path) -> None:
    assert unsourced(path.read_text(encoding="utf-8")) == []


def test_the_tests_see_a_loose_and_an_unsourced_number() -> None:
    assert loose_numbers("def f(x):\n    return x * 0.779\n") == ["line 2: 0.779"]
    assert loose_numbers("def f(x):\n    return f'{x:.12f}', x[3], 100.0 * x\n") == []
    assert unsourced("A = 0.779\n") == ["line 1: A"]
    assert unsourced("# Rohweder 1978.\nA = 0.779\nB = 88.9\n\nC = 1.29\n") == ["line 5: C"]
    assert unsourced("limit = 3.0  # Purdue\n") == ["line 1: limit is not written as a constant"]
