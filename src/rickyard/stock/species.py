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
from rickyard.stock.series import MissingInputs, SpeciesEngine


@dataclass(frozen=True, slots=True)
class Species:
    """A kind of stock: its name in a sentence, its engine, and what a group must give."""

    name: str
    needs: SpeciesEngine
    missing_inputs: MissingInputs


BEEF: Final = Species("beef cattle", beef_needs, missing_beef_inputs)

#: Every class of animal whose needs the program computes.
SPECIES: Final[Mapping[AnimalClass, Species]] = MappingProxyType(
    {
        AnimalClass.COW: BEEF,
        AnimalClass.FIRST_CALF_HEIFER: BEEF,
        AnimalClass.BRED_HEIFER: BEEF,
        AnimalClass.REPLACEMENT_HEIFER: BEEF,
        AnimalClass.STOCKER: BEEF,
        AnimalClass.BULL: BEEF,
    }
)
