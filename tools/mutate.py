"""Change one thing at a time in the science and the program, and see whether a test notices.

``python tools/mutate.py --changes 40 --seed 1`` draws so many changes, runs the tests once to learn
which of them reach the files that are to change, makes the changes one at a time in a copy of the
source, runs the tests that reach the changed line, and lists what no test noticed.

A change is a number made a tenth larger, a comparison turned or its edge moved, a sum turned into
a difference, a product into a quotient, an ``and`` into an ``or``.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from coverage import CoverageData

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "rickyard"
#: What is changed: the science and the program.
ROOMS = ("forage", "stock", "hay", "match", "program")
MAP = ROOT / "out" / "tests-by-line.json"
#: So many tests are tried on a change, those that reach the fewest lines first.
MOST_TESTS = 60
#: A change that makes a test run this long is noticed. [s]
HANGS = 300.0

TURNED: dict[type[ast.AST], str] = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*", ast.And: "or", ast.Or: "and",
}  # fmt: skip
WRITTEN: dict[type[ast.AST], str] = {
    ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=",
    ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.And: "and", ast.Or: "or",
}  # fmt: skip


@dataclass(frozen=True)
class Change:
    """One change of one place: ``start`` and ``end`` are positions in the bytes of the file."""

    file: str
    line: int
    start: int
    end: int
    before: str
    after: str

    def applied(self, text: bytes) -> bytes:
        """Return the file with the change made."""
        return text[: self.start] + self.after.encode() + text[self.end :]

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.before!r} became {self.after!r}"


class _Places(ast.NodeVisitor):
    """All places of a file that can be changed."""

    def __init__(self, file: str, text: bytes) -> None:
        self.file, self.text, self.found = file, text, list[Change]()
        starts = [0]
        for line in text.splitlines(keepends=True):
            starts.append(starts[-1] + len(line))
        self._starts = starts

    def _at(self, line: int, column: int) -> int:
        return self._starts[line - 1] + column

    def _add(self, line: int, start: int, end: int, after: str) -> None:
        before = self.text[start:end].decode()
        self.found.append(Change(self.file, line, start, end, before, after))

    def _between(self, left: ast.expr, right: ast.expr, operator: ast.AST) -> None:
        written = WRITTEN.get(type(operator))
        if written is None:
            return
        low = self._at(left.end_lineno or 0, left.end_col_offset or 0)
        high = self._at(right.lineno, right.col_offset)
        place = self.text[low:high].find(written.encode())
        if place >= 0:
            self._add(
                left.end_lineno or 0,
                low + place,
                low + place + len(written),
                TURNED[type(operator)],
            )

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, bool) or not isinstance(node.value, int | float):
            return
        start = self._at(node.lineno, node.col_offset)
        end = self._at(node.end_lineno or 0, node.end_col_offset or 0)
        if isinstance(node.value, int):
            after = str(node.value + 1)
        else:
            after = repr(node.value * 1.1 if node.value else 0.1)
        self._add(node.lineno, start, end, after)

    def visit_Compare(self, node: ast.Compare) -> None:
        sides = [node.left, *node.comparators]
        for left, operator, right in zip(sides, node.ops, sides[1:], strict=False):
            self._between(left, right, operator)
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        # Text is put together with a plus, and types with a bar: neither is arithmetic.
        if not any(
            isinstance(side, ast.JoinedStr)
            or (isinstance(side, ast.Constant) and isinstance(side.value, str))
            for side in (node.left, node.right)
        ):
            self._between(node.left, node.right, node.op)
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        for left, right in zip(node.values, node.values[1:], strict=False):
            self._between(left, right, node.op)
        self.generic_visit(node)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Leave text alone: positions inside it are not told, and words are tested as words."""


def changes_of(path: Path) -> list[Change]:
    """Return every change that can be made to a file.

    Parameters
    ----------
    path : Path
        A source file of the package.

    Returns
    -------
    list of Change
        In the order of the file.
    """
    text = path.read_bytes()
    places = _Places(str(path.relative_to(ROOT)), text)
    places.visit(ast.parse(text))
    return places.found


def make_map(files: Sequence[str], at_once: int) -> None:
    """Run the tests once, so many files of them at a time, and write which reach which line.

    Parameters
    ----------
    files : sequence of str
        Files of the source whose lines are followed; the fewer, the sooner it is done.
    at_once : int
        How many runs go side by side.
    """
    MAP.parent.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        shares = [sorted((ROOT / "tests").rglob("test_*.py"))[i::at_once] for i in range(at_once)]
        data = [Path(scratch) / f"{i}.coverage" for i in range(at_once)]
        with ThreadPoolExecutor(at_once) as pool:
            list(pool.map(partial(_follow, files), shares, data))
        lines: dict[str, dict[str, list[str]]] = {}
        for one in data:
            read = CoverageData(str(one))
            read.read()
            for file in read.measured_files():
                found = lines.setdefault(Path(file).relative_to(ROOT).as_posix(), {})
                for line, contexts in read.contexts_by_lineno(file).items():
                    found[str(line)] = sorted({*found.get(str(line), ()), *filter(None, contexts)})
    MAP.write_text(json.dumps(lines), "utf-8")


