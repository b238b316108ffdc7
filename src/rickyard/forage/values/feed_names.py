"""The feed table searched by the names people use: hulls, cake, DDG, creep, wheat mids."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from typing import Final

from rickyard.forage import shipped_rows
from rickyard.forage.values.feed_table import FeedTableRow, feed_ids, feed_row

#: Words that tell the same feed apart by its water, and what each says.
WATER_WORDS: Final = {
    "dry": "dry",
    "dried": "dry",
    "wet": "wet",
    "modified": "modified",
    "pressed": "wet",
    "high": "wet",  # high moisture
}
#: How like a word must be to one of the table to stand in for it, where nothing else is found.
LEAST_LIKENESS: Final = 0.75
#: Below this share of dry matter a feed counts as wet: brewers' and distillers' grains, pulps.
WET_BELOW_DM_PCT: Final = 60.0

#: By what a feed is usually priced in the trade: common practice, no published source. Bushels by
#: the weights of United States grain standards.
_SOLD_BY_ID: Final = {
    "corn_grain_dry_rolled": "ton, or bushel of 56 lb",
    "corn_grain_cracked_nrc2001": "ton, or bushel of 56 lb",
    "barley_grain": "ton, or bushel of 48 lb",
    "oats_grain": "ton, or bushel of 32 lb",
    "wheat_grain": "ton, or bushel of 60 lb",
    "sorghum_grain": "ton, or bushel of 56 lb",
    "protein_tub_24": "tub",
}
_SOLD_BY_CLASS: Final = {
    "mineral": "bag of 50 lb",
    "mineral_mix": "bag of 50 lb",
    "npn": "bag of 50 lb",
    "mixed": "ton, or bag of 50 lb",
    "forage_processed": "ton, or bag of 50 lb",
    "residue": "ton, or bale",
}


@dataclass(frozen=True, slots=True)
class FeedFound:
    """A feed of the table that answers to a name, best first.

    ``called`` are the names people use for it and ``water`` is ``dry``, ``wet`` or ``modified``
    where the table holds the same feed with other water, else empty. ``exact`` says that it is
    called just what was asked for.
    """

    row: FeedTableRow
    called: tuple[str, ...]
    water: str
    sold_by: str
    exact: bool = False


def find_feeds(words: str = "") -> tuple[FeedFound, ...]:
    """Return the feeds that answer to a name, or all of them in the order of the table.

    Parameters
    ----------
    words : str
        What a person calls the feed; capitals, hyphens and a plural do not matter.

    Returns
    -------
    tuple of FeedFound
        Best first. Feeds that are called exactly so come before those that hold all words, and
        dry ones before wet ones unless ``wet`` is said. Empty when nothing is near.

    Examples
    --------
    >>> [one.row.table_id for one in find_feeds("corn_gluten_feed")]
    ['corn_gluten_feed_dry', 'corn_gluten_feed_wet']
    >>> [one.row.table_id for one in find_feeds("wheat mids")]
    ['wheat_middlings']
    >>> find_feeds("wet distillers grains")[0].row.table_id
    'distillers_wet'
    """
    asked = _tokens(words)
    if not asked:
        return tuple(_found(one) for one in feed_ids())
    ranked: list[tuple[float, str]] = [
        (rank, one) for one in feed_ids() if (rank := _rank(one, asked)) is not None
    ]
    if not ranked:
        ranked = [
            (3 + like, one) for one in feed_ids() if (like := _likeness(one, asked)) is not None
        ]
    order = {one: place for place, one in enumerate(feed_ids())}
    ranked.sort(key=lambda pair: (pair[0], _is_wet(pair[1]), order[pair[1]]))
    return tuple(_found(one, exact=rank == 0) for rank, one in ranked)


def _found(table_id: str, *, exact: bool = False) -> FeedFound:
    row = feed_row(table_id)
    sold = _SOLD_BY_ID.get(table_id) or _SOLD_BY_CLASS.get(row.feed_class, "ton")
    return FeedFound(row, _called(table_id), _water(table_id), sold, exact)


def _rank(table_id: str, asked: tuple[str, ...]) -> int | None:
    """Return 0 for a name as it is said, 1 for it but for its water, 2 for its words among more."""
    said = [one for one in asked if one in WATER_WORDS]
    water = _water(table_id)
    if water and said and water not in {WATER_WORDS[one] for one in said}:
        return None
    spoken = [_tokens(one) for one in (table_id, feed_row(table_id).name, *_called(table_id))]
    bare = _without_water(asked)
    if asked in spoken:
        return 0
    if bare and any(_without_water(one) == bare for one in spoken):
        return 1
    return 2 if any(set(asked) <= set(one) for one in spoken) else None


def _likeness(table_id: str, asked: tuple[str, ...]) -> float | None:
    text = " ".join(asked)
    spoken = [" ".join(_tokens(one)) for one in (table_id, *_called(table_id))]
    best = max(SequenceMatcher(None, text, one).ratio() for one in spoken)
    return 1.0 - best if best >= LEAST_LIKENESS else None


def _water(table_id: str) -> str:
    """Return how wet a feed is where its neighbours of the same name differ in that."""
    name = feed_row(table_id).name.split(",")
    told = [WATER_WORDS[one] for one in _tokens(",".join(name[1:])) if one in WATER_WORDS]
    return told[0] if told else ""


def _is_wet(table_id: str) -> bool:
    dm = feed_row(table_id).dm_pct
    return dm is not None and dm < WET_BELOW_DM_PCT


def _without_water(tokens: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one for one in tokens if one not in WATER_WORDS)


def _tokens(text: str) -> tuple[str, ...]:
    """Return the words of a name in small letters, plurals brought to one form."""
    return tuple(_single(one) for one in re.findall(r"[a-z0-9]+", text.casefold()))


def _single(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def _called(table_id: str) -> tuple[str, ...]:
    return _names().get(table_id, ())


@cache
def _names() -> dict[str, tuple[str, ...]]:
    return {
        row["feed_id"]: tuple(one.strip() for one in row["called"].split(";"))
        for row in shipped_rows("feed_names.csv")
    }
