"""Many laboratory reports side by side: one array for each quantity, NaN where not given.

The rules, indices, grades and hazards work on these columns; a single report is a table of
one row. A column holds percent of dry matter, ppm (mg/kg) of dry matter, Mcal/kg of dry matter
or an index, by the names of ``analyte_kinds``. Beside them stand:

``dm``, ``moisture``
    Of the sample as received. [%]
``<name>_ar``
    The as-received value that was printed beside one on dry matter.
``<name>_min``, ``<name>_max``
    The least and greatest of several samples, where a table prints them.
``nem_unitless``, ``neg_unitless``
    Net energy printed without a unit.
``dm_missing``
    1 where values are as received and no dry matter is printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Forage, Lot, Package, Report
from rickyard.forage.values.samples import column_values
from rickyard.types import BoolArray, FloatArray

#: The forages in the order of their codes.
FORAGES: Final = tuple(Forage)
FORAGE_CODE: Final[dict[Forage, int]] = {forage: code for code, forage in enumerate(FORAGES)}


@dataclass(frozen=True, slots=True)
class ReportColumns:
    """Reports as columns of one length.

    ``forage`` holds codes (places in ``FORAGES``), ``wet`` whether the lot is baleage or
    silage, ``values`` the columns by name.
    """

    forage: NDArray[np.intp]
    wet: BoolArray
    values: Mapping[str, FloatArray]

    def __len__(self) -> int:
        return len(self.forage)

    def __getitem__(self, name: str) -> FloatArray:
        return self.values[name]

    def has(self, *names: str) -> bool:
        """Say whether every one of the columns is there.

        Examples
        --------
        >>> columns = plain_columns(Forage.ALFALFA, {"cp": np.array([18.0])})
        >>> columns.has("cp"), columns.has("cp", "adf")
        (True, False)
        """
        return all(name in self.values for name in names)

    def of(self, forages: Iterable[Forage]) -> BoolArray:
        """Mark the rows whose forage is one of those.

        Examples
        --------
        >>> columns = plain_columns(Forage.ALFALFA, {"cp": np.array([18.0, 20.0])})
        >>> columns.of({Forage.ALFALFA, Forage.CLOVER})
        array([ True,  True])
        """
        wanted = np.zeros(len(FORAGES), dtype=np.bool_)
        wanted[[FORAGE_CODE[forage] for forage in forages]] = True
        return np.take(wanted, self.forage)


def is_wet(lot: Lot) -> bool:
    """Say whether a lot is baleage or silage, to which the rules of dry hay do not apply.

    Parameters
    ----------
    lot : Lot
        The lot.

    Returns
    -------
    bool
        Whether it is fermented.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> is_wet(Lot("L1", "Rye", Forage.SMALL_GRAIN, Package.BALEAGE, Storage.WRAPPED, 40,
    ...            date(2026, 5, 6), date(2026, 10, 1)))
    True
    """
    return lot.package is Package.BALEAGE or lot.forage is Forage.CORN_SILAGE


def plain_columns(
    forage: Forage | Sequence[Forage],
    values: Mapping[str, FloatArray],
    wet: bool | BoolArray = False,
) -> ReportColumns:
    """Put arrays of values, in the units of ``analyte_kinds``, together as report columns.

    The forage and whether they are wet are one for all rows, or one for each; the arrays are
    shared. Columns of different lengths raise ``ValueError``.

    >>> len(plain_columns(Forage.COOL_GRASS, {"cp": np.array([9.0, np.nan])}))
    2
    """
    columns = {name: np.asarray(array, dtype=np.float64) for name, array in values.items()}
    lengths = {len(array) for array in columns.values()}
    if len(lengths) != 1:
        raise ValueError("Every column needs the same number of rows.")
    rows = lengths.pop()
    codes = (
        np.full(rows, FORAGE_CODE[forage], dtype=np.intp)
        if isinstance(forage, Forage)
        else np.array([FORAGE_CODE[one] for one in forage], dtype=np.intp)
    )
    if len(codes) != rows:
        raise ValueError("Every row needs one forage.")
    wetness = np.broadcast_to(np.asarray(wet, dtype=np.bool_), (rows,))
    return ReportColumns(codes, wetness, columns)


def report_columns(pairs: Sequence[tuple[Lot, Report]]) -> ReportColumns:
    """Turn reports, each with the lot it is on, into columns.

    Parameters
    ----------
    pairs : sequence of (Lot, Report)
        The reports in order.

    Returns
    -------
    ReportColumns
        One row for each report, values as printed but restated on dry matter in one unit;
        impossible values are kept, for the rules to find.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> report = Report("R1", "L1", (Analyte("ca", 4400.0, "ppm", Basis.DRY_MATTER),))
    >>> report_columns([(lot, report)])["ca"]
    array([0.44])
    """
    return columns_of_rows(
        [lot.forage for lot, _ in pairs],
        [is_wet(lot) for lot, _ in pairs],
        [column_values(report, lot.dm_pct) for lot, report in pairs],
    )


def columns_of_rows(
    forages: Sequence[Forage], wet: Sequence[bool], rows: Sequence[Mapping[str, float]]
) -> ReportColumns:
    """Turn rows of named values into columns, NaN where a row lacks a name.

    Parameters
    ----------
    forages : sequence of Forage
        One for each row.
    wet : sequence of bool
        Whether each row is baleage or silage.
    rows : sequence of mapping of str to float
        Values by column name. [units of ``analyte_kinds``]

    Returns
    -------
    ReportColumns
        The columns.

    Examples
    --------
    >>> columns_of_rows([Forage.ALFALFA] * 2, [False] * 2, [{"cp": 18.0}, {}])["cp"]
    array([18., nan])
    """
    names = dict.fromkeys(name for row in rows for name in row)
    return ReportColumns(
        np.array([FORAGE_CODE[forage] for forage in forages], dtype=np.intp),
        np.array(wet, dtype=np.bool_),
        {name: np.array([row.get(name, np.nan) for row in rows]) for name in names},
    )
