"""Sentences made ready to be read: without what they take out, except or tell of two numbers."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.vocabulary import basis_in, is_only_unit, label_of

#: "(moist. as received)": a point behind a word cut short ends no sentence.
SHORTENED: Final = re.compile(
    r"\b(moist|prot|det|maint|phos|tot|fib|nutr|dig|approx|incl|excl|exc|resp|nitr|min|chem|"
    r"est|calc|lab|carb|sol)\.\s+(?=[a-z])",
    re.IGNORECASE,
)
#: "D (dry)", "A = as received": a letter and the basis that it stands for.
_LETTER_MEANS: Final = re.compile(r"\b(?P<code>[A-Z]{1,3})\s*\((?P<means>[^()]{3,30})\)")


def explained(text: str) -> str:
    """Return a sentence without the sign of a comment, and with letters that it explains itself.

    Examples
    --------
    >>> explained("# basis: D (dry) for everything but MOIST")
    'basis: dry for everything but MOIST'
    """
    bare = text.lstrip("#/; ") if text[:1] in "#/;" else text

    def told(found: re.Match[str]) -> str:
        means = found["means"]
        if label_of(found["code"]) is not None:
            return found[0]  # "except DM (as received)" excepts dry matter
        return means if is_only_unit(means) and basis_in(means) else found[0]

    return _LETTER_MEANS.sub(told, bare) if "(" in bare else bare


#: Results that are not these: "Results on dry matter are sent on request".
_ELSEWHERE: Final = re.compile(r"\b(?:up)?on request\b", re.IGNORECASE)
#: "except where it says fresh": what a statement excepts is told where it holds.
_EXCEPT_TOLD: Final = re.compile(
    r"\b(?:except|unless|excepting)\b\s*(?:for |those |values |results |figures |things |tests )*"
    r"(?:where|when|if|that|which|as|otherwise)\b.{0,24}\b(?:says?|said|marked|noted|shown|"
    r"stated|labell?ed|printed|indicated|given|written|called|named|followed)\b[^.;)]*",
    re.IGNORECASE,
)
#: "(not corrected to dry matter)": a basis on which values are not.
_NOT_SO: Final = re.compile(
    r"\bnot (?:yet |been )?(?:corrected|converted|adjusted|calculated|given|reported|expressed|on|"
    r"in|per)\b[^,;.()]*",
    re.IGNORECASE,
)
#: "unless marked AF, figures are DM": the one thing that is marked.
_UNLESS_SO: Final = re.compile(
    r"\b(?:unless|except where|if not) (?:otherwise )?(?:marked|noted|shown|labell?ed|followed by) "
    r"(?:as )?[\"']?(?P<means>as[- ]fed|as[- ]received|a\.?[fr]\.?|fresh|wet|dry|d\.?m\.?)[\"']?"
    r"(?=[\s,;:.)]|$)[,:]?",
    re.IGNORECASE,
)
#: "on the left as fed, on the right dry": of two numbers that stand side by side.
_OF_TWO: Final = re.compile(
    r"\b(?:left|right|first|second|upper|lower|brackets?|parenthes[ei]s|above|below)\b", re.I
)


def _of_two(sentence: str) -> bool:
    """Return whether a sentence says which of two numbers beside one another is on which basis."""
    clauses = re.split(r"[,;]|\band\b|\bbut\b|\bwith\b", sentence)
    told = {basis_in(one) for one in clauses if _OF_TWO.search(one)}
    return told >= {"dm", "ar"}


def to_read(sentence: str) -> str:
    """Return a sentence without what it takes out or excepts; nothing if it speaks of no values.

    Parameters
    ----------
    sentence : str
        The sentence.

    Returns
    -------
    str
        What is left of it.

    Examples
    --------
    >>> to_read("Unless marked AF, figures are DM").strip()
    'figures are DM'
    >>> to_read("on the left as fed, on the right dry"), to_read("Results on dry matter on request")
    ('', '')
    """
    sentence = _UNLESS_SO.sub(" ", _NOT_SO.sub(" ", sentence))
    return "" if _ELSEWHERE.search(sentence) or _of_two(sentence) else sentence


def without_excepted(sentence: str) -> str:
    """Return a sentence without what it excepts, where that is told at the values themselves.

    Parameters
    ----------
    sentence : str
        The sentence.

    Returns
    -------
    str
        What is left of it.

    Examples
    --------
    >>> without_excepted("All dry, except where it says fresh").strip()
    'All dry,'
    """
    return _EXCEPT_TOLD.sub(lambda found: " " if basis_in(found[0]) else found[0], sentence)
