"""Standing and stockpiled forage, eaten where it grew: what is trampled, and what can hurt."""

from __future__ import annotations

from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Assumption, Caution, Feed, FeedKind
from rickyard.forage.hazards import ASK_VET

#: Share of standing forage that is trampled, fouled or left, where feeds.csv states none: given
#: in strips stock eat some three fifths of it. Common practice, no published source.
TRAMPLED_PCT: Final = 40.0

#: Words in a name that say what grows there.
_SORGHUMS: Final = ("sorghum", "sudan", "johnson", "milo", "shattercane")
_GATHER_NITRATE: Final = (
    *_SORGHUMS,
    "millet",
    "oat",
    "rye",
    "wheat",
    "barley",
    "triticale",
    "corn",
)
_GRAZED_OUT: Final = ("ryegrass",)
_BLOAT: Final = ("alfalfa", "clover", "legume", "wheat", "medic")
_FESCUE: Final = ("fescue",)


def is_nitrate_suspect_pasture(feed: Feed) -> bool:
    """Say whether a grazing feed may hold nitrate that only a test can rule out.

    Read from its name: sorghums, millets, small grains and corn gather nitrate. Where a value is
    stated nothing is suspected.

    Parameters
    ----------
    feed : Feed
        The feed.

    Returns
    -------
    bool
        Whether it has to be tested first.

    Examples
    --------
    >>> is_nitrate_suspect_pasture(Feed("S", "Standing sudan", FeedKind.GRAZING, 0.02))
    True
    >>> is_nitrate_suspect_pasture(Feed("F", "Stockpiled fescue", FeedKind.GRAZING, 0.02))
    False
    """
    if feed.kind is not FeedKind.GRAZING or feed.nitrate_no3n_ppm is not None:
        return False
    return _names(feed, _GATHER_NITRATE) and not _names(feed, _GRAZED_OUT)


def grazing_cautions(feed: Feed) -> tuple[Caution, ...]:
    """Return what to watch for where stock graze a feed.

    Parameters
    ----------
    feed : Feed
        A feed that is grazed.

    Returns
    -------
    tuple of Caution
        Dangers first; empty where nothing is known to watch for.

    Examples
    --------
    >>> [one.level for one in grazing_cautions(Feed("F", "Clover", FeedKind.GRAZING, 0.02))]
    ['danger', 'note']
    """
    found = []
    if _names(feed, _SORGHUMS):
        found.append(
            Caution(
                "danger",
                feed.feed_id,
                f"Frost or drought makes prussic acid in {feed.name}, which kills within minutes. "
                "Take stock off before a frost, keep them off until a week after a killing frost "
                "when it has dried, and off young regrowth; keep horses off it altogether. "
                f"{ASK_VET}",
                "Extension advice on sorghums, from memory",
            )
        )
    if is_nitrate_suspect_pasture(feed):
        found.append(
            Caution(
                "danger",
                feed.feed_id,
                f"{feed.name} may hold nitrate and was not tested: it is kept from pregnant stock. "
                "Test it, turn no hungry animals onto it, and leave the lower stems. " + ASK_VET,
                "Extension advice on nitrate: sorghum family, small grains, corn",
            )
        )
    if _names(feed, _BLOAT):
        found.append(
            Caution(
                "danger",
                feed.feed_id,
                f"{feed.name} can bloat cattle and sheep: fill them with dry hay first, do not "
                "turn hungry stock onto it or onto frosted legumes, watch them, and ask a "
                "veterinarian about a preventive.",
                COMMON_PRACTICE,
            )
        )
    if _names(feed, _FESCUE):
        found.append(
            Caution(
                "warning",
                feed.feed_id,
                f"Fescue with the endophyte poisons mares before foaling and costs cattle gain and "
                f"feet in the cold: know whether {feed.name} is free of it.",
                "Oregon State University, ergot alkaloids",
            )
        )
    found.append(
        Caution(
            "note",
            feed.feed_id,
            f"{feed.name} can be grazed only while stock can reach it: have hay ready for ice and "
            "deep snow, give it in strips, and see that there is water.",
            COMMON_PRACTICE,
        )
    )
    return tuple(found)


def grazing_assumptions(feed: Feed) -> tuple[Assumption, ...]:
    """Return what is taken for granted of a grazing feed."""
    notes = [
        Assumption(
            f"Walking and grazing {feed.name} costs no more energy than activity_factor of the "
            "group says.",
            COMMON_PRACTICE,
        )
    ]
    if feed.feeding_loss_pct is None:
        notes.append(
            Assumption(
                f"Of {feed.name} stock eat {100.0 - TRAMPLED_PCT:g} %; {TRAMPLED_PCT:g} % is "
                "trampled, fouled or left.",
                COMMON_PRACTICE,
            )
        )
    return tuple(notes)


def _names(feed: Feed, words: tuple[str, ...]) -> bool:
    text = f"{feed.name} {feed.table_id}".lower()
    return any(word in text for word in words)
