"""The rooms of the package: none too full, none in a circle, each with its purpose and its door."""

import ast
import sys
from collections import defaultdict
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from support.rows import each_row
from tools import doors

SOURCE = Path(__file__).resolve().parents[1] / "src"
PACKAGE = SOURCE / "rickyard"
MOST_FILES = 14

#: Who may reach past a room's door, into which rooms, and why.
EXCEPTIONS = {
    # A check value may name any published function, whether or not other rooms need it.
    "rickyard.verify": "rickyard.",
    # Each command is loaded by its name when it is called, so that help comes at once.
    "rickyard.cli": "rickyard.cli.",
    # The way in for `python -m rickyard`.
    "rickyard": "rickyard.cli.main",
}


def module_of(path: Path) -> str:
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


FILES = {module_of(path): path for path in sorted(PACKAGE.rglob("*.py"))}
ROOMS = {module for module, path in FILES.items() if path.name == "__init__.py"}


def room_of(module: str) -> str:
    return module if module in ROOMS else module.rpartition(".")[0]


def tree_of(module: str) -> ast.Module:
    return doors.tree_of(FILES[module])


@cache
def imports_of(module: str) -> set[tuple[str, str]]:
    """Return (module named after ``from``, name) of every import of the package in a file."""
    found = set()
    for node in doors.statements(tree_of(module)):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "rickyard":
            found |= {(node.module or "", alias.name) for alias in node.names}
        elif isinstance(node, ast.Import):
            found |= {(a.name, "") for a in node.names if a.name.split(".")[0] == "rickyard"}
    return found


@cache
def offered(room: str) -> set[str]:
    """Return the names in a room's ``__all__``."""
    return {
        element.value
        for node in tree_of(room).body
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__"
        for element in ast.walk(node.value)
        if isinstance(element, ast.Constant)
    }


def arrows(module: str) -> set[str]:
    """Return the modules that a module imports."""
    targets = set()
    for source, name in imports_of(module):
        inner = f"{source}.{name}"
        targets.add(inner if inner in FILES else source)
    return targets - {module}


def circle(graph: dict[str, set[str]]) -> list[str] | None:
    try:
        list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        return list(error.args[1])
    return None


@each_row("room", sorted(ROOMS))
def test_a_room_is_not_too_full_and_says_what_it_is_for(room: str) -> None:
    folder = FILES[room].parent
    assert len(list(folder.glob("*.py"))) <= MOST_FILES
    purpose = ast.get_docstring(tree_of(room)) or ""
    assert purpose.count(".") >= 1, f"{room} does not say what it is for"
    assert len(purpose) > 60, f"{room} does not say what it is for"


def test_no_circle_between_rooms() -> None:
    graph: dict[str, set[str]] = defaultdict(set)
    for module in FILES:
        for target in arrows(module):
            # What stands in the package itself (farm, quantities) is the ground of all rooms.
            if room_of(target) not in (room_of(module), "rickyard") and module != "rickyard":
                graph[room_of(module)].add(room_of(target))
    assert circle(graph) is None


def test_no_circle_inside_any_room() -> None:
    graph = {
        module: {target for target in arrows(module) if target not in ROOMS}
        for module in FILES
        if module not in ROOMS
    }
    assert circle(graph) is None


def test_rooms_are_entered_by_the_door() -> None:
    """From outside, a name comes from the room's ``__init__`` and stands in its ``__all__``."""
    wrong = []
    for module in FILES:
        for source, name in imports_of(module):
            if source in ROOMS and name in offered(source):
                continue
            inner = f"{source}.{name}"
            past = inner if inner in FILES and inner not in ROOMS else source
            home = room_of(past)
            if home in (room_of(module), "rickyard") or past in ROOMS:
                continue
            allowed = EXCEPTIONS.get(room_of(module))
            if allowed and past.startswith(allowed):
                continue
            # A package's own door opens on its inner rooms.
            if module in ROOMS and home.startswith(f"{module}."):
                continue
            wrong.append(f"{module} imports {name} from {source}")
    assert not wrong, "\n".join(sorted(wrong))


def test_what_a_door_offers_is_there_and_said() -> None:
    for room in ROOMS:
        imported = {
            alias.asname or alias.name
            for node in ast.walk(tree_of(room))
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rickyard")
            # What loads the names of a room when they are asked for is none of them.
            if node.module != "rickyard.doors"
            for alias in node.names
        }
        assert imported <= offered(room), f"{room}: {imported - offered(room)}"


@pytest.mark.parametrize(
    ("graph", "expected"),
    [({"a": {"b"}, "b": {"c"}}, False), ({"a": {"b"}, "b": {"c"}, "c": {"a"}}, True)],
)
def test_a_circle_is_seen(graph: dict[str, set[str]], expected: bool) -> None:
    assert (circle(graph) is not None) == expected


def test_the_doors_are_what_the_tool_writes(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """``python tools/doors.py`` writes them anew."""
    monkeypatch.setattr(sys, "argv", ["doors.py", "--check"])
    assert doors.main() == 0, f"python tools/doors.py: {capsys.readouterr().out}"
