"""Workbooks and PDFs are parsed in a process of its own, with limits on time and memory."""

from __future__ import annotations

import gc
import json
import subprocess
import sys
from datetime import date
from importlib.util import find_spec

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.parsing.limits import MEMORY_BYTES, SECONDS, WAITED_SECONDS

_TOO_LONG = (
    f"The file took longer than {SECONDS:.0f} seconds to open, or more memory than a report "
    "needs. Ask the laboratory for a plain spreadsheet or a CSV."
)


def parsed_apart(data: bytes, kind: str) -> Document:
    """Parse a workbook or a PDF in another process.

    Parameters
    ----------
    data : bytes
        The file.
    kind : str
        ``pdf``, ``xlsx``, ``xls`` or ``ods``.

    Returns
    -------
    Document
        Its pages, every cell with its place.

    Raises
    ------
    Refused
        If it cannot be read, or not within the limits.
    """
    command = [sys.executable, "-m", "rickyard.labs.parsing.apart", kind]
    try:
        done = subprocess.run(
            command, input=data, capture_output=True, timeout=_waited(), check=False
        )
    except subprocess.TimeoutExpired:
        raise Refused(_TOO_LONG) from None
    if done.returncode:
        raise Refused(_TOO_LONG)
    try:
        told = json.loads(done.stdout)
    except ValueError:
        raise Refused(_TOO_LONG) from None
    if told.get("refused"):
        raise Refused(told["refused"])
    return _document(told)


def _waited() -> float:
    """Return how long to wait: longer where the system counts the processor's time itself."""
    return WAITED_SECONDS if find_spec("resource") else SECONDS


def _document(told: dict[str, object]) -> Document:
    pages = []
    raw_pages = told["pages"]
    assert isinstance(raw_pages, list)
    for page in raw_pages:
        rows = [
            [
                Cell(
                    text,
                    row,
                    x0,
                    x1,
                    place,
                    number,
                    date.fromisoformat(day) if day else None,
                    trouble,
                    hidden,
                )
                for text, x0, x1, place, number, day, trouble, hidden in cells
            ]
            for row, cells in enumerate(page["rows"])
        ]
        pages.append(Page(page["name"], rows, page["gridded"]))
    notes = told["notes"]
    assert isinstance(notes, list)
    return Document(str(told["kind"]), pages, notes)


def _plain(document: Document) -> dict[str, object]:
    return {
        "kind": document.kind,
        "notes": document.notes,
        "pages": [
            {
                "name": page.name,
                "gridded": page.gridded,
                "rows": [
                    [
                        (
                            c.text,
                            c.x0,
                            c.x1,
                            c.place,
                            c.number,
                            c.day and c.day.isoformat(),
                            c.trouble,
                            c.hidden,
                        )
                        for c in row
                    ]
                    for row in page.rows
                ],
            }
            for page in document.pages
        ],
    }


def _set_limits() -> None:
    try:
        import resource
    except ImportError:
        return  # a system without such limits; the time limit of the caller holds
    seconds = int(SECONDS) + 1
    for what, most in ((resource.RLIMIT_AS, MEMORY_BYTES), (resource.RLIMIT_CPU, seconds)):
        hard = resource.getrlimit(what)[1]
        if hard != resource.RLIM_INFINITY:
            most = min(most, hard)
        resource.setrlimit(what, (most, hard))


def parsed_in_here(data: bytes, kind: str) -> Document:
    """Parse a workbook or a PDF in this process; only for what is trusted, and for the other side.

    Raises
    ------
    Refused
        If it cannot be read.
    """
    if kind == "pdf":
        from rickyard.labs.parsing.pages import pdf_document

        return pdf_document(data)
    from rickyard.labs.parsing.workbooks import workbook_document

    return workbook_document(data, kind)


def main() -> int:
    """Read a file from standard input and print it as JSON; the other side of ``parsed_apart``."""
    gc.disable()  # a short life, in which nothing is garbage
    kind = sys.argv[1]
    data = sys.stdin.buffer.read()
    _set_limits()
    try:
        told = _plain(parsed_in_here(data, kind))
    except Refused as why:
        told = {"refused": str(why)}
    sys.stdout.buffer.write(json.dumps(told).encode("ascii"))
    return 0


if __name__ == "__main__":
    sys.exit(main())
