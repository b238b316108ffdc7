"""Words of sentences that tell bases and units.

Those of other languages are patterns for ``re``, to be put beside the English ones.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache
from typing import Final

from rickyard.labs import tongues
from rickyard.labs.vocabulary.fields_abroad import words_of_fields
from rickyard.labs.vocabulary.texts import phrases, plain, unaccented
from rickyard.labs.vocabulary.thesaurus import every_word
from rickyard.labs.vocabulary.units import basis_in

#: A sentence speaks of results.
STATES_ABROAD: Final = (
    r"\bresultat(?:en|er|erne)?\b|\bwyniki\b|\bgehalten\b|\bwaarden\b|\bv[æa]rdier\b|\bvärden\b|"
    r"\bwartości\b|\bvalori\b|\b(?:tod[oa]s|tutt[ie]|alle|alla|wszystkie|toutes|tous|todo|tout|tutto|tudo|alles|allt|alt|wszystko|vše|vsetko)\b|"
    + tongues.STATES
)
#: A sentence speaks of all results.
OF_ALL_ABROAD: Final = (
    r"\b(?:todo|tout|tutto|tudo|alles|allt|alt|wszystko|vše|všetko)\b|" + tongues.STATES
)
#: A sentence speaks of the samples, and not of the basis of results.
ABOUT_SAMPLE_ABROAD: Final = (
    r"(?:\bbeziehen sich\b|\bgelten\b|\bconcernent\b|\bse rapportent\b|\bse refieren\b|"
    r"\bcorresponden\b|\bcorrespondem\b|\breferem[- ]se\b|\bsi riferiscono\b|\bbetrekking\b|"
    r"\bgælder\b|\bgäller\b|\bdotyczą\b)(?=.*\b(?:proben?|muster|échantillons?|muestras?|amostras?|"
    r"monsters?|pr[øo]ve(?:n|r|rne)?|prov(?:et|en|er|erna)?|pró?b(?:ek|ki)|campion[ei])\b)|"
    r"\bgetrocknet\b|\bgedroogd\b|\bséchés?\b|\bsecad[oa]s\b|\bessiccat\w+"
)
#: A sentence may tell a basis.
TELLING_ABROAD: Final = (
    r"mottag|modtag|inkom|ontvangen|secc|frisk|świe|brut|drog|torr|tørst|\bt[mq]\b|\bf[mv]\b|\bs[ms]\b|sulla|"
    r"bas[ei]s?|s[eè]ch|\bsec\b|seca|secco|masse|substan|mati[eè]re|servi|tal |tel(?:le)?s? |recib|"
    r"fra[iî]|fresc|frisch|st[oe]f\b|stoffet|torrs|suchej|mas[aęieąy]\b|pr[oø]v|próbce|produkcie|vers|"
    r"product|ms\b|\bts\b|\bds\b|s\.\s?s|s\.\s?m|t\.\s?q|amostra|campione|úmid|humed|natural|"
    r"suš|sušin|kuiva|torrst|tørr|száraz|uscat|suh[aeou]|kuru|saus|hmot|tuore|fersk|eredeti|friss|"
    r"atare|proov|vzor|uzor|svež|svjež|megin|parau|ka\b"
)
#: Words of a statement that names nothing but a basis and units: "% of dry matter throughout".
STATING: Final = frozenset(
    phrases(
        "nutrient|nutrients|content|contents|composition|level|levels|concentrations|constituents|"
        "on|of|in|the|an|a|is|are|as|and|or|to|for|by|with|at|basis|result|results|value|values|"
        "all|every|everything|each|figures|figure|numbers|number|data|analysis|analyses|given|"
        "expressed|reported|stated|shown|printed|calculated|computed|where|when|if|unless|except|"
        "nothing|else|otherwise|other|another|noted|said|marked|indicated|specified|not|unit|"
        "units|energy|energies|here|below|above|following|this|these|that|it|table|page|report|"
        "sheet|list|throughout|composition|parts|part|percentages|percents|only|but|note|columns|"
        "column|"
        "werte|angaben|ergebnisse|alle|sofern|nicht|anders|angegeben|resultats|valeurs|toutes|tous|"
        "les|exprimes|exprimees|resultados|valores|todos|todas|los|las|os|as|expresados|expressos|"
        "resultaten|gehalten|waarden|uitgedrukt|resultater|resultaterne|vaerdier|angivet|alla|"
        "varden|resultat|angivna|wszystkie|wyniki|podano|risultati|valori|tutti|tutte|i|espressi|"
        "gli|le|es|sind|sont|son|sao|zijn|er|ar|sono|sa|" + tongues.STATING
    )
)

_WATER: Final = (
    r"(?:mati[eè]re s[eè]che|mat[eé]ria seca|sustancia seca|sostanza secca|"
    r"trocken(?:masse|substanz)|"
    r"droge ?stof|t[øo]rr?stof{1,2}(?:et)?|torrsubstans(?:en)?|such(?:a|ej|ą|ą) mas(?:a|y|ę|ą)|"
    r"su[sš]in(?:a|y|ě|u|ou)|kuiva-?ain(?:e|etta|een)|sz[aá]razanyag(?:ot)?|substan[tț]a uscat[aă]|"
    r"suha snov|suha tvar|ms|tm|ts|dm|ds|ss|s\. ?m\.|humidit[eé]|humedad|umidit[aà]|umidade|"
    r"feuchte|"
    r"wasser(?:gehalt)?|vocht|vand|fukt|vatten|wilgotno[sś][cć]|vlhkost|kosteus|dry matter|"
    r"moisture|"
    r"water)\b"
)
_EXCEPT: Final = (
    r"(?:salvo|excepto|menos|sauf|except[eé]e?|hormis|au(?:ß|ss)er|ausgenommen|bis auf|"
    r"mit ausnahme(?: der| von)?|behalve|uitgezonderd|undtagen|undtaget|bortset fra|utom|"
    r"f[öo]rutom|"
    r"unntatt|utenom|opr[óo]cz|z wyj[aą]tkiem|poza|tranne|eccetto|exceto|krom[eě]|mimo|paitsi|"
    r"lukuun ottamatta|kiv[eé]ve|cu excep[tț]ia)"
)
_BETWEEN: Final = (
    r"(?:\s*(?:l'|\b(?:la|le|les|el|de|du|da|do|a|o|il|lo|die|der|das|den|dem|het|en|propia|propre|"
    r"pr[óo]pria|propria|eigene|pour|for|för|til|av)\b))*\s*"
)
_ITSELF: Final = (
    r"(?:\s+(?:selbst|m[êe]me|misma|mism[oa]|zelf|selv|själv|stess[oa]|sama|itself)\b)?"
)
#: "(MS)": the short form of what stands before it.
_SHORT_IN_BRACKETS: Final = re.compile(r"\s*\((?:ms|tm|ts|dm|ds|ss|s\.? ?m\.?|t\.s\.|ka)\)", re.I)
#: "salvo la propia MS, sobre muestra fresca": water is excepted, and how it is given.
_EXCEPTED: Final = re.compile(
    rf"[,;(]?\s*\b{_EXCEPT}\b{_BETWEEN}{_WATER}{_ITSELF}(?P<how>[,(]?\s*[^,;.()]*\)?)", re.I
)
#: "die Trockenmasse selbst in % der Frischmasse": a clause on water alone.
_OF_WATER: Final = re.compile(
    rf"(?:(?<=^)|[,;(])\s*(?:(?:und|et|y|e|en|og|och|i|a|ja|és|si|in)\s+)?{_BETWEEN}{_WATER}{_ITSELF}"
    r"(?P<how>\s[^,;.()]*)\)?",
    re.I,
)


def without_water_abroad(sentence: str) -> str:
    """Return a statement in another language without what it says of dry matter or water itself.

    Parameters
    ----------
    sentence : str
        The sentence.

    Returns
    -------
    str
        The sentence; as it was where nothing would be left of it.

    Examples
    --------
    >>> without_water_abroad("Todo sobre materia seca (MS), salvo la MS, sobre muestra fresca")
    'Todo sobre materia seca'
    >>> without_water_abroad("Alle Gehalte in g/kg TM, Trockenmasse selbst in % der Frischmasse")
    'Alle Gehalte in g/kg TM'
    """
    bare = _SHORT_IN_BRACKETS.sub("", sentence)

    def excepted(found: re.Match[str]) -> str:
        how = found["how"]
        return " " if not how.strip(" ,()") or basis_in(how) == "ar" else " " + how

    def of_water(found: re.Match[str]) -> str:
        return " " if basis_in(found["how"]) == "ar" else found[0]

    left = _OF_WATER.sub(of_water, _EXCEPTED.sub(excepted, bare)).strip(" ,;")
    return left if basis_in(left) == "dm" else sentence


#: What a statement on dry matter excepts as a matter of course.
EXCEPT_WATER: Final = re.compile(
    r"\b(?:except|but|other than|apart from|save|excluding|besides)\b(?: for| of)?(?: the)? "
    r"(?:moisture|dry matter|water|dm|h2o|moist\.?)\b(?: (?:itself|content|percent))?"
    r"(?:(?:\s*[,;&/]\s*|\s+)(?:and |or )?"
    r"(?:moisture|dry matter|water|dm|h2o|ph|rfv|rfq|indices|indexes)\b(?: itself)?)*"
)
#: "dry matter basis - as is for moisture": a basis for water alone.
_FOR_WATER: Final = re.compile(
    r"(?:[-–,;(/]|\bbut\b|\band\b)\s*(?P<means>[a-z' -]{2,24}?)\s+(?:for|with|of)\s+(?:the )?"
    r"(?:moisture|water|dry matter|dm|h2o)\b"
    r"(?:\s*(?:,|and|&)\s*(?:moisture|water|dry matter|dm)\b)*\)?"
)


def without_water(sentence: str, names: Callable[[str], Iterable[str]]) -> str:
    """Return a statement without what it excepts as a matter of course, and how that is given.

    Parameters
    ----------
    sentence : str
        The sentence.
    names : callable
        Which analytes a text in small letters names.

    Returns
    -------
    str
        The sentence without what it says of dry matter or water itself.

    Examples
    --------
    >>> without_water("All % of dry matter except H2O and DM (as submitted)", lambda text: ())
    'All % of dry matter '
    """
    sentence = without_water_abroad(sentence)
    if len(sentence.casefold()) != len(sentence):
        return sentence
    of_water = _FOR_WATER.search(sentence.casefold())
    if of_water is not None and basis_in(of_water["means"]) == "ar":
        sentence = sentence[: of_water.start()] + " " + sentence[of_water.end() :]
    told = EXCEPT_WATER.search(sentence.casefold())
    if told is None:
        return sentence
    behind = re.split(r"[.;]", sentence[told.end() :])[0]
    if basis_in(behind) != "ar" or tuple(names(plain(behind))):
        return sentence
    return sentence[: told.start()] + sentence[told.end() + len(behind) :]


@cache
def _words() -> frozenset[str]:
    return every_word() | words_of_fields()


def is_word_of_reports(word: str) -> bool:
    """Return whether a word is one of those that laboratories print beside or before values.

    Parameters
    ----------
    word : str
        The word, with its accents.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_word_of_reports("Vápník"), is_word_of_reports("Vojtìška")
    (True, False)
    """
    return unaccented(word) in _words()
