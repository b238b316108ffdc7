"""What a sheet prints: analytes with their words, units and numbers, and samples that hold them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from corpus.forage import Forage, draw

WORDS = {
    "dm": ("Dry matter", "DM", "Dry Matter (DM)", "Total dry matter"),
    "moisture": ("Moisture", "Water", "Moisture content"),
    "cp": ("Crude protein", "CP", "Protein, crude", "Protein", "Cr. protein"),
    "adf": ("ADF", "Acid detergent fiber", "Acid Det. Fibre"),
    "ndf": ("NDF", "aNDF", "Neutral detergent fiber", "Neutral Det. Fibre"),
    "lignin": ("Lignin", "ADL", "Lignin (ADL)"),
    "tdn": ("TDN", "Total digestible nutrients"),
    "nem": ("NEm", "Net energy, maintenance", "NE maint."),
    "neg": ("NEg", "Net energy, gain", "NE gain"),
    "nel": ("NEl", "Net energy, lactation", "NE lact."),
    "ash": ("Ash", "Crude ash", "Total ash"),
    "ee": ("Fat", "Ether extract", "Crude fat"),
    "starch": ("Starch",),
    "ca": ("Ca", "Calcium"),
    "p": ("P", "Phosphorus"),
    "mg": ("Mg", "Magnesium"),
    "k": ("K", "Potassium"),
    "zn": ("Zn", "Zinc"),
    "cu": ("Cu", "Copper"),
    "fe": ("Fe", "Iron"),
    "nitrate_no3n": ("NO3-N", "Nitrate-N", "Nitrate nitrogen"),
    "nitrate_no3": ("NO3", "Nitrate (NO3)", "Nitrate ion (NO3)"),
    "rfv": ("RFV", "Relative feed value"),
}
_GRAMS = ("cp", "adf", "ndf", "lignin", "ash", "ee", "starch")
_MINERALS = ("ca", "p", "mg", "k")
_TRACE = ("zn", "cu", "fe", "nitrate_no3n", "nitrate_no3")
_ENERGY = ("nem", "neg", "nel")
#: How a unit is printed, and how many of it are in the first unit of its kind.
UNITS = {
    "pct": (("%", "pct", "percent"), 1.0),
    "g_per_kg": (("g/kg", "g kg-1", "g per kg"), 10.0),
    "ppm": (("ppm", "mg/kg"), 1.0),
    "mcal_per_lb": (("Mcal/lb", "MCAL/LB"), 1 / 2.20462262),
    "mcal_per_kg": (("Mcal/kg",), 1.0),
    "mj_per_kg": (("MJ/kg",), 4.184),
    "": (("",), 1.0),
}
BASES = {
    "dm": ("DM", "dry", "dry matter basis", "DM basis", "dry basis", "100% DM"),
    "ar": ("as received", "AR", "as fed", "as sampled", "as-received basis"),
}
_FARMS = ("Creek", "Upper", "Long", "Willow", "Stone", "North", "Badger", "Cedar")
_PARTS = ("field", "meadow", "barn stack", "bottom", "terrace", "eighty", "pivot", "lane")


@dataclass
class Analyte:
    """One analyte as a report prints it throughout."""

    key: str
    words: str
    unit: str
    shown_unit: str
    places: int

    def printed(self, forage: Forage, basis: str) -> str:
        """Return its number in the printed unit on a basis."""
        own = "ar" if self.key in ("dm", "moisture") else basis
        number = forage.value(self.key, own) * UNITS[self.unit][1]
        return f"{number:.{self.places}f}"


@dataclass
class Bag:
    """One sample: what stands on its bag, and its hay."""

    name: str
    number: str
    day: date
    forage: Forage


@dataclass
class Content:
    """The samples and analytes of a sheet, and the bases on which it prints them."""

    bags: list[Bag]
    analytes: list[Analyte]
    bases: list[str]
    shown_bases: dict[str, str]
    truth: dict[tuple[int, str, str], tuple[str, str]] = field(default_factory=dict)

    def basis_of(self, analyte: Analyte, basis: str) -> str:
        """Return the basis of a value that is printed under one of the two."""
        if analyte.key in ("dm", "moisture"):
            return "ar"
        return "" if analyte.key == "rfv" else basis

    def take(self, bag: int, analyte: Analyte, basis: str) -> str:
        """Return the printed number of a value, and keep it as printed for certain."""
        text = analyte.printed(self.bags[bag].forage, basis)
        self.truth[bag, analyte.key, self.basis_of(analyte, basis)] = (text, analyte.unit)
        return text


def _unit_of(key: str, metric: bool, energy: str) -> str:
    if key == "rfv":
        return ""
    if key in _ENERGY:
        return energy
    if key in _TRACE:
        return "ppm"
    return "g_per_kg" if metric and key in (*_GRAMS, *_MINERALS) else "pct"


def _places(key: str, unit: str) -> int:
    if unit in ("mcal_per_lb", "mcal_per_kg"):
        return 2
    if unit == "mj_per_kg" or key == "cu":
        return 1
    if key in _TRACE or key == "rfv":
        return 0
    if key in _MINERALS:
        return 1 if unit == "g_per_kg" else 2
    return 1


def content(random: Random, most: int = 4) -> Content:
    """Return samples and analytes by chance, each name and number once."""
    metric = random.random() < 0.3
    energy = random.choice(("mcal_per_lb", "mcal_per_kg", "mj_per_kg"))
    others = [key for key in WORDS if key not in ("dm", "moisture", "nitrate_no3")]
    if random.random() < 0.3:
        others[others.index("nitrate_no3n")] = "nitrate_no3"
    keys = random.sample(others, random.randint(4, 9))
    water = random.choice((["dm"], ["moisture"], ["dm", "moisture"]))
    keys = [*water, *keys] if random.random() < 0.7 else [*keys, *water]
    shown = {unit: random.choice(ways) for unit, (ways, _) in UNITS.items()}
    analytes = []
    for key in keys:
        unit = _unit_of(key, metric, energy)
        words = random.choice(WORDS[key])
        analytes.append(Analyte(key, words, unit, shown[unit], _places(key, unit)))
    count = random.randint(1, most)
    places = random.sample([f"{a} {b}" for a in _FARMS for b in _PARTS], count)
    first = random.randint(1000, 8000)
    day = date(2025, 6, 13) + timedelta(random.randint(0, 90))
    bags = [
        Bag(places[n], f"Q{first + 3 * n}", day + timedelta(3 * n), draw(random))
        for n in range(count)
    ]
    bases = random.choice((["dm"], ["dm"], ["ar"], ["ar", "dm"], ["dm", "ar"]))
    return Content(
        bags, analytes, bases, {basis: random.choice(ways) for basis, ways in BASES.items()}
    )
