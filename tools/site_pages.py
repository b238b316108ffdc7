"""Pages of the documentation that are made while it is built: reference, gallery, rooms, decisions.

MkDocs calls the functions named ``on_...``. Everything is read from the source, so that nothing
has to be kept in step by hand.
"""

from __future__ import annotations

import ast
import io
import re
import runpy
import sys
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any, Final

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from rickyard.forage.values import KINDS
from rickyard.quantities import CANONICAL, UNITS, units_of

ROOT: Final = Path(__file__).resolve().parents[1]
PACKAGE: Final = ROOT / "src" / "rickyard"
GALLERY: Final = ROOT / "docs" / "gallery"
DIFFS: Final = ROOT / "docs" / "howto" / "diffs"

# Hooks are loaded by their path: what lies beside this file is found through the search path.
sys.path.insert(0, str(ROOT))
from tools.draw_rooms import rooms_svg  # noqa: E402

#: A line that is replaced by a diff from ``docs/howto/diffs`` where there is one.
DIFF_LINE: Final = re.compile(r"^<!-- diff: (?P<name>[a-z-]+\.diff) -->$", re.MULTILINE)

#: A line that is replaced by a table made from the code.
TABLE_LINE: Final = re.compile(r"^<!-- table: (?P<name>[a-z]+) -->$", re.MULTILINE)

#: The unit of each kind of measurement.
MEASURED_IN: Final = {
    "percent": "percent",
    "ppm": "milligram per kilogram",
    "energy_density": "Mcal per kilogram",
    "count": "colonies per gram",
    "none": "a number without unit",
}

#: Parts of the package in the order of the reference, each with its heading.
PARTS: Final = {
    "forage": "Forage",
    "hay": "Hay",
    "stock": "Stock",
    "match": "Match",
    "program": "Season program",
    "folder": "Farm folder",
    "sheets": "Sheets and files",
}


def rooms_of(part: str) -> Iterator[str]:
    """Yield the rooms of a part that offer something, by their dotted names."""
    for door in sorted((PACKAGE / part).rglob("__init__.py")):
        if "__all__" in door.read_text(encoding="utf-8"):
            yield ".".join(door.parent.relative_to(PACKAGE.parent).parts)


