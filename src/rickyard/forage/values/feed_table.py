"""The shipped table of purchased feeds: composition with the source of every row.

An empty cell is unknown, never zero. Values are percent of dry matter unless named otherwise.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache
from typing import Final

from rickyard.forage import shipped_rows

# Conflicts between tables that change a ration. The extension figures come from
# cattle on forage diets, which is this program's case; common practice, no published source.
_NASEM: Final = "as printed by NASEM 2016"
_FORAGE_DIET: Final = {
    "soybean_hulls": (
        77.0,
        "extension value for forage-based diets, where their fiber is digested; 67 on diets "
        "with starch, 62.6 in NASEM 2016",
    ),
    "corn_gluten_feed_dry": (80.0, "NASEM 2016; extension 83, NRC 2001 74.1"),
    "ddgs_dry": (89.0, "NASEM 2016; extension 95, NRC 2001 79.5"),
    "whole_cottonseed": (90.0, "low end of the extension range 90-96; NASEM 2016 93.0"),
    "wheat_middlings": (75.0, "on forage diets, between NASEM 2016 (72.9) and extension (83)"),
    "cottonseed_meal_41": (72.0, "on forage diets, between NASEM 2016 (69.6) and extension (78)"),
    "citrus_pulp_dry": (78.0, "on forage diets, between NASEM 2016 (70.0) and extension (82)"),
    "corn_grain_dry_rolled": (87.6, "NASEM 2016; extension 88, NRC 2001 85.0-88.7"),
    "peanut_hulls": (25.0, "extension value; NASEM 2016 prints 42.8"),
    "range_cubes_30": (77.8, "taken from the 20 and 38% cubes; none printed for this cube"),
}
_WITHOUT_ENERGY: Final = frozenset({"mineral", "mineral_mix", "npn"})

# NRC 1996, from memory; for rows whose phosphorus no usable source printed. Straw 0.06-0.10:
# the low end.
_P_FROM_MEMORY_PCT: Final = {
    "corn_silage": 0.22,
    "sorghum_silage_forage": 0.22,
    "sorghum_silage_grain": 0.22,
    "wheat_straw": 0.06,
    "oat_straw": 0.06,
    "barley_straw": 0.06,
    "corn_stalks": 0.10,
}


class FeedTableError(KeyError):
    """A feed or column that the table does not hold; the message names the nearest."""

    def __str__(self) -> str:
        return str(self.args[0])


@dataclass(frozen=True, slots=True)
class FeedTableRow:
    """One feed of the table; ``None`` where no source printed a value.

    ``tdn_pct`` is the printed value and ``recommended_tdn_pct`` the one to plan forage-based
    diets with, for ``recommended_tdn_reason``. ``p_from_memory_pct`` stands in for a phosphorus
    that no usable source printed and is to be shown as such.
    """

    table_id: str
    name: str
    feed_class: str
    dm_pct: float | None
    tdn_pct: float | None
    recommended_tdn_pct: float | None
    recommended_tdn_reason: str
    cp_pct: float | None
    rup_pct_of_cp: float | None
    npn_cp_pct: float | None
    ee_pct: float | None
    ndf_pct: float | None
    pef_pct_of_ndf: float | None
    ash_pct: float | None
    starch_pct: float | None
    ca_pct: float | None
    p_pct: float | None
    p_from_memory_pct: float | None
    mg_pct: float | None
    k_pct: float | None
    na_pct: float | None
    s_pct: float | None
    cu_ppm: float | None
    source: str
    p_source: str
    notes: str


def feed_ids() -> tuple[str, ...]:
    """Return the ids of all feeds, in the order of the table.

    Returns
    -------
    tuple of str
        Names of rows, for ``table_id`` of a feed.

    Examples
    --------
    >>> feed_ids()[0]
    'corn_grain_dry_rolled'
    """
    return tuple(_table())


def feed_row(table_id: str) -> FeedTableRow:
    """Return one feed of the table.

    Parameters
    ----------
    table_id : str
        The name of the row.

    Returns
    -------
    FeedTableRow
        Composition per dry matter, with its source. [% DM]

    Raises
    ------
    FeedTableError
        If the table has no such feed; the message names the nearest.

    Examples
    --------
    >>> hulls = feed_row("soybean_hulls")
    >>> hulls.tdn_pct, hulls.recommended_tdn_pct
    (62.6, 77.0)
    >>> feed_row("soyhulls")
    Traceback (most recent call last):
    ...
    rickyard.forage.values.feed_table.FeedTableError: "soyhulls" is not in the feed table. Did you \
