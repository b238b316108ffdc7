"""The ear tag of a group: the sign of animals that eat together, with their head in it."""

from __future__ import annotations

from html import escape


def ear_tag(head: int, name: str) -> str:
    """Return an ear tag as a drawing.

    Parameters
    ----------
    head : int
        How many animals.
    name : str
        What the group is called.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> 'aria-label="62 Cows"' in ear_tag(62, "Cows")
    True
    """
    return (
        f'<svg class="tagm" translate="no" width="40" height="40" viewBox="0 0 40 40" role="img" '
        f'aria-label="{head} {escape(name)}">'
        '<path class="eartag" d="M13 3h14l3 12h7v23H3V15h7z"/>'
        '<circle cx="20" cy="9" r="2.2" fill="currentColor"/>'
        f'<text class="big-n" x="20" y="32" text-anchor="middle" font-size="15">{head}</text></svg>'
    )