def _follow(files: Sequence[str], tests: Sequence[Path], data: Path) -> None:
    """Run some files of tests and keep which of them reaches which line."""
    settings = data.with_suffix(".ini")
    followed = "".join(f"    {ROOT / one}\n" for one in files)
    settings.write_text(
        f"[run]\ndata_file = {data}\ninclude =\n{followed}dynamic_context = test_function\n",
        "utf-8",
    )
    run = [sys.executable, "-m", "coverage", "run", f"--rcfile={settings}", "-m", "pytest", "-q"]
    subprocess.run(
        [*run, "-p", "no:cacheprovider", *map(str, tests)],
        cwd=ROOT,
        check=False,
        stdout=subprocess.DEVNULL,
    )


def tests_for(change: Change, lines: dict[str, dict[str, list[str]]]) -> list[str]:
    """Return the tests that reach a change, the most particular ones first.

    A number at the head of a file is reached when the file is imported: then all tests that run
    a line of the file stand for it.
    """
    of_file = lines.get(change.file, {})
    found = of_file.get(str(change.line), [])
    if not found:
        tree = ast.parse((ROOT / change.file).read_text("utf-8"))
        spans = [
            (node.lineno, node.end_lineno or node.lineno)
            for node in tree.body
            if isinstance(node, ast.Assign | ast.AnnAssign)
        ]
        inside = next(((a, b) for a, b in spans if a <= change.line <= b), None)
        names = _assigned(tree, inside) if inside else set()
        users = _lines_that_name(tree, names)
        found = sorted({one for line in users for one in of_file.get(str(line), [])})
        found = found or sorted({one for tests in of_file.values() for one in tests})
    reach: dict[str, int] = {}
    for tests in of_file.values():
        for one in tests:
            reach[one] = reach.get(one, 0) + 1
    return sorted(found, key=lambda one: (reach.get(one, 0), one))[:MOST_TESTS]


def _assigned(tree: ast.Module, span: tuple[int, int]) -> set[str]:
    return {
        target.id
        for node in tree.body
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.lineno == span[0]
        for target in ast.walk(node)
        if isinstance(target, ast.Name) and isinstance(target.ctx, ast.Store)
    }


def _lines_that_name(tree: ast.Module, names: set[str]) -> set[int]:
    return {
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Name) and node.id in names and isinstance(node.ctx, ast.Load)
    }


def noticed(change: Change, tests: list[str]) -> bool:
    """Make a change in a copy of the source, and say whether a test or an example notices."""
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch)
        for part in ("src", "tests", "benchmarks", "docs", "tools"):
            if (ROOT / part).exists():
                shutil.copytree(
                    ROOT / part, copy / part, ignore=shutil.ignore_patterns("__pycache__")
                )
        for part in ("pyproject.toml", "start.py", "README.md", "CHANGELOG.md", "CONTRIBUTING.md"):
            shutil.copy(ROOT / part, copy / part)
        path = copy / change.file
        path.write_bytes(change.applied(path.read_bytes()))
        return _fails(copy, [change.file]) or (
            bool(tests) and _fails(copy, _paths_and_names(tests))
        )


def _paths_and_names(tests: list[str]) -> list[str]:
    """Return the files of tests, and the words that pick the tests in them."""
    files = sorted(
        {one.rsplit(".", 1)[0].split(".")[-1] if "::" not in one else one for one in tests}
    )
    wanted = sorted({one.rsplit(".", 1)[1] for one in tests})
    paths = [
        str(path.relative_to(ROOT))
        for path in sorted((ROOT / "tests").rglob("test_*.py"))
        if path.stem in files
    ]
    return [*paths, "-k", " or ".join(wanted)]


def _fails(where: Path, what: list[str]) -> bool:
    environment = {**os.environ, "PYTHONPATH": str(where / "src"), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *what],
            cwd=where,
            env=environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
            timeout=HANGS,
        )
    except subprocess.TimeoutExpired:
        return True
    # Five means that there was nothing to run.
    return done.returncode not in (0, 5)


def sample(count: int, seed: int) -> list[Change]:
    """Return so many changes drawn from all that can be made, each file as likely as its size."""
    everything = [
        change
        for room in ROOMS
        for path in sorted((PACKAGE / room).rglob("*.py"))
        if path.name != "__init__.py"
        for change in changes_of(path)
    ]
    return random.Random(seed).sample(everything, count)


def survivors(chosen: Sequence[Change], at_once: int) -> Iterator[tuple[Change, bool]]:
    """Make changes one at a time and tell of each whether it was noticed."""
    lines = json.loads(MAP.read_text("utf-8"))
    with ThreadPoolExecutor(at_once) as pool:
        yield from zip(
            chosen, pool.map(lambda one: noticed(one, tests_for(one, lines)), chosen), strict=True
        )


def main() -> int:
    """Read what is asked for, do it, and return 1 where more than a tenth went unnoticed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--changes", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--keep-map", action="store_true", help="use the map of the run before")
    asked = parser.parse_args()
    chosen = sample(asked.changes, asked.seed)
    if not (asked.keep_map and MAP.exists()):
        make_map(sorted({one.file for one in chosen}), asked.at_once)
    unnoticed = 0
    for number, (change, seen) in enumerate(survivors(chosen, asked.at_once), 1):
        unnoticed += not seen
        print(f"{number:4d} {'noticed  ' if seen else 'UNNOTICED'} {change}", flush=True)
    print(f"{asked.changes - unnoticed} of {asked.changes} changes were noticed.")
    return 1 if unnoticed > 0.1 * asked.changes else 0


if __name__ == "__main__":
    sys.exit(main())
