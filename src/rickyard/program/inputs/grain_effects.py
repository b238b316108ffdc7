"""What grain and other concentrate do to the hay beside them: room taken up, fiber left undigested.

Both are charged to the concentrate, so that a diet stays the sum of its parts: its energy counts
less by the TDN of fiber that it keeps from being digested, and it takes the room of the forage that
stock leave for it. Horses digest fiber behind the small gut and are not counted.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rickyard.farm import Assumption, Feed, FeedKind, Season
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.values import feed_row
from rickyard.program.inputs.said import assumed
from rickyard.program.result import SourceValues
from rickyard.stock.equations import NDF_CAP_PCT_BW
from rickyard.stock.fill import substitution

#: Starch of corn, against which other feeds count by their starch: dry rolled corn of the feed
#: table, with its source there. A grain of unknown starch counts as corn before. [% DM]
STARCH_OF_CORN_PCT: Final = feed_row("corn_grain_dry_rolled").starch_pct or 0.0

#: Where substitution is read: half a percent of body weight, the most starch grain there may be,
#: beside a hay of middling energy and fiber. Common practice. [% of body weight, % DM]
AT_PCT_BW: Final = 0.5
AT_TDN_PCT: Final = 55.5
HAY_NDF_PCT: Final = 60.0

#: From this much protein on a feed puts no forage aside, and from this much fiber on one that is
#: no grain counts as a fibrous by-product. [% DM]
PROTEIN_FEED_CP_PCT: Final = 30.0
BY_PRODUCT_NDF_PCT: Final = 20.0


def as_corn(starch_pct: float | None) -> float:
    """Return the starch of a feed as a share of that of corn, 0 to 1; 0 where it has none to tell.

    What is left unknown is a supplement or mineral: of a grain nobody knows less than of corn.

    Examples
    --------
    >>> as_corn(72.1), as_corn(None)
    (1.0, 0.0)
    """
    return min((starch_pct or 0.0) / STARCH_OF_CORN_PCT, 1.0)


def tdn_lost_pct(starch_pct: float | None) -> float:
    """Return what the TDN of a feed counts less for the fiber that its starch leaves undigested.

    Examples
    --------
    >>> round(tdn_lost_pct(72.1), 1)
    9.7
    """
    return 100.0 * float(substitution.tdn_lost_frac(NDF_CAP_PCT_BW)) * as_corn(starch_pct)


def room_pct(value: SourceValues) -> float:
    """Return the fiber of hay whose room a feed takes, of its dry matter. [% DM]."""
    if value.is_forage:
        return value.ndf_pct
    starchy = as_corn(value.starch_pct)
    rate = starchy * float(substitution.put_aside_rate("starch", AT_PCT_BW, AT_TDN_PCT))
    if value.cp_pct < PROTEIN_FEED_CP_PCT and value.ndf_pct >= BY_PRODUCT_NDF_PCT:
        fibrous = float(substitution.put_aside_rate("fibre", AT_PCT_BW, AT_TDN_PCT))
        rate += (1.0 - starchy) * fibrous
    return HAY_NDF_PCT * rate


def beside_hay(value: SourceValues, season: Season) -> SourceValues:
    """Return a source as it counts beside hay; as it is where the season leaves this out."""
    if value.is_forage or not season.grain_on_hay:
        return replace(value, room_ndf_pct=value.ndf_pct if value.is_forage else 0.0)
    counted = max(value.tdn_pct - tdn_lost_pct(value.starch_pct), 0.0)
    return replace(
        value,
        nem_mcal_per_kg=float(nem_from_tdn(counted)),
        neg_mcal_per_kg=float(neg_from_tdn(counted)),
        room_ndf_pct=room_pct(value),
    )


def grain_notes(feeds: tuple[Feed, ...], season: Season) -> list[Assumption]:
    """Say how the effect of grain on hay is counted, where there is any to count."""
    if not any(feed.kind in (FeedKind.GRAIN, FeedKind.SUPPLEMENT) for feed in feeds):
        return []
    if not season.grain_on_hay:
        return [assumed("grain_on_hay_left_out")]
    starch, fibrous = (
        float(substitution.put_aside_rate(kind, AT_PCT_BW, AT_TDN_PCT))
        for kind in ("starch", "fibre")
    )
    points = tdn_lost_pct(STARCH_OF_CORN_PCT)
    return [assumed("grain_on_hay", starch=starch, fibrous=fibrous, points=points)]
