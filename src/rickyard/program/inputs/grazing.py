"""Standing and stockpiled forage, eaten where it grew: what is trampled, and what can hurt."""

from __future__ import annotations

from typing import Final

from rickyard.farm import Assumption, Caution, Feed, FeedKind
from rickyard.forage import Risk, risks_named
from rickyard.forage.hazards import ASK_VET
from rickyard.program.inputs.said import assumed, cautioned

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


def grazing_cautions(feed: Feed, *, fescue: bool = True) -> tuple[Caution, ...]:
    """Return what to watch for where stock graze a feed.

    Parameters
    ----------
    feed : Feed
        A feed that is grazed.
    fescue : bool
        Whether the endophyte of fescue is told of here, and by no rule.

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
        found.append(cautioned("grazing_prussic", feed.feed_id, feed=feed.name, ask_vet=ASK_VET))
    if is_nitrate_suspect_pasture(feed):
        found.append(cautioned("grazing_nitrate", feed.feed_id, feed=feed.name, ask_vet=ASK_VET))
    if Risk.BLOAT in risks:
        found.append(cautioned("grazing_bloat", feed.feed_id, feed=feed.name))
    if fescue and Risk.ENDOPHYTE in risks:
        found.append(cautioned("grazing_fescue", feed.feed_id, feed=feed.name))
    found.append(cautioned("grazing_reach", feed.feed_id, feed=feed.name))
    return tuple(found)


def grazing_assumptions(feed: Feed) -> tuple[Assumption, ...]:
    """Return what is assumed of a grazing feed."""
    notes = [assumed("grazing_walk", feed=feed.name)]
    if feed.feeding_loss_pct is None:
        notes.append(
            assumed(
                "grazing_trampled",
                eaten=100.0 - TRAMPLED_PCT,
                feed=feed.name,
                trampled=TRAMPLED_PCT,
            )
        )
    return tuple(notes)


def _risks(feed: Feed) -> frozenset[Risk]:
    return risks_named(f"{feed.name} {feed.table_id.replace('_', ' ')}")
