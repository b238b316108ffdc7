"""One hazard of a lot: what was found, by which table, for which stock, what to do and ask."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from rickyard.farm import Caution

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
    holds for those alone, or ``ALL_STOCK``. ``in_short`` is the finding in a few words.
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
