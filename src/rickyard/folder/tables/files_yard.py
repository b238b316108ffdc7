"""The optional tables of the yard: its book of movements, and what laboratories sell."""

from __future__ import annotations

from typing import Final

from rickyard import farm
from rickyard.folder.tables import limits
from rickyard.folder.tables.columns import Column, Table, quantity

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
