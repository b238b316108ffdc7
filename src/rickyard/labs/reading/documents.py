"""The documents in the bytes of a file, whatever its name says."""

from __future__ import annotations

from rickyard.labs.common import Document
from rickyard.labs.parsing import parsed_apart
from rickyard.labs.reading.kinds import kind_of
from rickyard.labs.reading.texts import text_documents
from rickyard.labs.reading.wavelengths import without_wavelengths


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
    documents = text_documents(data) if kind == "text" else [parsed_apart(data, kind)]
    return [without_wavelengths(one) for one in documents]
