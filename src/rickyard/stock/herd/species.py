"""Which engine tells the needs of which class of animal.

To add a species, write its engine and its list of missing inputs in the shapes of ``series``,
and give its classes a row here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from rickyard.farm import AnimalClass
from rickyard.stock.beef import beef_needs, missing_beef_inputs
from rickyard.stock.camelids import camelid_needs, missing_camelid_inputs
from rickyard.stock.common import MissingInputs, SpeciesEngine
from rickyard.stock.dairy import dairy_needs, missing_dairy_inputs
from rickyard.stock.goats import goat_needs, missing_goat_inputs
from rickyard.stock.horses import horse_needs, missing_horse_inputs
from rickyard.stock.sheep import missing_sheep_inputs, sheep_needs


@dataclass(frozen=True, slots=True)
class Species:
    """A kind of stock: its name in a sentence, its engine, and what a group must give."""

    name: str
    needs: SpeciesEngine
    missing_inputs: MissingInputs


BEEF: Final = Species("beef cattle", beef_needs, missing_beef_inputs)
SHEEP: Final = Species("sheep", sheep_needs, missing_sheep_inputs)
GOATS: Final = Species("goats", goat_needs, missing_goat_inputs)
HORSES: Final = Species("horses and donkeys", horse_needs, missing_horse_inputs)
DAIRY: Final = Species("dairy heifers and dry cows", dairy_needs, missing_dairy_inputs)
CAMELIDS: Final = Species("llamas and alpacas", camelid_needs, missing_camelid_inputs)

#: Every class of animal whose needs the program computes.
SPECIES: Final[Mapping[AnimalClass, Species]] = MappingProxyType(
    {
        AnimalClass.COW: BEEF,
        AnimalClass.FIRST_CALF_HEIFER: BEEF,
        AnimalClass.BRED_HEIFER: BEEF,
        AnimalClass.REPLACEMENT_HEIFER: BEEF,
        AnimalClass.STOCKER: BEEF,
        AnimalClass.BULL: BEEF,
        AnimalClass.EWE: SHEEP,
        AnimalClass.EWE_LAMB: SHEEP,
        AnimalClass.RAM: SHEEP,
        AnimalClass.FEEDER_LAMB: SHEEP,
        AnimalClass.DOE: GOATS,
        AnimalClass.KID: GOATS,
        AnimalClass.BUCK: GOATS,
        AnimalClass.HORSE: HORSES,
        AnimalClass.MARE: HORSES,
        AnimalClass.YOUNG_HORSE: HORSES,
        AnimalClass.DONKEY: HORSES,
        AnimalClass.MULE: HORSES,
        AnimalClass.DAIRY_HEIFER: DAIRY,
        AnimalClass.DRY_DAIRY_COW: DAIRY,
        AnimalClass.LLAMA: CAMELIDS,
        AnimalClass.ALPACA: CAMELIDS,
    }
)
