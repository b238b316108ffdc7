"""The table of feeds."""

from __future__ import annotations

from typing import Final

from rickyard import farm
from rickyard.folder.tables import limits
from rickyard.folder.tables.columns import (
    Table,
    day,
    flag,
    ident,
    quantity,
    share,
    text,
    word,
)

FEEDS: Final = Table(
    "feeds.csv",
    "one feed that can be bought",
    True,
    (
        ident("feed", "feed_id", "short name of the feed"),
        text("name", "what people call it", required=True),
        word("kind", "kind", farm.FeedKind, "what it is", required=True),
        quantity(
            "price",
            "price_usd_per_kg",
            "price",
            "price as fed, delivered",
            limits.PRICE,
            required=True,
        ),
        ident("table_id", "table_id", "row of the feed table for what is blank", required=False),
        share("dm", "dry matter as fed", limits.FEED_DM),
        share("tdn", "total digestible nutrients, of dry matter", limits.FEED_TDN),
        share("cp", "crude protein, of dry matter", limits.FEED_CP),
        share("ndf", "neutral detergent fiber, of dry matter", limits.FIBER),
        share("ca", "calcium, of dry matter"),
        share("p", "phosphorus, of dry matter"),
        quantity(
            "nitrate_no3n",
            "nitrate_no3n_ppm",
            "ppm",
            "nitrate as nitrogen, of dry matter",
            limits.PPM,
        ),
        share("npn_cp", "crude protein from urea and the like, of dry matter", limits.FEED_NPN),
        quantity("most", "most_kg", "mass", "most that can be bought, as fed", limits.MOST),
        quantity(
            "most",
            "most_kg_per_head_day",
            "mass",
            "most for one head in a day, as fed",
            limits.MOST_PER_HEAD,
            tail="_per_head_day",
        ),
        quantity(
            "least",
            "least_kg_per_head_day",
            "mass",
            "what one head takes in a day of a mineral that is always on offer, as fed",
            limits.LEAST_PER_HEAD,
            tail="_per_head_day",
        ),
        share("feeding_loss", "share of what is offered that is wasted", limits.LOSS),
        quantity(
            "bale_weight",
            "bale_weight_kg",
            "mass",
            "weight of one bale or bag",
            limits.ANY_BALE_WEIGHT,
        ),
        quantity("copper", "copper_ppm", "ppm", "copper, of dry matter; for sheep", limits.PPM),
        flag("ionophore", "whether it holds monensin or the like, which kills horses"),
        share("starch", "starch, of dry matter"),
        share("fat", "fat, of dry matter"),
        share("sulfur", "sulfur, of dry matter"),
        day("from_on", "first day it can be fed; grazing must have it"),
        day("to_on", "first day it can no longer be fed; grazing must have it"),
        quantity(
            "load",
            "load_kg",
            "mass",
            "weight of one load as fed, where it is bought in whole loads",
            limits.LOAD,
        ),
        text("note", "anything else"),
    ),
    ("feed_id",),
)