def offered(room: str) -> list[str]:
    """Return the names in a room's ``__all__``, functions and classes first, then constants."""
    door = PACKAGE.parent.joinpath(*room.split("."), "__init__.py")
    for node in ast.parse(door.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__":
            names: list[str] = ast.literal_eval(node.value)
            return sorted(names, key=lambda name: (name.isupper(), name.casefold()))
    return []


def reference_page(part: str) -> str:
    """Return the reference of one part of the package, room by room."""
    text = [f"# {PARTS[part]}\n"]
    for room in rooms_of(part):
        text.append(f"## `{room}`\n")
        text.append(f"::: {room}\n")
        # The heading is above; of the room itself its purpose is shown.
        text.append("    options:\n      members: false\n      show_root_heading: false\n")
        text += [
            f"::: {room}.{name}\n    options:\n      heading_level: 3\n" for name in offered(room)
        ]
    return "\n".join(text)


def library_page() -> str:
    """Return the reference of what ``import rickyard`` offers, by its own calls and by links."""
    text = [
        "# What import rickyard offers\n",
        "These calls take a farm and give one finished answer. The objects of a farm, the results "
        "and the science that `rickyard` offers as well stand below and in the reference of their "
        "rooms.\n",
    ]
    tree = ast.parse((PACKAGE / "calls.py").read_text(encoding="utf-8"))
    text += [
        f"::: rickyard.calls.{node.name}\n"
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]
    text.append("## Tables\n\n::: rickyard.tables\n    options:\n      show_root_heading: false\n")
    text.append("## A farm\n\n::: rickyard.farm\n    options:\n      show_root_heading: false\n")
    text.append("::: rickyard.kinds\n    options:\n      show_root_heading: false\n")
    return "\n".join(text)


def said_by(example: Path) -> str:
    """Run an example and return what it prints."""
    printed, before = io.StringIO(), list(sys.path)
    sys.path.insert(0, str(GALLERY))
    try:
        with redirect_stdout(printed):
            runpy.run_path(str(example), run_name="__main__")
    finally:
        sys.path[:] = before
    return printed.getvalue()


def gallery_page(example: Path) -> str:
    """Return the page of one example: what it is about, its code, and what it prints."""
    code = example.read_text(encoding="utf-8")
    doc = ast.get_docstring(ast.parse(code)) or ""
    title, _, rest = doc.partition("\n")
    body = code.split('"""', 2)[2].strip()
    return (
        f"# {title.rstrip('.')}\n\n{rest.strip()}\n\n```python\n{body}\n```\n\n"
        f"It prints:\n\n```text\n{said_by(example).rstrip()}\n```\n"
    )


def decision_titles() -> list[tuple[str, str]]:
    """Return (file, title) of every decision record."""
    found = []
    for path in sorted((ROOT / "docs" / "decisions").glob("*.md")):
        first = path.read_text(encoding="utf-8").splitlines()[0]
        found.append((f"decisions/{path.name}", first.lstrip("# ")))
    return found


def rooms_page() -> str:
    """Return the page that draws the rooms and says what each is for."""
    text = [
        "# The rooms\n",
        "The package is built in layers, and each layer in rooms. A room is a folder whose "
        "`__init__` says what it is for and offers what others may use. Arrows point down only; "
        "the drawing is made from the imports themselves.\n",
        "![The layers of the package and their rooms, and which uses which](images/rooms.svg)\n",
    ]
    for part in ["", *PARTS]:
        for door in sorted((PACKAGE / part).glob("*/__init__.py" if part else "__init__.py")):
            doc = ast.get_docstring(ast.parse(door.read_text(encoding="utf-8"))) or ""
            room = ".".join(door.parent.relative_to(PACKAGE.parent).parts)
            if part:
                text.append(f"- **{room}**: {' '.join(doc.split())}")
    return "\n".join(text) + "\n"


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Add the made pages to the contents of the site."""
    gallery = [f"gallery/{one.stem}.md" for one in sorted(GALLERY.glob("*.py"))]
    reference = ["api/rickyard.md", *(f"api/{part}.md" for part in PARTS)]
    nav: list[Any] = list(config.nav or [])
    nav += [
        {"Gallery": gallery},
        {"API": reference},
        {"How it is built": ["rooms.md", *(path for path, _ in decision_titles())]},
    ]
    config.nav = nav
    return config


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Make the pages that are not written by hand."""
    made = {
        "api/rickyard.md": library_page(),
        "rooms.md": rooms_page(),
        "images/rooms.svg": rooms_svg(),
        **{f"api/{part}.md": reference_page(part) for part in PARTS},
        **{f"gallery/{one.stem}.md": gallery_page(one) for one in sorted(GALLERY.glob("*.py"))},
    }
    for path, text in made.items():
        files.append(File.generated(config, path, content=text))
    return files


def analytes_table() -> str:
    """Return what a laboratory reports, by name, from the table that reads reports."""
    rows = ["| name | quantity | measured in |", "|---|---|---|"]
    for one in KINDS.values():
        whole = {"cp": " of crude protein", "ndf": " of NDF"}.get(one.part, "")
        rows.append(f"| `{one.name}` | {one.words} | {MEASURED_IN[one.measure]}{whole} |")
    return "\n".join(rows)


def units_table() -> str:
    """Return every unit that can be written, by dimension."""
    rows = ["| dimension | unit | as it may be written |", "|---|---|---|"]
    for dimension in CANONICAL:
        for name in units_of(dimension):
            written = ", ".join(f"`{form}`" for form in UNITS[name].written)
            rows.append(f"| {dimension.replace('_', ' ')} | `{name}` | {written} |")
    return "\n".join(rows)


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the diffs of the how-to pages and the tables of the nomenclature where they belong."""

    def diff(found: re.Match[str]) -> str:
        path = DIFFS / found["name"]
        if not path.is_file():
            return ""
        return f"```diff\n{path.read_text(encoding='utf-8').rstrip()}\n```"

    tables = {"analytes": analytes_table, "units": units_table}
    markdown = TABLE_LINE.sub(lambda found: tables[found["name"]](), markdown)
    return DIFF_LINE.sub(diff, markdown)
