"""Dry matter and as received in the languages in which reports come.

German, French, Spanish, Portuguese, Italian, Dutch, Danish, Swedish and Polish. The patterns are
for texts without accents. Short forms such as "TS"
count only behind a unit or a word such as "in", or alone in a column of bases.
"""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs import tongues
from rickyard.labs.vocabulary.texts import unaccented

#: Words before a basis.
_IN: Final = (
    r"(?:(?<=[%/g])\s*|(?<=pp[mb])\s+|\b(?:in|i|im|bezogen auf|auf|je kg|pro kg|per kg|pr\.? kg|"
    r"par kg|por kg|af|av|op|on|sur|sobre|sulla|sul|su|della|del|dello|en|em|na|da|de|do|du|w|van|"
    r"z|po|as|rapporte a|referido a|expresado en|al)"
    r"(?:\s+(?:der|die|das|dem|la|las|el|de|het|den|il|le|kg))*\s+)"
)
_SHORT_DRY: Final = r"(?:t\.?m\.?|t\.?s\.?|m\.?s\.?|d\.?s\.?|s\.?s\.?|s\.?m\.?)(?!\.?[a-z])"
_SHORT_FRESH: Final = r"(?:f\.?m\.?|m\.?f\.?|m\.?b\.?|m\.?n\.?|t\.?q\.?|os|us)(?![a-z])"

DRY_ABROAD: Final = re.compile(
    rf"{_IN}{_SHORT_DRY}(?:[- ]?basis| bezogen)?|i\.\s?d\.\s?{_SHORT_DRY}|"
    r"\bs\.?/?\s?m\.?\s?s\b\.?|\bsms\b|"
    rf"{_IN}?\b(?:droge[- ]?stof|drogestof|torstof(?:fet)?|torrsubstans(?:en)?|"
    r"such(?:a|ej|a) mas(?:a|y|ie|e)|sostanza secca|materia seca|sustancia seca|matieres? seches?|"
    r"trocken(?:masse|substanz))\b(?:[- ]?basis)?(?: bezogen)?|"
    r"\bop basis van (?:de )?droge stof\b|\b(?:torstof|ts|ds)-?basis\b|"
    r"\bwasserfrei\w*|\bbase (?:secca|seca|seche|sec)\b|\bb\.s\.|"
    r"\b(?:sur|sobre|en|em|sul|su)(?: le| lo| el)? (?:sec|seco|secco)\b|\bna such[ae] mas[ae]\b|"
    r"\bvattenfri\w*|\bvandfri\w*|\bwatervrij\w*|" + tongues.DRY
)
RECEIVED_ABROAD: Final = re.compile(
    rf"{_IN}(?:{_SHORT_FRESH})|i\.\s?d\.\s?f\.?m\.?(?![a-z])|\bt\.\s?q\.|\bs\.t\.q\.|"
    r"\bs\.?m\.?f\b\.?|"
    r"\b(?:original|frisch|ursprungs)(?:substanz|masse)\b|\b(?:wie|im) (?:angeliefert|erhalten|"
    r"eingesandt|eingegangen)\w*|\bim anlieferungszustand\b|"
    r"\b(?:sur |du |de )?(?:produit brut|matieres? (?:brutes?|fraiches?))\b|"
    r"\b(?:comme recue?|tel(?:le)? que recue?s?)\b|"
    r"\b(?:en|sobre|base|sul|su) (?:fresc[oa]|humed[oa]|umid[oa]|humid[oa])\b|"
    r"\b(?:tal )?(?:y )?(?:como|tal como) (?:se )?(?:recib\w*|receb\w*|ofrec\w*)|"
    r"\btal (?:qual|cual|quale)\b|\btco\b|"
    r"\b(?:na |em |de )?(?:materia|base) (?:natural|fresca|original|verde)\b|\bno produto\b|"
    r"\b(?:na|em|in) (?:amostra|muestra|campione)\b|\bsul (?:campione|tq)\b|\bcome "
    r"(?:ricevut[oa]|tale)\b|"
    r"(?<=% )(?:av prov(?:et|en)|af proven|der probe|van het monster|de l'echantillon|"
    r"de la muestra|del campione|da amostra|probki|vzorku|naytteesta)\b"
    r"(?! (?:como|comme|come|wie|zoals|som|jak|tal|tel|tels?|telle|rec\w+)\b)|"
    r"\b(?:in|op|per kg) (?:het |vers |verse )?(?:product|massa|stof)(?:basis)?\b|"
    r"\bproductbasis\b|\b(?:als|zoals) ontvangen\b|\bverse? (?:product|stof|massa)\b|"
    r"\bi (?:proven|varen|ravaren|frisk\w* (?:vare|prove|vaegt)|provet|varan|foder|"
    r"farskt? \w+|ursprungsprov\w*)\b|\bsom (?:modtaget|leveret|mottaget|inkommit|inkommet)\b|"
    r"\b(?:pa )?(?:frisk ?va?egt|friskvaegt|friskvikt|vatvikt|farskvara|farskvikt|raproven?|raprov)"
    r"\b|"
    r"\b(?:w |na )?swiez(?:ej|a|e) mas(?:ie|a|e|y)\b|"
    r"\bw (?:probce|produkcie|stanie)(?: dostarczon\w+)?\b|\bjak (?:otrzymano|dostarczono)\b|"
    r"\b(?:sobre|en|sul?|sur|auf|op|pa|na|der|in)? ?(?:la |el |l'|de )?(?:"
    r"muestra (?:fresca|original|recibida)|amostra (?:fresca|original)|"
    r"echantillon (?:frais|brut)|(?:frisch|original)probe|"
    r"campione (?:fresco|originale)|verse? monster)\b|" + tongues.RECEIVED
)
#: A basis alone in its cell.
ALONE_DRY_ABROAD: Final = re.compile(
    r"s\.?s\.?|d\.?s\.?|bs|b\.s\.|t\.?s\.?|t\.?m\.?|m\.?s\.?|s\.?m\.?|sms|droog|ka|sz\.?a\.?|s\.u\."
)
ALONE_RECEIVED_ABROAD: Final = re.compile(
    r"t\.?q\.?|bh|b\.h\.|tco|m\.?f\.?|m\.?b\.?|f\.?m\.?|smf|vers|frisk|"
    r"farsk|umido|brut"
)


