"""How wide words are in the fonts of the sheets, so that a label is placed beside another."""

from __future__ import annotations

from typing import Final

from rickyard.display import clean
from rickyard.sheets.charts.svg import WORD_SPACING_PT

#: Advance of the letters from space to tilde, in thousandths of their size: read from the fonts
#: that ship with the sheets.
_REGULAR: Final = (
    *(187, 267, 362, 545, 465, 866, 637, 203, 345, 345, 397, 585, 257, 309, 257, 285),
    *(525, 480, 524, 526, 510, 528, 525, 501, 523, 525, 280, 280, 585, 585, 585, 529),
    *(914, 621, 635, 664, 669, 612, 551, 720, 670, 252, 512, 614, 496, 785, 670, 717),
    *(607, 717, 660, 606, 559, 664, 595, 855, 623, 611, 584, 296, 285, 296, 585, 444),
    *(175, 505, 522, 482, 522, 507, 266, 509, 517, 216, 213, 476, 216, 787, 517, 525),
    *(522, 522, 308, 465, 275, 517, 456, 669, 473, 456, 456, 348, 229, 348, 585),
)
_BOLD: Final = (
    *(176, 288, 426, 565, 505, 895, 697, 236, 360, 360, 397, 603, 280, 309, 280, 291),
    *(547, 532, 547, 548, 545, 549, 548, 536, 545, 547, 305, 305, 603, 603, 603, 556),
    *(914, 659, 656, 672, 676, 620, 561, 729, 687, 282, 551, 665, 540, 815, 688, 725),
    *(624, 725, 667, 617, 590, 680, 633, 890, 646, 641, 601, 344, 291, 344, 603, 472),
    *(211, 536, 556, 525, 556, 537, 304, 549, 550, 249, 247, 526, 249, 818, 550, 559),
    *(556, 556, 348, 505, 316, 550, 497, 736, 525, 496, 477, 382, 237, 382, 603),
)
_FIRST: Final = 32

#: Letters the fonts of the sheets do not have are set in another, and may be as wide as they
#: are high.
_OTHER: Final = 0.7
_FULL_WIDTH: Final = 1.0
_FIRST_FULL_WIDTH: Final = 0x2E80


def text_width(words: str, size: float, bold: bool = False) -> float:
    """Return how wide words are when set. [pt].

    >>> round(text_width("Tarp fescue", 10.0), 1), round(text_width("32", 8.0, bold=True), 1)
    (49.0, 8.8)
    """
    table = _BOLD if bold else _REGULAR
    letters = size * sum(_advance(letter, table) for letter in words)
    return letters + WORD_SPACING_PT * words.count(" ")


def truncate(words: str, size: float, width: float, bold: bool = False) -> str:
    """Return words cut with an ellipsis where they would be wider than ``width``.

    >>> truncate("Tarp", 8.0, 100.0), truncate("Creek bottom alfalfa-grass", 8.0, 50.0)
    ('Tarp', 'Creek botto…')
    """
    words = clean(words)
    if text_width(words, size, bold) <= width:
        return words
    while words and text_width(words + "…", size, bold) > width:
        words = words[:-1]
    return words.rstrip() + "…"


def _advance(letter: str, table: tuple[int, ...]) -> float:
    at = ord(letter) - _FIRST
    if 0 <= at < len(table):
        return table[at] / 1000.0
    return _FULL_WIDTH if ord(letter) >= _FIRST_FULL_WIDTH else _OTHER
