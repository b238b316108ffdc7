"""Names of analytes as the trade writes them: full, short, and in any order of words.

The words of each name are put in one form (``canonical``) and sorted, so that "protein, crude"
and "crude protein" are one. What laboratories print that the farm folder has no place for is
listed too, so that it is never taken for something else.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final

from rickyard.labs.tongues import ANALYTES as FARTHER
from rickyard.labs.tongues import EITHER as EITHER_FARTHER
from rickyard.labs.tongues import NOT_OURS as NOT_OURS_FARTHER
from rickyard.labs.vocabulary.abroad import ABROAD, EITHER_ABROAD, NOT_OURS_ABROAD
from rickyard.labs.vocabulary.texts import phrases, tokens

#: Names by analyte, with bars between them.
_HERE: Final[Mapping[str, str]] = {
    "dm": "dm|drymat|dry mat|drymatter|"
    "oven dry matter|dry matter oven|laboratory dry matter|dry matter|"
    "total dry matter|d m|total solids|dry substance",
    "moisture": "moisture|water|moisture content|moist|h2o|total moisture|moisture loss|"
    "water content",
    "cp": "cp|c protein|crude protein|protein|c p|total protein|crude prot|protein n 6.25|"
    "cr protein|cr prot|"
    "crprot|crudprot|"
    "crude protein n 6.25|protein equivalent|cprot|crudeprotein|nitrogen 6.25|n 6.25|"
    "total nitrogen 6.25|nitrogen as protein|protein from nitrogen|"
    "crude protein from nitrogen",
    "n": "n|nitrogen|total nitrogen|total n",
    "adicp": "adicp|insoluble cp adf|adf cp|adfcp|adf protein|adf crude protein|ad icp|"
    "bound protein|"
    "heat damaged protein|unavailable protein|acid detergent insoluble crude protein|"
    "acid detergent insoluble protein|adip|insoluble crude protein adf|ad insoluble protein|"
    "ad insoluble cp|adi cp|acid detergent fiber crude protein|acid detergent fiber protein|"
    "cp bound in adf|cp in adf|adf bound protein|adf bound cp|adf bound crude protein|"
    "protein bound in adf|protein in adf|heat damaged cp|unavailable cp|bound cp",
    "ndicp": "ndicp|ndf cp|ndfcp|ndf protein|nd icp|neutral detergent insoluble crude protein|"
    "neutral detergent insoluble protein|ndip|ndi cp|nd insoluble cp|nd insoluble protein|"
    "neutral detergent fiber crude protein|neutral detergent fiber protein|ndf crude protein|"
    "ndf bound protein|ndf bound cp|ndf bound crude protein|protein bound in ndf|protein in ndf",
    "adin": "adin|adf n|acid detergent insoluble nitrogen|adf nitrogen|ad insoluble n|"
    "acid detergent insoluble n|bound n|bound nitrogen",
    "ndin": "ndin|ndf n|neutral detergent insoluble nitrogen|ndf nitrogen|"
    "neutral detergent insoluble n",
    "soluble_cp": "soluble protein|soluble cp|soluble crude protein|scp|sp|soluble prot|"
    "cp soluble|protein solubility|sp cp|sol cp|solcp",
    "rdp": "rdp|rumen degradable protein|degradable protein|degradable intake protein|dip|"
    "ruminally degradable protein|rumen degraded protein",
    "rup": "rup|rumen undegradable protein|undegradable protein|bypass protein|"
    "undegradable intake protein|uip|rumen undegraded protein|escape protein",
    "adf": "acid fiber|adf|adfom|adf om|acid detergent fiber|a d f|acid det fiber|"
    "fiber acid detergent|ad fiber|"
    "fiber adf|adf fiber|fiber detergent acid",
    "ndf": "neutral fiber|ndf|andf|neutral detergent fiber|n d f|amylase ndf|"
    "amylase neutral detergent fiber|"
    "andf neutral detergent fiber|nd fiber|amylase treated ndf|"
    "fiber ndf|ndf fiber|fiber detergent neutral",
    "ndfom": "andf ash corrected|ndf ash corrected|ndfom|andfom|ndf om|andf om|"
    "neutral detergent fiber organic matter|"
    "ash free ndf|ndf ash free|andf ash free|ash corrected ndf|ndf organic matter|"
    "andf organic matter|ash free neutral detergent fiber",
    "lignin": "lignin|adl|acid detergent lignin|klason lignin|lignin adl|sulfuric acid lignin|"
    "ad lignin",
    "ee": "ee|ether extract|crude fat|cr fat|fat|total fat|oil|fat ee|acid hydrolysis fat|lipid|"
    "crude lipid|cfat|c fat|ether extract fat",
    "tfa": "tfa|total fatty acid|fatty acid|fatty acid total",
    "ash": "ash|crude ash|cr ash|total ash|mineral matter ash|ash content|total mineral ash",
    "starch": "starch|total starch",
    "wsc": "wsc|water soluble carbohydrate|water sol carb|sugar wsc|water soluble sugar|"
    "sugar water soluble|water soluble carb",
    "esc": "esc|ethanol soluble carbohydrate|simple sugar|sugar esc|ethanol soluble sugar|"
    "sugar ethanol soluble|simple sugar esc|ethanol sol carb|80 % ethanol soluble carbohydrate",
    "nfc": "nfc|non fiber carbohydrate|nonfiber carbohydrate|non fibrous carbohydrate|"
    "nonfibrous carbohydrate|non fiber carb",
    "nsc": "nsc|non structural carbohydrate|nonstructural carbohydrate|starch wsc|"
    "non structural carb",
    "ndfd24": "ndfd 24|ndf digestible 24|in vitro ndfd 24|ndfd 24 ndf|ndf digested 24|"
    "fiber digested 24|"
    "ndfd24|ndf digestibility 24|dndf 24|ivndfd 24|"
    "in vitro ndf digestibility 24|ndfd 24 h|24 h ndfd",
    "ndfd30": "ndfd 30|ndf digestible 30|in vitro ndfd 30|ndfd 30 ndf|ndf digested 30|"
    "fiber digested 30|"
    "ndfd30|ndf digestibility 30|dndf 30|ivndfd 30|ndf digestibility 30 h|"
    "in vitro ndf digestibility 30|neutral detergent fiber digestibility 30",
    "ndfd48": "ndfd 48|ndf digestible 48|in vitro ndfd 48|ndfd 48 ndf|ndf digested 48|"
    "fiber digested 48|"
    "ndfd48|ndf digestibility 48|dndf 48|ivndfd 48|"
    "in vitro ndf digestibility 48|neutral detergent fiber digestibility 48|"
    "digestible ndf 48|fiber digestibility 48",
    "ndfd240": "ndfd 240|ndf digestible 240|in vitro ndfd 240|ndfd 240 ndf|ndf digested 240|"
    "fiber digested 240|"
    "ndfd240|ndf digestibility 240|ivndfd 240|"
    "in vitro ndf digestibility 240|dndf 240",
    "undf240": "undf 240|indf 240|undf240|undigested ndf 240|indigestible ndf 240|undf om 240|"
    "undfom 240|undigestible ndf 240|undfom240|undigested fiber 240|u ndf 240|undf",
    "tdn": "tdn|total digestible nutrient|total digestibility nutrient|t d n|"
    "digestible nutrient total",
    "nem": "nem|net energy m|ne m|net energy maintenance|net energy for maintenance|ne maintenance|"
    "maintenance energy|ne for maintenance|nem maintenance|nemaint|nemt|net energy nem|"
    "energy maintenance",
    "neg": "neg|negain|net energy g|ne g|net energy gain|net energy for gain|ne gain|"
    "ne for gain|neg gain|"
    "net energy neg|net energy growth|gain energy|energy gain",
    "nel": "nel|nelact|net energy l|ne l|net energy lactation|net energy for lactation|"
    "ne lactation|"
    "ne for lactation|nel lactation|net energy nel|lactation energy|nel 3x|net energy milk|"
    "ne milk|energy lactation",
    "de": "de|digestible energy|digestible energy de|energy digestible|horse de|equine de|"
    "digestible energy horse|digestible energy equine",
    "me": "me ruminants|me cattle|me|metabolizable energy|energy metabolizable",
    "rfv": "rfv|relative feed value|r f v|relative feed val|rel feed value",
    "rfq": "rfq|relative forage quality|r f q|relative forage qual|rel forage quality",
    "ca": "ca|calcium",
    "p": "p|phosphorus|phos",
    "mg": "mg|magnesium",
    "k": "k|potassium",
    "s": "s|sulfur|total sulfur",
    "na": "na|sodium",
    "cl": "cl|chloride ion|chloride|chlorine",
    "fe": "fe|iron",
    "mn": "mn|manganese",
    "zn": "zn|zinc",
    "cu": "cu|copper",
    "mo": "mo|molybdenum|moly",
    "co": "co|cobalt",
    "se": "se|selenium",
    "nitrate_no3n": "no3 n|nitrate n|nitrate nitrogen|nitrate no3 n|no3n|nitrate as no3 n|"
    "nitrate as n|n no3|nitrogen nitrate|nitrate nitrogen no3 n|nitrate as nitrogen|"
    "nitrate as nitrate nitrogen|nitrate n no3 n|nitrate as nitrate n|no3 as n",
    "nitrate_no3": "no3|nitrate no3|nitrate ion|nitrate as no3|nitrate as nitrate|"
    "nitrate as nitrate ion|nitrate ion no3|total nitrate no3|nitrate as ion|nitrate as no3 ion|"
    "no3 nitrate ion|nitrate no3 ion|nitrate as no3 nitrate ion",
    "nitrate_kno3": "kno3|potassium nitrate|nitrate as kno3|nitrate kno3|"
    "nitrate as potassium nitrate|potassium nitrate kno3|potassium nitrate equivalent",
    "nitrate": "nitrate|total nitrate|nitrate test|nitrate level",
    "ph": "ph|ph water|acidity ph|acidity",
    "hcn": "hcn|prussic acid|hydrocyanic acid|prussic acid hcn|cyanide|hydrogen cyanide|"
    "prussic acid as hcn|hydrocyanic acid prussic acid",
    "lactic": "lactic acid|lactic|lactate",
    "acetic": "acetic acid|acetic|acetate",
    "propionic": "propionic acid|propionic|propionate",
    "butyric": "butyric acid|n butyric acid|butyric|butyrate",
    "ethanol": "ethanol|alcohol|ethyl alcohol",
    "ammonia": "ammonia|ammonia cp|ammonia crude protein|nh3 cp|ammonia n cp|ammonia protein|"
    "ammonia as cp|ammonia crude protein equivalent|ammonia cp equivalent|cp ammonia equivalent|"
    "nh3 crude protein|ammonia as crude protein",
    "mold": "mold|mold count|total mold|mold colony|mold total|mold plate count",
    "yeast": "yeast|yeast count|total yeast|yeast colony|yeast total|yeast plate count",
    "ergovaline": "ergovaline|ergovaline total",
    "lolitrem_b": "lolitrem b|lolitrem",
    "aflatoxin": "aflatoxin|aflatoxin b1|total aflatoxin|aflatoxin total|aflatoxin b1 b2 g1 g2",
    "fumonisin": "fumonisin|total fumonisin|fumonisin total|fumonisin b1 b2|fumonisin b1 b2 b3",
    "don": "don|vomitoxin|deoxynivalenol|vomitoxin don|deoxynivalenol don",
    "zearalenone": "zearalenone|zea|zen|zearalenone zea|zearalenone zen|zon",
    "ochratoxin": "ochratoxin|ochratoxin a|ota",
    "t2": "t 2|t 2 toxin|t2|t2 toxin",
}

#: The same, with the names in other languages.
NAMES: Final[Mapping[str, str]] = {
    analyte: "|".join(
        one for one in (names, ABROAD.get(analyte, ""), FARTHER.get(analyte, "")) if one
    )
    for analyte, names in _HERE.items()
}

#: What may stand for several analytes; the person says which.
EITHER: Final[Mapping[str, tuple[str, ...]]] = {
    **EITHER_ABROAD,
    **{name: either for names, either in EITHER_FARTHER.items() for name in phrases(names)},
    "sugar": ("wsc", "esc"),
    "total sugar": ("wsc", "esc"),
    "soluble carbohydrate": ("wsc", "esc"),
    "ndfd": ("ndfd24", "ndfd30", "ndfd48", "ndfd240"),
    "ndf digestibility": ("ndfd24", "ndfd30", "ndfd48", "ndfd240"),
    "fiber digestibility": ("ndfd24", "ndfd30", "ndfd48", "ndfd240"),
    "net energy": ("nem", "neg", "nel"),
    "ne": ("nem", "neg", "nel"),
    "energy": ("nem", "neg", "nel", "me", "de"),
    "fiber": ("adf", "ndf"),
    "detergent fiber": ("adf", "ndf"),
    "insoluble protein": ("adicp", "ndicp"),
}

#: Printed by laboratories, but the farm folder has no place for it.
NOT_OURS: Final = (
    NOT_OURS_ABROAD
    | frozenset(phrases(NOT_OURS_FARTHER))
    | frozenset(
        phrases(
            "crude fiber|cf|adjusted protein|"
            "adjusted crude protein|adjusted cp|available protein|"
            "available crude protein|available cp|digestible protein|dmi|dry matter intake|ddm|"
            "digestible dry matter|dcad|dietary cation anion difference|ca p|ca p ratio|"
            "calcium phosphorus ratio|calcium to phosphorus|calcium phosphorus|tetany ratio|"
            "k ca mg|grass tetany ratio|tetany index|milk per ton|milk ton|milk lb ton|"
            "milk lbs ton|milk 2006|milk|ivtd|ivtdmd|ivdmd|ivomd|in vitro true digestibility|"
            "in vitro dry matter digestibility|in vitro digestibility|ivtd 24|ivtd 30|ivtd 48|"
            "dry matter digestibility|dmd|dig dry matter|omd|d value|doms|organic matter|om|"
            "organic matter digestibility|digestible organic matter|hemicellulose|cellulose|sand|"
            "silica|aluminum|al|boron|b|iodine|i|chromium|cr|lead|pb|cadmium|cd|arsenic|arsenic as|"
            "nickel|ni|barium|ba|strontium|sr|kd|ndf kd|kd rate|ndf digestion rate|"
            "starch digestibility|starch digestibility 7|starch 7 h|starch digestible 7 h|"
            "starch digestible|isd 7|ivsd 7|undf 30|undf 120|undf30|undf120|ndfd 120|ndfd120|"
            "ndfd 12|ndfd 72|vfa|total vfa|vfa score|total acid|lactic vfa|1 2 propanediol|"
            "succinic acid|formic acid|ammonia n|nh3 n|ammonia nitrogen|nh3|salt|vitamin a|"
            "vitamin e|carotene|beta carotene|fructan|glucose|fructose|sucrose|bushel weight|"
            "test weight|particle size|tdn 1x|gross energy|ge|rfv adf|non protein nitrogen|npn|"
            "true protein|amino acid|lysine|methionine|dry weight|weight|sample weight|coliform|"
            "total coliform|e coli|salmonella|clostridia|endophyte|ergot|ergot alkaloid|"
            "total bacteria|plate count|hay grade|grade|quality grade|cost|price|fee|charge|pndf|"
            "pendf|pe ndf|nfe|nitrogen free extract|digestible fiber|swelling|"
            "electrical conductivity|ec|ne adjusted|15 n|water activity|aw|density|bulk density|"
            "temperature|t 2 ht 2|ht 2|ht2|nivalenol|15 adon|3 adon|das|ca p k|dcab|nitrite|no2|"
            "urea|oxalate|tannin|saponin|sulfate|so4|phosphate|bicarbonate|tdn x|nel 4x|nem 4x|"
            "digestible energy swine|me swine|gn|fatty acid c18|ruminally available|c18 0|c18 1|"
            "c18 2|c18 3|c16 0|rufal"
        )
    )
)

_SYNONYMS: Final[Mapping[str, str]] = {
    "fibre": "fiber",
    "fib": "fiber",
    "fbr": "fiber",
    "fibr": "fiber",
    "ac": "acid",
    "acd": "acid",
    "neutr": "neutral",
    "ntrl": "neutral",
    "dtg": "detergent",
    "dtrg": "detergent",
    "deter": "detergent",
    "dgst": "digestible",
    "digst": "digestible",
    "mst": "moisture",
    "moist": "moisture",
    "moistr": "moisture",
    "lig": "lignin",
    "lign": "lignin",
    "calc": "calcium",
    "calcm": "calcium",
    "phosph": "phosphorus",
    "phosp": "phosphorus",
    "pot": "potassium",
    "potass": "potassium",
    "potas": "potassium",
    "magn": "magnesium",
    "magnes": "magnesium",
    "mag": "magnesium",
    "sulf": "sulfur",
    "sulph": "sulfur",
    "sod": "sodium",
    "chlor": "chloride",
    "mang": "manganese",
    "mangan": "manganese",
    "copp": "copper",
    "copr": "copper",
    "molyb": "molybdenum",
    "selen": "selenium",
    "nitr": "nitrate",
    "sug": "sugar",
    "strch": "starch",
    "prt": "protein",
    "protn": "protein",
    "crd": "crude",
    "crud": "crude",
    "nrg": "energy",
    "ener": "energy",
    "en": "energy",
    "engy": "energy",
    "gn": "gain",
    "lac": "lactation",
    "mnt": "maintenance",
    "mtnce": "maintenance",
    "maintain": "maintenance",
    "mattr": "matter",
    "mat": "matter",
    "mttr": "matter",
    "fibers": "fiber",
    "fibres": "fiber",
    "sulphur": "sulfur",
    "sulphuric": "sulfuric",
    "det": "detergent",
    "deterg": "detergent",
    "carbs": "carbohydrate",
    "carb": "carbohydrate",
    "carbohydrates": "carbohydrate",
    "carbo": "carbohydrate",
    "prot": "protein",
    "proteins": "protein",
    "maint": "maintenance",
    "mtn": "maintenance",
    "lact": "lactation",
    "dig": "digestible",
    "digest": "digestibility",
    "digestability": "digestibility",
    "nutr": "nutrient",
    "nutrients": "nutrient",
    "sol": "soluble",
    "solub": "soluble",
    "phosphorous": "phosphorus",
    "hr": "h",
    "hrs": "h",
    "hour": "h",
    "hours": "h",
    "metabolisable": "metabolizable",
    "metab": "metabolizable",
    "molds": "mold",
    "yeasts": "yeast",
    "colonies": "colony",
    "counts": "count",
    "sugars": "sugar",
    "nitrates": "nitrate",
    "acids": "acid",
    "minerals": "mineral",
    "nonfibre": "nonfiber",
    "aflatoxins": "aflatoxin",
    "fumonisins": "fumonisin",
    "equiv": "equivalent",
    "eq": "equivalent",
    "insol": "insoluble",
    "rel": "relative",
    "val": "value",
    "qual": "quality",
    "tot": "total",
    "chlorides": "chloride",
    "adj": "adjusted",
    "neut": "neutral",
    "relat": "relative",
    "avail": "available",
    "undeg": "undegradable",
    "deg": "degradable",
    "undigestible": "undigested",
    "indigestible": "undigested",
}
#: Shorter names of several words are never written as one.
_LEAST_TOGETHER: Final = 6
#: Words that say how a value was got, or nothing at all.
_FILLERS: Final = frozenset(
    phrases(
        "est|estimated|sample|samples|our|your|this|estimate|calculated|calc|computed|derived|"
        "predicted|pred|w|nir|nirs|icp|"
        "wet|chem|chemistry|by|for|the|of|as|content|level|result|results|analysis|basis|value|"
        "method|expressed|given|on|in|an|a|and|to|test|tested|determination|amount|conc|"
        "concentration|total|lab|oven|kjeldahl|dumas|combustion|weiss|oardc|summative|sulfuric|"
        "enzymatic|sulfite|no|without|o|potential|equivalent|h|x|treated|corrected|at|is|was|"
        "with|using|from|apparent|index|feed|hay|forage|fodder|como|comme|als|olarak|mint|kot|kao|jako"
    )
)


def canonical(text: str) -> tuple[str, ...]:
    """Return the words of a label in one form.

    Examples
    --------
    >>> canonical("Acid Det. Fibre")
    ('acid', 'detergent', 'fiber')
    """
    return tuple(_SYNONYMS.get(word, word) for word in map(_spelled_here, tokens(text)))


def _spelled_here(word: str) -> str:
    """Return a word as it is spelled in the names above, where elsewhere it has a u more."""
    shorter = word.replace("ou", "o")
    return shorter if shorter in ("mold", "molds") else word


def key_of(words: tuple[str, ...]) -> str:
    """Return words as one key, whatever their order.

    Examples
    --------
    >>> key_of(("protein", "crude")) == key_of(("crude", "protein"))
    True
    """
    return " ".join(sorted(words))


def without_fillers(words: tuple[str, ...]) -> tuple[str, ...]:
    """Return words without those that name no analyte.

    Examples
    --------
    >>> without_fillers(("tdn", "est"))
    ('tdn',)
    """
    return tuple(word for word in words if word not in _FILLERS)


@cache
def index() -> dict[str, tuple[str, ...]]:
    """Return analytes by key; an empty tuple is something that is not ours.

    Examples
    --------
    >>> index()[key_of(("crude", "protein"))], index()[key_of(("crude", "fiber"))]
    (('cp',), ())
    """
    found: dict[str, tuple[str, ...]] = {}
    for name in NOT_OURS:
        for words in (canonical(name), without_fillers(canonical(name))):
            if words and (len(words[0]) > 1 or len(words) > 1 or name == words[0]):
                found[key_of(words)] = ()
    for name, either in EITHER.items():
        found[key_of(canonical(name))] = either
    for analyte, names in NAMES.items():
        for name in names.split("|"):
            words = canonical(name)
            found[key_of(words)] = (analyte,)
            if " crude protein" in name:
                shorter = canonical(name.replace("crude protein", "cp"))
                found.setdefault(key_of(shorter), (analyte,))
    _index_bare(found)
    return found


def _index_bare(found: dict[str, tuple[str, ...]]) -> None:
    """Index names without the words that name no analyte, where they are free."""
    for analyte, names in NAMES.items():
        for name in names.split("|"):
            bare = without_fillers(canonical(name))
            if any(word.isalpha() for word in bare):  # "h2o" leaves a number alone
                found.setdefault(key_of(bare), (analyte,))


@cache
def every_word() -> frozenset[str]:
    """Return the words that a name of an analyte can be made of, however it is written.

    Examples
    --------
    >>> "prot" in every_word(), "meadow" in every_word()
    (True, False)
    """
    words = {word for key in index() for word in key.split()}
    return frozenset((*words, *_SYNONYMS, *run_together(), "tm", "ts", "ms", "ds", "ss"))


@cache
def run_together() -> dict[str, tuple[str, ...]]:
    """Return names of several words by these written as one: "adfiber", "aceticacid".

    Examples
    --------
    >>> run_together()["adfiber"], run_together()["aceticacid"]
    (('adf',), ('acetic',))
    """
    known = index()
    found: dict[str, tuple[str, ...]] = {}
    for analyte, names in NAMES.items():
        for name in names.split("|"):
            words = canonical(name)
            one = "".join(words)
            if len(words) > 1 and len(one) >= _LEAST_TOGETHER and one.isalpha():
                found.setdefault(one, (analyte,))
    return {one: names for one, names in found.items() if one not in known}


@cache
def pieces() -> frozenset[str]:
    """Return the words of names, and these cut short, of two letters at least."""
    words = {word for names in _HERE.values() for word in canonical(names.replace("|", " "))}
    return frozenset(word for word in (*words, *_SYNONYMS) if len(word) > 1)


@cache
def long_words() -> frozenset[str]:
    """Return the words of names that are long enough to be recognised when misspelled."""
    every = {word for names in _HERE.values() for word in canonical(names.replace("|", " "))}
    more = {
        word
        for name in (*(NOT_OURS - NOT_OURS_ABROAD), *(EITHER.keys() - EITHER_ABROAD.keys()))
        for word in canonical(name)
    }
    # Abbreviations differ from one another by a letter, and are never mended.
    return frozenset(
        word
        for word in every | more
        if len(word) >= 5 and len(re.findall("[aeiouy]", word)) >= 2 and "df" not in word
    )
