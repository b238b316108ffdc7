"""Words for what a lot is and how it stands, as they are said on a page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from rickyard.display import Display, count_text, money_text, number_text
from rickyard.farm import Lot, Package, Storage, Wrap

STANDS: Final[Mapping[Storage, str]] = {
    Storage.EXPOSED_GROUND: "on the ground, in the open",
    Storage.EXPOSED_ELEVATED: "off the ground, in the open",
    Storage.COVERED_GROUND: "on the ground, under a cover",
    Storage.COVERED_ELEVATED: "off the ground, under a cover",
    Storage.ROOF_OPEN_SIDES: "under a roof, open sides",
    Storage.ENCLOSED_BARN: "in the barn",
    Storage.WRAPPED: "wrapped",
}

_PACKAGES: Final[Mapping[Package, str]] = {
    Package.ROUND: "round",
    Package.LARGE_SQUARE: "large square",
    Package.SMALL_SQUARE: "small square",
    Package.BALEAGE: "baleage",
    Package.LOOSE: "loose",
}

_WRAPS: Final[Mapping[Wrap, str]] = {
    Wrap.PLASTIC_TWINE: "plastic twine",
    Wrap.NET: "net wrap",
    Wrap.SISAL: "sisal",
    Wrap.FILM: "film",
}

_ORDINALS: Final = ("", "first", "second", "third", "fourth", "fifth", "sixth")


def bales_text(bales: float, lot: Lot) -> str:
    """Return a count of bales, or of loads of loose hay.

    Parameters
    ----------
    bales : float
        How many.
    lot : Lot
        Of what.

    Returns
    -------
    str
        The count with its noun.
    """
    return count_text(bales, "load" if lot.package is Package.LOOSE else "bale")


def put_up_text(lot: Lot, display: Display) -> str:
    """Return how a lot is put up: package, wrap, and weight where it was weighed.

    Parameters
    ----------
    lot : Lot
        The lot.
    display : Display
        The reader's units.

    Returns
    -------
    str
        As "round, net wrap, 1,150 lb".
    """
    parts = [_PACKAGES[lot.package]]
    if lot.wrap is not None:
        parts.append(_WRAPS[lot.wrap])
    if lot.bale_weight_kg is not None:
        parts.append(display.mass_text(lot.bale_weight_kg))
    return ", ".join(parts)


def cutting_text(lot: Lot, display: Display) -> str:
    """Return which cutting a lot is and when it was baled.

    Parameters
    ----------
    lot : Lot
        The lot.
    display : Display
        The reader's style of dates.

    Returns
    -------
    str
        As "second, Jul 28, 2026"; the day alone where the cutting is not known.
    """
    day = display.day_year_text(lot.baled_on)
    if lot.cutting is None:
        return day
    known = lot.cutting < len(_ORDINALS)
    return f"{_ORDINALS[lot.cutting] if known else number_text(lot.cutting)}, {day}"


def without_aside(sentence: str) -> tuple[str, str]:
    """Return an answer short enough to be read at a glance, and what it says beside that.

    Beside are what stands in parentheses, how an amount is counted, and all after two sentences.

    Parameters
    ----------
    sentence : str
        An answer.

    Returns
    -------
    tuple of (str, str)
        What stands large, and what stands small beside it, empty for nothing.

    Examples
    --------
    >>> without_aside("Enough hay: 66 tons left May 3 (26 tons of grazing counted).")
    ('Enough hay: 66 tons left May 3.', '26 tons of grazing counted.')
    >>> told = "Short from Nov 2. Buy 9 tons: as bought, losses counted. Kept: 2 tons."
    >>> without_aside(told)[1]
    'What to buy is told as bought, losses counted. Kept: 2 tons.'
    """
    sentence, asides = sentence.replace(_COUNTED, f" ({_COUNTED_WORDS})."), []
    first, opened, rest = sentence.partition(" (")
    aside, closed, after = rest.partition(")")
    if opened and closed:
        sentence = f"{first}{after}"
        asides.append(f"{aside[:1].upper()}{aside[1:]}.")
    told = sentence.split(". ")
    if len(told) > _AT_A_GLANCE:
        sentence = ". ".join(told[:_AT_A_GLANCE]) + "."
        asides.append(". ".join(told[_AT_A_GLANCE:]))
    return sentence, " ".join(asides)


#: How an amount of hay to buy is counted.
_COUNTED: Final = ": as bought, losses counted."
_COUNTED_WORDS: Final = "what to buy is told as bought, losses counted"

#: So many sentences are an answer; what else is to be known stands under it.
_AT_A_GLANCE: Final = 2


def with_figures(text: str) -> tuple[tuple[str, bool], ...]:
    """Return a text in pieces, each with whether it is an amount to be seen from afar.

    Parameters
    ----------
    text : str
        What is put out.

    Returns
    -------
    tuple of (str, bool)
        The pieces in their order.

    Examples
    --------
    >>> with_figures("20 % cubes 60 lb (1.2 a head)")
    (('20 % cubes ', False), ('60 lb', True), (' (1.2 a head)', False))
    """
    pieces = _AMOUNT.split(text)
    return tuple((one, bool(at % 2)) for at, one in enumerate(pieces) if one)


def in_lines(text: str) -> tuple[tuple[tuple[str, bool], ...], ...]:
    """Return what is put out in lines, one for each thing, each in pieces as `with_figures` has it.

    Parameters
    ----------
    text : str
        What is put out.

    Returns
    -------
    tuple of tuple of (str, bool)
        The lines, which keep what parts them.

    Examples
    --------
    >>> told = in_lines("Corn 60 lb (1.2 a head), Winter mineral 9 lb (0.2 a head)")
    >>> ["".join(piece for piece, _ in line) for line in told]
    ['Corn 60 lb (1.2 a head), ', 'Winter mineral 9 lb (0.2 a head)']
    """
    return tuple(with_figures(one) for one in _EACH.split(text))


#: One thing ends there and the next begins.
_EACH: Final = re.compile(r"(?<=a head\), )|(?<=a head, )|(?<=; )")

#: An amount that is weighed out, or bales that are counted.
_AMOUNT: Final = re.compile(r"([\d½][\d,.]* (?:lb|kg|bales?)\b)")


def signed_money(usd: float) -> str:
    """Return an amount of money with a true minus before a gain.

    Parameters
    ----------
    usd : float
        US dollars.

    Returns
    -------
    str
        Figures.

    Examples
    --------
    >>> signed_money(-1063.0)[1:], signed_money(19.0)
    ('$1,063', '$19')
    """
    return money_text(usd).replace("-", "\u2212", 1)
