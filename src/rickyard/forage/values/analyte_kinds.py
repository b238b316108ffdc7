"""What each value of a laboratory report measures, in which unit and as a share of what.

The one table, ``data/analytes.csv``, that says how a printed value is restated: a concentration
follows the dry matter, an index never does, a share of protein or fiber keeps to its part, and a
nitrogen form becomes protein.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, cast

from rickyard.forage import shipped_rows

#: Protein holds 16 % nitrogen by definition of crude protein.
PROTEIN_PER_NITROGEN: Final = 6.25

Measure: TypeAlias = Literal["percent", "ppm", "energy_density", "count", "none"]


@dataclass(frozen=True, slots=True)
class AnalyteKind:
    """How one analyte is restated.

    ``measure`` is the dimension of its canonical unit: percent, ppm (mg/kg), Mcal/kg, colonies
    per gram, or none for an index. ``part`` names what a value without a basis is a share of;
    ``as_share`` says that it is kept as that share, else as a share of dry matter. ``becomes``
    names the protein that a nitrogen form is turned into. ``poison`` marks what counts as zero when
    it was looked for and not found, and at the limit when a limit is printed.
    """

    name: str
    words: str
    measure: Measure = "percent"
    part: str = ""
    as_share: bool = False
    becomes: str = ""
    poison: bool = False
    never_zero: bool = False


def _kind(row: Mapping[str, str]) -> AnalyteKind:
    return AnalyteKind(
        row["name"],
        row["words"],
        cast(Measure, row["measure"]),
        row["part"],
        bool(row["as_share"]),
        row["becomes"],
        bool(row["poison"]),
        bool(row["never_zero"]),
    )


#: Every analyte by name; dry matter and moisture, which are the basis itself, are not among them.
KINDS: Final[dict[str, AnalyteKind]] = {
    row["name"]: _kind(row) for row in shipped_rows("analytes.csv")
}

#: What laboratories print for "looked for and not found".
NOT_FOUND: Final = frozenset({"nd", "n.d.", "bdl", "not detected", "trace"})
#: What laboratories print for "too numerous to count".
TOO_MANY: Final = "tntc"


def kind_of(name: str) -> AnalyteKind:
    """Return how an analyte is restated; an unknown name is taken for a percentage.

    Parameters
    ----------
    name : str
        The analyte, as in the columns of reports.csv.

    Returns
    -------
    AnalyteKind
        What it measures, in which unit and as a share of what.

    Examples
    --------
    >>> kind_of("cu").measure, kind_of("ndfd48").part, kind_of("adin").becomes
    ('ppm', 'ndf', 'adicp')
    """
    return KINDS.get(name) or AnalyteKind(name, name.upper() if len(name) <= 5 else name)


def word_of(name: str) -> str:
    """Return an analyte in the words of a sentence.

    Parameters
    ----------
    name : str
        The analyte.

    Returns
    -------
    str
        Words for it, without a unit.

    Examples
    --------
    >>> word_of("cp"), word_of("adf"), word_of("dm")
    ('protein', 'ADF', 'dry matter')
    """
    return {"dm": "dry matter", "moisture": "moisture"}.get(name) or kind_of(name).words
