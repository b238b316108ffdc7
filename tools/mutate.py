"""Change one thing at a time in the science and the program, and see whether a test notices.

``python tools/mutate.py --changes 40 --seed 1`` runs the tests once in a copy of the source to
learn which of them reach which line, draws so many changes, makes them one at a time in the copy,
runs the tests that reach the changed line, and lists what no test noticed. ``--room
forage/hazards`` draws from one room or one file, ``--keep-map`` takes the map of the run before
and follows only the tests written since.

A change is a number made a tenth larger (a whole number: one more), a comparison turned or its
edge moved, a sum turned into a difference, a product into a quotient, an ``and`` into an ``or``.
Defaults of arguments and fields count, and so do the digits of ``round``. A test that fails
without a change notices nothing, and a test that runs in a process of its own is not counted on.

Two kinds of numbers are left out, because another value is as right as the one that stands there:

- Allowances for the rounding of binary numbers: a number written with an exponent of -5 or less,
  as ``1e-9``. (Coefficients of the science are written out, as ``0.0000275``.) For the same reason
  the edge of a comparison is not moved where one of its sides is such a number, or what it is
  added to or multiplied with: no figure is meant to lie on it.
- How hard the search looks: the numbers at the heads of the files of ``program/search`` and
  ``program/solver``, as how many hays a part has. Another value finds another program of the same
  proof; that it is sound and no dearer than proven is tested, and how long it takes is measured by
  the benchmarks. The comparisons and the arithmetic of these rooms count.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path
from queue import SimpleQueue

from coverage import CoverageData

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = Path("src/rickyard")
#: What is changed: the science and the program.
ROOMS = ("forage", "stock", "hay", "match", "safety", "program")
#: Where numbers at the heads of files are read, too: the check values ask for them by name.
READERS = (*ROOMS, "verify")
MAP = ROOT / "out" / "tests-by-line.json"
#: The variable of the environment by which ``reached.py`` is told where the outcomes go.
WRITTEN_TO = "RICKYARD_TESTS_RUN"
#: What a copy of the source needs so that its tests run.
COPIED = (
    *("src", "tests", "benchmarks", "docs", "tools", "requirements", ".ci", ".github"),
    *("pyproject.toml", "start.py", "mkdocs.yml", ".gitignore", ".gitattributes", "LICENSE"),
    *("README.md", "CHANGELOG.md", "CONTRIBUTING.md"),
)
#: Tests of other rooms are tried on a change up to so many, and such as together take so long;
#: those of its own area and the recorded answers all are. [s]
MOST_SECONDS = 90.0
MOST_TESTS = 240
#: A change hangs, and is noticed, when its tests take so many times as long as without it, and
#: this much longer. [s]
HANGS_TIMES = 10.0
HANGS = 120.0

#: Allowances for rounding, as 1e-9, are not changed.
ROUNDING = re.compile(r"[\d.]+e-0*([5-9]|\d\d+)")
#: The numbers at the heads of these rooms say how hard the search looks, and are not changed.
EFFORT = ("src/rickyard/program/search/", "src/rickyard/program/solver/")

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


@dataclass
class Reached:
    """Which tests reach which lines, and how long each test takes when nothing is changed."""

    lines: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)

    def of(self, file: str, lines: set[int] | None = None) -> set[str]:
        """Return the tests that reach any of some lines of a file, or any line of it at all."""
        found = self.lines.get(file, {})
        wanted = found if lines is None else lines & found.keys()
        return {one for line in wanted for one in found[line] if one in self.seconds}

    def join(self, other: Reached) -> None:
        """Take in what another run found, in place of what its tests were known to reach."""
        for by_line in self.lines.values():
            for tests in by_line.values():
                tests -= other.seconds.keys()
        for file, by_line in other.lines.items():
            for line, tests in by_line.items():
                self.lines.setdefault(file, {}).setdefault(line, set()).update(tests)
        self.seconds.update(other.seconds)


def is_allowance(node: ast.expr | None, text: bytes) -> bool:
    """Say whether a node is a number that is written as an allowance for rounding."""
    if not isinstance(node, ast.Constant):
        return False
    written = text.splitlines()[node.lineno - 1][node.col_offset : node.end_col_offset]
    return ROUNDING.fullmatch(written.decode()) is not None


@cache
def names_allowance(file: str, name: str) -> bool:
    """Say whether a name of a file is given an allowance for rounding there or where it is from."""
    for node in _tree(file).body:
        match node:
            case ast.Assign(targets=[ast.Name(id=given)], value=value) if given == name:
                return is_allowance(value, (ROOT / file).read_bytes())
            case ast.AnnAssign(target=ast.Name(id=given), value=value) if given == name:
                return is_allowance(value, (ROOT / file).read_bytes())
            case ast.ImportFrom(module=str(module), names=names):
                path = Path("src", *module.split("."))
                files = [path.with_suffix(".py"), path / "__init__.py"]
                source = next((one for one in files if (ROOT / one).exists()), None)
                for one in names if source is not None else []:
                    if (one.asname or one.name) == name:
                        return names_allowance(str(source), one.name)
    return False


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

    def _allows(self, side: ast.expr) -> bool:
        """Say whether a side of a comparison is an allowance, or a sum or product with one."""
        match side:
            case ast.Constant():
                return is_allowance(side, self.text)
            case ast.Name(id=name):
                return names_allowance(self.file, name)
            case ast.BinOp(left=left, right=right):
                return self._allows(left) or self._allows(right)
            case _:
                return False

    def _between(self, left: ast.expr, right: ast.expr, operator: ast.AST) -> None:
        written = WRITTEN.get(type(operator))
        if written is None:
            return
        low = self._at(left.end_lineno or 0, left.end_col_offset or 0)
        high = self._at(right.lineno, right.col_offset)
        # Comments between the two sides are blanked: a dash in one is no operator.
        between = re.sub(rb"#[^\n]*", lambda one: b" " * len(one[0]), self.text[low:high])
        place = between.find(written.encode())
        if place >= 0:
            self._add(
                left.end_lineno or 0,
                low + place,
                low + place + len(written),
                TURNED[type(operator)],
            )

    def visit_Module(self, node: ast.Module) -> None:
        head = (ast.Assign, ast.AnnAssign)
        for one in node.body:
            if not (self.file.startswith(EFFORT) and isinstance(one, head)):
                self.visit(one)

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, bool) or not isinstance(node.value, int | float):
            return
        start = self._at(node.lineno, node.col_offset)
        end = self._at(node.end_lineno or 0, node.end_col_offset or 0)
        if is_allowance(node, self.text):
            return
        if isinstance(node.value, int):
            after = str(node.value + 1)
        else:
            after = repr(node.value * 1.1 if node.value else 0.1)
        self._add(node.lineno, start, end, after)

    def visit_Compare(self, node: ast.Compare) -> None:
        sides = [node.left, *node.comparators]
        for left, operator, right in zip(sides, node.ops, sides[1:], strict=False):
            edge = not isinstance(operator, ast.Eq | ast.NotEq)
            if not (edge and (self._allows(left) or self._allows(right))):
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
        A source file of the package, from the root of the repository.

    Returns
    -------
    list of Change
        In the order of the file.
    """
    text = (ROOT / path).read_bytes()
    places = _Places(path.as_posix(), text)
    places.visit(ast.parse(text))
    return places.found


