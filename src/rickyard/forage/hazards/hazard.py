"""One hazard of a lot: what was found, by which table, for which stock, what to do and ask.

What each says stands in ``data/hazards.toml``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias

from rickyard.farm import Caution
from rickyard.forage import shipped_toml
from rickyard.forage.values import CLASS_TABLES

Level: TypeAlias = Literal["danger", "warning", "note"]

#: Whom to ask about what can hurt stock.
ASK: Final = "Ask your extension office or veterinarian before you feed it."
ASK_VET: Final = "Call the veterinarian if stock go off feed, weak or unsteady."

#: Of a hazard for which a lot is held back from every animal.
ALL_STOCK: Final = "all stock"


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard as it is told: the finding, then what to do, then whom or what to ask.

    ``table`` names the thresholds with their unit and basis, ``source`` who published them,
    ``concerns`` the classes of stock in plain words. ``not_for`` names the stock that is not to
    get the lot while it stands, as ``DensityNeed.stock``, with "pregnant" before it where it
    holds for those alone, or ``ALL_STOCK``. ``in_short`` is the finding in a few words,
    ``key`` the name of its row, by which the rules of safety know it.
    """

    name: str
    level: Level
    finding: str
    table: str
    source: str
    concerns: str
    do: str
    ask: str = ""
    not_for: tuple[str, ...] = ()
    in_short: str = ""
    key: str = ""

    @property
    def headline(self) -> str:
        """Return the hazard in the few words that head a page.

        Examples
        --------
        >>> Hazard("mold", "note", "Few molds", "PSU", "Adams 1993", "cattle", "feed it.").headline
        'mold'
        """
        return self.in_short or self.name

    def caution(self, lot_id: str) -> Caution:
        """Return the hazard as a caution about a lot.

        Examples
        --------
        >>> hazard = Hazard("mold", "note", "Few molds", "PSU", "Adams 1993", "cattle", "feed it.")
        >>> hazard.caution("L1").sentence
        'Few molds: feed it.'
        """
        sentence = f"{self.finding}: {self.do}"
        return Caution(self.level, lot_id, f"{sentence} {self.ask}".rstrip(), self.source)


def told(key: str, lot: str, *, level: Level | None = None, **said: Any) -> Hazard:
    """Return a hazard in the words of its row.

    ``lot`` is what the lot is called, ``level`` the gravity where it is not that of the row, and
    ``said`` the numbers and words that the row asks for; ``not_for`` goes over that of the row.
    """
    words = {**CLASS_TABLES, "lot": lot, "ask": ASK, "vet": ASK_VET, **said}
    row = shipped_toml("hazards.toml")[key]
    filled = {
        field: text.format(**words)
        for field, text in row.items()
        if isinstance(text, str) and field != "level"
    }
    not_for = said.get("not_for", row.get("not_for", ()))
    return Hazard(level=level or row["level"], not_for=tuple(not_for), key=key, **filled)
