"""Bytes to pages: what a file is, and its cells with their places.

Workbooks and PDFs are parsed apart, in a process with limits; texts in more than one way, from
which understanding chooses. Others use ``documents_of``.
"""

# fmt: off
from rickyard.labs.reading.documents import documents_of

__all__ = ["documents_of"]
