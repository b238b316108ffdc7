"""How a program was made: from which files, by which version, with which options."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class FileDigest:
    """One file that a program was made from, and the SHA-256 of its bytes in hexadecimal."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class MadeWith:
    """What was asked beside the farm folder.

    ``effort`` is in units of work, ``seconds`` the outer stop by the clock, where there was one.
    ``assure_pct`` and ``winter`` are ``None`` where the folder's own were kept; ``from_date`` is
    the day from which the rest of the season was planned, ``pins_sha256`` the digest of a file
    with further wishes. ``rations`` says whether a program of rations was asked for.
    """

    effort: float
    seed: int
    seconds: float | None = None
    assure_pct: float | None = None
    winter: str | None = None
    from_date: date | None = None
    pins_sha256: str | None = None
    rations: bool = False


@dataclass(frozen=True, slots=True)
class Made:
    """How a program was made; two programs made alike are the same program.

    ``farm_sha256`` is one digest of every file of the farm folder that was read, and ``files``
    says which they were. The time it took is no part of it.
    """

    version: str
    farm_sha256: str
    files: tuple[FileDigest, ...]
    options: MadeWith
