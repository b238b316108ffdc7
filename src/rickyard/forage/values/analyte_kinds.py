"""What each value of a laboratory report measures, in which unit and as a share of what.

The one table that says how a printed value is restated: a concentration follows the dry matter,
an index never does, a share of protein or fiber keeps to its part, and a nitrogen form becomes
protein.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

#: Protein holds 16 % nitrogen by definition of crude protein.
PROTEIN_PER_NITROGEN: Final = 6.25

Measure: TypeAlias = Literal["percent", "ppm", "energy_density", "count", "none"]


@dataclass(frozen=True, slots=True)
class AnalyteKind:
    """How one analyte is restated.

    ``measure`` is the dimension of its canonical unit: percent, ppm (mg/kg), Mcal/kg, colonies
    per gram, or none for an index. ``part`` names what a value without a basis is a share of;
    ``as_share`` says that it is kept as that share, else as a share of dry matter. ``becomes``
    and ``factor`` turn a nitrogen form into protein. ``poison`` marks what counts as zero when
    it was looked for and not found, and at the limit when a limit is printed.
    """

    name: str
    words: str
    measure: Measure = "percent"
    part: str = ""
    as_share: bool = False
    becomes: str = ""
    factor: float = 1.0
    poison: bool = False
    never_zero: bool = False


def _of_cp(name: str, words: str, as_share: bool = False) -> AnalyteKind:
    return AnalyteKind(name, words, part="cp", as_share=as_share)


def _of_ndf(name: str, words: str, as_share: bool = False) -> AnalyteKind:
    return AnalyteKind(name, words, part="ndf", as_share=as_share)


def _nitrogen(name: str, words: str, becomes: str) -> AnalyteKind:
    part = "" if becomes == "cp" else "cp"
    return AnalyteKind(name, words, part=part, becomes=becomes, factor=PROTEIN_PER_NITROGEN)


def _poison(name: str, words: str) -> AnalyteKind:
    return AnalyteKind(name, words, "ppm", poison=True)


_TABLE: Final = (
    AnalyteKind("cp", "protein", never_zero=True),
    _nitrogen("n", "nitrogen", "cp"),
    _of_cp("adicp", "bound protein (ADICP)"),
    _of_cp("ndicp", "protein in the fiber (NDICP)"),
    _nitrogen("adin", "nitrogen in ADF", "adicp"),
    _nitrogen("ndin", "nitrogen in NDF", "ndicp"),
    _of_cp("soluble_cp", "soluble protein", as_share=True),
    _of_cp("rdp", "degradable protein", as_share=True),
    _of_cp("rup", "undegradable protein", as_share=True),
    AnalyteKind("adjusted_cp", "adjusted protein"),
    AnalyteKind("adf", "ADF", never_zero=True),
    AnalyteKind("ndf", "NDF", never_zero=True),
    AnalyteKind("ndfom", "NDF free of ash"),
    _of_ndf("lignin", "lignin"),
    _of_ndf("ndfd24", "fiber digested in 24 hours", as_share=True),
    _of_ndf("ndfd30", "fiber digested in 30 hours", as_share=True),
    _of_ndf("ndfd48", "fiber digested in 48 hours", as_share=True),
    _of_ndf("ndfd240", "fiber digested in 240 hours", as_share=True),
    _of_ndf("undf240", "fiber undigested after 240 hours"),
    AnalyteKind("ee", "fat"),
    AnalyteKind("tfa", "fatty acids"),
    AnalyteKind("ash", "ash"),
    AnalyteKind("starch", "starch"),
    AnalyteKind("wsc", "water-soluble carbohydrate"),
    AnalyteKind("esc", "ethanol-soluble carbohydrate"),
    AnalyteKind("nsc", "non-structural carbohydrate"),
    AnalyteKind("nfc", "non-fiber carbohydrate"),
    AnalyteKind("tdn", "TDN", never_zero=True),
    AnalyteKind("nem", "net energy for maintenance", "energy_density"),
    AnalyteKind("neg", "net energy for gain", "energy_density"),
    AnalyteKind("nel", "net energy for lactation", "energy_density"),
    AnalyteKind("de", "digestible energy", "energy_density"),
    AnalyteKind("me", "metabolizable energy", "energy_density"),
    AnalyteKind("rfv", "relative feed value", "none"),
    AnalyteKind("rfq", "relative forage quality", "none"),
    AnalyteKind("ca_p_ratio", "calcium to phosphorus", "none"),
    AnalyteKind("tetany_ratio", "tetany ratio", "none"),
    AnalyteKind("ca", "calcium", never_zero=True),
    AnalyteKind("p", "phosphorus", never_zero=True),
    AnalyteKind("mg", "magnesium"),
    AnalyteKind("k", "potassium"),
    AnalyteKind("s", "sulfur"),
    AnalyteKind("na", "sodium"),
    AnalyteKind("cl", "chlorine"),
    AnalyteKind("fe", "iron", "ppm"),
    AnalyteKind("mn", "manganese", "ppm"),
    AnalyteKind("zn", "zinc", "ppm"),
    AnalyteKind("cu", "copper", "ppm"),
    AnalyteKind("mo", "molybdenum", "ppm"),
    AnalyteKind("co", "cobalt", "ppm"),
    AnalyteKind("se", "selenium", "ppm"),
    _poison("nitrate_no3n", "nitrate-nitrogen (NO3-N)"),
    _poison("nitrate_no3", "nitrate (NO3)"),
    _poison("nitrate_kno3", "potassium nitrate (KNO3)"),
    _poison("nitrate", "nitrate of a form not given"),
    _poison("hcn", "prussic acid"),
    _poison("ergovaline", "ergovaline"),
    _poison("lolitrem_b", "lolitrem B"),
    _poison("aflatoxin", "aflatoxin"),
    _poison("fumonisin", "fumonisin"),
    _poison("don", "vomitoxin (DON)"),
    _poison("zearalenone", "zearalenone"),
    _poison("ochratoxin", "ochratoxin A"),
    _poison("t2", "T-2 toxin"),
    AnalyteKind("mold", "mold count", "count", poison=True),
    AnalyteKind("yeast", "yeast count", "count", poison=True),
    AnalyteKind("ph", "pH", "none"),
    AnalyteKind("lactic", "lactic acid"),
    AnalyteKind("acetic", "acetic acid"),
    AnalyteKind("propionic", "propionic acid"),
    AnalyteKind("butyric", "butyric acid"),
    AnalyteKind("ethanol", "ethanol"),
    _of_cp("ammonia", "ammonia", as_share=True),
)

#: Every analyte by name; dry matter and moisture, which are the basis itself, are not among them.
KINDS: Final[dict[str, AnalyteKind]] = {kind.name: kind for kind in _TABLE}

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
