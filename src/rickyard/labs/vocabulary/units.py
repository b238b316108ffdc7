"""Units and bases as laboratories write them, found inside longer texts.

A unit that the farm folder does not take for an analyte is converted exactly, by definition of
the unit; a basis other than dry matter or as received (90 % dry matter, air dry) is named so
that it can be asked about.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.vocabulary.bases_abroad import DRY_ABROAD, RECEIVED_ABROAD, basis_abroad
from rickyard.labs.vocabulary.texts import in_english_alone, plain, unaccented

#: The basis of a value that is neither dry matter nor as received.
OTHER_BASIS: Final = "other"

_PER: Final = r"\s*(?:/|\b(?:per|je|pro|par|por|pr\.?|na)\b|\bin (?:a|one)\b)\s*"
_KG: Final = r"(?:kg|kilograms?|kilos?)"
_LB: Final = r"(?:lbs?\.?|pounds?|#)"
# Longest and most telling first; the first that is found counts.
_UNITS: Final[tuple[tuple[str, re.Pattern[str]], ...]] = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("mcal_per_cwt", rf"mcals?{_PER}(?:cwt|100\s*{_LB}|hundredweight)|mcal ?cwt(?:-1|\b)"),
        ("mcal_per_lb", rf"(?:mcals?|megacalories?){_PER}{_LB}(?!\w)|mcal ?lb(?:-1|\b)|mcal\.?/lb|"
         r"mc/lb"),
        ("mcal_per_kg", rf"(?:mcals?|megacalories?){_PER}{_KG}|mcal ?kg(?:-1|\b)"),
        ("kcal_per_lb", rf"kcals?{_PER}{_LB}(?!\w)"),
        ("kcal_per_kg", rf"kcals?{_PER}{_KG}|kcal kg(?:-1|\b)"),
        ("mj_per_kg", rf"(?:mj|megajoules?){_PER}{_KG}|mj kg(?:-1|\b)"),
        ("kj_per_kg", rf"(?:kj|kilojoules?){_PER}{_KG}|kj kg-1"),
        ("log_cfu_per_g", rf"log(?:10)?\s*(?:\()?\s*(?:cfu|colonies){_PER}g(?:ram)?"),
        ("cfu_per_g", rf"(?:cfus?|colon(?:y|ies)(?: forming units)?|c\.f\.u\.){_PER}g(?:rams?)?"
         r"(?!\w)|cfu g-1"),
        ("ppb", rf"\bppb\b|(?:u|mc)g{_PER}{_KG}|\bng{_PER}g\b|"
         r"parts per billion|[um]*cg kg-1|ug kg-1"),
        ("ppm", rf"\bppm\b|\bmg{_PER}{_KG}|\bmg kg(?:-1|\b)|(?:u|mc)g{_PER}g\b|"
         r"parts per million|p\.p\.m\."),
        ("mg_per_100g", rf"\bmg{_PER}100\s*g"),
        ("mg_per_lb", rf"\bmg{_PER}{_LB}(?!\w)"),
        ("g_per_lb", rf"\bg(?:rams?)?{_PER}{_LB}(?!\w)"),
        ("g_per_kg", rf"\bg(?:rams?)?{_PER}{_KG}|\bg kg(?:-1|\b)|‰"),
        ("pct", rf"%|\bpercent\b|\bpct\b|\bperc\b|\bprc\b|"
         rf"\bprozent\b|\bpourcent\b|\bpor ?ciento\b|\bper cent\b|\bg{_PER}100\s*g|\bpercentage\b"),
    )
)  # fmt: skip

#: Units of which a basis may have taken the kilogram: "g per kg product", and what is left of them.
_OF_KILOGRAM: Final = {
    name: re.compile(rf"\b{left}\b")
    for name, left in (
        ("g_per_kg", "g"), ("ppm", "mg"), ("mj_per_kg", "mj"), ("mcal_per_kg", "mcal")
    )
}  # fmt: skip

#: Words behind "dry", "wet" or "fresh" with which they name stock, land or a stack, and no basis.
_NAMED: Final = (
    r"(?!\s+(?:cows?|heifers?|ewes?|mares?|stock|lots?|lands?|creek|fork|gulch|lake|run|wash|hill|"
    r"field|meadow|bottoms?|corner|end|spot|side|bales?|rounds?|squares?|pasture|stack|rick|barn|"
    r"shed|year|spell|summer|weather|cut|cuts?|valley|slough|pond|ditch|strip|patch|ridge|bench|"
    r"flat|block|piece|place|forty|eighty|paddock|herd|group|pen|pile|pit|bag|mow|loft)\b)"
)
_DRY: Final = re.compile(
    r"(?:\b100\s*%?\s*(?:of\s*)?)?(?:\bdry[- ]?matter(?:[- ]basis)?\b|"
    r"\bdry[- ]?(?:basis|wt\.?|weight)\b|\bd\.?\s?m\.?\s?(?:basis|b\.?)?(?![a-z])|\bdmb?\b|"
    r"\boven[- ]dr(?:y|ied)\b|(?:(?<=[%g])|(?<=[%g] ))s/\s?(?:ms|sec[oa]?)\b|"
    r"\btrocken(?:masse|substanz)\b|(?:\b(?:per|pr\.?|pro|je|par|por) kg )?"
    r"(?:(?<=[%g/])|(?<=[%gelra/] )|(?<=der ))(?:t[ms]|ms|ds)\b|"
    r"\bmati[eè]re s[eè]che\b|"
    r"\b(?:sur|en|base) sec\b|\bbase s[eè]che\b|\b(?:(?:e[nm] )?base|materia|sustancia) seca\b|"
    r"\b(?:zero|nil|0 ?%)[- ](?:moisture|water)\b(?: basis)?|"
    r"\bmoisture[- ]free\b|\bwater[- ]free\b|\banhydr\w*(?: basis)?\b|\bsul secco\b|"
    rf"\bd\.?\s?b\.?(?![a-z])|\bdry\b{_NAMED})"
)
_RECEIVED: Final = re.compile(
    r"\bas[- ]?(?:received|rec'?v?'?d?\.?|recvd|fed|is|samp(?:led|\.)?|sent|delivered|submitted|"
    r"analy[sz]ed(?! by)|tested|found|weighed|shipped|served|"
    r"(?:it|they) (?:came|reached|arrived|got)(?: (?:in|us|here|to us))*|"
    r"it (?:is|was)(?: sent)?|got|we got it|brought(?: in)?|taken|cored|baled)"
    r"(?:[- ]basis)?(?![a-z])|\ba\.?\s?r\.?(?![a-z])|"
    r"\ba\.?\s?f\.?(?![a-z]|\s+t(?:s|.rstof))|\bas[br]\b|"
    rf"\bfresh(?:[- ](?:matter|weight|basis|wt))?\b{_NAMED}|"
    r"\bf\.?[mw]\.?(?![a-z])|"
    r"\bwet[- ](?:basis|weight|matter)\b|"
    rf"\bwet\b(?![- ]?chem|[- ](?:methods?|lab|tests?|run|analys[ei]s|work)\b){_NAMED}|"
    r"\breceived(?= basis)|"
    r"\boriginal (?:matter|substance|basis)\b|\bfrisch(?:masse|substanz)\b|\boriginalsubstanz\b|"
    r"\btel(?:le)?s? que(?:l|lle)?s?(?: (?:re[cç]ue?s?|servie?s?|analys[eé]e?s?))?\b|"
    r"(?:\b(?:sur|en|base) |(?<=% )(?:du )?)(?:frais|brut)\b|"
    r"(?<=% )(?:do|du|del|van het|des) (?:produto|produit|producto|product|produkts?)\b|"
    r"(?<=/kg )(?:vers |produit |de )?(?:product|produit|producto|produto|produkt|frais|brut)\b|"
    r"\ba\.\s?s\.(?![a-z])|\bbase (?:fra[iî]che|humide|fresca)\b|"
    r"\bmati[eè]re (?:fra[iî]che|brute)\b|\b(?:e[nm] )?base h[uú]m(?:ed|id)a\b|"
    r"\bmateria (?:fresca|verde)\b|"
    r"\btal (?:como (?:se )?(?:recib\w*|ofrec\w*)|cual|quale)\b|\bim original\b|"
    r"\b(?:im )?anlieferungszustand\b|"
    r"(?:(?<=[%g/])|(?<=[%gelra/] )|(?<=der ))(?:mf|fs|os)\b"
)
_ELSE: Final = re.compile(
    r"\b(?:8\d|9[0-5])(?:\.0)?\s*%\s*(?:dm|d\.m\.|dry[- ]?matter|dry)\b|"
    r"\bair[- ]?dr(?:y|ied)\b|\b(?:at\s*)?\d\d?(?:\.\d+)?\s*%\s*(?:moisture|water)\b|"
    r"\b(?:at\s*)?\d\d?(?:\.\d+)?\s*%\s*h2o\b"
)
#: "Put up at 14 % moisture" tells how hay was handled, and no basis.
_HANDLED: Final = re.compile(
    r"\b(?:put up|bal(?:ed|ing)|stor(?:ed|age)|harvest\w*|mowed|raked|stacked|heated|delivered|"
    r"dried down|chopped|wrapped)\b"
)
_PART: Final = re.compile(
    r"(?:%|percent|pct)\s*(?:(?:of|de la|de|da|do)\s*)?(?:the\s*|total\s*)?"
    r"(a?ndf(?:om)?|fdn|cp|pb|crude protein|prot[eé]ine brute|prote[ií]na bruta|protein|nitrogen|"
    r"n)(?!\w)"
)
#: The same in a column of its own, without the sign.
_OF_PART: Final = re.compile(
    r"(?:as a )?(?:part |share |portion )?of (?:the )?(?:total )?"
    r"(a?ndf(?:om)?|cp|crude protein|protein|nitrogen|n)"
)
_PART_WORDS: Final = {
    "crude protein": "cp", "protein": "cp", "nitrogen": "n", "andf": "ndf", "fdn": "ndf",
    "pb": "cp", "protéine brute": "cp", "proteine brute": "cp", "proteína bruta": "cp",
    "proteina bruta": "cp",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Written:
    """Unit and basis found in a text, and the text without them."""

    unit: str
    basis: str
    rest: str


_GLUED_UNIT: Final = r"%|pct|perc|ppm|ppb|m?g/?kg|mcal/?lb|mcal/?kg|mj/?kg|kcal/?kg|g/?100g"
#: "pctDM", "g/kgTM", "%asfed", "100dm": unit and basis written as one word, as names of columns.
_GLUED: Final = re.compile(
    rf"(?<![a-z])(?P<unit>{_GLUED_UNIT}|100(?=dm))"
    r"(?P<basis>dmb?|db|ar|af|fm|fw|tm|ts|ms|a?ndf|cp|dry|wet|fresh|"
    r"as(?:fed|is|rec|received|sampled))(?![a-z])"
)
#: "mgkg", "Mcallb": a unit without its stroke.
_NO_STROKE: Final = re.compile(r"(?<![a-z])(m?g|mcal|mj|kcal)(kg|lb)(?![a-z])")


def _parted(shown: str) -> str:
    """Return a text with units and bases apart that are written as one word."""
    apart = _GLUED.sub(r"\g<unit> \g<basis>", shown)
    return _NO_STROKE.sub(r"\1/\2", apart)


#: "Order AF60", "DM-1204": the number of an order or a sample, and no basis.
_CODE: Final = re.compile(r"\b(?:af|ar|dm|db|fm|fw)-?(?!100\b)\d[\d/-]*\b")


#: "82.4 g/kg (MS)", "7.1 %, TM": a short basis abroad, apart from its unit.
_BASIS_APART: Final = re.compile(
    r"(%|pct|ppm|g ?/ ?kg|mj ?/ ?kg|mcal ?/ ?(?:kg|lb))(?: ?[(\[]|, )"
    r"(t\.?m|t\.?s|m\.?s|d\.?s|s\.?s|f\.?m)\.?(?:[)\]]|$)"
)


@lru_cache(maxsize=65536)
def written_in(text: str, keep_basis: bool = False) -> Written:
    """Find the unit and the basis in a text.

    Parameters
    ----------
    text : str
        A heading, a label or what stands behind a number.
    keep_basis : bool
        Whether words of a basis stay in the rest.

    Returns
    -------
    Written
        Unit and basis, empty where none is written, and what is left.

    Examples
    --------
    >>> written_in("Crude protein (% DM)")
    Written(unit='pct', basis='dm', rest='crude protein')
    >>> written_in("NDFD 48 h, % of NDF")
    Written(unit='pct', basis='ndf', rest='ndfd 48 h')
    """
    text = in_english_alone(text)
    shown = _parted(_CODE.sub(" ", plain(text).replace("_", " ")))
    shown = _BASIS_APART.sub(r"\1 \2", shown)
    part = _PART.search(shown) or _OF_PART.fullmatch(shown)
    if part:
        basis = _PART_WORDS.get(part[1], part[1])
        share = "ndf" if basis.startswith("ndf") else basis
        unit = "pct" if part.re is _PART else ""
        return Written(unit, share, _tidy(_cut(shown, part)))
    basis, shown_left = _basis(shown)
    unit, rest = _unit(shown if keep_basis else shown_left)
    if basis and not unit and (whole := _unit(shown)[0]) in _OF_KILOGRAM:
        unit, rest = whole, _OF_KILOGRAM[whole].sub(" ", rest)  # "g per kg product"
    return Written(unit, basis, _tidy(rest))


def basis_in(text: str) -> str:
    """Return the basis that a sentence names, whatever shares it speaks of.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    str
        ``dm``, ``ar`` or a part such as ``ndf``; empty where it names none.

    Examples
    --------
    >>> basis_in("42.9 % NDF on a dry matter basis")
    'dm'
    """
    return _basis(plain(text))[0]


#: A word that is a basis, and a word of names too: "Dry hay, Tunnel field", "Wet corner".
_BARE_WORD: Final = re.compile(r"\b(?:dry|wet|fresh)\b(?![- ](?:matter|basis|weight|wt))")
_STATED: Final = re.compile(
    r"\b(?:basis|results?|values?|analys[ei]s|figures?|numbers?|all|percent|part|of|on|is|are)\b|%"
)


def basis_of_title(text: str) -> str:
    """Return the basis that a title names; not where the word may be part of a name.

    Parameters
    ----------
    text : str
        The title.

    Returns
    -------
    str
        As ``basis_in`` says; empty where only "dry" or "wet" stands among words of a name.

    Examples
    --------
    >>> basis_of_title("Dry hay, Tunnel field"), basis_of_title("Minerals on dry basis")
    ('', 'dm')
    """
    basis = basis_in(text)
    shown = plain(text)
    if basis not in ("dm", "ar") or basis_in(_BARE_WORD.sub(" ", shown)) or is_only_unit(text):
        return basis
    words = re.findall(r"[^\W\d_]{3,}", _STATED.sub(" ", _BARE_WORD.sub(" ", shown)))
    return basis if len(words) <= 1 else ""


#: Both bases in one breath, such as "As received / dry matter": what stands between them.
_BETWEEN_BASES: Final = re.compile(
    r"[\s%()\[\]]*(?:basis)?[\s()\[\]]*"
    r"(?:(?:first|the first|first,? then|in front|before|outside|to the left|on the left)[\s,;]*)?"
    r"(?:/|\||;|,|-|=|and|or|over|then|with|followed by|before|\()?\s*"
    r"(?:(?:and|with|then|second|followed by|the|its|value|values|figure|figures|number|numbers|"
    r"on|of|in|inside|brackets|parentheses|are|is|for|to)\b[\s,:]*)*[\s%()\[\]:]*"
)
#: "Dry matter in brackets behind the value as received": what stands in brackets comes second.
_IN_BRACKETS: Final = re.compile(
    r"\b(?:in|within|inside)\s+(?:the\s+|round\s+|square\s+)?(?:brackets?|parenthes[ei]s|parens)\b"
)


#: "Dry matter (as received), %", "Dry matter, as fed": an analyte and its basis.
_WATER_LABEL: Final = re.compile(
    r"(?:dry[- ]matter|dm)\s*(?:%\s*)?[(,:-]\s*[^()]{2,30}\)?[\s,:]*(?:\(?%\)?|percent)?"
)


def both_bases(text: str) -> tuple[str, str] | None:
    """Return which basis a text names first, where it names both in one breath.

    Parameters
    ----------
    text : str
        The text of a heading.

    Returns
    -------
    tuple of str, or None
        ``dm`` and ``ar`` in the order of the text.

    Examples
    --------
    >>> both_bases("Each cell: as received / dry matter"), both_bases("% DM (% as fed)")
    (('ar', 'dm'), ('dm', 'ar'))
    >>> both_bases("Dry matter (as received)")
    """
    shown = re.sub(r"^(?:dry[- ]matter|dm)(?: content)?(?=\s+as\b)", "", plain(text))
    received = _RECEIVED.search(shown)
    if received is None:
        return None
    left = shown[: received.start()] + " " * (received.end() - received.start())
    left += shown[received.end() :]
    dry = _DRY.search(left)
    if dry is None or _WATER_LABEL.fullmatch(shown):
        return None
    first, second = sorted((received.span(), dry.span()))
    inside = _IN_BRACKETS.search(shown)
    if inside is not None:
        return _inside_second(shown, inside)
    if not _BETWEEN_BASES.fullmatch(shown[first[1] : second[0]]):
        return None
    return ("ar", "dm") if received.start() < dry.start() else ("dm", "ar")


def _inside_second(shown: str, inside: re.Match[str]) -> tuple[str, str] | None:
    """Return both bases in order where a text says which of them stands in brackets."""
    start = max(shown.rfind(sign, 0, inside.start()) for sign in ".;,(") + 1
    end = min((at for sign in ".;,)" if (at := shown.find(sign, inside.end())) > 0), default=None)
    clause = shown[start:end]
    basis = _basis(clause)[0] or _basis(shown[start : inside.start()])[0]
    return {"dm": ("ar", "dm"), "ar": ("dm", "ar")}.get(basis)


def without_received(text: str) -> str:
    """Return a text without the words for as received.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    str
        The text; as it was where it does not speak of dry matter.

    Examples
    --------
    >>> without_received("Dry matter (as received)")
    'dry matter ( )'
    """
    shown = plain(text)
    if _DRY.search(shown):
        return _RECEIVED.sub(" ", shown)
    bare = unaccented(text)
    if DRY_ABROAD.search(bare):
        return RECEIVED_ABROAD.sub(" ", _RECEIVED.sub(" ", bare))
    return text


#: Dry matter in German and French, alone in a column of bases.
_SHORT_DRY: Final = re.compile(r"(?:in |i\.? ?d\.? ?|/ ?)?(?:t[ms]|ms|ds|ss)\.?")


#: "Dried", "Sec", "Frais %": words that are a basis where nothing but a unit stands with them.
_ALONE: Final = re.compile(
    r"%?\s*[(]?(?P<word>(?P<dry>dried|sec|s[eè]che|seco|seca|secco|trocken|[aà] sec|en seco|"
    r"au sec)|"
    r"frais|fra[iî]che|humide|h[uú]medo|h[uú]meda|fresco|frisch|undried)[)]?\s*%?"
)


def _basis(shown: str) -> tuple[str, str]:
    if _SHORT_DRY.fullmatch(shown):
        return "dm", ""
    alone = _ALONE.fullmatch(shown)
    if alone:
        return ("dm" if alone["dry"] else "ar"), shown.replace(alone["word"], " ")
    other = _ELSE.search(shown)
    if other and not _HANDLED.search(shown):
        return OTHER_BASIS, _cut(shown, other)
    dry, received = _DRY.search(shown), _RECEIVED.search(shown)
    if dry and received:
        return "", shown
    found = dry or received
    if found is None:
        return basis_abroad(shown) or ("", shown)
    pattern = _DRY if dry else _RECEIVED
    return ("dm" if dry else "ar"), pattern.sub(" ", shown)


def _unit(shown: str) -> tuple[str, str]:
    for name, pattern in _UNITS:
        found = pattern.search(shown)
        if found:
            return name, _cut(shown, found)
    return "", shown


def _cut(shown: str, found: re.Match[str]) -> str:
    return shown[: found.start()] + " " + shown[found.end() :]


#: Words that are left over where a basis is taken out of a text.
_LEFT_OVER: Final = (
    r"(?:of|on|in|at|an?|the|basis|bezogen|auf|der|die|im|sur|su|sulla|sul|sobre|en|em|na|de|la|le|"
    r"het|op|af|av|je|par|per|pr\.?|i|w|til|ref\.?|exprime|rapporte)"
)
_EMPTY_BRACKETS: Final = re.compile(rf"[(\[](?:\s|[,/-]|\b{_LEFT_OVER}(?!\w))*[)\]]")
_AT_ENDS: Final = re.compile(rf"(?:[\s,;:/(\[=-]+\b{_LEFT_OVER})+\s*$|[\s,;:/(\[=-]+$|^[\s,;:/=-]+")


def _tidy(rest: str) -> str:
    rest = _EMPTY_BRACKETS.sub(" ", rest)
    rest = _AT_ENDS.sub("", rest)
    return " ".join(rest.split())


def is_only_unit(text: str) -> bool:
    """Return whether a text is nothing but a unit and perhaps a basis.

    Parameters
    ----------
    text : str
        The text of a cell.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_only_unit("mg/kg DM"), is_only_unit("Moisture %")
    (True, False)
    """
    found = written_in(text)
    return bool(found.unit or found.basis) and not _more_than_unit(found.rest)


def is_only_basis(text: str) -> bool:
    """Return whether a text is nothing but a basis.

    Parameters
    ----------
    text : str
        The text of a cell.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_only_basis("As Received"), is_only_basis("% DM"), is_only_basis("DRY MATTER BASIS")
    (True, False, True)
    """
    found = written_in(text)
    return bool(found.basis) and not found.unit and not _more_than_unit(found.rest)


def _more_than_unit(rest: str) -> str:
    """Return what is left of a text beyond its unit and words such as "results on"."""
    words = (
        r"\b(?:on|of|in|the|basis|results?|values?|units?|a|an|is|all|100|samples?|material|"
        r"base|sur|la|le|der|die|im|sulla)\b|[^a-z0-9]"
    )
    return re.sub(words, "", rest)


#: What a unit that is not in the vocabulary becomes: the unit, and what to multiply by. All by
#: definition of the units.
_BECOMES: Final[dict[tuple[str, str], float]] = {
    ("g_per_kg", "pct"): 0.1,
    ("g_per_kg", "ppm"): 1000.0,
    ("ppm", "pct"): 1e-4,
    ("ppb", "ppm"): 1e-3,
    ("ppb", "pct"): 1e-7,
    ("pct", "ppm"): 1e4,
    ("ppm", "ppb"): 1e3,
    ("mg_per_100g", "ppm"): 10.0,
    ("mg_per_100g", "pct"): 1e-3,
    ("g_per_lb", "pct"): 0.1 / 0.45359237,
    ("g_per_lb", "ppm"): 1000.0 / 0.45359237,
    ("mg_per_lb", "ppm"): 1.0 / 0.45359237,
    ("mg_per_lb", "pct"): 1e-4 / 0.45359237,
    ("mcal_per_cwt", "mcal_per_lb"): 0.01,
    ("kcal_per_lb", "mcal_per_lb"): 1e-3,
    ("kcal_per_kg", "mcal_per_kg"): 1e-3,
    ("kj_per_kg", "mj_per_kg"): 1e-3,
}


def in_vocabulary(analyte: str, unit: str) -> tuple[str, float] | None:
    """Return the unit that the farm folder takes, and the factor to it; ``None`` if none fits.

    Parameters
    ----------
    analyte : str
        The key of the analyte.
    unit : str
        The unit as printed, by its name; empty where there is none.

    Returns
    -------
    tuple of str and float, or None
        The unit, and what a value is multiplied by. [-]

    Examples
    --------
    >>> in_vocabulary("dm", "g_per_kg"), in_vocabulary("ca", "g_per_kg"), in_vocabulary("rfv", "")
    (('pct', 0.1), ('g_per_kg', 1.0), ('', 1.0))
    >>> in_vocabulary("nem", "pct") is None
    True
    """
    units = ANALYTE_SPECS[analyte].units
    if not units:
        return ("", 1.0)
    if unit in units:
        return (unit, 1.0)
    return next(
        ((to, factor) for (start, to), factor in _BECOMES.items() if start == unit and to in units),
        None,
    )
