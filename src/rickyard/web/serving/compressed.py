"""Files of style laid out as they are sent: beside each text its compressed twin."""

from __future__ import annotations

import gzip
import shutil
import tempfile
from pathlib import Path
from typing import Final

#: What is text, and worth compressing; letters are compressed as they are.
TEXTS: Final = frozenset({".css", ".js", ".svg", ".txt"})

#: As small as may be: it is done once, when the server begins.
_LEVEL: Final = 9


def laid_out(sources: dict[str, Path]) -> tempfile.TemporaryDirectory[str]:
    """Lay files out in a folder of this process, each text with its compressed twin.

    Parameters
    ----------
    sources : dict
        Each file by the name under which it is sent.

    Returns
    -------
    TemporaryDirectory
        The folder, which goes when it is let go of.
    """
    folder = tempfile.TemporaryDirectory(prefix="rickyard-style-")
    for name, path in sources.items():
        laid = Path(folder.name) / name
        shutil.copyfile(path, laid)
        if path.suffix in TEXTS:
            twin = laid.with_name(f"{name}.gz")
            twin.write_bytes(gzip.compress(path.read_bytes(), _LEVEL, mtime=0))
    return folder
