"""Write the door of every room anew: its ``__init__`` exports what other rooms import from it.

``python tools/doors.py`` after a move or a new import; the purpose at the head of each file stays
as it is. ``--check`` only says which doors are not what they should be.
"""

from __future__ import annotations

import ast
import sys
import textwrap
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[1] / "src"
PACKAGE = SOURCE / "rickyard"

#: Rooms of which each name is loaded when it is first asked for: large ones, of which commands that
#: must answer at once need little.
AT_FIRST_USE = {
    "rickyard.book.keeping",
    "rickyard.book.services",
    "rickyard.program.solver",
    "rickyard.service",
}


def module_of(path: Path) -> str:
    """Return the dotted name of a source file."""
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def tree_of(path: Path) -> ast.Module:
    """Return a source file parsed; whoever asks for it gets the same one and leaves it as it is."""
    return ast.parse(path.read_text("utf-8"))


def defined_in(path: Path) -> set[str]:
    """Return the names that a module itself puts at its top."""
    found = set()
    for node in tree_of(path).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            found.add(node.target.id)
        elif isinstance(node, ast.Assign):
            found |= {
                one.id
                for target in node.targets
                for one in ast.walk(target)
                if isinstance(one, ast.Name)
            }
    return found


def statements(node: ast.AST) -> Iterator[ast.stmt]:
    """Yield the statements of a module, those within others too, and no expressions."""
    for part in ("body", "orelse", "finalbody", "handlers", "cases"):
        for one in getattr(node, part, ()):
            if isinstance(one, ast.stmt):
                yield one
            yield from statements(one)


def wanted_by_others(files: dict[str, Path], rooms: set[str]) -> dict[str, set[str]]:
    """Return, by room, the names that modules outside the room import from it."""
    wanted: dict[str, set[str]] = defaultdict(set)
    for module, path in files.items():
        home = module if module in rooms else module.rpartition(".")[0]  # a path outside has none
        tree = tree_of(path)
        called: dict[str, str] = {}
        for node in statements(tree):
            if not isinstance(node, ast.ImportFrom) or node.module is None:
                continue
            for alias in node.names:
                if f"{node.module}.{alias.name}" in rooms:
                    called[alias.asname or alias.name] = f"{node.module}.{alias.name}"
                elif node.module in rooms - {home, module}:
                    wanted[node.module].add(alias.name)
        for one in ast.walk(tree) if called else ():
            if isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name):
                room = called.get(one.value.id, home)
                if room != home:
                    wanted[room].add(one.attr)
    return wanted


def door(room: str, folder: Path, wanted: set[str], rooms: set[str]) -> str:
    """Return the text of a room's ``__init__``.

    Parameters
    ----------
    room : str
        Dotted name of the room.
    folder : Path
        Where it lies.
    wanted : set of str
        What other rooms import from it.
    rooms : set of str
        All rooms; an inner room is no name to export.

    Returns
    -------
    str
        Purpose, imports and ``__all__``.
    """
    text = (folder / "__init__.py").read_text("utf-8")
    first = ast.parse(text).body[0]
    purpose = "\n".join(text.splitlines()[: first.end_lineno])
    inside = {
        path.stem: defined_in(path)
        for path in sorted(folder.glob("*.py"))
        if path.stem != "__init__"
    }
    wanted = {name for name in wanted if f"{room}.{name}" not in rooms}
    lines: list[str] = []
    homes: dict[str, list[str]] = {}
    width = 96 if room in AT_FIRST_USE else 100  # less what it is set in by
    left = set(wanted)
    modules = sorted(
        name
        for name in wanted
        if name in inside and not any(name in names for names in inside.values())
    )
    if modules:
        lines.append(_packed(f"from {room} import (", modules, ")", width))
        homes[""] = modules
        left -= set(modules)
    # Two files of a room may define one name: what the door says today holds.
    today = {
        alias.name: (node.module or "").rpartition(".")[2]
        for node in statements(ast.parse(text))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{room}.")
        for alias in node.names
        if alias.name in inside.get((node.module or "").rpartition(".")[2], ())
    }
    for name in sorted(left):
        found = [stem for stem, names in inside.items() if name in names]
        if len(found) > 1 and name not in today:
            raise SystemExit(
                f"{room}: {name} is defined in {' and in '.join(found)}; say in the door which"
            )
    for stem, names in inside.items():
        here = sorted(name for name in left & names if today.get(name, stem) == stem)
        if here:
            lines.append(_packed(f"from {room}.{stem} import (", here, ")", width))
            homes[stem] = here
            left -= set(here)
    if left:
        raise SystemExit(
            f"{room}: nothing in it defines {', '.join(sorted(left))}; import from its home"
        )
    if not lines:
        return purpose + "\n"
    offered = _packed("__all__ = [", [f'"{name}"' for name in sorted(wanted)], "]")
    if room in AT_FIRST_USE:
        # A file that is loaded takes its place in the room before what it defines.
        for name in set(inside) & (wanted - set(modules)):
            raise SystemExit(f"{room}: give the file {name}.py another name than what is in it")
        lines = _at_first_use(lines, homes)
    return "\n".join([purpose, "", "# fmt: off", *lines, "", offered, ""])


def _at_first_use(lines: list[str], homes: dict[str, list[str]]) -> list[str]:
    """Return the lines of a door that loads a name when it is first asked for."""
    inner = [f"    {one}" for line in lines for one in line.splitlines()]
    places = [
        textwrap.fill(
            " ".join(names),
            98,
            initial_indent=f'    "{stem}": "',
            subsequent_indent="    ",
        ).replace("\n    ", '"\n    " ')
        + '",'
        for stem, names in homes.items()
    ]
    return [
        "from typing import TYPE_CHECKING",
        "",
        "from rickyard.doors import at_first_use",
        "",
        "if TYPE_CHECKING:",
        *inner,
        "",
        "__getattr__ = at_first_use(__name__, {",
        *places,
        "})",
    ]


def _packed(head: str, names: list[str], tail: str, width: int = 100) -> str:
    one = (
        f"{head.rstrip('(')}{', '.join(names)}"
        if tail == ")"
        else f"{head}{', '.join(names)}{tail}"
    )
    if len(one) <= width:
        return one
    body = textwrap.fill(
        ", ".join(names) + ",", width, initial_indent="    ", subsequent_indent="    "
    )
    return f"{head}\n{body}\n{tail}"


def main() -> int:
    """Write the doors, or only say which are wrong; return 1 where one was."""
    files = {module_of(path): path for path in sorted(PACKAGE.rglob("*.py"))}
    # Who stands outside enters by the same doors: tests, tools, the gallery of the documentation.
    outside = {
        str(path): path
        for folder in ("tests", "tools", "docs", "benchmarks")
        for path in sorted((SOURCE.parent / folder).rglob("*.py"))
    }
    rooms = {module for module, path in files.items() if path.name == "__init__.py"} - {"rickyard"}
    wanted = wanted_by_others(files | outside, rooms)
    wrong = []
    for room in sorted(rooms):
        folder = files[room].parent
        if any(child.startswith(f"{room}.") for child in rooms):
            continue  # a package of rooms says what it is for, and is entered room by room
        text = door(room, folder, wanted[room], rooms)
        if text != files[room].read_text("utf-8"):
            wrong.append(room)
            if "--check" not in sys.argv:
                files[room].write_text(text, "utf-8")
    print("\n".join(wrong) or "Every door is as it should be.")
    return 1 if wrong and "--check" in sys.argv else 0


if __name__ == "__main__":
    sys.exit(main())
