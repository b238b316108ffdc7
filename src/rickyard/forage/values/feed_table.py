"""The shipped table of purchased feeds: composition with the source of every row.

An empty cell is unknown, never zero. Values are percent of dry matter unless named otherwise.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass, fields
from functools import cache
from typing import Final

from rickyard.forage import shipped_rows

# Where tables conflict so that a ration changes, the column of forage-based diets says what to
# take: the extension figures come from cattle on such diets, which is this program's case; common
# practice, no published source. Phosphorus from memory, NRC 1996, stands in where no usable
# source printed one.
_NASEM: Final = "as printed by NASEM 2016"
_WITHOUT_ENERGY: Final = frozenset({"mineral", "mineral_mix", "npn"})
#: Columns that are called otherwise than their field with ``_dm``.
_COLUMNS: Final = {
    "dm_pct": "dm_pct_as_fed",
    "rup_pct_of_cp": "rup_pct_of_cp",
    "npn_cp_pct": "npn_cp_equiv_pct_dm",
    "pef_pct_of_ndf": "pef_pct_of_ndf",
    "cu_ppm": "cu_mg_per_kg_dm",
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


#: The fields that hold a number as the table prints it.
_NUMBERS: Final = tuple(
    one.name
    for one in fields(FeedTableRow)
    if "float" in str(one.type) and one.name != "recommended_tdn_pct"
)


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
        The name of the row. Another raises ``FeedTableError``, which names the nearest.

    Returns
    -------
    FeedTableRow
        Composition per dry matter, with its source. [% DM]

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
    recommended, reason = _recommended_tdn(row)
    return FeedTableRow(
        table_id=table_id,
        name=row["feed_name"],
        feed_class=row["feed_class"],
        recommended_tdn_pct=recommended,
        recommended_tdn_reason=reason,
        source=row["source"],
        p_source=row["p_source"],
        notes=row["notes"],
        **{name: _number(row[_COLUMNS.get(name, f"{name}_dm")]) for name in _NUMBERS},
    )


def cell(table_id: str, column: str) -> float | str | None:
    """Return one cell of the table as it is shipped.

    Parameters
    ----------
    table_id : str
        The feed.
    column : str
        A column of the shipped file, for example ``cp_pct_dm``. Another feed or column raises
        ``FeedTableError``, which names the nearest.

    Returns
    -------
    float, str or None
        A number where the cell holds one, the text where not, ``None`` where it is empty.

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


def _recommended_tdn(row: dict[str, str]) -> tuple[float | None, str]:
    printed, on_forage = _number(row["tdn_pct_dm"]), _number(row["tdn_forage_diet_pct_dm"])
    if on_forage is not None:
        return on_forage, row["tdn_forage_diet_reason"]
    if printed is not None:
        source = row["source"]
        return printed, _NASEM if source.startswith("NASEM 2016") else f"as printed: {source}"
    if row["feed_class"] in _WITHOUT_ENERGY:
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
