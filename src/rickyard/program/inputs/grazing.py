"""Standing and stockpiled forage, eaten where it grew: what is trampled, and what can hurt."""

from __future__ import annotations

from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Assumption, Caution, Feed, FeedKind
from rickyard.forage import Risk, risks_named
from rickyard.forage.hazards import ASK_VET

#: Share of standing forage that is trampled, fouled or left, where feeds.csv states none: given
#: in strips stock eat some three fifths of it. Common practice, no published source.
TRAMPLED_PCT: Final = 40.0


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
    return Risk.NITRATE in _risks(feed)


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
    found, risks = [], _risks(feed)
    if Risk.PRUSSIC_ACID in risks:
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
    if Risk.BLOAT in risks:
        found.append(
            Caution(
                "danger",
                feed.feed_id,
                f"{feed.name} can bloat cattle and sheep: fill them with dry hay first, never "
                "turn hungry stock onto it or onto frosted legumes, watch them, and ask a "
                "veterinarian about a bloat preventive.",
                COMMON_PRACTICE,
            )
        )
    if Risk.ENDOPHYTE in risks:
        found.append(
            Caution(
                "warning",
                feed.feed_id,
                "Endophyte-infected fescue poisons mares before foaling, and in cattle cuts gain "
                f"and can cause fescue foot in the cold: know whether {feed.name} is "
                "endophyte-free.",
                "Oregon State University, ergot alkaloids",
            )
        )
    found.append(
        Caution(
            "note",
            feed.feed_id,
            f"{feed.name} can be grazed only while stock can reach it: have hay ready for ice and "
            "deep snow, strip-graze it, and see that there is water.",
            COMMON_PRACTICE,
        )
    )
    return tuple(found)


def grazing_assumptions(feed: Feed) -> tuple[Assumption, ...]:
    """Return what is assumed of a grazing feed."""
    notes = [
        Assumption(
            f"Walking and grazing {feed.name} takes no more energy than the group's "
            "activity_factor says.",
            COMMON_PRACTICE,
        )
    ]
    if feed.feeding_loss_pct is None:
        notes.append(
            Assumption(
                f"Stock eat {100.0 - TRAMPLED_PCT:g}% of {feed.name}; {TRAMPLED_PCT:g}% is "
                "trampled, fouled or left.",
                COMMON_PRACTICE,
            )
        )
    return tuple(notes)


def _risks(feed: Feed) -> frozenset[Risk]:
    return risks_named(f"{feed.name} {feed.table_id.replace('_', ' ')}")
