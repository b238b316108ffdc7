"""Names and numbers of samples without the words of a letter or a form around them."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.vocabulary.texts import plain, unaccented

_CALLED: Final = (
    r"(?:(?:the|your|our) )?(?:(?:bag|sample|lot|hay|stack)s? )?"
    r"(?:marked|label+ed|called|named|tagged|ticketed|titled|known as)(?: as)?\s*:?\s*"
)
_QUOTED: Final = re.compile(
    rf"(?:{_CALLED})?[\"“”„«‹'‘](?P<name>[^\"“”„«»]{{2,60}})[\"“”»›'’]", re.IGNORECASE
)
#: "marked West 40": without quotes what follows begins as a name does.
_BARE: Final = re.compile(rf"{_CALLED}(?P<name>[A-Z#\d].*)")
#: "sample TB509", "Specimen no. 4711": the word before a number of the laboratory.
_NUMBERED: Final = re.compile(
    r"(?:sample|specimen|lab(?:oratory)?|ticket|our)\.?\s*(?:no\.?|number|nr\.?|#|id)?\s*:?\s+"
    r"(?P<number>#?(?:[A-Z]{1,4}[-/.]?\d{2,}|\d{3,})[\w/.-]*)",
    re.IGNORECASE,
)


def as_called(text: str) -> str:
    """Return the name of a sample without the words that say that it is one, and without quotes.

    Parameters
    ----------
    text : str
        What was taken for the name.

    Returns
    -------
    str
        The name.

    Examples
    --------
    >>> as_called('marked "Meadow, under cover"'), as_called("marked West 40")
    ('Meadow, under cover', 'West 40')
    >>> as_called("Marked tree field"), as_called('the "old" place')
    ('Marked tree field', 'the "old" place')
    """
    told = _QUOTED.fullmatch(text) or _BARE.fullmatch(text)
    return told["name"].strip(" ,") if told else text


def as_numbered(text: str) -> str:
    """Return the number of a laboratory without the word before it.

    Parameters
    ----------
    text : str
        What was taken for the number.

    Returns
    -------
    str
        The number.

    Examples
    --------
    >>> as_numbered("sample TB509"), as_numbered("Ticket 812"), as_numbered("Sample 2")
    ('TB509', '812', 'Sample 2')
    """
    told = _NUMBERED.fullmatch(text)
    return told["number"] if told else text


#: Words of statistics and of guides, and what stands beside them where they are no names.
_WORD: Final = (
    r"(?:targets?|goals?|standard|max(?:imum)?|min(?:imum)?|mean|range|normal|reference|control|"
    r"typical|average|limit|ideal|optimum|upper|lower|total|high|low|best|check|book|summary)"
)
#: "Target 5", "Standard lot", "Max's field", "Range 4 north".
_MAY_BE_CALLED: Final = re.compile(
    rf"{_WORD}(?:'s)? (?:#?\d{{1,3}}[A-Za-z]?|(?:[\w'-]+ )?(?:lot|field|meadow|stack|barn|pasture|"
    r"bottom|hill|creek|ridge|place|farm|ranch|road|pivot|circle|piece|forty|eighty|quarter|bales?|"
    r"pile|shed|corner|butte|slough|flat|bench)(?: \w+)?)",
    re.IGNORECASE,
)

#: "Max (QT-204)": what the laboratory numbered as it did the samples.
_NUMBERED_SO: Final = re.compile(
    rf"{_WORD}\.?(?: [\w'-]+){{0,3}} \((?!QC|STD|CTL|BLK)[A-Z]{{0,5}}[-/.]?\d[\w/.-]*\)",
    re.IGNORECASE,
)


def may_be_called(text: str) -> bool:
    """Return whether a word of statistics stands in a text that may be a name all the same.

    Parameters
    ----------
    text : str
        What stands where the names of samples do.

    Returns
    -------
    bool
        Whether it may be a name.

    Examples
    --------
    >>> may_be_called("Target 5"), may_be_called("Standard lot"), may_be_called("Average of 5")
    (True, True, False)
    """
    shown = text.strip(" .:")
    return bool(_MAY_BE_CALLED.fullmatch(shown) or _NUMBERED_SO.fullmatch(shown))


#: What a laboratory runs beside the samples to see that its bench is right, as it names it; such a
#: name is no hay's, whatever number stands behind it.
_BENCH: Final = (
    r"check[ -]?(?:cell|std|standard|hay|forage|cup|disc|disk|tile|material)|"
    r"(?:ccv|ccb|icv|icb|lcsd?|crm|srm|qcs?|qc (?:hay|forage|std)|std|blk|ctrl|ctl|msd|rblk|mblk)|"
    r"(?:reference|ref|standard|qc|control|nir|instrument|house|in-house)[ .-]+(?:hay|forage|"
    r"cell|cup|material|powder|tile|disc|disk|check)|"
    r"(?:cal(?:ibration)?|continuing|initial|drift|instrument|wavelength|bias)[ -]+(?:check|"
    r"calibration|verification|standard|std|blank|control)|"
    r"(?:method|reagent|digest(?:ion)?|prep(?:aration)?|lab(?:oratory)?|filter|bag|field|acid|"
    r"procedural|instrument)[ -]+(?:blank|blk|control sample)|"
    r"(?:matrix|lab(?:oratory)?|post[ -]?digest(?:ion)?)[ -]+spike|"
    r"(?:.+ )?spike(?: \w+)? rec(?:overy|\.)?|"
    r"(?:lab(?:oratory)?|bench|internal)[ -]+(?:dup(?:licate)?|replicate|control|check|standard)|"
    r"(?:certified|internal|external) (?:reference|standard|control)(?: material| sample)?|"
    r"(?:blind|leer)(?:probe|wert)|kontroll(?:probe|muster|prov|prove)|referenz(?:probe|muster|heu)|"
    r"(?:standard|eich|kontroll)(?:heu|probe)|ringversuch(?:sprobe)?|doppelbestimmung|"
    r"(?:echantillon|foin) (?:temoin|de controle|de reference)|blanc (?:de methode|reactif)|"
    r"(?:muestra|heno) (?:de )?(?:control|referencia|patron)|blanco (?:de metodo|reactivo)|"
    r"(?:campione|fieno) (?:di )?(?:controllo|riferimento)|bianco (?:di metodo|reagente)|"
    r"(?:controle|referentie|blanco|blind)[ -]?(?:monster|hooi)|(?:blind|referens)(?:prov|prove|ho)"
)
_OWN_CHECK: Final = re.compile(
    rf"(?:{_BENCH})(?:[ #.:-]*(?:no\.? ?)?(?:\d{{1,4}}|[a-z]))?(?: ?%|(?: \([^)]*\)))?"
)


def is_own_check(text: str) -> bool:
    """Return whether a name is of a check that the laboratory ran beside the samples.

    Parameters
    ----------
    text : str
        What stands where the names of samples do.

    Returns
    -------
    bool
        Whether it is a check of the laboratory's own, and no hay.

    Examples
    --------
    >>> is_own_check("CHECKCELL 1"), is_own_check("CCV 10"), is_own_check("Blindprobe")
    (True, True, True)
    >>> is_own_check("Check dam field"), is_own_check("Control 5"), is_own_check("Blank farm")
    (False, False, False)
    """
    return bool(_OWN_CHECK.fullmatch(unaccented(plain(text)).strip(" .:*")))


#: Words of what a laboratory runs beside the samples, of statistics and of guides; a name that
#: holds one and nothing of a place may be of no sample.
_LIKE_CHECK: Final = re.compile(
    r"(?:.*\b)?(?:blanks?|blk|std|standards?|qcs?|qa|controls?|ctrl|checks?|crm|srm|rm|irm|lcs|ihm|"
    r"proficiency|ring test|round robin|reference|ref|known|in-?house|house (?:hay|sample)|zero|"
    r"spiked?|spk|dup|duplicates?|replicates?|drift|calibrations?|calibrators?|rinse|bias|"
    r"cv|sd|sem|rsd|average|mean|median|total|range|best ever|winner|champion|record|"
    r"goals?|targets?|guide(?:lines?)?|needs?|requirements?|normal|typical|book values?|nrc|"
    r"(?:blind|leer|eich)(?:probe|wert)|kontroll\w*|referenz\w*|standardheu|doppel\w*|"
    r"temoin|etalon|blanc|doublon|moyenne|blanco|patron|duplicado|testigo|promedio|"
    r"bianco|controllo|riferimento|doppio|media|controle|referentie|duplo|gemiddelde|mittelwert)"
    r"\b(?: (?:hay|forage|alfalfa|grass|sample|material|pool|values?))?"
    r"(?:[ #.:-]*(?:no\.? ?)?(?:[a-z]{0,2}-?)?\d{1,4}(?:[-/]\d{1,4})?|[ #-][a-z])?\W*%?|"
    r"ck[ -]?\d{1,3}|(?:19|20)\d\d"
)


def like_own_check(text: str) -> bool:
    """Return whether a name may be of a check of the laboratory or a guide: then it is asked.

    Parameters
    ----------
    text : str
        The name or the number of what was read as a sample.

    Returns
    -------
    bool
        Whether it may.

    Examples
    --------
    >>> like_own_check("Known hay"), like_own_check("RM 8"), like_own_check("Dry cow goal")
    (True, True, True)
    >>> like_own_check("Check dam field"), like_own_check("Standard farm"), like_own_check("K-12")
    (False, False, False)
    """
    shown = unaccented(plain(text)).strip(" .:*")
    return bool(shown) and bool(_LIKE_CHECK.fullmatch(shown))
