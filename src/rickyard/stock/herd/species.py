"""Which engine tells the needs of which kind of stock.

To add a species, write its engine and what its groups must give, in the shapes of ``Species``,
and give it a row here and its classes rows in ``animals``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from rickyard.animals import CLASSES, Stock
from rickyard.farm import AnimalClass, Group
from rickyard.stock.beef import beef_needs, missing_beef_inputs
from rickyard.stock.camelids import camelid_needs
from rickyard.stock.common import Asked, NeedSeries
from rickyard.stock.dairy import dairy_needs, missing_dairy_inputs
from rickyard.stock.goats import goat_needs, missing_goat_inputs
from rickyard.stock.horses import horse_needs, missing_horse_inputs
from rickyard.stock.sheep import sheep_needs


@dataclass(frozen=True, slots=True)
class Species:
    """A kind of stock: its name in a sentence, its engine, and what a group must give."""

    name: str
    needs: Callable[[Asked], NeedSeries]
    missing_inputs: Callable[[Group], tuple[str, ...]] = lambda group: ()


#: Every kind of stock whose needs the program computes.
SPECIES: Final[Mapping[Stock, Species]] = MappingProxyType(
    {
        Stock.BEEF: Species("beef cattle", beef_needs, missing_beef_inputs),
        Stock.SHEEP: Species("sheep", sheep_needs),
        Stock.GOATS: Species("goats", goat_needs, missing_goat_inputs),
        Stock.HORSES: Species("horses and donkeys", horse_needs, missing_horse_inputs),
        Stock.DAIRY: Species("dairy heifers and dry cows", dairy_needs, missing_dairy_inputs),
        Stock.CAMELIDS: Species("llamas and alpacas", camelid_needs),
    }
)


def species_of(animal_class: AnimalClass) -> Species:
    """Return the species of a class of animals."""
    return SPECIES[CLASSES[animal_class].stock]
