"""Many farms: the folders under those that were named, each with a name for its files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rickyard.folder.io import SETTINGS_FILE
from rickyard.service.errors import NotUnderstood

#: A folder with more farms than this is a disk, not an office.
MOST_FARMS: Final = 2_000


@dataclass(frozen=True, slots=True)
class FarmPlace:
    """Where a farm is, and a short name that no other of the same call has."""

    folder: Path
    label: str


def find_farms(named: Sequence[Path]) -> tuple[FarmPlace, ...]:
    """Return the farms of the folders that were named.

    ``named``: farm folders, and folders that hold farm folders. A folder that holds none is taken
    for a farm itself, so that reading it says what is missing. In the order in which they were
    named, those of one folder by name, each once. Raises ``NotUnderstood`` if there are more than
    anybody can have meant.
    """
    found: dict[Path, Path] = {}
    for path in named:
        for folder in _farms_in(path):
            found.setdefault(_real(folder), folder)
            if len(found) > MOST_FARMS:
                raise NotUnderstood(
                    f"{path}: there are more than {MOST_FARMS:,} farms. Name fewer folders."
                )
    named_so = zip(found.values(), _labels(found), strict=True)
    return tuple(FarmPlace(folder, label) for folder, label in named_so)


def file_of(path: Path, place: FarmPlace, suffix: str, *, several: bool) -> Path | None:
    """Return the file of one farm where each has its own: in a folder, named after the farm.

    ``path``: what was named: a file, or a folder that is there. ``suffix``: how the name ends, as
    ``.json``. ``several``: whether there are more farms than this one. Returns ``None`` where all
    farms share the one file.
    """
    if path.is_dir() and several:
        return path / f"{place.label}{suffix}"
    return None if several else path


def _farms_in(path: Path) -> Iterable[Path]:
    """Return the farms in a folder of farms, or the folder itself."""
    try:
        if (path / SETTINGS_FILE).exists() or not path.is_dir():
            return (path,)
        inside = sorted(one for one in path.iterdir() if (one / SETTINGS_FILE).is_file())
    except (OSError, ValueError):
        # What cannot be looked into is told by the reader of farm folders.
        return (path,)
    return inside or (path,)


def _real(folder: Path) -> Path:
    try:
        return folder.resolve()
    except (OSError, RuntimeError, ValueError):
        return folder


def _labels(folders: Iterable[Path]) -> list[str]:
    """Return the folders' own names, longer where two are the same without regard to case."""
    parts = [folder.parts[-3:] for folder in folders]
    labels = [part[-1] if part else "farm" for part in parts]
    for length in (2, 3):
        often = Counter(label.casefold() for label in labels)
        labels = [
            "-".join(part[-length:]).strip("/\\").replace(":", "")
            if often[label.casefold()] > 1
            else label
            for part, label in zip(parts, labels, strict=True)
        ]
    often = Counter(label.casefold() for label in labels)
    return [
        f"{label}-{number}" if often[label.casefold()] > 1 else label
        for number, label in enumerate(labels, 1)
    ]