def sources(rooms: Sequence[str] = ROOMS) -> list[Path]:
    """Return the source files of rooms, or of single files, from the root of the repository."""
    found = []
    for room in rooms:
        inside = ROOT / PACKAGE / room
        paths = [inside] if inside.is_file() else sorted(inside.rglob("*.py"))
        if not paths:
            raise SystemExit(f"--room {room}: no such folder or file in {PACKAGE}")
        found += [path.relative_to(ROOT) for path in paths if path.name != "__init__.py"]
    return found


def sample(count: int, seed: int, rooms: Sequence[str] = ROOMS) -> list[Change]:
    """Return so many changes drawn from all that can be made, each as likely as any other."""
    everything = [change for path in sources(rooms) for change in changes_of(path)]
    return random.Random(seed).sample(everything, min(count, len(everything)))


def copied(to: Path) -> Path:
    """Copy what the tests need."""
    for part in COPIED:
        path = ROOT / part
        if path.is_dir():
            shutil.copytree(path, to / part, ignore=shutil.ignore_patterns("__pycache__"))
        elif path.exists():
            shutil.copy(path, to / part)
    return to


def _environment(where: Path) -> dict[str, str]:
    paths = os.pathsep.join((str(where / "src"), str(where / "tools")))
    return {**os.environ, "PYTHONPATH": paths, "PYTHONDONTWRITEBYTECODE": "1"}


def follow(tests: Sequence[Path], at_once: int) -> Reached:
    """Run files of tests and of examples, and return which of them reach which line.

    Parameters
    ----------
    tests : sequence of Path
        Files, from the root of the repository.
    at_once : int
        How many runs go side by side.
    """
    reached = Reached()
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor(at_once) as pool:
        where = copied(Path(scratch).resolve() / "source")
        shares = [tests[i::at_once] for i in range(at_once)]
        for one in pool.map(lambda share: _follow(where, *share), enumerate(shares)):
            reached.join(one)
    return reached


