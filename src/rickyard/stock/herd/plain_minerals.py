"""Which minerals are one plain salt, to which nobody adds copper, and which are mixed."""

from __future__ import annotations

import re
from typing import Final

from rickyard.farm import Feed, FeedKind

#: Plain minerals of the feed table to which no copper is added.
_ROWS: Final = frozenset(
    {
        "salt",
        "limestone",
        "calcium_carbonate",
        "dicalcium_phosphate",
        "monocalcium_phosphate",
        "magnesium_oxide",
        "potassium_chloride",
    }
)

#: The names they are bought by, and words that say that a product is mixed all the same. Common
#: practice, no published source.
_PLAIN: Final = re.compile(
    r"\b(?:limestone|lime|calcium carbonate|(?:di|mono)cal(?:cium phosphate)?|salt|gypsum"
    r"|mag(?:nesium )?ox(?:ide)?|epsom salts?|potassium chloride|oyster ?shells?|baking soda)\b"
)
_MIXED: Final = re.compile(
    r"trace|tm\b|mineral|mix|copper|\bcu\b|cobalt|selenium|supplement|lick|\bred\b|\bblue\b"
)


def may_hold_copper(feed: Feed) -> bool:
    """Say whether copper may have been added to a mineral whose copper nobody stated.

    Parameters
    ----------
    feed : Feed
        Its kind, its row of the feed table and its name are read.

    Returns
    -------
    bool
        True of a mineral that is not one plain salt.

    Examples
    --------
    >>> names = ("Ground limestone", "Trace mineral salt", "Cow mineral", "White salt")
    >>> [may_hold_copper(Feed("M", name, FeedKind.MINERAL, 1.0)) for name in names]
    [False, True, True, False]
    """
    if feed.kind is not FeedKind.MINERAL or feed.table_id in _ROWS:
        return False
    text = feed.name.lower()
    return not _PLAIN.search(text) or bool(_MIXED.search(text))
