"""What a printed label means: an analyte, with the unit and the basis that stand with it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from rickyard.farm import Basis
from rickyard.folder.tables import HEADERS
from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.vocabulary.texts import (
    distance,
    in_english_alone,
    plain,
    tokens,
    without_marks,
)
from rickyard.labs.vocabulary.thesaurus import (
    canonical,
    every_word,
    index,
    key_of,
    long_words,
    pieces,
    run_together,
    without_fillers,
)
from rickyard.labs.vocabulary.units import without_received, written_in

#: A label longer than this is a sentence.
LONGEST_LABEL = 70

#: "N-201", "K-118": a number of the laboratory, and no nitrogen or potassium; "(B)": a mark.
_NO_LABEL: Final = re.compile(r"[A-Za-z]{1,2}-\d{2,}\w*|[(\[]\w[)\]]")
#: Where a word begins within another: "CrudeProteinPct", "NDFPct".
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z]{2}|As[A-Z])")
#: Brackets that say how a value was got, or of what.
_ONLY_HOW: Final = re.compile(
    r"\d{1,2}|[a-z]|adf|adf eq.*|est.*|calc.*|n ?x ?6[.,]25|from .*|by .*|equation.*|method.*|"
    r"total|summative.*|adl|lda|lab|icp.*|nir.*|wet.*|amylase|index|bypass|cattle|beef|ruminants?|"
    r"kjeldahl|dumas|combustion|oven|\d+ ?°? ?c|sulfuric.*|enzymatic|weiss|oardc|"
    r"forage|hay|with .*|.* method|3x|1x"
)


#: "ME, ruminants": for which stock; it is these that energies are told for.
_OF_CATTLE: Final = re.compile(r"[,;:-]\s*(?:for )?(?:ruminants?|cattle|beef|cows?)$")


#: A name and the same in another language, which need not be known.
_TWO_LANGUAGES: Final = re.compile(
    r"(?!.*\b(?:ratio|rate|index|kd|per|digest\w*|to|of|minus|free|bound|adj\w*|avail\w*)\b)"
    r"[^/|]{1,40}\s[/|]\s[^/|\d]{1,40}"
)


#: Short names in other languages that are words or parts of names here.
_SHORT_FOREIGN: Final = {
    "mat": "cp", "ms": "dm", "tm": "dm", "ts": "dm", "ds": "dm", "ss": "dm",
    "s.m.": "dm", "s.m": "dm",
}  # fmt: skip
#: "MS/DM": short in two languages.
_TWO_SHORT: Final = re.compile(r"(?!.*/(?:lb|ton|day|cow|ha|kg)$)([a-z]{2,3})/([a-z]{2,3})")
#: "Dry matter basis (as received)" names both bases, and no analyte.
_DRY_BASIS: Final = re.compile(r"\b(?:dry[- ]?matter|dry|dm) basis\b")
_AMMONIA: Final = re.compile(r"(?:ammonia|ammoniacal|nh3)[- ]?(?:n|nitrogen)?")
#: Short for dry matter in German and French, but only with a unit.
_SHORT_DRY: Final = re.compile(
    r"(?:t[ms]|ms|ds|ss|s\.m\.)\s*[,(\[]?\s*(?P<unit>%|g/kg)"
    r"(?:\s*(?:de )?(?:brut|produit brut|mb|f[ms]))?[)\]]?"
)


@dataclass(frozen=True, slots=True)
class Label:
    """A label understood.

    ``candidates`` are the analytes it may name: one where it is clear, none where it names
    something that the farm folder has no place for. ``misspelled`` is the distance to the
    nearest spelling. ``maybe_basis`` marks "Dry matter", which is an analyte or a basis.
    ``form`` is the oxide as which a mineral is printed, and ``unclear`` what stands behind its
    unit and is not understood.
    """

    candidates: tuple[str, ...]
    unit: str = ""
    basis: str = ""
    misspelled: int = 0
    maybe_basis: bool = False
    form: str = field(default="", repr=False)
    unclear: str = field(default="", repr=False)

    @property
    def ours(self) -> bool:
        """Return whether it names an analyte of the farm folder."""
        return bool(self.candidates)


#: "na MS": on dry matter, in Portuguese and Polish; sodium is written "Na".
_ON_DRY: Final = re.compile(r"na (?:M\.?S|m\.?s|M\.?F|m\.?f|s\.?m|S\.?M)\.?")


@lru_cache(maxsize=65536)
def label_of(text: str) -> Label | None:
    """Return what a label names, or ``None`` if it names no analyte.

    Examples
    --------
    >>> label_of("NEm (Mcal/lb DM)")
    Label(candidates=('nem',), unit='mcal_per_lb', basis='dm', misspelled=0, maybe_basis=False)
    >>> label_of("Protien, crude").candidates, label_of("Crude fiber").candidates
    (('cp',), ())
    >>> label_of("Creek bottom") is None
    True
    """
    text = in_english_alone(text)
    if text.lstrip()[:1] == "/" or _ON_DRY.fullmatch(text.strip()) or _OF_TEST.fullmatch(text):
        return None  # "/MS" is a basis, with its unit before the stroke
    noted = _NOTED.fullmatch(text)
    bare = label_of(noted["of"]) if noted else None
    if bare is not None and bare.ours:
        return bare  # "DM (%) (b)" has a mark, and no boron
    shown = without_marks(text).replace("_", " ")
    if shown[:2] not in _ENERGY_ABROAD and _is_no_label(shown):
        return None
    header = HEADERS.get(plain(without_marks(text)))
    if header and not header.is_method:
        return _of_header(plain(without_marks(text)))
    short = _SHORT_DRY.fullmatch(plain(shown))
    if short:
        return Label(("dm",), written_in(short["unit"]).unit)
    found = (
        _energy_abroad(shown)
        or _oxide(shown)
        or _of_short_basis(shown)
        or _written(shown)
        or _half_unit(shown)
    )
    if found is None or found.misspelled:
        return _glued(shown) or found or _unclear(shown)
    return found


#: "Kalsium (% af noget)": a name, and in brackets its unit with words behind it.
_UNIT_AND_MORE: Final = re.compile(
    r"(?P<of>[^()\[\]]*\S)\s*[(\[]\s*(?P<unit>%|pct|g ?/ ?kg|mg ?/ ?kg|ppm|m[cC]al ?/ ?(?:kg|lb)|"
    r"[mM][jJ] ?/ ?kg)\s*[,;]?\s+(?P<more>[^()\[\]]{2,24})[)\]]"
)
#: Shares of other things than of the hay: these are no words of a basis.
_OF_OTHER: Final = re.compile(
    r"\b(?:need|required?|requirements?|intake|ration|goal|target|diet|day|head|cow|year|change|"
    r"error|total|recovery|rdi|nrc|of [a-z]+)\b",
    re.IGNORECASE,
)


def _unclear(shown: str) -> Label | None:
    """Return what a label names whose unit is known, and not what is said of it behind that."""
    told = _UNIT_AND_MORE.fullmatch(shown)
    if told is None or _OF_OTHER.search(told["more"]):
        return None
    label = _written(told["of"])
    if label is None or len(label.candidates) != 1 or label.misspelled or label.maybe_basis:
        return None
    return replace(label, unit=written_in(told["unit"]).unit, unclear=told["more"].strip())


#: "DM (%) (b)": a label with the letter of a footnote behind its unit.
_NOTED: Final = re.compile(r"(?P<of>.*[)\]%])\s*[(\[][a-z][)\]]\s*")
#: "P value": of a test of statistics, and no phosphorus.
_OF_TEST: Final = re.compile(r"\s*p[- ]?values?\W*|\s*[PF] ?[<>].*", re.IGNORECASE)
#: "NEg, Mcal": an energy, and the first half of its unit.
_HALF_UNIT: Final = re.compile(r"(?P<of>.*?)[\s,(\[]+(?:mcals?|mj)[.)\]]*", re.IGNORECASE)
_ENERGY: Final = frozenset(["nem", "neg", "nel", "me", "de"])


def _half_unit(shown: str) -> Label | None:
    """Return the energy that a label names before a unit without its second half."""
    told = _HALF_UNIT.fullmatch(shown)
    label = _written(told["of"]) if told else None
    if label is None or label.misspelled or not set(label.candidates) or label.unit:
        return None
    return label if set(label.candidates) <= _ENERGY else None


#: "Kalium (TS)", "Cu [FM]": a name, and a basis abroad in its short form.
_SHORT_BASIS: Final = re.compile(
    r"(?P<of>.*\S)\s*[(\[](?:(?P<dry>t\.?m\.?|t\.?s\.?|m\.?s\.?|d\.?s\.?|s\.?s\.?|s\.?m\.?|ka|"
    r"sz\.?a\.?|s\.?u\.?)|f\.?m\.?|o\.?s\.?|m\.?f\.?|t\.?q\.?|ś\.?m\.?)[)\]]",
    re.IGNORECASE,
)


def _of_short_basis(shown: str) -> Label | None:
    """Return what a name says with a basis behind it in brackets, where it names one analyte."""
    told = _SHORT_BASIS.fullmatch(shown)
    label = _written(told["of"]) if told else None
    if told is None or label is None or not label.ours or label.basis or label.misspelled:
        return None
    if len(label.candidates) > 1 or label.candidates[0] in ("dm", "moisture"):
        return None
    return replace(label, basis="dm" if told["dry"] else "ar")


#: Metabolizable and digestible energy in French and Spanish; "Em" may be the end of "NEm".
_ENERGY_ABROAD: Final[dict[str, str]] = {"EM": "me", "ED": "de"}


def _energy_abroad(shown: str) -> Label | None:
    """Return what a label names that begins with "EM" or "ED" in capitals, and a unit behind it."""
    name = _ENERGY_ABROAD.get(shown[:2])
    if name is None or shown[2:3].isalnum():
        return None
    known = written_in(shown[2:])
    return None if _letters(known.rest) else Label((name,), known.unit, known.basis)


#: A name of a variable has no more parts than these: "AcidDetFiber_pct_DM".
_MOST_GLUED: Final = 3
#: "CPDM", "TDNAF": an abbreviation and its basis in one word.
_GLUED: Final = re.compile(r"(?P<name>[A-Za-z]{2,8}?)(?P<basis>DMB?|DB|A[FR])")
#: With a basis behind them, these are words: "NEAR", "DEAR".
_WORDS_WITH_BASIS: Final = frozenset(["ne", "de", "me", "se", "co", "cl", "don", "fat"])


def _glued(shown: str) -> Label | None:
    """Return what a label without a space names that ends in its basis."""
    if _CAMEL.search(shown) and len(shown.split()) <= _MOST_GLUED:
        apart = label_of(_CAMEL.sub(" ", shown))
        if apart is not None and not apart.misspelled:
            return apart
    told = _GLUED.fullmatch(shown)
    if told is None or told["name"].casefold() in _WORDS_WITH_BASIS:
        return None
    found = index().get(key_of(canonical(told["name"])))
    if not found or len(found) > 1 or "dm" in found:
        return None
    return Label(found, "", "ar" if told["basis"].startswith("A") else "dm")


def _written(shown: str) -> Label | None:
    """Return what the words of a label name, with the unit and the basis among them."""
    bare = written_in(shown)
    found = _lookup(bare.rest)
    received = _received(shown) if found is None and not bare.basis else None
    if received is not None:
        return received
    if found is None and bare.basis not in ("dm", "ar", ""):
        # "% CP", "Percent protein (dry)" head a column of protein: the part is the analyte.
        behind = written_in(bare.rest)
        alone = not any(map(str.isalnum, behind.rest))
        part = _lookup(bare.basis) if alone else None
        if part is not None or not _letters(bare.rest):
            return Label(part[0], bare.unit, behind.basis, 0) if part else None
    if found:
        if not found[0] and bare.basis == "n" and _AMMONIA.fullmatch(bare.rest):
            return Label(("ammonia",), bare.unit, "cp")  # nitrogen of all nitrogen is protein's
        if found == (("dm",), 0) and bare.basis == "cp":
            return Label(("cp",), bare.unit, "dm")  # "pctCP_DM"
        if bare.rest == "pb" and bare.unit in ("pct", "g_per_kg"):
            return Label(("cp",), bare.unit, bare.basis)  # lead is told in parts of a million
        if bare.rest == "mo" and bare.unit in ("pct", "g_per_kg"):
            return Label((), bare.unit, bare.basis)  # organic matter, in Spanish and French
        return Label(found[0], bare.unit, bare.basis, found[1])
    return _with_basis(shown)


def _with_basis(shown: str) -> Label | None:
    """Return what a label names whose words may be those of a basis: "Dry matter, %"."""
    if not written_in(shown).basis:
        return None  # without a basis no word was taken out
    kept = written_in(shown, keep_basis=True)
    found = _lookup(kept.rest)
    maybe = found is not None and found[0] == ("dm",)
    if found is None or (maybe and kept.unit not in ("", "pct", "g_per_kg")):
        return None  # "ppm DM" is a unit
    return Label(found[0], kept.unit, "" if maybe else kept.basis, found[1], maybe)


#: Minerals as fertilizer names them; and the words that may stand beside.
_OXIDES: Final = (
    ("k", "K2O", re.compile(r"\bk2o\b|\bpotash\b|\bpotassium oxide\b")),
    ("p", "P2O5", re.compile(r"\bp2o5\b|\bphosphate\b|\bphosphorus (?:pent)?oxide\b")),
    ("ca", "CaO", re.compile(r"\bcao\b|\bcalcium oxide\b")),
    ("mg", "MgO", re.compile(r"\bmgo\b|\bmagnesium oxide\b")),
)
#: Without one of these no label names an oxide.
_OXIDE: Final = re.compile(r"2o|cao|mgo|oxide|potash|phosphate")
_BESIDE_OXIDE: Final = re.compile(
    r"(?:\b(?:as|k|p|ca|mg|potassium|phosphorus|calcium|magnesium|total|equivalent)\b|[^a-z0-9])*"
)


def _oxide(shown: str) -> Label | None:
    """Return the mineral that a label names as its oxide: "Potassium as K2O, %"."""
    if not _OXIDE.search(plain(shown)):
        return None
    bare = written_in(shown)
    for analyte, form, pattern in _OXIDES:
        rest, often = pattern.subn(" ", bare.rest)
        if often and _BESIDE_OXIDE.fullmatch(rest):
            return Label((analyte,), bare.unit, bare.basis, form=form)
    return None


def _received(shown: str) -> Label | None:
    """Return dry matter or moisture where a label says that it is as received.

    "Dry matter (as received)" holds words of both bases, and one is the analyte.
    """
    if _DRY_BASIS.search(plain(shown)):
        return None
    without = without_received(shown)
    if without == shown:
        return None
    received = written_in(without, keep_basis=True)
    found = _lookup(received.rest)
    if found and found[0] in (("dm",), ("moisture",)):
        return Label(found[0], received.unit, "ar", found[1])
    return None


def _is_no_label(shown: str) -> bool:
    """Return whether a text is seen at a glance to name no analyte: too long, a number, a name."""
    if not shown or len(shown) > LONGEST_LABEL or _NO_LABEL.fullmatch(shown):
        return True
    if _GLUED.fullmatch(shown):
        return False
    return not any(map(_may_name, tokens(_CAMEL.sub(" ", shown))))


@lru_cache(maxsize=65536)
def _may_name(word: str) -> bool:
    """Return whether a word can be one of a label; most names of samples hold none."""
    known = every_word()
    return (
        word in known
        or word.replace("ou", "o") in known
        or in_pieces(word) is not None
        or bool(_mended(word)[1])
    )


def _of_header(name: str) -> Label:
    held = HEADERS[name]
    basis = str(held.basis) if held.basis is not Basis.NONE else held.spec.part
    return Label((held.spec.name,), held.unit, basis)


def _lookup(rest: str) -> tuple[tuple[str, ...], int] | None:
    """Return the candidates of a label without its unit, and how far it is misspelled."""
    rest = rest.replace("_", " ")
    if _TWO_LANGUAGES.fullmatch(rest):
        halves = [_lookup(part) for part in re.split(r"\s[/|]\s", rest)]
        if any(half is not None for half in halves):
            return _of_halves(halves[0], halves[1])
    short = _TWO_SHORT.fullmatch(rest)
    if short:
        both = [_short_name(half) for half in short.groups()]
        if both[0] and both[1]:
            same = both[0] == both[1]
            return (both[0], 0) if same else None
        return (both[0] or both[1], 0) if both[0] or both[1] else None
    inner = re.search(r"[(\[]([^()\[\]]*)[)\]]", rest)
    if inner:
        return _bracketed(rest, inner)
    found = _words(rest)
    if found is None and re.search(r"[,;:/=-]\s", rest + " "):
        parts = [_words(part) for part in re.split(r"[,;:/=]| - ", rest) if part.strip()]
        if len(parts) == 2 and parts[0] and parts[1]:
            return _agreed(parts[0], parts[1])
        if len(parts) == 2 and parts[0] and _OF_CATTLE.search(rest):
            return parts[0]
    return found


def _short_name(half: str) -> tuple[str, ...]:
    """Return what one half of a short name in two languages says, if it is known."""
    if half in _SHORT_FOREIGN:
        return (_SHORT_FOREIGN[half],)
    return index().get(key_of(canonical(half)), ())


#: What stands in brackets where a sentence says that all is in a kilogram of dry matter.
_OF_ONE_KILOGRAM: Final = ("g", "mg", "mj")


def _bracketed(rest: str, inner: re.Match[str]) -> tuple[tuple[str, ...], int] | None:
    """Return the candidates of a label with a bracket in it."""
    outside = _words(rest[: inner.start()] + " " + rest[inner.end() :])
    whole = _words(rest)
    if whole is not None:
        return whole
    inside = _words(inner[1])
    if outside and inside is not None and len(inner[1].strip()) == 1:
        return outside  # "CP (b)" has a mark, and no boron
    if outside and outside[0] and inner[1].strip().casefold() in _OF_ONE_KILOGRAM:
        return outside  # "Zink (mg)" is no magnesium
    if outside == (("n",), 0) and re.search(r"6[.,]25", inner[1]):
        return ("cp",), 0
    if outside and len(outside[0]) == 1 and _ONLY_HOW.fullmatch(plain(inner[1])):
        return outside  # "TDN (ADF)", "NFC (calc.)"
    if outside and inside:
        return _agreed(outside, inside)
    if outside is not None and not outside[0]:
        return outside
    if outside and _harmless(inner[1]):
        return outside
    return inside if inside and not outside and not _letters(rest[: inner.start()]) else None


def _of_halves(
    first: tuple[tuple[str, ...], int] | None, second: tuple[tuple[str, ...], int] | None
) -> tuple[tuple[str, ...], int] | None:
    """Return what a label in two languages names, one of which may be unknown."""
    if first is not None and second is not None:
        return _agreed(first, second)
    known = first or second
    return known if known and known[0] and not known[1] else None


def _agreed(
    first: tuple[tuple[str, ...], int], second: tuple[tuple[str, ...], int]
) -> tuple[tuple[str, ...], int]:
    """Return what two names of one label have in common, or both where they differ."""
    if not first[0] or not second[0]:
        return first if not first[0] else second
    common = tuple(one for one in first[0] if one in second[0])
    if common:
        return common, min(first[1], second[1])
    if (first[0], second[0]) == (("ndf",), ("ndfom",)):
        return second
    if first[0] == ("nitrate",) and second[0][0].startswith("nitrate_"):
        return second
    return tuple(dict.fromkeys((*first[0], *second[0]))), max(first[1], second[1])


def _letters(text: str) -> bool:
    return any(sign.isalpha() for sign in text)


def _harmless(inner: str) -> bool:
    """Return whether a bracket says only how, not what."""
    words = canonical(inner)
    return not without_fillers(words) or bool(_ONLY_HOW.fullmatch(plain(inner)))


#: "Protein with ADF", "CP ADF": two analytes, and no protein that is bound in fiber.
_TWO_ANALYTES: Final = re.compile(
    r"(?!.*\b(?:in|of|bound|insoluble|from)\b).*\b(?:cp|prot\w*)\b.*\ba?[an]df\b"
)


@lru_cache(maxsize=4096)
def _words(text: str) -> tuple[tuple[str, ...], int] | None:
    if _TWO_ANALYTES.match(text):
        return None
    if text.strip() in _SHORT_FOREIGN:
        return (_SHORT_FOREIGN[text.strip()],), 0
    words = tuple(word for word in canonical(text) if word != "%")
    if not words or len(words) > 8:
        return None
    known = index()
    for form in (words, without_fillers(words)):
        if form and key_of(form) in known:
            return known[key_of(form)], 0
        joined = "".join(form)
        if form and joined in known:
            return known[joined], 0
        if len(form) == 1 and joined in run_together():
            return run_together()[joined], 0
    cut = in_pieces(words[0]) if len(words) == 1 else None
    return (cut, 0) if cut else _misspelled(words)


#: A word of two or three names cut short has so many letters at least, and each piece so many.
_LEAST_OF_PIECES: Final = 5
_LEAST_PIECE: Final = 2
#: Words that only look like such pieces.
_NO_PIECES: Final = frozenset(["crash", "addm", "candm"])


@lru_cache(maxsize=65536)
def in_pieces(word: str) -> tuple[str, ...] | None:
    """Return what a word names that is made of the words of a name cut short: "ndfib".

    Parameters
    ----------
    word : str
        The word in small letters.

    Returns
    -------
    tuple of str, or None
        The analytes; ``None`` where it is no such word.

    Examples
    --------
    >>> in_pieces("ndfib"), in_pieces("crudprt"), in_pieces("ridge")
    (('ndf',), ('cp',), None)
    """
    if len(word) < _LEAST_OF_PIECES or not word.isalpha() or word in _NO_PIECES:
        return None
    known = index()
    for cut in _cut(word, 3):
        found = known.get(key_of(canonical(" ".join(cut))))
        if found and len(cut) > 1:
            return found
    return None


def _cut(word: str, most: int) -> list[tuple[str, ...]]:
    """Return the ways to cut a word into words of names."""
    ways: list[tuple[str, ...]] = [(word,)] if word in pieces() else []
    for at in range(_LEAST_PIECE, len(word) - _LEAST_PIECE + 1) if most > 1 else ():
        if word[:at] in pieces():
            ways.extend((word[:at], *rest) for rest in _cut(word[at:], most - 1))
    return ways


def _misspelled(words: tuple[str, ...]) -> tuple[tuple[str, ...], int] | None:
    mended = [_mended(word) for word in words]
    far = sum(apart for _, apart in mended)
    if not far:
        return None
    known = index()
    right = tuple(word for word, _ in mended)
    for form in (right, without_fillers(right)):
        if form and key_of(form) in known:
            return known[key_of(form)], far
    return None


@lru_cache(maxsize=65536)
def _mended(word: str) -> tuple[str, int]:
    """Return the word that a misspelled one must be, with its distance; else the word itself."""
    if len(word) < 5 or word in long_words() or not word.isalpha():
        return word, 0
    most = 1 if len(word) < 8 else 2
    near = [
        (distance(word, other, most), other)
        for other in long_words()
        if abs(len(other) - len(word)) <= most and (other[0] == word[0] or other[1] == word[0])
    ]
    best = sorted(one for one in near if one[0] <= most)
    if not best or (len(best) > 1 and best[0][0] == best[1][0]):
        return word, 0
    return best[0][1], best[0][0]


def settled_basis(analyte: str, basis: str) -> str:
    """Return the basis that an analyte has by its nature, else the one that is written.

    Dry matter and moisture are of the sample as received, colonies are counted so, an index has
    none, and a share of a part with no other basis is of that part.

    Parameters
    ----------
    analyte : str
        The key of the analyte.
    basis : str
        The basis that is written; empty where none is.

    Returns
    -------
    str
        The basis that counts; empty where it is not known or there is none.

    Examples
    --------
    >>> settled_basis("dm", "dm"), settled_basis("rfv", "dm"), settled_basis("cp", "")
    ('ar', '', '')
    """
    bases = ANALYTE_SPECS[analyte].bases
    if not bases:
        return ""
    if len(bases) == 1 and (bases[0] == "ar" or basis in ("", bases[0])):
        return bases[0]
    return basis
