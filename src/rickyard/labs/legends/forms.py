"""The form in which a report tells nitrate, by a sentence or a footnote of it."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.vocabulary import label_of

#: "* as nitrate-nitrogen (NO3-N)", "* expressed as NO3".
_AS_FORM: Final = re.compile(
    r"(?:nitrates?\s+)?(?:is |are |given |expressed |reported |printed |stated )*as\s+(?P<form>.+)",
    re.IGNORECASE,
)


#: "Nitrate screen, results as nitrate ion (NO3), ppm", "Nitrate is reported as NO3-N."
_FORM_SAID: Final = re.compile(
    r"\bnitrates?\b[^.;]{0,30}?\b(?:results?|reported|expressed|given|printed|stated|shown)\s+as\s+"
    r"(?:the\s+)?(?P<form>nitrate[- ]n(?:itrogen)?|no3[- ]?n|"
    r"potassium nitrate|kno3|nitrate ion|nitrate(?= \(no3\))|no3|nitrogen)\b(?![- ]?n\b)",
    re.IGNORECASE,
)
#: Sentences on limits, and on how one form is turned into another, tell no form of results.
_OF_LIMITS: Final = re.compile(
    r"\b(?:limits?|danger\w*|toxic\w*|levels?|safe|caution|above|over|below|guide\w*|multipl\w*|"
    r"divid\w*|convert\w*|times|factor|equals?|not|other|some|many|most)\b|=",
    re.IGNORECASE,
)


def forms_told(text: str) -> set[str]:
    """Return the form of nitrate in which a sentence says that results are told.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    set of str
        The analyte of that form; empty where it tells none, or speaks of limits.

    Examples
    --------
    >>> forms_told("Nitrate is reported as NO3-N."), forms_told("Limit for nitrate given as NO3")
    ({'nitrate_no3n'}, set())
    """
    told = _FORM_SAID.search(text)
    if told is None or _OF_LIMITS.search(text):
        return set()
    words = told["form"].casefold().replace("-", " ")
    nitrogen = words.endswith((" n", "nitrogen")) or words == "no3n"
    salt = "potassium" in words or words == "kno3"
    return {"nitrate_no3n" if nitrogen else "nitrate_kno3" if salt else "nitrate_no3"}


def form_in(means: str) -> str:
    """Return the form of nitrate that a footnote tells, and nothing else.

    Parameters
    ----------
    means : str
        The footnote behind its mark.

    Returns
    -------
    str
        The analyte of that form, or empty.

    Examples
    --------
    >>> form_in("as nitrate-nitrogen (NO3-N)"), form_in("dry")
    ('nitrate_no3n', '')
    """
    told = _AS_FORM.fullmatch(means.strip(" ."))
    label = label_of(told["form"].strip(" .")) if told else None
    form = label.candidates[0] if label and len(label.candidates) == 1 else ""
    return form if label and form.startswith("nitrate_") and not label.misspelled else ""
