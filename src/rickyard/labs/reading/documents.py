"""The documents in the bytes of a file, whatever its name says."""

from __future__ import annotations

from rickyard.labs.common import Document
from rickyard.labs.parsing import parsed_apart
from rickyard.labs.reading.kinds import kind_of
from rickyard.labs.reading.texts import text_documents


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
    if kind == "text":
        return text_documents(data)
    return [parsed_apart(data, kind)]
