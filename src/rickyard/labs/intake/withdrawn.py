"""Numbers that the writer of a report takes back in a sentence beside it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Document, Question, Sample
from rickyard.labs.understanding import named

#: "it is 11.8%, not 18.1%", "should read 11.8 instead of 18.1".
_CORRECTED: Final = re.compile(
    r"(?P<right>\d+(?:[.,]\d+)?)\s*(?:%|percent|ppm)?,?\s+"
    r"(?:and\s+)?(?:not|instead of|rather than)\s+"
    r"(?P<wrong>\d+(?:[.,]\d+)?)(?![\d.,]*\d)"
)


def ask_of_withdrawn(documents: Sequence[Document], samples: Sequence[Sample]) -> None:
    """Ask about each value whose number a sentence of the file takes back.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which the file may be read.
    samples : sequence of Sample
        What was read of it; values are doubted and questions added in place.
    """
    lines = [
        " ".join(cell.text for cell in row) for page in documents[0].pages for row in page.rows
    ]
    for found in _CORRECTED.finditer(" ".join(lines)):
        for sample in samples:
            for value in sample.values:
                if value.printed.strip(" %") != found["wrong"] or value.status != "sure":
                    continue
                value.doubt(f"a sentence of the file says {found['right']}, not {found['wrong']}")
                sample.questions.append(
                    Question(
                        f"A sentence of the file says {found['right']}, not {found['wrong']}. "
                        f"Does it speak of {named(value)}, printed for this sample?",
                        f"withdrawn {value.analyte} {value.printed}",
                        (value.analyte,),
                        (found["right"], "as printed"),
                    )
                )