mean soybean_hulls?
    """
    row = _raw(table_id)
    printed = _number(row["tdn_pct_dm"])
    recommended, reason = _recommended_tdn(table_id, row["feed_class"], printed)
    return FeedTableRow(
        table_id=table_id,
        name=row["feed_name"],
        feed_class=row["feed_class"],
        dm_pct=_number(row["dm_pct_as_fed"]),
        tdn_pct=printed,
        recommended_tdn_pct=recommended,
        recommended_tdn_reason=reason,
        cp_pct=_number(row["cp_pct_dm"]),
        rup_pct_of_cp=_number(row["rup_pct_of_cp"]),
        npn_cp_pct=_number(row["npn_cp_equiv_pct_dm"]),
        ee_pct=_number(row["ee_pct_dm"]),
        ndf_pct=_number(row["ndf_pct_dm"]),
        pef_pct_of_ndf=_number(row["pef_pct_of_ndf"]),
        ash_pct=_number(row["ash_pct_dm"]),
        starch_pct=_number(row["starch_pct_dm"]),
        ca_pct=_number(row["ca_pct_dm"]),
        p_pct=_number(row["p_pct_dm"]),
        p_from_memory_pct=_P_FROM_MEMORY_PCT.get(table_id),
        mg_pct=_number(row["mg_pct_dm"]),
        k_pct=_number(row["k_pct_dm"]),
        na_pct=_number(row["na_pct_dm"]),
        s_pct=_number(row["s_pct_dm"]),
        cu_ppm=_number(row["cu_mg_per_kg_dm"]),
        source=row["source"],
        p_source=row["p_source"],
        notes=row["notes"],
    )


def cell(table_id: str, column: str) -> float | str | None:
    """Return one cell of the table as it is shipped.

    Parameters
    ----------
    table_id : str
        The feed.
    column : str
        A column of the shipped file, for example ``cp_pct_dm``.

    Returns
    -------
    float, str or None
        A number where the cell holds one, the text where not, ``None`` where it is empty.

    Raises
    ------
    FeedTableError
        If the table has no such feed or column; the message names the nearest.

    Examples
    --------
    >>> cell("corn_grain_dry_rolled", "cp_pct_dm")
    8.8
    """
    row = _raw(table_id)
    if column not in row:
        raise FeedTableError(_unknown(column, "a column of the feed table", list(row)))
    text = row[column]
    try:
        return _number(text)
    except ValueError:
        return text


def _recommended_tdn(
    table_id: str, feed_class: str, printed: float | None
) -> tuple[float | None, str]:
    if table_id in _FORAGE_DIET:
        return _FORAGE_DIET[table_id]
    if printed is not None:
        source = _raw(table_id)["source"]
        return printed, _NASEM if source.startswith("NASEM 2016") else f"as printed: {source}"
    if feed_class in _WITHOUT_ENERGY:
        return 0.0, "minerals and urea hold no digestible energy"
    return None, "no source prints one; state it from the tag or a test"


def _raw(table_id: str) -> dict[str, str]:
    table = _table()
    if table_id not in table:
        raise FeedTableError(_unknown(table_id, "in the feed table", list(table)))
    return table[table_id]


def _unknown(word: str, where: str, choices: list[str]) -> str:
    near = difflib.get_close_matches(word.lower().replace(" ", "_"), choices, n=1, cutoff=0.5)
    hint = f" Did you mean {near[0]}?" if near else ""
    return f'"{word}" is not {where}.{hint}'


def _number(text: str) -> float | None:
    return float(text) if text.strip() else None


@cache
def _table() -> dict[str, dict[str, str]]:
    return {row["feed_id"]: row for row in shipped_rows("feed_composition.csv")}
