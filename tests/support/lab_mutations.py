"""Files of laboratories, damaged in many ways: bytes, lines, cells, pages."""

from __future__ import annotations

import io
import random
import zipfile
from pathlib import Path

DATA = Path(__file__).parents[1] / "labs" / "data"
_PIECES = (
    b"\x00", b"\xff", b"=1+1", b"@cmd", b"1e308", b"-", b"<", b'"', b"\n", b"\t", b",", b";", b"%",
    b"NaN", b"TNTC", b"\xe2\x80\x8b", b"9" * 40, b"Dry matter", b"CP", b"12/13/2025", b"(", b"[",
)  # fmt: skip


def seeds() -> list[tuple[str, bytes]]:
    """Return the files that are damaged."""
    return [
        (path.name, path.read_bytes())
        for path in sorted(DATA.iterdir())
        if path.is_file() and not path.name.endswith(".json")
    ]


def mutated(data: bytes, random_: random.Random) -> bytes:
    """Return a file with a few things changed in it."""
    if data[:2] == b"PK" and random_.random() < 0.7:
        return _repacked(data, random_)
    for _ in range(random_.randint(1, 6)):
        data = random_.choice((_flip, _cut, _insert, _swap_lines, _repeat))(data, random_)
    return data


def _repacked(data: bytes, random_: random.Random) -> bytes:
    """Damage one part of a workbook and pack it again, so that it can still be opened."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        names = old.namelist()
        hurt = random_.choice(names)
        for name in names:
            part = old.read(name)
            if name == hurt and random_.random() < 0.9:
                part = random_.choice((_flip, _cut, _insert, _repeat, _digits))(part, random_)
            new.writestr(name, part)
    return out.getvalue()


def _spot(data: bytes, random_: random.Random) -> int:
    return random_.randrange(len(data)) if data else 0


def _flip(data: bytes, random_: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(random_.randint(1, 8)):
        if changed:
            changed[_spot(data, random_)] = random_.randrange(256)
    return bytes(changed)


def _cut(data: bytes, random_: random.Random) -> bytes:
    first = _spot(data, random_)
    return data[:first] + data[first + random_.randint(1, 200) :]


def _insert(data: bytes, random_: random.Random) -> bytes:
    first = _spot(data, random_)
    return data[:first] + random_.choice(_PIECES) * random_.randint(1, 3) + data[first:]


def _digits(data: bytes, random_: random.Random) -> bytes:
    first = data.find(b"<v>", _spot(data, random_))
    if first < 0:
        return data
    return (
        data[: first + 3]
        + random_.choice((b"1e999", b"-5", b"#REF!", b"", b"123456789012"))
        + (data[data.find(b"</v>", first) :])
    )


def _swap_lines(data: bytes, random_: random.Random) -> bytes:
    lines = data.split(b"\n")
    if len(lines) > 1:
        a, b = random_.randrange(len(lines)), random_.randrange(len(lines))
        lines[a], lines[b] = lines[b], lines[a]
    return b"\n".join(lines)


def _repeat(data: bytes, random_: random.Random) -> bytes:
    first = _spot(data, random_)
    piece = data[first : first + random_.randint(1, 60)]
    return data[:first] + piece * random_.randint(2, 30) + data[first:]
