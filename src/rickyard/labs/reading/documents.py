"""The documents in the bytes of a file, whatever its name says."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.common import Document, Refused
from rickyard.labs.parsing import parsed_apart
from rickyard.labs.reading.kinds import kind_of
from rickyard.labs.reading.markup import files_of_mail
from rickyard.labs.reading.texts import text_documents
from rickyard.labs.reading.wavelengths import without_wavelengths

#: A mail with so many numbers in its own text tells results itself.
_LEAST_TOLD: Final = 3
_TOLD: Final = re.compile(r"(?<![\d.,:/-])\d+[.,]\d(?![\d:/-]*[:/])")


def documents_of(data: bytes) -> list[Document]:
    """Return the ways in which a file may be read, the likeliest first.

    Parameters
    ----------
    data : bytes
        The content of the file.

    Returns
    -------
    list of Document
        Its pages, once for each way of reading it.

    Raises
    ------
    Refused
        If it is not read at all; the message says why and what to do.
    """
    kind = kind_of(data)
    documents = _documents(data, kind)
    if kind == "text":
        documents += _of_mail(data, documents)
    return [without_wavelengths(one) for one in documents]


def _documents(data: bytes, kind: str) -> list[Document]:
    return text_documents(data) if kind == "text" else [parsed_apart(data, kind)]


def _of_mail(data: bytes, documents: list[Document]) -> list[Document]:
    """Return the ways in which the one file that a mail holds may be read."""
    files = []
    for name, held in files_of_mail(data):
        try:
            files.append((name, held, kind_of(held)))
        except Refused:
            continue  # a picture of the writer's, most often
    if len(files) == 1:
        name, held, kind = files[0]
        documents[0].notes.append(f'The mail holds a file, "{name}", which was read with it.')
        return _documents(held, kind)
    cells = [cell.text for page in documents[-1].pages for cell in page.cells()]
    if files and sum(len(_TOLD.findall(text)) for text in cells) < _LEAST_TOLD:
        names = ", ".join(f'"{name}"' for name, _, _ in files)
        raise Refused(f"The mail holds several files: {names}. Save them and send each by itself.")
    return []
