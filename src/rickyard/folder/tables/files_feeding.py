"""The tables of feeds, of stated needs, of what was fed and of what a person wants fed."""

from __future__ import annotations

from typing import Final

from rickyard import farm
from rickyard.folder.tables import limits, limits_season
from rickyard.folder.tables.columns import (
    Column,
    Table,
    day,
    flag,
    ident,
    number,
    quantity,
    share,
    text,
    word,
)
from rickyard.folder.tables.limits import ColumnLimit

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
            limits_season.LOAD,
        ),
        text("note", "anything else"),
    ),
    ("feed_id",),
)


def _need(name: str, means: str, limit: ColumnLimit) -> Column:
    return quantity(name, f"{name}_kg", "mass", means, limit)


NEEDS: Final = Table(
    "needs.csv",
    "what one head needs in a day, stated in place of the computed need",
    False,
    (
        ident("group", "group_id", "the group, as in groups.csv"),
        day("start", "first day it holds", required=True),
        day("end", "first day it no longer holds", required=True),
        quantity("nem", "nem_mcal", "energy", "net energy for maintenance", limits.NEED_ENERGY),
        _need("tdn", "total digestible nutrients", limits.NEED_FEED),
        _need("cp", "crude protein", limits.NEED_FEED),
        _need("ca", "calcium", limits.NEED_MINERAL),
        _need("p", "phosphorus", limits.NEED_MINERAL),
        _need("least_dm", "least dry matter", limits.NEED_FEED),
        _need("most_dm", "most dry matter", limits.NEED_FEED),
    ),
    ("group_id", "start", "end"),
    most_rows=5_000,
)

FED: Final = Table(
    "fed.csv",
    "what was really fed to one group on one day",
    False,
    (
        day("day", "day it was fed", required=True),
        ident("source", "source_id", "the lot or feed"),
        ident("group", "group_id", "the group, as in groups.csv"),
        number("bales", "bales fed", limits.BALES),
        quantity("mass", "mass_kg", "mass", "weight fed, as fed", limits.FED_MASS),
        text("note", "anything else"),
    ),
    ("day", "source_id", "group_id"),
    most_rows=30_000,
)

WISHES: Final = Table(
    "wishes.csv",
    "what a person wants of one lot or feed in the season program",
    False,
    (
        word("wish", "wish", farm.Wanted, "to be fed some, none, or an amount", required=True),
        ident("source", "source_id", "the lot or feed"),
        ident("group", "group_id", "the group; blank is every group", required=False),
        day("start", "first day it holds; blank is the season's first"),
        day("end", "first day it no longer holds; blank is the season's end"),
        quantity(
            "as_fed",
            "as_fed_kg_per_head_day",
            "mass",
            "what each head is to be fed in a day, water and all; for the wish amount",
            limits_season.WANTED_AMOUNT,
            tail="_per_head_day",
        ),
        text("note", "anything else"),
    ),
    ("wish", "source_id", "group_id", "start"),
)


MOVES: Final = Table(
    "moves.csv",
    "what happened to bales of one lot on one day",
    False,
    (
        Column("day", "day", "date", "day it happened", required=True),
        Column("lot", "lot_id", "id", "the lot, as in lots.csv", required=True),
        Column("kind", "kind", "word", "what happened", required=True, words=farm.MoveKind),
        Column(
            "bales",
            "bales",
            "number",
            "bales; negative only in a correction",
            limit=limits.BALES_MOVED,
        ),
        quantity(
            "mass",
            "mass_kg",
            "mass",
            "weight as fed; negative only in a correction",
            limits.MASS_MOVED,
        ),
        Column("to", "to_lot_id", "id", "the lot that bales are moved into", blank=""),
        Column("named", "named", "text", "who answers for a correction", blank=""),
        Column("note", "note", "text", "anything else", blank=""),
    ),
    ("day", "lot_id", "kind", "to_lot_id"),
    most_rows=30_000,
)

LABS: Final = Table(
    "labs.csv",
    "one package of tests that a laboratory sells for one price",
    False,
    (
        Column("lab", "lab", "text", "name of the laboratory", required=True, blank=""),
        Column("package", "package", "text", "what it calls the package", required=True, blank=""),
        Column(
            "price_usd",
            "price_usd",
            "number",
            "price of one sample",
            required=True,
            limit=limits.TEST_PRICE,
        ),
        Column(
            "tests",
            "tests",
            "text",
            "the tests, by the names of analytes, with spaces between them",
            required=True,
            blank="",
        ),
        Column("chemistry", "chemistry", "text", "NIR or wet chemistry", blank=""),
        Column(
            "working_days",
            "working_days",
            "whole",
            "working days from arrival to report",
            limit=limits.LAB_DAYS,
        ),
        Column("note", "note", "text", "anything else", blank=""),
    ),
    ("lab", "package"),
)
