"""The two sets: open to whoever writes a reader, and kept back until the reader is done."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

from . import (
    kept_books,
    kept_mail,
    kept_odd,
    kept_paper,
    kept_text,
    open_books,
    open_mail,
    open_more_books,
    open_more_paper,
    open_more_text,
    open_odd,
    open_paper,
    open_text,
)
from .truth import Made

Layout = Callable[[Random, int], Made]
_OPEN = (
    open_text,
    open_mail,
    open_books,
    open_paper,
    open_odd,
    open_more_text,
    open_more_books,
    open_more_paper,
)
_KEPT = (kept_text, kept_mail, kept_books, kept_paper, kept_odd)


def _variants(modules: tuple[object, ...]) -> tuple[tuple[Layout, int], ...]:
    found = []
    for module in modules:
        found += [(layout, 2) for layout in module.LAYOUTS]  # type: ignore[attr-defined]
        found += [(layout, 1) for layout in getattr(module, "SINGLE", ())]
    return tuple(found)


#: Each layout with how many files are made of it.
SETS = {"open": _variants(_OPEN), "kept": _variants(_KEPT)}


def each(of: str, seed: int = 1) -> Iterator[Made]:
    """Make the files of a set, one after the other."""
    for layout, count in SETS[of]:
        for variant in range(1, count + 1):
            yield layout(Random(f"{seed} {of} {layout.__name__} {variant}"), variant)


def write(out: Path, of: str, seed: int = 1) -> tuple[int, int]:
    """Write the files of a set, each with its truth; return how many files and layouts."""
    out.mkdir(parents=True, exist_ok=True)
    count = 0
    for one in each(of, seed):
        (out / one.name).write_bytes(one.content)
        truth = json.dumps(one.truth, indent=1, ensure_ascii=False)
        (out / f"{one.name}.truth.json").write_text(truth + "\n", encoding="utf-8")
        count += 1
    return count, len(SETS[of])
