"""What the rows of the yard's book and of the laboratories must be to the lots and each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from rickyard.farm import MoveKind
from rickyard.folder.tables import ORDER, Fault, TableRow, did_you_mean

#: Tests that are no analyte of a report but are sold all the same.
OTHER_TESTS: Final = ("coliform", "ergovaline", "fermentation", "mold", "mycotoxins")

#: What must be the same in a part of a lot as in the lot; where it stands is what may differ.
SAME_IN_A_PART: Final = {
    "forage": "forage",
    "species": "species",
    "package": "package",
    "field_name": "field",
    "cutting": "cutting",
    "baled_on": "baled_on",
}


def move_faults(row: TableRow) -> Iterator[Fault]:
    """Yield what is wrong with one line of the yard's book, a row of ``moves.csv``."""
    kind = row.get("kind")
    if kind is None or not row.sure:
        return
    if "bales" not in row.cells and "mass_kg" not in row.cells:
        yield row.fault(
            "bales",
            "neither bales nor a weight is written.",
            "Write how much it was, or delete the row.",
            "bales or a weight",
        )
    for name in ("bales", "mass_kg"):
        value = row.get(name)
        if value is not None and value < 0 and kind is not MoveKind.CORRECTION:
            yield row.fault(
                name,
                f'"{row.text(name)}" is negative.',
                "The kind says which way bales go; only a correction may be negative.",
                "a positive number",
            )
    if kind is MoveKind.CORRECTION and not row.get("named"):
        yield row.fault(
            "named",
            "a correction has no name under it.",
            "Write who answers for it.",
            "a name",
        )
    yield from _to_faults(row, kind)


def _to_faults(row: TableRow, kind: MoveKind) -> Iterator[Fault]:
    to = row.get("to_lot_id")
    if kind is MoveKind.MOVED and not to:
        yield row.fault(
            "to_lot_id",
            "bales are moved, and the lot they become is not written.",
            "Bales stored another way are a lot of their own: add it to lots.csv.",
            "a name from lots.csv",
        )
    elif to and kind is not MoveKind.MOVED:
        yield row.fault(
            "to_lot_id",
            f'"{to}" is written, and nothing is moved.',
            "Clear the cell, or write moved as the kind.",
            "an empty cell",
        )
    elif to and to == row.get("lot_id"):
        yield row.fault(
            "to_lot_id",
            f'"{to}" is the lot that the bales come from.',
            "Write the lot they become.",
            "another lot",
        )


def parts_faults(moves: Sequence[TableRow], lots: Mapping[str, TableRow]) -> Iterator[Fault]:
    """Yield moves that would mix hay: a part differs from its lot, or has two of them."""
    parent: dict[str, str] = {}
    for row in moves:
        source, part = row.get("lot_id"), row.get("to_lot_id")
        if row.get("kind") is not MoveKind.MOVED or source not in lots or part not in lots:
            continue
        differing = [
            header
            for name, header in SAME_IN_A_PART.items()
            if lots[source].get(name) != lots[part].get(name)
        ]
        if differing:
            yield row.fault(
                "to_lot_id",
                f'"{part}" differs from {source} in {", ".join(differing)}: lots are not mixed.',
                "Move bales into a lot of the same hay, and test each lot on its own.",
                "a part of the same hay",
            )
        elif parent.setdefault(part, source) != source:
            yield row.fault(
                "to_lot_id",
                f'"{part}" already holds bales of {parent[part]}: lots are not mixed.',
                "Give these bales a lot of their own.",
                "a lot of its own",
            )


def lab_faults(row: TableRow) -> Iterator[Fault]:
    """Yield tests of a package, a row of ``labs.csv``, that have no name here."""
    known = [*ORDER, *OTHER_TESTS]
    written = row.get("tests") or ""
    for name in written.replace(",", " ").replace(";", " ").casefold().split():
        if name not in known:
            yield row.fault(
                "tests",
                f'"{name}" is not a test this program knows.',
                f"{did_you_mean(name, known)}Write the names of analytes, "
                "with spaces between them.",
                "names of analytes",
            )
