"""Names in one file that must stand in another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, TypeAlias

from rickyard.folder.rules.lookalikes import look_alike
from rickyard.folder.tables import Fault, TableRow, did_you_mean

Ids: TypeAlias = frozenset[str]

MOST_GUESSED: Final = 50  # beyond what is shown no guess is wanted


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
    choices = sorted(known)
    guessed = 0
    for row in rows:
        value = row.get(name)
        if value is not None and value not in known:
            guess = ""
            if guessed < MOST_GUESSED:
                guess = look_alike(value, choices) or did_you_mean(value, choices)
            guessed += 1
            yield row.fault(
                name,
                f'"{value}" is not in {where}.',
                f"{guess}Write it as it stands there, or add it there.",
                f"a name from {where}",
            )
