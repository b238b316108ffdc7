"""The service behind ``rickyard intake``: a file in, samples and questions out."""

from __future__ import annotations

import hashlib

from rickyard.labs.checking import check
from rickyard.labs.reading import documents_of
from rickyard.labs.shapes import FileReading, Refused
from rickyard.labs.understanding import understood


def read_file(name: str, data: bytes) -> FileReading:
    """Read a laboratory's file.

    Parameters
    ----------
    name : str
        Its name, for the person; what it is, is told by its content.
    data : bytes
        Its content.
    """
    reading = FileReading(name, hashlib.sha256(data).hexdigest())
    try:
        documents = documents_of(data)
        result = understood(documents)
        if not any(sample.values for sample in result.samples):
            raise Refused(
                "No result of a forage test was found in the file. If it is a report, send it as "
                "a CSV, or type the values in."
            )
    except Refused as why:
        reading.refused = str(why)
        return reading
    reading.notes = list(documents[0].notes)
    reading.samples, more = check(result.samples, reading.notes)
    reading.questions = [*result.questions, *more]
    reading.lab = result.draft.lab
    return reading
