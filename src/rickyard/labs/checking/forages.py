"""Which forage a laboratory's words name, and whether it is a wet one."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from rickyard.kinds import Forage
from rickyard.labs.vocabulary import plain

_WORDS: Final[tuple[tuple[Forage, str], ...]] = (
    (Forage.CORN_SILAGE, r"corn[ _-]?silage|maize silage"),
    (Forage.STRAW, r"straw|stalk|stover|residue"),
    (Forage.LEGUME_GRASS, r"mix|legume[ _/-]?grass|grass[ _/-]?legume|alf\w*[ /&-]+(?:and )?"
     r"(?:grass|orchard|brome|timothy|fescue)|grass[ /&-]+alf|"
     r"clover[ /&-]+(?:grass|fescue|orchard)|"
     r"(?:grass|fescue|orchardgrass)[ /&-]+clover|mmg|mml"),
    (Forage.ALFALFA, r"alfalfa|lucerne"),
    (Forage.CLOVER, r"clover|vetch|lespedeza|birdsfoot|legume"),
    (Forage.ANNUAL_RYEGRASS, r"annual rye ?grass"),
    (Forage.SUMMER_ANNUAL, r"sorghum|sudan|millet|crabgrass|teff|summer[ _]annual|cane"),
    (Forage.SMALL_GRAIN, r"\boats?\b|\boat ?lage|wheat|barley|triticale|"
     r"\brye\b|small[ _]grain|cereal"),
    (Forage.PRAIRIE, r"prairie|native|meadow hay|bluestem"),
    (Forage.WARM_GRASS, r"bermuda|bahia|warm[ _-]?(?:season)?[ _-]?grass|dallis|switchgrass|"
     r"coastal|tifton"),
    (Forage.COOL_GRASS, r"fescue|orchard|timothy|brome|cool[ _-]?(?:season)?[ _-]?grass|rye ?grass|"
     r"bluegrass|canary|\bgrass"),
)  # fmt: skip
_WET: Final = re.compile(r"silage|haylage|balage|baleage|wrapped|ensiled|greenchop|fresh|oatlage")
_DRY: Final = re.compile(r"\bhay\b|straw|stover|pellet|cube")


@lru_cache(maxsize=16384)
def forage_of(words: str) -> Forage | None:
    """Return the forage that words name, or ``None``.

    Parameters
    ----------
    words : str
        How a report calls what was sampled.

    Returns
    -------
    Forage or None
        The forage, ``None`` where the words name none.

    Examples
    --------
    >>> forage_of("Alfalfa/grass hay"), forage_of("Sorghum-sudan"), forage_of("feed")
    (<Forage.LEGUME_GRASS: 'legume_grass'>, <Forage.SUMMER_ANNUAL: 'summer_annual'>, None)
    """
    shown = plain(words)
    return next((forage for forage, pattern in _WORDS if re.search(pattern, shown)), None)


@lru_cache(maxsize=16384)
def is_wet(words: str) -> bool | None:
    """Return whether words name silage or dry hay, or ``None`` where they do not tell.

    Examples
    --------
    >>> is_wet("grass haylage"), is_wet("grass hay"), is_wet("grass")
    (True, False, None)
    """
    shown = plain(words)
    if _WET.search(shown):
        return True
    return False if _DRY.search(shown) else None
