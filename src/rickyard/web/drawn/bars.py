"""Bars beside figures: one against another, costs or hay on one scale, or rungs of a ladder."""

from __future__ import annotations

from html import escape
from typing import Final

_WIDE, _TALL = 240.0, 26.0
_BAR: Final = 11.0
_DASHED: Final = ' stroke-width="1.6" stroke-dasharray="4 3"'
#: Where the season ends on a bar that shows how long hay lasts; what is left goes on from there.
_TO_END: Final = 168.0


def two_bars(planned: float, fed: float, most: float, label: str) -> str:
    """Return what was planned, hollow, over what was fed, filled.

    Parameters
    ----------
    planned, fed : float
        The amounts, none negative. [any unit]
    most : float
        The largest of the table, over 0. [the same]
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> drawn = two_bars(50.0, 100.0, 100.0, "")
    >>> 'width="119.0"' in drawn, 'width="238.0"' in drawn
    (True, True)
    """
    wide = [max(0.0, one) / most * (_WIDE - 2.0) for one in (planned, fed)]
    return (
        f'<svg class="bars" viewBox="0 0 {_WIDE:.0f} {_TALL:.0f}" role="img" '
        f'aria-label="{escape(label)}">'
        f'<rect class="hollow" x="1" y="1" width="{wide[0]:.1f}" height="{_BAR:.0f}"/>'
        f'<rect class="eaten" x="1" y="14" width="{wide[1]:.1f}" height="{_BAR:.0f}"/></svg>'
    )


def cost_bar(usd: float, most: float) -> str:
    """Return a cost as a bar, a gain as a hollow one; the figure stands beside it.

    Parameters
    ----------
    usd : float
        The cost, negative for a gain. [US dollars]
    most : float
        The largest of the table, over 0. [US dollars]

    Returns
    -------
    str
        SVG, passed over by whoever hears the page.

    Examples
    --------
    >>> 'class="hollow"' in cost_bar(-5.0, 10.0), 'class="inked"' in cost_bar(5.0, 10.0)
    (True, True)
    """
    wide = abs(usd) / most * (_WIDE - 2.0)
    css = "hollow" if usd < 0.0 else "inked"
    return (
        f'<svg class="bars one" viewBox="0 0 {_WIDE:.0f} 14" aria-hidden="true">'
        f'<rect class="{css}" x="1" y="1" width="{wide:.1f}" height="12"/></svg>'
    )


def tons_bar(tons: float, most: float, *, lacks: bool) -> str:
    """Return hay that a farm has left as a green bar, or lacks as a dashed frame.

    Parameters
    ----------
    tons : float
        What is left or lacking; not negative. [t]
    most : float
        The largest of the table, over 0. [t]
    lacks : bool
        Whether it is lacking.

    Returns
    -------
    str
        SVG, passed over by whoever hears the page: the figure stands beside it.

    Examples
    --------
    >>> 'class="b-miss"' in tons_bar(5.0, 10.0, lacks=True)
    True
    >>> 'class="ok-up" x="1" y="1" width="119.0"' in tons_bar(5.0, 10.0, lacks=False)
    True
    """
    css, dashes = ("b-miss", _DASHED) if lacks else ("ok-up", "")
    return (
        f'<svg class="bars" viewBox="0 0 {_WIDE:.0f} 14" aria-hidden="true">'
        f'<rect class="{css}" x="1" y="1" width="{tons / most * (_WIDE - 2.0):.1f}" height="12"'
        f"{dashes}/></svg>"
    )


def lasts_bar(share: float, left: float) -> str:
    """Return how long hay lasts and what is left of it.

    Parameters
    ----------
    share : float
        The part of the days to the end of the season for which it lasts. [0 to 1]
    left : float
        What is left at the end, of the most that a farm of the table has left. [0 to 1]

    Returns
    -------
    str
        SVG, passed over by whoever hears the page: straw while it lasts, a dashed frame to the
        end of the season, a line there, and green beyond it for what is left.

    Examples
    --------
    >>> 'class="b-miss"' in lasts_bar(0.5, 0.0), 'class="ok-up"' in lasts_bar(1.0, 0.5)
    (True, True)
    """
    at = share * _TO_END
    parts = [f'<rect class="eaten" x="1" y="2" width="{at:.1f}" height="{_BAR:.0f}"/>']
    if share < 1.0:
        parts.append(
            f'<rect class="b-miss" x="{1.0 + at:.1f}" y="2" width="{_TO_END - at:.1f}" '
            f'height="{_BAR:.0f}"{_DASHED}/>'
        )
    if left > 0.0:
        wide = left * (_WIDE - _TO_END - 3.0)
        parts.append(
            f'<rect class="ok-up" x="{_TO_END + 2.0:.1f}" y="2" width="{wide:.1f}" '
            f'height="{_BAR:.0f}"/>'
        )
    return (
        f'<svg class="bars" viewBox="0 0 {_WIDE:.0f} 15" aria-hidden="true">{"".join(parts)}'
        f'<path class="ax" stroke-width="2" d="M{_TO_END + 1.0:.1f} 0V15"/></svg>'
    )


def rung_bar(covered: float, adds: float, whole: float, label: str) -> str:
    """Return a rung of a ladder: what those above cover, what it adds, and what is still lacking.

    Parameters
    ----------
    covered, adds : float
        What those above it cover and what it adds, none negative. [any unit]
    whole : float
        All that is lacking, over 0. [the same]
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG: gray, then green, in a dashed frame.

    Examples
    --------
    >>> drawn = rung_bar(10.0, 20.0, 40.0, "")
    >>> 'x="59.5" y="1" width="119.0"' in drawn
    True
    >>> rung_bar(0.0, 20.0, 40.0, "").count('class="unsure"')
    0
    """
    scale = (_WIDE - 2.0) / whole
    start = min(covered, whole) * scale
    wide = min(adds * scale, _WIDE - 2.0 - start)
    above = f'<rect class="unsure" x="1" y="1" width="{start:.1f}" height="16"/>' if start else ""
    return (
        f'<svg class="bars" viewBox="0 0 {_WIDE:.0f} 18" role="img" aria-label="{escape(label)}">'
        f'{above}<rect class="ok-up" x="{start:.1f}" y="1" width="{wide:.1f}" height="16"/>'
        f'<rect class="b-miss" x="1" y="1" width="{_WIDE - 2.0:.0f}" height="16"'
        f"{_DASHED}/></svg>"
    )
