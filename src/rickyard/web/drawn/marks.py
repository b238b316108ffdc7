"""Marks that stand beside a word: danger, warning, note, untested, and the rick of the verdict."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from types import MappingProxyType
from typing import Final

#: Each in a square of 24, in the color of the text around it.
_SHAPES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "danger": '<path d="M12 1.5 23 22H1Z" fill="currentColor"/>'
        '<path d="M12 8.2v7" stroke="var(--ground)" stroke-width="2.8"/>'
        '<circle cx="12" cy="18.6" r="1.7" fill="var(--ground)"/>',
        "warning": '<path d="M12 1.8 22.2 12 12 22.2 1.8 12Z" fill="none" stroke="currentColor" '
        'stroke-width="2.6"/><path d="M12 7.2v5.6M12 15v2.4" stroke="currentColor" '
        'stroke-width="2.6"/>',
        "note": '<circle cx="12" cy="12" r="9.5" fill="none" stroke="currentColor" '
        'stroke-width="2"/><path d="M12 11v6M12 7v2.2" stroke="currentColor" stroke-width="2.4"/>',
        "untested": '<rect x="2.5" y="2.5" width="19" height="19" fill="none" '
        'stroke="currentColor" stroke-width="2.2" stroke-dasharray="3.6 2.7"/>'
        '<circle cx="12" cy="12" r="3.6" fill="none" stroke="currentColor" stroke-width="2.4"/>',
        "enough": '<path d="M12 1 22 7.6H2Z" fill="currentColor"/>'
        '<path d="M2 9.4h20v5.2H2zM2 16.6h20v5.4H2z" fill="currentColor"/>',
        "tight": '<path d="M12 1.9 20.4 7H3.6Z" fill="none" stroke="currentColor" '
        'stroke-width="1.8"/><path d="M2 9.4h20v5.2H2zM2 16.6h20v5.4H2z" fill="currentColor"/>',
        "short": '<path d="M12 1.7 21 7.2H3Z" fill="none" stroke="currentColor" '
        'stroke-width="1.3" stroke-dasharray="1.7 1.1"/><path d="M2.6 9.7h18.8v4.6H2.6z" '
        'fill="none" stroke="currentColor" stroke-width="1.3" stroke-dasharray="1.7 1.1"/>'
        '<path d="M2 16.6h20v5.4H2z" fill="currentColor"/>',
        "weigh": '<path d="M12 3v18M6 21h12M3 7h18" stroke="currentColor" stroke-width="2.4" '
        'fill="none"/><path d="M1 15 5 7l4 8zM15 15l4-8 4 8z" fill="none" stroke="currentColor" '
        'stroke-width="1.8"/>',
        "sack": '<path d="M5 2.5h14v19H5z" fill="none" stroke="currentColor" stroke-width="2"/>'
        '<path d="M5 7h14" stroke="currentColor" stroke-width="2" stroke-dasharray="2.2 1.6"/>',
        "tub": '<path d="M1.5 10h21l-2.6 11H4.1z" fill="none" stroke="currentColor" '
        'stroke-width="2"/><path d="M4 10c2.6-5 13.4-5 16 0" fill="none" stroke="currentColor" '
        'stroke-width="2"/>',
        "rick": '<path d="M15 1 29 9H1Z" fill="currentColor"/>'
        '<path d="M2 11h26v4.6H2zM3.5 17.4h23V22h-23z" fill="currentColor"/>',
    }
)

#: As high as a line of words where no style sheet came; pages set another. [px]
_SIZE: Final = 20


def mark(name: str, label: str = "") -> str:
    """Return a mark.

    Parameters
    ----------
    name : str
        ``danger``, ``warning``, ``note``, ``untested``, ``enough``, ``tight``, ``short``,
        ``weigh``, ``sack`` of bought feed, ``tub`` of mineral or ``rick``.
    label : str
        What it says where no word stands beside it; without it the mark is passed over by whoever
        hears the page.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> mark("note")[:46]
    '<svg class="m m-note" width="20" height="20" v'
    """
    box = "0 0 30 24" if name == "rick" else "0 0 24 24"
    heard = f'role="img" aria-label="{escape(label)}"' if label else 'aria-hidden="true"'
    size = f'width="{_SIZE * (1.25 if name == "rick" else 1):.0f}" height="{_SIZE}"'
    return f'<svg class="m m-{name}" {size} viewBox="{box}" {heard}>{_SHAPES[name]}</svg>'


def mark_shapes(name: str) -> str:
    """Return the shapes of a mark, to stand within another drawing.

    Parameters
    ----------
    name : str
        As `mark` takes it.

    Returns
    -------
    str
        Shapes of SVG, 24 by 24.

    Examples
    --------
    >>> mark_shapes("danger").count("<path")
    2
    """
    return _SHAPES[name]
