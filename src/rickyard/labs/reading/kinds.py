"""What a file is by its content, whatever its name says; and what is refused on sight."""

from __future__ import annotations

import io
import zipfile
from typing import Final

from rickyard.labs.common import Refused
from rickyard.labs.parsing import (
    MOST_BYTES,
    MOST_PACKED_RATIO,
    MOST_PARTS,
    MOST_TEXT_BYTES,
    MOST_UNPACKED_BYTES,
)

_ASK_FOR: Final = "Ask the laboratory for a PDF with text, a spreadsheet or a CSV."
_PICTURES: Final = (
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"BM", "a picture"),
    (b"II*\x00", "a picture"),
    (b"MM\x00*", "a picture"),
    (b"RIFF", "a picture or a sound"),
    (b"MZ", "a program"),
    (b"\x7fELF", "a program"),
    (b"7z\xbc\xaf", "an archive"),
    (b"Rar!", "an archive"),
    (b"\x1f\x8b", "an archive"),
    (b"BZh", "an archive"),
    (b"\xfd7zXZ", "an archive"),
    (b"{\\rtf", "a text document (RTF)"),
    (b"SQLite format", "a database"),
)


def kind_of(data: bytes) -> str:
    """Return ``pdf``, ``xlsx``, ``xls``, ``ods`` or ``text`` for the bytes of a file.

    Raises
    ------
    Refused
        If the file is empty, too large, locked, or of a kind that holds no report.

    Examples
    --------
    >>> kind_of(b"%PDF-1.7 ..."), kind_of(b"Sample,CP")
    ('pdf', 'text')
    >>> kind_of(b"")
    Traceback (most recent call last):
    ...
    rickyard.labs.common.shapes.Refused: The file is empty. Ask for it to be sent again.
    """
    if not data.strip(b"\x00 \t\r\n\xef\xbb\xbf"):
        raise Refused("The file is empty. Ask for it to be sent again.")
    if len(data) > MOST_BYTES:
        raise Refused(
            f"The file is larger than {MOST_BYTES // 1_000_000} MB, which no report is. Send the "
            "part with the results."
        )
    if b"%PDF-" in data[:1024]:
        return "pdf"
    if data[:4] in (b"PK\x03\x04", b"PK\x05\x06"):
        return _zip_kind(data)
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        return _compound_kind(data)
    for sign, what in _PICTURES:
        if data.startswith(sign):
            raise Refused(f"The file is {what}, not a report that can be read. {_ASK_FOR}")
    return _text_kind(data)


def _zip_kind(data: bytes) -> str:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError, EOFError, UnicodeError):
        raise Refused(f"The workbook is damaged and cannot be opened. {_ASK_FOR}") from None
    unpacked = sum(part.file_size for part in parts)
    packed = max(sum(part.compress_size for part in parts), 1)
    if len(parts) > MOST_PARTS or unpacked > MOST_UNPACKED_BYTES:
        raise Refused(
            f"The file unpacks to more than {MOST_UNPACKED_BYTES // 1_000_000} MB, which no "
            f"report does. {_ASK_FOR}"
        )
    if unpacked > 10_000_000 and unpacked / packed > MOST_PACKED_RATIO:
        raise Refused(f"The file is packed as no honest workbook is. {_ASK_FOR}")
    if any(part.flag_bits & 1 for part in parts):
        raise Refused("The file is locked with a password. Ask for it without one.")
    names = {part.filename for part in parts}
    if "xl/workbook.xml" in names or any(name.startswith("xl/") for name in names):
        return "xlsx"
    if "content.xml" in names:
        return "ods"
    if any(name.startswith("word/") for name in names):
        raise Refused(f"The file is a text document. Paste its text, or: {_ASK_FOR}")
    raise Refused(f"The file is an archive. Unpack it and send the files in it. {_ASK_FOR}")


def _compound_kind(data: bytes) -> str:
    wide = "EncryptedPackage".encode("utf-16-le")
    if wide in data:
        raise Refused("The workbook is locked with a password. Ask for it without one.")
    if "WordDocument".encode("utf-16-le") in data:
        raise Refused(f"The file is a text document. Paste its text, or: {_ASK_FOR}")
    return "xls"


def _text_kind(data: bytes) -> str:
    if len(data) > MOST_TEXT_BYTES:
        raise Refused(
            f"The text is larger than {MOST_TEXT_BYTES // 1_000_000} MB; so much is not read at "
            "once. Split it, or send only the rows with results."
        )
    sample = data[:65536]
    if not data.startswith((b"\xff\xfe", b"\xfe\xff")) and not _wide(sample):
        control = sum(byte < 9 or 13 < byte < 32 for byte in sample)
        if control > len(sample) * 0.01 + 2:
            raise Refused(f"The file is neither text, workbook nor PDF. {_ASK_FOR}")
    return "text"


def _wide(sample: bytes) -> bool:
    half = max(len(sample) // 2, 1)
    return sample[0::2].count(0) > half * 0.4 or sample[1::2].count(0) > half * 0.4
