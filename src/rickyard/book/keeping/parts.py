"""A large file as parts of an archive, each with its digest, packed by all processors."""

from __future__ import annotations

import hashlib
import os
import zipfile
import zlib
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from typing import IO, Final, TypeVar

#: So much of the file is in a part. [bytes]
PART: Final = 8_000_000

#: More makes a file little smaller and takes three times as long.
_LEVEL: Final = 1

One = TypeVar("One")
Made = TypeVar("Made")


def pack(file: IO[bytes], archive: zipfile.ZipFile) -> dict[str, str]:
    """Write a file into an archive.

    Parameters
    ----------
    file : file
        What is packed, from where it stands to its end.
    archive : ZipFile
        What it goes into.

    Returns
    -------
    dict of str to str
        The SHA-256 of each part by its name, in their order.

    Examples
    --------
    >>> import io
    >>> held = io.BytesIO()
    >>> with zipfile.ZipFile(held, "w") as archive:
    ...     digests = pack(io.BytesIO(b"hay"), archive)
    >>> with zipfile.ZipFile(held) as archive:
    ...     list(digests), b"".join(unpacked(archive, digests))
    (['rows/00000'], b'hay')
    """
    digests: dict[str, str] = {}
    for data, digest in _in_turn(_packed, iter(lambda: file.read(PART), b"")):
        name = f"rows/{len(digests):05}"
        archive.writestr(name, data)
        digests[name] = digest
    return digests


def unpacked(archive: zipfile.ZipFile, digests: Mapping[str, str]) -> Iterator[bytes]:
    """Yield a file that was packed, each part held to its digest before it is given out.

    Parameters
    ----------
    archive : ZipFile
        The archive.
    digests : mapping of str to str
        What `pack` gave.

    Yields
    ------
    bytes
        One part after another.

    Raises
    ------
    ValueError
        If a part is not as it was written; the message names it.
    """
    read = ((name, archive.read(name)) for name in digests)
    for (name, digest), (data, found) in zip(
        digests.items(), _in_turn(_unpacked, read), strict=True
    ):
        if found != digest:
            raise ValueError(name)
        yield data


def _packed(data: bytes) -> tuple[bytes, str]:
    return zlib.compress(data, _LEVEL), hashlib.sha256(data).hexdigest()


def _unpacked(said: tuple[str, bytes]) -> tuple[bytes, str]:
    name, data = said
    whole = zlib.decompressobj()
    # No part is larger: one that says so was not written here, and could fill the memory.
    found = whole.decompress(data, PART)
    if not whole.eof:
        raise ValueError(name)
    return found, hashlib.sha256(found).hexdigest()


def _in_turn(make: Callable[[One], Made], given: Iterable[One]) -> Iterator[Made]:
    """Yield what is made of each in their order, made by as many threads as there are processors.

    Packing and digesting leave the interpreter to others meanwhile.
    """
    many = os.cpu_count() or 1
    with ThreadPoolExecutor(many) as pool:
        waiting: deque[Future[Made]] = deque()
        for one in given:
            waiting.append(pool.submit(make, one))
            if len(waiting) > many:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
