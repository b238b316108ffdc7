"""The table of words that people write, and what each means in a farm folder."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Final

_FILE: Final = "data/trade_words.csv"
#: A slip of one letter in a word of the trade; less likeness is left to the nearest spelling.
_LIKENESS: Final = 0.88


@dataclass(frozen=True, slots=True)
class TradeWord:
    """What a word of the trade means in one place of a farm folder, and what is to be added."""

    meant: tuple[str, ...]
    note: str = ""

    @property
    def sentence(self) -> str:
        """Return ``Did you mean ...? ``, with a blank at its end as other hints have."""
        note = f" ({self.note})" if self.note else ""
        return f"Did you mean {' or '.join(self.meant)}{note}? "


def trade_word(place: str, text: str) -> TradeWord | None:
    """Return what a word means where it is written, or ``None`` where the trade does not say.

    Parameters
    ----------
    place : str
        The list of words, by the name of its type such as ``Forage``; or the file whose header
        or key it is.
    text : str
        The word as written; capitals, spaces and hyphens do not matter.

    Returns
    -------
    TradeWord or None
        What is meant: the table first, then what is a letter from it, then any other grass.

    Examples
    --------
    >>> trade_word("Forage", "Orchard grass").sentence
    'Did you mean cool_grass? '
    >>> trade_word("groups.csv", "BCS").meant
    ('condition_score',)
    >>> trade_word("Forage", "alfafa") is None
    True
    """
    known = _table().get(place)
    if known is None:
        return None
    said = re.sub(r"[\s/+-]+", "_", text.strip().casefold()).strip("_")
    if said in known:
        return known[said]
    near = get_close_matches(said, known, n=1, cutoff=_LIKENESS)
    if near:
        return known[near[0]]
    # "grass" alone is the nearest spelling of no grass in particular.
    return known["grass"] if place == "Forage" and said.endswith("grass") else None


@cache
def _table() -> dict[str, dict[str, TradeWord]]:
    text = files("rickyard.folder").joinpath(_FILE).read_text(encoding="utf-8")
    table: dict[str, dict[str, TradeWord]] = {}
    for row in csv.DictReader(text.splitlines()):
        meant = tuple(one.strip() for one in row["meant"].split(";"))
        table.setdefault(row["place"], {})[row["said"]] = TradeWord(meant, row["note"])
    return table