#: "l17", "4711/2": a number of a sample, which names no basis.
_NO_WORD: Final = re.compile(r"[a-z]?[-/ ]?\d[\d-]*[a-z]?")


def basis_abroad(text: str) -> tuple[str, str] | None:
    """Return the basis that a text names in another language, and the rest of it.

    Parameters
    ----------
    text : str
        The text in small letters.

    Returns
    -------
    tuple of str, or None
        ``dm`` or ``ar`` and the text without its words; ``None`` where it names none or both.

    Examples
    --------
    >>> basis_abroad("rohprotein g/kg in der ts"), basis_abroad("% tørstof i prøven")
    (('dm', 'rohprotein g/kg  '), None)
    """
    bare = unaccented(text.replace("ś.m", "f.m"))  # of fresh matter; "s.m." is of dry matter
    alone = bare.strip(" ()[]%")
    if ALONE_DRY_ABROAD.fullmatch(alone):
        return "dm", bare.replace(alone, " ")
    if ALONE_RECEIVED_ABROAD.fullmatch(alone):
        return "ar", bare.replace(alone, " ")
    if _NO_WORD.fullmatch(bare):
        return None
    dry, received = DRY_ABROAD.search(bare), RECEIVED_ABROAD.search(bare)
    if (dry is None) == (received is None):
        return None
    if dry is not None:
        return "dm", DRY_ABROAD.sub(" ", bare)
    return "ar", RECEIVED_ABROAD.sub(" ", bare)
