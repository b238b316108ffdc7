"""Names in one file that must stand in another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from rickyard.folder.tables import Fault, TableRow, did_you_mean

Ids: TypeAlias = frozenset[str]


def unknown_ids(rows: Iterable[TableRow], name: str, known: Ids, where: str) -> Iterator[Fault]:
    """Yield names that no file holds.

    Parameters
    ----------
    rows : iterable of TableRow
        The rows to look at.
    name : str
        The field that holds the name.
    known : frozenset of str
        The names there are.
    where : str
        The files they stand in.

    Yields
    ------
    Fault
        The faults.
    """
    for row in rows:
        value = row.get(name)
        if value is not None and value not in known:
            yield row.fault(
                name,
                f'"{value}" is not in {where}.',
                f"{did_you_mean(value, sorted(known))}Write it as it stands there, "
                "or add it there.",
                f"a name from {where}",
            )
