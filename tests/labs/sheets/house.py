"""One house that tests hay: its tongue, samples, names, numbers and what it prints beside."""

from __future__ import annotations

from random import Random

from .content import Analyte, content
from .grid import Grid
from .shapes import DAYS, IDS, NUMBERS
from .strange import _UNIT_BEFORE, TONGUES

NAMES = (
    "7",
    "Lot 12",
    "2nd cut 6/14",
    "H-2025-03",
    "East 40 #2",
    "3rd / Miller place",
    "NW1/4 sec 9",
    "Stack 4 (rained)",
    "2025-08",
    "Alf 1",
    "Barn B, top",
    "Pivot 11 2nd",
    "Ranch hay",
    "14 Aug bales",
    "G7",
    "Creek-B",
    "Old barn 2024 hay",
    "100 acre",
    "K-Bar",
    "Lower 9",
    "C. Field",
    "Oats #1",
)
OWN = (
    "Blank",
    "Method blank",
    "Std hay 7",
    "Check 3",
    "QC alfalfa",
    "CRM 1573",
    "LCS",
    "{0} dup",
    "{0} D",
    "Control",
    "In-house ref",
    "Ref. hay B",
    "Reagent blank",
    "{0} spike",
    "Drift check",
    "Check sample",
    "QC-1",
    "House standard",
    "Proficiency 2025-2",
    "IHM",
    "RM 8",
    "Std",
    "CK 1",
    "{0} rep 2",
    "Known hay",
    "Leerwert",
    "Kontrollprobe",
    "témoin",
    "Blanco",
    "Standard 2",
)
GOALS = (
    "Goal",
    "Guide value",
    "Normal",
    "Dry cow goal",
    "Low",
    "High",
    "Min",
    "Max",
    "Usual range",
    "Book value",
    "County avg",
    "5-yr mean",
    "NRC need",
    "2024",
    "Last cut",
    "Rank",
)
SUMS = (
    "Average",
    "Mean",
    "Total",
    "County average",
    "Last year's winner",
    "Minimum to place",
    "SD",
    "Last year avg",
    "2024 average",
    "Median",
    "CV %",
    "Typical",
    "Best ever",
    "Range",
)


class House:
    """What is drawn for one sheet, and the grid in which it is laid out."""

    def __init__(self, number: int) -> None:
        self.random = Random(f"house {number}")
        self.tongue = self.random.choice(["en"] * 8 + ["de", "fr", "es", "nl", "it"])
        self.content = held = content(self.random, 5)
        self.words = TONGUES[self.tongue]
        if self.tongue != "en":
            held.analytes = [one for one in held.analytes if one.key in self.words["analytes"]]
            for one in held.analytes:
                one.words = self.random.choice(self.words["analytes"][one.key].split("|"))
                one.shown_unit = {"pct": "%", "g_per_kg": "g/kg", "ppm": "mg/kg"}[one.unit]
            held.shown_bases = {
                b: _UNIT_BEFORE.sub("", self.random.choice(self.words["bases"][b].split("|")))
                or "DM"
                for b in ("dm", "ar")
            }
        self.comma = self.tongue != "en" and self.random.random() < 0.8
        if self.random.random() < 0.6:
            for bag, name in zip(held.bags, self.random.sample(NAMES, len(held.bags)), strict=True):
                bag.name = name
        form = self.random.choice(("Q{0}", "{0}", "25-{0}", "F{0}/25", "2025-{0}", "A{0}-H", "{0}"))
        for bag in held.bags:
            bag.number = form.format(int(bag.number[1:]))
        self.grid = Grid()
        self.told = False

    def head(self, name: str) -> str:
        if self.tongue != "en":
            return self.random.choice(self.words[name].split("|"))
        return self.random.choice({"id": IDS, "lab": NUMBERS, "sampled": DAYS}[name])

    def other(self, one: Analyte, bag: int = 0, by: float = 0.15) -> str:
        """Return a number that is like a result and none."""
        text = one.printed(self.content.bags[bag].forage, self.content.bases[0])
        return f"{float(text) * self.random.uniform(1 - by, 1 + by):.{one.places}f}"

    def tell(self) -> None:
        """Say over the table on what basis its results are."""
        said = self.random.choice(self.words["sentences"][self.content.bases[0]].split("|"))
        self.grid.line(self.words["told"].format(b=said))
        self.told = True

    def one_basis(self, at: tuple[str, ...] = ("told", "label")) -> None:
        self.content.bases = self.content.bases[:1]
        if self.random.choice(at) == "told":
            self.tell()

    def label(self, one: Analyte, basis: str, unit: bool = True) -> str:
        """Return the words over or before a value, with its unit, and its basis if not told."""
        own = self.content.basis_of(one, basis)
        inner = one.shown_unit if unit else ""
        if not self.told and own and one.key not in ("dm", "moisture"):
            inner = f"{inner} {self.content.shown_bases[own]}".strip()
        return f"{one.words} ({inner})" if inner else one.words

    def label_plain(self, one: Analyte) -> str:
        return f"{one.words} ({one.shown_unit})" if one.shown_unit else one.words

    def printed(self) -> list[tuple[Analyte, str]]:
        return [
            (one, basis)
            for basis in self.content.bases
            for one in self.content.analytes
            if basis == self.content.bases[0] or self.content.basis_of(one, basis) == basis
        ]

    def own_runs(self, most: int = 4) -> list[str]:
        names = self.random.sample(OWN, self.random.randint(1, most))
        bag = self.random.choice(self.content.bags)
        return [name.format(self.random.choice((bag.number, bag.name))) for name in names]
