"""Words of sentences that tell bases and units.

Those of other languages are patterns for ``re``, to be put beside the English ones.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from rickyard.labs import tongues
from rickyard.labs.vocabulary.fields_abroad import words_of_fields
from rickyard.labs.vocabulary.texts import phrases, unaccented
from rickyard.labs.vocabulary.thesaurus import every_word

#: A sentence speaks of results.
STATES_ABROAD: Final = (
    r"\bresultat(?:en|er|erne)?\b|\bwyniki\b|\bgehalten\b|\bwaarden\b|\bv[æa]rdier\b|\bvärden\b|"
    r"\bwartości\b|\bvalori\b|\b(?:tod[oa]s|tutt[ie]|alle|alla|wszystkie|toutes|tous)\b|"
    + tongues.STATES
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
