"""What one kilogram of dry matter of each lot and feed holds, and what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any, Final, Literal

import numpy as np

from rickyard.farm import Assumption, Feed, FeedKind, Forage, Lot, Season
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.uncertainty import typical_values
from rickyard.forage.values import FeedTableRow, feed_row
from rickyard.nutrients import TAGGED
from rickyard.program.inputs.grain_effects import beside_hay
from rickyard.program.inputs.opening_stock import YardLot
from rickyard.program.inputs.said import assumed
from rickyard.program.result import SourceValues
from rickyard.quantities import KG_PER_SHORT_TON
from rickyard.safety import amount_of

#: Hay where no lot has a value: common practice, no published source. [$/short ton DM]
USUAL_HAY_USD_PER_TON_DM: Final = 120.0

#: Kinds of feed that count as long forage.
LONG_FORAGE: Final = frozenset({FeedKind.FORAGE, FeedKind.GRAZING})

#: Starch counted in a grain of which none is stated: that of corn, the starchiest of the feed
#: table. [% DM]
UNSTATED_STARCH_PCT: Final = 72.1

#: Hay of these may hold much potassium where nobody tested it (University of Nebraska, winter
#: tetany; small grains by their history of tetany).
RICH_IN_POTASSIUM: Final = frozenset({Forage.SMALL_GRAIN, Forage.COOL_GRASS})

#: Nutrients a feed may leave to the table, and what a mineral lacks by its nature.
_FROM_TABLE: Final = ("dm_pct", "tdn_pct", "cp_pct", "ndf_pct", "ca_pct", "p_pct")

_PLAIN: Final = {
    "dm_pct": "dry matter",
    "tdn_pct": "TDN",
    "cp_pct": "protein",
    "ndf_pct": "fiber (NDF)",
    "ca_pct": "calcium",
    "p_pct": "phosphorus",
}


def lot_values(profile: LotProfile, one: YardLot, usd_per_kg_dm: float) -> SourceValues:
    """Return a lot as it is counted."""
    origins = dict(profile.origins)
    minor: dict[str, float] = {}
    for tagged in TAGGED:
        measured = profile.measured.get(tagged.analyte)
        origins[tagged.field] = "book" if measured is None else "lab"
        minor[tagged.field] = (
            book_of_hay(one.lot.forage, tagged.analyte, tagged.unknown)
            if measured is None
            else measured
        )
    potassium = profile.measured.get("k")
    origins["potassium_pct"] = "book" if potassium is None else "lab"
    return SourceValues(
        source_id=one.lot.lot_id,
        kind="lot",
        name=one.lot.name,
        is_forage=True,
        is_hay=True,
        dm_pct=profile.dm_pct,
        tdn_pct=profile.tdn_pct,
        nem_mcal_per_kg=profile.nem_mcal_per_kg,
        neg_mcal_per_kg=profile.neg_mcal_per_kg,
        cp_pct=profile.cp_pct,
        ndf_pct=profile.ndf_pct,
        ca_pct=profile.ca_pct,
        p_pct=profile.p_pct,
        nitrate_no3n_ppm=profile.nitrate_no3n_ppm,
        usd_per_kg_dm=usd_per_kg_dm,
        bale_weight_kg=one.bale_weight_kg,
        origins=origins,
        copper_ppm=profile.measured.get("cu"),
        rdp_pct_of_cp=_degradable(profile.measured.get("rdp"), profile.measured.get("rup")),
        npn_cp_pct=0.0,
        room_ndf_pct=profile.ndf_pct,
        potassium_pct=counted_potassium(one.lot.forage) if potassium is None else potassium,
        **minor,
    )


def counted_potassium(forage: Forage | None) -> float | None:
    """Return what stands in for the potassium of hay that nobody tested. [% DM].

    Small grains and cool-season grasses are the forages of tetany and count as high; of others
    nothing is counted.

    Examples
    --------
    >>> counted_potassium(Forage.SMALL_GRAIN), counted_potassium(Forage.ALFALFA)
    (2.5, None)
    """
    return amount_of("tetany-counted-as") if forage in RICH_IN_POTASSIUM else None


@cache
def book_of_hay(
    forage: Forage | None, analyte: str, unknown: Literal["most", "least"] = "most"
) -> float:
    """Return what stands in for the starch, fat or sulfur that nobody measured in a hay.

    The mean of the typical rows of its forage; where there is none, the highest mean of any dry
    hay in the table, which is the cautious side of a ceiling, or the least. [% DM]

    Examples
    --------
    >>> book_of_hay(Forage.COOL_GRASS, "s"), book_of_hay(Forage.PRAIRIE, "s")
    (0.21, 0.28)
    """
    means: dict[Forage, list[float]] = {}
    for one in typical_values(quantity=analyte):
        if one.mean is not None:
            means.setdefault(Forage(one.forage), []).append(one.mean)
    if forage is not None and forage in means:
        return float(np.mean(means[forage]))
    choose = max if unknown == "most" else min
    return choose(
        float(np.mean(found)) for kind, found in means.items() if kind is not Forage.CORN_SILAGE
    )


def lot_prices(
    lots: Sequence[Lot], profiles: Sequence[LotProfile]
) -> tuple[list[float], list[Assumption]]:
    """Return the value of each lot, US dollars per kg DM, and what was assumed."""
    known = [
        None if lot.value_usd_per_kg is None else lot.value_usd_per_kg * 100.0 / profile.dm_pct
        for lot, profile in zip(lots, profiles, strict=True)
    ]
    stated = [price for price in known if price is not None]
    usual = float(np.mean(stated)) if stated else USUAL_HAY_USD_PER_TON_DM / KG_PER_SHORT_TON
    notes = []
    for lot, price in zip(lots, known, strict=True):
        if price is None:
            as_what = (
                "the mean value of the other lots"
                if stated
                else f"${USUAL_HAY_USD_PER_TON_DM:g} a short ton, as no lot has a value: common "
                "practice, no published source. Write value_usd_per_ton in lots.csv"
            )
            notes.append(assumed("no_lot_value", lot=lot.name, as_what=as_what))
    return [usual if price is None else price for price in known], notes


def feed_values(feed: Feed, season: Season) -> tuple[SourceValues, tuple[Assumption, ...]]:
    """Return a feed as it is counted, and what was assumed of it.

    Parameters
    ----------
    feed : Feed
        A feed that is bought or grazed.
    season : Season
        Says whether what grain does to hay is counted.

    Returns
    -------
    tuple
        What it holds, and what was taken for granted of it.
    """
    row = feed_row(feed.table_id) if feed.table_id else None
    values: dict[str, float] = {}
    origins: dict[str, str] = {}
    missing: list[str] = []
    for name in _FROM_TABLE:
        stated = getattr(feed, name)
        tabled = (
            None
            if row is None
            else getattr(row, "recommended_tdn_pct" if name == "tdn_pct" else name)
        )
        if stated is not None:
            values[name], origins[name] = float(stated), "stated"
        elif tabled is not None:
            values[name], origins[name] = float(tabled), "table"
        else:
            values[name], origins[name] = (100.0 if name == "dm_pct" else 0.0), "book"
            missing.append(name)
    tdn = values["tdn_pct"]
    minor = _values_for_ceilings(feed, row, origins)
    value = SourceValues(
        source_id=feed.feed_id,
        kind="feed",
        name=feed.name,
        is_forage=feed.kind in LONG_FORAGE,
        is_hay=feed.kind is FeedKind.FORAGE,
        nem_mcal_per_kg=float(nem_from_tdn(tdn)),
        neg_mcal_per_kg=float(neg_from_tdn(tdn)),
        nitrate_no3n_ppm=feed.nitrate_no3n_ppm,
        usd_per_kg_dm=feed.price_usd_per_kg / (values["dm_pct"] / 100.0),
        bale_weight_kg=feed.bale_weight_kg,
        origins=origins,
        copper_ppm=feed.copper_ppm,
        rdp_pct_of_cp=_degradable(None, None if row is None else row.rup_pct_of_cp),
        npn_cp_pct=npn_cp_pct(feed),
        potassium_pct=_potassium(feed, row, origins),
        **minor,
        **values,
    )
    return beside_hay(value, season), _feed_notes(feed, row is not None, missing)


def _degradable(rdp_pct: float | None, rup_pct: float | None) -> float | None:
    """Return degradable protein as reported, or as what is left of the rest. [% of CP]."""
    return rdp_pct if rdp_pct is not None or rup_pct is None else 100.0 - rup_pct


def npn_cp_pct(feed: Feed) -> float:
    """Return the protein of a feed that is urea or the like, as the folder or the table says.

    Examples
    --------
    >>> npn_cp_pct(Feed("U", "Urea", FeedKind.SUPPLEMENT, 0.6, table_id="urea"))
    291.0
    """
    if feed.npn_cp_pct is not None:
        return feed.npn_cp_pct
    tabled = feed_row(feed.table_id).npn_cp_pct if feed.table_id else None
    # Only feeds made with it hold any; what is not named on a tag is not there.
    return tabled or 0.0


def _values_for_ceilings(
    feed: Feed, row: FeedTableRow | None, origins: dict[str, str]
) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for tagged in TAGGED:
        name = tagged.field
        stated = getattr(feed, name)
        tabled = None if row is None else getattr(row, tagged.table_field)
        if stated is not None:
            found[name], origins[name] = stated, "stated"
        elif tabled is not None:
            found[name], origins[name] = tabled, "table"
        elif feed.kind in LONG_FORAGE:
            found[name], origins[name] = book_of_hay(None, tagged.analyte, tagged.unknown), "book"
        elif feed.kind is FeedKind.GRAIN and name == "starch_pct":
            found[name], origins[name] = UNSTATED_STARCH_PCT, "book"
        else:
            found[name] = None
    return found


def _potassium(feed: Feed, row: FeedTableRow | None, origins: dict[str, str]) -> float | None:
    """Return the potassium of a feed by its tag or its row, ``None`` where neither says it."""
    if feed.potassium_pct is not None:
        origins["potassium_pct"] = "stated"
        return feed.potassium_pct
    tabled = None if row is None else row.k_pct
    if tabled is not None:
        origins["potassium_pct"] = "table"
    return tabled


def _feed_notes(feed: Feed, tabled: bool, missing: Sequence[str]) -> tuple[Assumption, ...]:
    notes = []
    if tabled:
        notes.append(assumed("from_feed_table", feed=feed.name, row=feed.table_id))
    # A mineral has no energy, protein or fiber by its nature; that is no assumption.
    worth_saying = [
        name for name in missing if feed.kind is not FeedKind.MINERAL or name == "dm_pct"
    ]
    names = ", ".join(_PLAIN[name] for name in worth_saying if name != "dm_pct")
    if names:
        notes.append(assumed("unknown_supply", names=names, feed=feed.name))
    if "dm_pct" in worth_saying:
        notes.append(assumed("counted_dry", feed=feed.name))
    return tuple(notes)
