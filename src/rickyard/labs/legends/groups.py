"""Words of sentences that name several analytes at once: "trace minerals", "the energies"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

MINERALS: Final = ("ca", "p", "mg", "k", "s", "na", "cl")
TRACE: Final = ("fe", "mn", "zn", "cu", "mo", "co", "se")
ENERGIES: Final = ("nem", "neg", "nel", "me", "de")
ENERGY_UNITS: Final = ("mcal_per_lb", "mcal_per_kg", "mj_per_kg", "mcal_per_cwt")
FIBERS: Final = ("adf", "ndf", "lignin")
NITRATES: Final = ("nitrate_no3n", "nitrate_no3", "nitrate_kno3", "nitrate")
#: What a basis is of; a sentence that names it names no analyte.
WATER: Final = ("dm", "moisture")
#: Words for several analytes in a sentence.
GROUPS: Final[Mapping[str, tuple[str, ...]]] = {
    "trace minerals": TRACE,
    "trace elements": TRACE,
    "oligo-éléments": TRACE,
    "oligo-elements": TRACE,
    "oligoéléments": TRACE,
    "oligoelementos": TRACE,
    "microelementos": TRACE,
    "elementos traza": TRACE,
    "spurenelemente": TRACE,
    "macro-éléments": MINERALS,
    "macroelementos": MINERALS,
    "mengenelemente": MINERALS,
    "micro minerals": TRACE,
    "microminerals": TRACE,
    "macro minerals": MINERALS,
    "macrominerals": MINERALS,
    "major minerals": MINERALS,
    "minerals": (*MINERALS, *TRACE),
    "proteins and fibers": ("cp", "adf", "ndf", "lignin"),
    "proximates": ("cp", "adf", "ndf", "ee", "ash"),
    "fibers": FIBERS,
    "fibres": FIBERS,
    "fiber": FIBERS,
    "fibre": FIBERS,
    "ne": ("nem", "neg", "nel"),
    "net energies": ("nem", "neg", "nel"),
    "net energy": ("nem", "neg", "nel"),
    "energies": ENERGIES,
    "energy": ENERGIES,
    "nitrates": NITRATES,
    "nitrate": NITRATES,
    "mycotoxins": ("aflatoxin", "fumonisin", "don", "zearalenone", "ochratoxin", "t2"),
    "toxins": ("aflatoxin", "fumonisin", "don", "zearalenone", "ochratoxin", "t2"),
}
