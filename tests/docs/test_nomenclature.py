"""The nomenclature names every unit and symbol that the public calls use, each once."""

import dataclasses
import inspect
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import rickyard

PAGE = Path(__file__).resolve().parents[2] / "docs" / "nomenclature.md"
PACKAGE = Path(rickyard.__file__).parent
SCIENCE = ("forage", "hay", "stock", "match")
NUMERIC = re.compile(r"\b(float|int|Numeric|FloatArray|ArrayLike|NDArray)\b")


def section(heading: str) -> list[str]:
    """Return the names in the first column of the table under a heading."""
    text = PAGE.read_text(encoding="utf-8").split(f"## {heading}", 1)[1].split("\n## ", 1)[0]
    return re.findall(r"^\| `?([^`|]+?)`? \|", text, flags=re.MULTILINE)[1:]


ENDINGS = tuple(section("Endings"))
PLAIN = frozenset(section("Names without a unit") + section("Quantities"))


def rooms() -> Iterator[str]:
    for part in SCIENCE:
        for door in sorted((PACKAGE / part).rglob("__init__.py")):
            yield ".".join(("rickyard", *door.parent.relative_to(PACKAGE).parts))


def public() -> dict[str, object]:
    found: dict[str, object] = {}
    for room in ("rickyard", "rickyard.program.result", *rooms()):
        module = import_module(room)
        for name in getattr(module, "__all__", ()):
            found[f"{room}.{name}"] = getattr(module, name)
    return found


def numbers() -> set[tuple[str, str]]:
    """Return (argument or field, where) of everything numeric that is public."""
    found = set()
    for where, one in public().items():
        if inspect.isfunction(one):
            for name, given in inspect.signature(one).parameters.items():
                if NUMERIC.search(str(given.annotation)):
                    found.add((name, where))
        elif dataclasses.is_dataclass(one) and where.startswith("rickyard.program.result"):
            found |= {
                (part.name, where)
                for part in dataclasses.fields(one)
                if "float" in str(part.type).split(" ")
            }
    return found


def is_named(name: str) -> bool:
    return name in PLAIN or f"_{name}".endswith(ENDINGS)


def test_every_public_number_is_in_the_nomenclature() -> None:
    missing = sorted({name for name, _ in numbers() if not is_named(name)})
    assert not missing


def test_enough_is_looked_at() -> None:
    assert len({name for name, _ in numbers()}) > 200


def test_a_name_without_unit_is_noticed() -> None:
    assert not is_named("hay_stones")
    assert is_named("hay_kg")


@pytest.mark.parametrize(
    "heading", ["Endings", "Quantities", "Names without a unit", "Symbols in equations"]
)
def test_nothing_is_named_twice(heading: str) -> None:
    names = section(heading)
    assert len(names) > 8
    assert sorted(names) == sorted(set(names))


def test_every_ending_is_in_use() -> None:
    names = {f"_{name}" for name, _ in numbers()}
    idle = {one for one in ENDINGS if not any(name.endswith(one) for name in names)}
    # Units of fields and columns, of constants and of names of functions.
    kept = "_mg _lb _ppb _frac _t _kj _bales _head _per_day _se _mm _per_kg075"
    assert idle <= set(kept.split())