def _follow(where: Path, number: int, tests: Sequence[Path]) -> Reached:
    """Run some files of tests and keep which of them reaches which line."""
    data, run = (where.parent / f"{number}.{end}" for end in ("coverage", "json"))
    settings = data.with_suffix(".ini")
    followed = "".join(f"    {where / PACKAGE / room}/*\n" for room in READERS)
    settings.write_text(f"[run]\ndata_file = {data}\ninclude =\n{followed}", "utf-8")
    command = [sys.executable, "-m", "coverage", "run", f"--rcfile={settings}", "-m", "pytest"]
    command.append("--more")
    subprocess.run(
        [*command, "-p", "reached", "-p", "no:cacheprovider", *map(str, tests)],
        cwd=where,
        env={**_environment(where), WRITTEN_TO: str(run)},
        check=False,
        stdout=subprocess.DEVNULL,
    )
    if not run.exists():
        raise SystemExit("The tests were stopped before their end: nothing was followed.")
    reached = Reached(seconds=json.loads(run.read_text("utf-8")))
    covered = CoverageData(str(data))
    covered.read()
    for file in covered.measured_files():
        reached.lines[Path(file).relative_to(where).as_posix()] = {
            line: set(filter(None, contexts))
            for line, contexts in covered.contexts_by_lineno(file).items()
        }
    return reached


def test_files(folders: Sequence[str]) -> list[Path]:
    """Return files of tests: all, or those of some folders and no others.

    The source files of the rooms are among them for the sake of their examples.
    """
    everything = ["tests", *(f"{PACKAGE}/{room}" for room in ROOMS)]
    inside = [ROOT / one for one in folders or everything]
    found = list[Path]()
    for one in inside:
        found += [one] if one.is_file() else one.rglob("*.py")
    paths = sorted(path.relative_to(ROOT) for path in found)
    return [one for one in paths if one.name.startswith("test_") or PACKAGE in one.parents]


def the_map(at_once: int, kept: bool, folders: Sequence[str] = ()) -> Reached:
    """Return which tests reach which line, and write it for the next run.

    Parameters
    ----------
    at_once : int
        How many runs go side by side.
    kept : bool
        Whether the map of the run before is read, and only tests changed since are followed;
        lines of the source that moved since are found again.
    folders : sequence of str
        Where the tests are looked for, as ``tests/forage``; empty for all.
    """
    reached, since = Reached(), 0.0
    if kept and MAP.exists():
        since = MAP.stat().st_mtime
        read = json.loads(MAP.read_text("utf-8"))
        reached.seconds = read["seconds"]
        tests = list(reached.seconds)
        for file, by_line in read["lines"].items():
            moved = _moved(read["texts"][file], file)
            reached.lines[file] = {
                moved[int(line)]: {tests[i] for i in found}
                for line, found in by_line.items()
                if int(line) in moved
            }
    new = [path for path in test_files(folders) if (ROOT / path).stat().st_mtime > since]
    if new:
        reached.join(follow(new, at_once))
        number = {one: i for i, one in enumerate(reached.seconds)}
        lines = {
            file: {
                line: sorted(number[one] for one in found if one in number)
                for line, found in by_line.items()
            }
            for file, by_line in reached.lines.items()
        }
        texts = {file: (ROOT / file).read_text("utf-8") for file in lines}
        MAP.parent.mkdir(exist_ok=True)
        whole = {"seconds": reached.seconds, "lines": lines, "texts": texts}
        MAP.write_text(json.dumps(whole), "utf-8")
    return reached


def _moved(before: str, file: str) -> dict[int, int]:
    """Return where the lines of a file stand now that it was changed since the map was made."""
    path = ROOT / file
    now = path.read_text("utf-8") if path.exists() else ""
    if now == before:
        return {line: line for line in range(len(now.splitlines()) + 2)}
    matcher = SequenceMatcher(None, before.splitlines(), now.splitlines(), autojunk=False)
    return {
        block.a + i + 1: block.b + i + 1
        for block in matcher.get_matching_blocks()
        for i in range(block.size)
    }


@cache
def _tree(file: str) -> ast.Module:
    return ast.parse((ROOT / file).read_text("utf-8"))


@cache
def _names(file: str) -> Mapping[str, set[int]]:
    """Return the lines of a file on which each name is read, as a name or after a point."""
    found: dict[str, set[int]] = {}
    for node in ast.walk(_tree(file)):
        match node:
            case ast.Name(id=name, ctx=ast.Load()) | ast.Attribute(attr=name):
                found.setdefault(name, set()).add(node.lineno)
    return found


