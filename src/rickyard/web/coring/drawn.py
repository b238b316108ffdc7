"""A sample as a drawing: the bale that is next, its stack, and where the probe goes."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from rickyard.farm import Package
from rickyard.hay.sampling import Coring

#: Bales in a row of the stack as it is drawn.
_ROW: Final = 12
#: A stack of more bales is not drawn whole: those that were drawn for the sample stand alone.
_MOST: Final = 72
_CELL: Final = 28
_CHECK: Final = '<path d="M-5 0l4 5 7-9" fill="none" stroke="#141816" stroke-width="2.6"/>'
_CROSS: Final = '<path d="M-6-6 6 6M6-6-6 6" stroke="var(--edge)" stroke-width="2"/>'


def tally(cores: int) -> str:
    """Return strokes as they are cut into a stick: four and one across, as paths in a cell of 14.

    Parameters
    ----------
    cores : int
        How many.

    Returns
    -------
    str
        A path of SVG; empty for none.

    Examples
    --------
    >>> tally(2)
    'M8 8v44M22 8v44'
    >>> tally(6).count("M")
    6
    """
    strokes = []
    for at in range(cores):
        # A hand of strokes takes five cells: four stand, the fifth lies across, and a gap follows.
        hand, in_hand = divmod(at, 5)
        row, place = divmod(hand, 4)
        left, top = 8 + place * 66, 8 + row * 60
        if in_hand == 4:
            strokes.append(f"M{left - 6} {top + 36} {left + 52} {top + 8}")
        else:
            strokes.append(f"M{left + in_hand * 14} {top}v44")
    return "".join(strokes)


def number_drawn(number: int, cores: int) -> str:
    """Return the number of the bale that is next, as large as it is read at arm's length.

    Parameters
    ----------
    number : int
        The bale.
    cores : int
        The cores that are in the bucket: they stand beside it as strokes.

    Returns
    -------
    str
        SVG that says the number.

    Examples
    --------
    >>> 'aria-label="14"' in number_drawn(14, 7)
    True
    """
    wide = 74 * len(str(number))
    rows = 1 + (max(cores - 1, 0)) // 20
    strokes = (
        f'<path transform="translate({wide + 16} 34) scale(.45)" d="{tally(cores)}" '
        'stroke="currentColor" stroke-width="5" fill="none"/>'
        f'<text x="{wide + 18}" y="{34 + 27 * rows + 16}" font-size="15" font-weight="600" '
        f'font-family="var(--text)" letter-spacing="0" fill="currentColor">{cores} in the bucket'
        "</text>"
        if cores
        else ""
    )
    return (
        f'<svg width="{wide + 140}" height="{max(126, 58 + 27 * rows)}" '
        f'viewBox="0 0 {wide + 140} {max(126, 58 + 27 * rows)}" role="img" '
        f'aria-label="{number}"><text y="118" font-size="136" font-weight="900" '
        f'letter-spacing="-6" fill="currentColor">{number}</text>{strokes}</svg>'
    )


def stack_drawn(so_far: Coring, drawn: Sequence[int], standing: int, name: str) -> str:
    """Return the bales in their order along the stack, with those of the sample.

    Parameters
    ----------
    so_far : Coring
        How far the sample is.
    drawn : sequence of int
        The bales that chance drew.
    standing : int
        How many bales stand.
    name : str
        What the lot is called.

    Returns
    -------
    str
        SVG: done bales are checked, the next is black, those to come are ringed, and those that
        would not be cored are crossed out.

    Examples
    --------
    >>> from rickyard.hay.sampling import Tried, coring
    >>> now = coring([1, 3], [2], 1, [Tried(1, went_in=True)])
    >>> print(stack_drawn(now, [1, 3], 4, "Hill")[-8:], "bale 3 is next" in stack_drawn(
    ...     now, [1, 3], 4, "Hill"))
    g></svg> True
    """
    theirs = {*drawn, *so_far.order, *so_far.refused}
    shown = range(1, standing + 1) if standing <= _MOST else sorted(theirs)
    rows = -(-len(shown) // _ROW)
    following = "" if so_far.bale is None else f"; bale {so_far.bale} is next"
    label = escape(
        f"{name}, the bales along the stack: {so_far.taken} of {so_far.wanted} cores are "
        f"taken{following}"
    )
    cells = (
        f'<g transform="translate({16 + _CELL * (at % _ROW)} {16 + 34 * (at // _ROW)})">'
        f"{_bale(number, so_far, theirs)}</g>"
        for at, number in enumerate(shown)
    )
    wide = 4 + _CELL * _ROW
    return (
        f'<svg width="{wide + wide // 4}" viewBox="0 0 {wide} {34 * rows}" role="img" '
        f'aria-label="{label}">{"".join(cells)}</svg>'
    )


def _bale(number: int, so_far: Coring, theirs: set[int]) -> str:
    """Return one bale around the middle of its cell."""
    if number in so_far.refused:
        return f'<circle r="12.5" fill="none" stroke="var(--edge)" stroke-width="1.4"/>{_CROSS}'
    if number in so_far.done:
        return f'<circle r="12.5" fill="var(--straw)" stroke="var(--straw-ink)"/>{_CHECK}'
    words = f'y="4" text-anchor="middle" font-size="{12 if number < 100 else 9.5}"'
    if number == so_far.bale:
        return (
            '<circle r="13.5" fill="var(--ink)"/>'
            f'<text {words} font-weight="800" fill="var(--ground)">{number}</text>'
        )
    if number in theirs:
        return (
            '<circle r="12.5" fill="none" stroke="var(--ink)" stroke-width="2.2"/>'
            f'<text {words} font-weight="700" fill="var(--ink)">{number}</text>'
        )
    return (
        '<circle r="12.5" fill="none" stroke="var(--rule)" stroke-width="1.4"/>'
        f'<text {words} fill="var(--soft)">{number}</text>'
    )


def probe_drawn(package: Package, depth: str) -> str:
    """Return where the probe goes into a bale, how deep, and where it must not go.

    Parameters
    ----------
    package : Package
        How the hay is packed.
    depth : str
        How deep, with its unit.

    Returns
    -------
    str
        SVG; empty where no bale is probed.

    Examples
    --------
    >>> probe_drawn(Package.LOOSE, "18 in")
    ''
    >>> "half its height" in probe_drawn(Package.ROUND, "15 in")
    True
    """
    if package in (Package.ROUND, Package.BALEAGE):
        says = (
            "A round bale seen from its flat end: the probe goes in level, at half its height, "
            f"through the curved side toward the middle, {depth} deep; never into the flat end"
        )
        return _drawing(says, f"{_ROUND}{_probe(188, depth)}")
    if package in (Package.SMALL_SQUARE, Package.LARGE_SQUARE):
        says = (
            "A square bale from the side: the probe goes straight into the middle of its end, "
            f"{depth} deep; never into the long side or the top"
        )
        return _drawing(says, f"{_SQUARE}{_probe(206, depth)}")
    return ""


_ROUND: Final = (
    '<circle cx="112" cy="104" r="76" fill="var(--straw)" stroke="var(--ink)" stroke-width="3"/>'
    '<path d="M112 104a14 14 0 0 1 28 0a26 26 0 0 1-52 0a38 38 0 0 1 76 0a50 50 0 0 1-92 26" '
    'fill="none" stroke="var(--straw-ink)" stroke-width="2.5"/>'
    '<path d="M14 104V181M9 104h10M9 181h10" stroke="var(--ink)" stroke-width="1.6"/>'
    '<text x="2" y="94" font-size="15" fill="var(--ink)">half</text>'
    '<path d="M62 128l22 24M84 128l-22 24" stroke="#A3140F" stroke-width="5"/>'
    '<text x="92" y="147" font-size="14" font-weight="700" fill="#141816">not here</text>'
)
_SQUARE: Final = (
    '<rect x="24" y="44" width="182" height="120" fill="var(--straw)" stroke="var(--ink)" '
    'stroke-width="3"/>'
    '<path d="M24 78H206M24 130H206" stroke="var(--straw-ink)" stroke-width="2.5"/>'
    '<path d="M70 96l22 16M92 96l-22 16" stroke="#A3140F" stroke-width="5"/>'
    '<text x="40" y="150" font-size="14" font-weight="700" fill="#141816">not the side</text>'
)


def _probe(side: int, depth: str) -> str:
    """Return the probe, its tip well inside a bale whose side it meets at so far right."""
    tip = side - 42
    return (
        f'<path d="M306 104H{tip + 12}" stroke="#141816" stroke-width="8"/>'
        f'<path d="M306 104H{side + 4}" stroke="var(--ink)" stroke-width="8"/>'
        f'<path d="M{tip} 104l16-9v18z" fill="#141816"/>'
        '<rect x="288" y="84" width="34" height="40" fill="var(--ink)"/>'
        f'<path d="M{tip} 72H{side}M{tip} 67v10M{side} 67v10" stroke="#141816" '
        'stroke-width="1.8"/>'
        f'<text x="{side + 8}" y="77" font-size="18" font-weight="800" fill="var(--ink)">'
        f"{escape(depth)}</text>"
    )


def _drawing(says: str, inside: str) -> str:
    return (
        f'<svg width="360" viewBox="0 0 328 190" role="img" aria-label="{escape(says)}">'
        f'<path d="M0 181H328" stroke="var(--ink)" stroke-width="3"/>{inside}</svg>'
    )
