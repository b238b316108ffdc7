"""Draw the rooms of the package from the imports between them: ``python tools/draw_rooms.py``.

Layers and their order come from the import contract in ``pyproject.toml``.
"""

from __future__ import annotations

import ast
import sys
import tomllib
from collections import defaultdict
from functools import cache
from html import escape
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tools.doors import statements, tree_of  # noqa: E402

SOURCE: Final = ROOT / "src"
NAME: Final = "rickyard"

BOX_W: Final = 108
BOX_H: Final = 26
GAP: Final = 14
LEFT: Final = 120
WIDEST: Final = 7

#: What everything stands on; lines to it would hide the others.
GROUND: Final = ("display", "farm", "records", "kinds", "quantities", "tables", "version")
STYLE: Final = "font-family:sans-serif;font-size:12px"


def contracts() -> list[list[list[str]]]:
    """Return the import contracts, each as rows of names from the top, without the package's."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return [
        [
            [part.strip().removeprefix(f"{NAME}.") for part in row.split("|")]
            for row in one["layers"]
        ]
        for one in settings["tool"]["importlinter"]["contracts"]
    ]


def bands() -> list[tuple[str, list[list[str]]]]:
    """Return (part of the package, its rooms row by row), from the top."""
    whole, *inner = contracts()
    rows_of = {rows[0][0].partition(".")[0]: rows for rows in inner}
    found = [
        (part, rows_of.get(part) or [rooms_of(part)])
        for row in whole
        for part in row
        if part not in GROUND
    ]
    return [*found, ("ground", [list(GROUND)])]


def rooms_of(part: str) -> list[str]:
    """Return the rooms of a part that no contract orders, or the part itself."""
    folder = SOURCE / NAME / part
    inner = sorted(door.parent.name for door in folder.glob("*/__init__.py"))
    return [f"{part}.{one}" for one in inner] or [part]


@cache
def arrows(rooms: frozenset[str]) -> dict[str, set[str]]:
    """Return which room imports from which others."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in sorted((SOURCE / NAME).rglob("*.py")):
        parts = path.relative_to(SOURCE / NAME).with_suffix("").parts
        here = _room(".".join(parts), rooms)
        for node in statements(tree_of(path)):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{NAME}."):
                there = _room((node.module or "").removeprefix(f"{NAME}."), rooms)
                if here and there and here != there:
                    found[here].add(there)
    return found


def _room(module: str, rooms: frozenset[str]) -> str:
    parts = module.split(".")
    for length in (2, 1):
        name = ".".join(parts[:length])
        if name in rooms:
            return name
    return ""


def places() -> tuple[dict[str, tuple[float, float]], list[tuple[str, float, float]]]:
    """Return where each room stands, and (name, top, height) of each band."""
    at: dict[str, tuple[float, float]] = {}
    drawn = []
    y = float(GAP)
    for name, rows in bands():
        top = y
        for step, row in enumerate(rows):
            # Steps to the right, so that a line from above passes beside the rooms between.
            first = step % (WIDEST - len(row) + 1)
            for column, room in enumerate(row, start=first):
                at[room] = (LEFT + column * (BOX_W + GAP), y)
            y += BOX_H + GAP
        drawn.append((name, top - GAP / 2, y - top))
    return at, drawn


def rooms_svg() -> str:
    """Return the drawing: a band for each part, a box for each room, a line for each arrow."""
    at, parts = places()
    width, height = LEFT + WIDEST * (BOX_W + GAP) + GAP, parts[-1][1] + parts[-1][2] + GAP / 2
    drawn = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height:.0f}" '
        f'style="{STYLE}" role="img"><title>The rooms of the package</title>',
    ]
    for number, (name, top, tall) in enumerate(parts):
        shade = "#f4f1e8" if number % 2 else "#ffffff"
        drawn.append(f'<rect x="0" y="{top}" width="{width}" height="{tall}" fill="{shade}"/>')
        drawn.append(f'<text x="8" y="{top + 24}" fill="#444">{escape(name)}</text>')
    for here, others in sorted(arrows(frozenset(at)).items()):
        drawn += [_line(at[here], at[there]) for there in sorted(others - set(GROUND))]
    drawn += [_box(room, x, top) for room, (x, top) in at.items()]
    return "\n".join([*drawn, "</svg>"]) + "\n"


def _line(here: tuple[float, float], there: tuple[float, float]) -> str:
    x1, y1, x2, y2 = here[0] + BOX_W / 2, here[1] + BOX_H, there[0] + BOX_W / 2, there[1]
    bend = (y1 + y2) / 2
    return (
        f'<path d="M{x1} {y1}C{x1} {bend} {x2} {bend} {x2} {y2}" fill="none" '
        'stroke="#8a6d3b" stroke-opacity="0.18"/>'
    )


def _box(room: str, x: float, y: float) -> str:
    return (
        f'<g><title>{escape(room)}</title><rect x="{x}" y="{y}" width="{BOX_W}" height="{BOX_H}" '
        f'rx="4" fill="#fffdf7" stroke="#8a6d3b"/><text x="{x + BOX_W / 2}" y="{y + 17}" '
        f'text-anchor="middle" fill="#222">{escape(room.rpartition(".")[2])}</text></g>'
    )


if __name__ == "__main__":
    sys.stdout.write(rooms_svg())
