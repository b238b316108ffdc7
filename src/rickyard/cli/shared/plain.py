"""Text from files and options, made safe for a terminal."""

from __future__ import annotations

from typing import Final

_KEPT: Final = "\n\t"

#: Marks that turn the direction of writing around, and can make a line say something else.
_TURNS: Final = (*range(0x202A, 0x202F), *range(0x2066, 0x206A))

_SHOWN: Final = {
    code: f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
    for code in (*range(0x20), *range(0x7F, 0xA0), *_TURNS)
    if chr(code) not in _KEPT
}


def plain(text: str) -> str:
    r"""Return a text in which control characters are shown and do nothing.

    >>> print(plain("\x1b[2Jlot"))
    \x1b[2Jlot
    """
    return text.translate(_SHOWN)
