"""Values that a sentence tells beside the table of a single sample."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.letters.told import values_in
from rickyard.labs.tables import Found
from rickyard.labs.vocabulary import Comma, settled_basis

#: A sentence that says what was found.
_FOUND: Final = re.compile(
    r"\b(?:was|were|held|contained|found|measured|came (?:in|out|to|back)|tested|ran|showed|had)\b",
    re.IGNORECASE,
)
#: A sentence of limits, of advice, of another time, or of hay in general.
_OF_OTHERS: Final = re.compile(
    r"\b(?:above|below|over|under|less|more|most|up to|at least|limits?|safe\w*|danger\w*|toxic|"
    r"should|can|could|may|might|must|would|will|if|when|unless|feed(?:ing)?|guide\w*|recommend\w*|"
    r"targets?|goals?|average|typical\w*|usual\w*|normal\w*|price|costs?|ago|last|previous|"
    r"earlier|before|years?|other|another|than|between|range|good|need\w*|require\w*|"
    r"cows?|cattle|horses?|sheep|goats?|guess\w*|expect\w*|hoped?|was to|to be|not)\b|[$?]",
    re.IGNORECASE,
)


def values_beside(
    texts: Iterable[Cell], known: Sequence[tuple[str, ...]], comma: Comma
) -> list[Found]:
    """Return values that sentences tell of analytes that no table of the report holds.

    Only what a sentence says was found counts, with its unit, and with a basis where the analyte
    needs one.

    Parameters
    ----------
    texts : iterable of Cell
        The sentences of the report.
    known : sequence of tuple of str
        The analytes of the table.
    comma : Comma
        How the file writes decimals.

    Returns
    -------
    list of Found
        The values, each analyte once.

    Examples
    --------
    >>> text = "Nitrate nitrogen was 720 ppm on a dry matter basis."
    >>> [one.cell.text for one in values_beside([Cell(text, 0, 0, 1, "")], [], Comma.POINT)]
    ['720']
    """
    made: list[Found] = []
    there = set(known)
    for cell in texts:
        for sentence in re.split(r"(?<=[a-z%)\d])[.!?]\s+(?=[A-Z])", cell.text):
            if not _FOUND.search(sentence) or _OF_OTHERS.search(sentence):
                continue
            for one in values_in(sentence, cell, comma):
                names = one.label.candidates
                if names in there or len(names) != 1 or one.label.misspelled:
                    continue
                basis = next((hint.word for hint in one.bases if hint.word), "")
                unit = any(hint.word for hint in one.units)
                if unit and (settled_basis(names[0], basis) or names[0] in ("ph", "rfv", "rfq")):
                    there.add(names)
                    made.append(one)
    return made
