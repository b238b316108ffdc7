"""Docstrings of what rooms offer: what goes in and what comes out, with units."""

import inspect
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import rickyard

PACKAGE = Path(rickyard.__file__).parent


def offered() -> Iterator[tuple[str, Callable[..., Any]]]:
    seen = set()
    for door in sorted(PACKAGE.rglob("__init__.py")):
        room = ".".join(("rickyard", *door.parent.relative_to(PACKAGE).parts))
        if room.startswith("rickyard.cli"):
            continue
        module = import_module(room)
        for name in getattr(module, "__all__", ()):
            one = getattr(module, name)
            if inspect.isfunction(one) and one not in seen:
                seen.add(one)
                yield f"{room}.{name}", one


FUNCTIONS = dict(offered())

#: The reference shows neither: what only the commands call says in sentences what it takes.
OUTER = ("rickyard.service.", "rickyard.verify.")


def lacking(function: Callable[..., Any]) -> list[str]:
    """Return the sections that a docstring has not."""
    said = inspect.getdoc(function) or ""
    signature = inspect.signature(function)
    found = []
    if signature.parameters and "Parameters\n---" not in said:
        found.append("Parameters")
    gives = signature.return_annotation not in (None, "None", "NoReturn")
    if gives and "Returns\n---" not in said and "Yields\n---" not in said:
        found.append("Returns")
    return found


def without_unit(function: Callable[..., Any]) -> bool:
    """Return whether numbers come out of a function whose docstring gives no unit for them."""
    if str(inspect.signature(function).return_annotation) not in ("float", "Numeric", "FloatArray"):
        return False
    said = (inspect.getdoc(function) or "").split("Returns\n", 1)[-1]
    returns = re.split(r"\n\n[A-Z][a-z]+\n---", said, maxsplit=1)[0]
    return not re.search(r"\[[^\]]+\]|in the (squared |same )?unit", returns)


def test_a_call_says_what_goes_in_and_comes_out() -> None:
    assert len(FUNCTIONS) > 200
    bare = {
        name: found
        for name, one in FUNCTIONS.items()
        if not name.startswith(OUTER) and (found := lacking(one))
    }
    assert bare == {}


def test_every_number_that_comes_out_has_its_unit() -> None:
    """In brackets, ``[-]`` where it has none; a sentence, a word or an object needs none."""
    assert [name for name, one in FUNCTIONS.items() if without_unit(one)] == []


def test_a_missing_section_is_noticed() -> None:
    def bare(hay_kg: float) -> float:
        """Return something."""
        return hay_kg

    assert lacking(bare) == ["Parameters", "Returns"]


def test_a_missing_unit_is_noticed() -> None:
    def bare(hay_kg: float) -> "float":
        """Return hay.

        Returns
        -------
        float
            Hay.
        """
        return hay_kg

    assert without_unit(bare)
