"""Drawings of pages as SVG: marks, flags of lots, and bales that can be counted.

Pure functions from numbers to text. Every color is a name of the style sheet.
"""

# fmt: off
from rickyard.web.drawn.bars import cost_bar, lasts_bar, rung_bar, tons_bar, two_bars
from rickyard.web.drawn.by_year import by_year
from rickyard.web.drawn.curve import hay_curve
from rickyard.web.drawn.doubt import doubt, ten_dots
from rickyard.web.drawn.flags import flag, flags_of
from rickyard.web.drawn.limits import limit_band
from rickyard.web.drawn.marks import mark
from rickyard.web.drawn.needs import Becoming, Goal, alone_panel, becomes, month_names, need_columns
from rickyard.web.drawn.ribbon import Band, Step, Strip, ration_ribbon
from rickyard.web.drawn.strips import Met, adequacy_strip
from rickyard.web.drawn.tags import ear_tag
from rickyard.web.drawn.wall import (
    LOT_COLUMNS, Part, key_mark, lot_bales, per_mark, wall, whole_marks,
)
from rickyard.web.drawn.yard_map import OnMap, extent, yard_map

__all__ = [
    "Band", "Becoming", "Goal", "LOT_COLUMNS", "Met", "OnMap", "Part", "Step", "Strip",
    "adequacy_strip", "alone_panel", "becomes", "by_year", "cost_bar", "doubt", "ear_tag", "extent",
    "flag", "flags_of", "hay_curve", "key_mark", "lasts_bar", "limit_band", "lot_bales", "mark",
    "month_names", "need_columns", "per_mark", "ration_ribbon", "rung_bar", "ten_dots", "tons_bar",
    "two_bars", "wall", "whole_marks", "yard_map",
]