def tests_for(change: Change, reached: Reached) -> list[str]:
    """Return the tests that reach a change, the nearest first.

    A number at the head of a file or of a class is reached when the file is imported: then the
    tests stand for it that run a line, of whatever file, that names what the number is given to.
    A default of an argument is reached by the tests that run the function.
    """
    found = reached.of(change.file, {change.line})
    around = [
        node
        for node in ast.walk(_tree(change.file))
        if isinstance(node, ast.stmt)
        and node.lineno <= change.line <= (node.end_lineno or node.lineno)
    ]
    inmost = max(around, key=lambda node: node.lineno, default=None)
    if not found and inmost is not None and not isinstance(inmost, ast.ClassDef):
        found = reached.of(change.file, set(range(inmost.lineno, (inmost.end_lineno or 0) + 1)))
    if not found and inmost is not None:
        names = {
            node.id
            for node in ast.walk(inmost)
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
        }
        for path in sources(READERS):
            file = path.as_posix()
            users = {line for name in names for line in _names(file).get(name, ())}
            found |= reached.of(file, users)
    found = found or reached.of(change.file)
    chosen, others, seconds = list[str](), 0, 0.0
    for one in nearest_first(change, found, reached):
        if not is_near(change, one):
            others, seconds = others + 1, seconds + reached.seconds[one]
            if others > MOST_TESTS or seconds > MOST_SECONDS:
                continue
        chosen.append(one)
    return chosen


def is_near(change: Change, test: str) -> bool:
    """Return whether a test is one of the area of a change, or of the recorded answers."""
    room = "/".join(change.file.split("/")[2:-1])
    area = (f"tests/{room.split('/')[0]}/", "tests/test_as_recorded")
    return test.startswith(area) or f"/{room}/" in test.split("[")[0]


def nearest_first(change: Change, found: set[str], reached: Reached) -> list[str]:
    """Return tests in the order in which they are tried on a change.

    Those of the area that is changed and the recorded answers go before tests of other rooms, and
    no test function fills the list with its cases: three of each, then three more of each. Within
    that the quickest go first.
    """
    cases: Counter[str] = Counter()
    order = list[tuple[int, bool, float, str]]()
    for one in sorted(found, key=lambda one: (reached.seconds[one], one)):
        function = one.split("[")[0]
        near = is_near(change, one)
        order.append((cases[function] // 3, not near, reached.seconds[one], one))
        cases[function] += 1
    return [one for *_, one in sorted(order)]


def noticed(change: Change, tests: list[str], seconds: float, where: Path) -> bool:
    """Make a change in a copy of the source, say whether a test notices, and take it back."""
    path = where / change.file
    plain = path.read_bytes()
    path.write_bytes(change.applied((ROOT / change.file).read_bytes()))
    try:
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "--more", "-x", "-p", "no:cacheprovider", *tests],
            cwd=where,
            env=_environment(where),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
            timeout=HANGS + HANGS_TIMES * seconds,
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        path.write_bytes(plain)
    return done.returncode != 0


def tried(chosen: Sequence[Change], reached: Reached, at_once: int) -> Iterator[bool]:
    """Make changes one at a time and tell of each whether it was noticed."""
    copies: SimpleQueue[Path] = SimpleQueue()

    def one(change: Change) -> bool:
        tests = tests_for(change, reached)
        if not tests:
            return False
        where = copies.get()
        try:
            return noticed(change, tests, sum(reached.seconds[test] for test in tests), where)
        finally:
            copies.put(where)

    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor(at_once) as pool:
        for i in range(at_once):
            copies.put(copied(Path(scratch) / str(i)))
        yield from pool.map(one, chosen)


def main() -> int:
    """Read what is asked for, do it, and return 1 where more than a tenth went unnoticed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--changes", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--room", action="append", help="as forage/hazards, or a single file")
    parser.add_argument("--tests", action="append", help="as tests/forage: no others are tried")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--keep-map", action="store_true", help="use the map of the run before")
    asked = parser.parse_args()
    chosen = sample(asked.changes, asked.seed, asked.room or ROOMS)
    reached = the_map(asked.at_once, asked.keep_map, asked.tests or ())
    unnoticed = 0
    for number, (change, seen) in enumerate(
        zip(chosen, tried(chosen, reached, asked.at_once), strict=True), 1
    ):
        unnoticed += not seen
        print(f"{number:4d} {'noticed  ' if seen else 'UNNOTICED'} {change}", flush=True)
    print(f"{len(chosen) - unnoticed} of {len(chosen)} changes were noticed.")
    return 1 if unnoticed > 0.1 * len(chosen) else 0


if __name__ == "__main__":
    with suppress(KeyboardInterrupt):
        sys.exit(main())
