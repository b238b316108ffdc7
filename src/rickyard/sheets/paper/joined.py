"""Sheets of many farms in one file, so that they are printed with one call."""

from __future__ import annotations

import io
from collections.abc import Sequence


def joined_pdf(sheets: Sequence[bytes]) -> bytes:
    """Return the pages of several PDF files, one after the other, in one.

    Parameters
    ----------
    sheets : sequence of bytes
        The files, at least one; each keeps its pages and their order.

    Returns
    -------
    bytes
        A PDF file.
    """
    import pypdfium2 as pdfium

    if len(sheets) == 1:
        return sheets[0]
    whole = pdfium.PdfDocument.new()
    try:
        for one in sheets:
            part = pdfium.PdfDocument(one)
            try:
                whole.import_pages(part)
            finally:
                part.close()
        out = io.BytesIO()
        whole.save(out)
    finally:
        whole.close()
    return out.getvalue()
