"""Results as columns: dictionaries of NumPy arrays, and what a notebook shows of a result.

A result shows itself in a line or a small table however large it is; ``table`` gives the rest as
columns. Units stand in the names of columns. What is unknown is NaN, NaT or ``None``, never zero.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import Field, fields, is_dataclass
from datetime import date
from enum import Enum
from html import escape
from importlib import import_module
from typing import TYPE_CHECKING, Any, Final, get_args, get_type_hints

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    #: A column of a table: one-dimensional, of whatever type its values have.
    Column = NDArray[Any]

#: So many rows are shown of a table in a notebook; the rest is counted.
ROWS_SHOWN: Final = 8

NO_PANDAS: Final = (
    "to_pandas() needs the package pandas, which Rickyard does not bring along. Install it with "
    "'pip install pandas', or use the table as it is: a dictionary of NumPy arrays."
)


class Table(dict[str, "Column"]):
    """Columns by name, all of one length: a dictionary of NumPy arrays.

    Examples
    --------
    >>> import numpy as np
    >>> hay = Table({"lot_id": np.array(["A", "B"]), "dm_t": np.array([41.0, 12.5])})
    >>> hay
    <Table of 2 rows: lot_id, dm_t>
    >>> float(hay["dm_t"].sum())
    53.5
    """

    @property
    def rows(self) -> int:
        """Return how many rows the columns have."""
        return next((len(column) for column in self.values()), 0)

    def to_pandas(self) -> Any:
        """Return the table as a pandas DataFrame.

        Returns
        -------
        pandas.DataFrame
            One column for each column, named alike.

        Raises
        ------
        ImportError
            If pandas is not installed; the message says what to do.
        """
        try:
            pandas = import_module("pandas")
        except ImportError as error:
            raise ImportError(NO_PANDAS) from error
        return pandas.DataFrame(dict(self))

    def __repr__(self) -> str:
        return f"<Table of {counted(self.rows, 'row')}: {', '.join(self)}>"

    def _repr_html_(self) -> str:
        head = "".join(f"<th>{escape(name)}</th>" for name in self)
        body = "".join(
            "<tr>"
            + "".join(f"<td>{escape(_shown(column[at]))}</td>" for column in self.values())
            + "</tr>"
            for at in range(min(self.rows, ROWS_SHOWN))
        )
        more = self.rows - ROWS_SHOWN
        rest = f"<p>{more} more rows</p>" if more > 0 else ""
        return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>{rest}"


class Tabular:
    """What every large result can do: show itself shortly, and give its parts as columns.

    A class that takes this in is a dataclass without a ``__repr__`` of its own, and says in
    ``_facts`` what is worth showing.
    """

    __slots__ = ()

    def _facts(self) -> tuple[tuple[str, str], ...]:
        """Return what is worth showing, as (label, text); nothing unless a class says more."""
        return ()

    def _parts(self) -> dict[str, Sequence[object] | Table]:
        """Return the rows that can be had as tables, by name."""
        return {
            one.name: value
            for one in fields(self)  # type: ignore[arg-type]
            if isinstance(value := getattr(self, one.name), tuple)
            and all(is_dataclass(row) for row in value)
            and "tuple[str" not in str(one.type)
        }

    @property
    def table_names(self) -> tuple[str, ...]:
        """Return the names that ``table`` knows."""
        return tuple(self._parts())

    def table(self, name: str) -> Table:
        """Return one part of the result as columns.

        Parameters
        ----------
        name : str
            One of ``table_names``.

        Returns
        -------
        Table
            A dictionary of NumPy arrays, one entry a row; units stand in the names.

        Raises
        ------
        KeyError
            If the result has no such part; the message lists those it has.
        """
        parts = self._parts()
        if name not in parts:
            raise KeyError(f'"{name}" is no table of this result; it has {", ".join(parts)}.')
        part = parts[name]
        if isinstance(part, Table):
            return part
        return table_of(part) if part else _empty(get_args(get_type_hints(type(self))[name])[0])

    def __repr__(self) -> str:
        said = "; ".join(f"{label} {text}" if label else text for label, text in self._facts())
        return f"<{type(self).__name__}: {said}>"

    def _repr_html_(self) -> str:
        facts = "".join(
            f"<tr><th>{escape(label)}</th><td>{escape(text)}</td></tr>"
            for label, text in self._facts()
        )
        parts = "".join(
            f"<tr><th>table(&quot;{escape(name)}&quot;)</th>"
            f"<td>{counted(rows.rows if isinstance(rows, Table) else len(rows), 'row')}</td></tr>"
            for name, rows in self._parts().items()
            if rows
        )
        return (
            f"<table><caption>{type(self).__name__}</caption><tbody>{facts}{parts}</tbody></table>"
        )


def table_of(rows: Iterable[Any]) -> Table:
    """Return rows that are frozen classes as columns.

    Parameters
    ----------
    rows : iterable of dataclass
        All of one class. A class within a row gives columns of its own, after its name.

    Returns
    -------
    Table
        Numbers as float with NaN where unknown, dates as ``datetime64[D]`` with NaT, words as
        ``str``; anything else as it is.

    Examples
    --------
    >>> from rickyard.farm import Assumption
    >>> table_of([Assumption("It is dry.", "book")])["source"].tolist()
    ['book']
    """
    listed = list(rows)
    if not listed:
        return Table()
    return Table(
        {name: _column(values, kind) for name, kind, values in _columns(listed, fields(listed[0]))}
    )


def _empty(kind: type, before: str = "") -> Table:
    """Return the columns of rows of a class, without any row."""
    hints, columns = get_type_hints(kind), Table()
    for one in fields(kind):
        if is_dataclass(hints[one.name]):
            columns.update(_empty(hints[one.name], f"{before}{one.name}_"))
        else:
            columns[f"{before}{one.name}"] = _column([], str(one.type))
    return columns


def _columns(
    rows: Sequence[Any], parts: Sequence[Field[Any]], before: str = ""
) -> Iterator[tuple[str, str, list[Any]]]:
    for part in parts:
        values = [None if row is None else getattr(row, part.name) for row in rows]
        inner = next((one for one in values if one is not None), None)
        if is_dataclass(inner) and not isinstance(inner, type):
            yield from _columns(values, fields(inner), f"{before}{part.name}_")
        else:
            yield f"{before}{part.name}", str(part.type), values


def _column(values: list[Any], kind: str) -> Column:
    import numpy as np

    known = [one for one in values if one is not None]
    words = kind.replace("|", " ").split()
    if not values and words == ["str"]:
        return np.array([], dtype=np.str_)
    if _all(known, bool) and "bool" in words:
        return np.array(values, dtype=bool if len(known) == len(values) else object)
    if _all(known, int) and "int" in words and len(known) == len(values):
        return np.array(values, dtype=np.int64)
    if _all(known, (int, float)) and {"int", "float"} & set(words):
        return np.array([np.nan if one is None else one for one in values], dtype=np.float64)
    if _all(known, date) and "date" in words:
        return np.array(values, dtype="datetime64[D]")
    if known and len(known) == len(values) and _all(known, str):
        plain = [one.value if isinstance(one, Enum) else one for one in values]
        return np.array(plain, dtype=np.str_)
    return _objects(values)


def _objects(values: list[Any]) -> Column:
    import numpy as np

    column: NDArray[np.object_] = np.empty(len(values), dtype=object)
    column[:] = values
    return column


def _all(values: Iterable[Any], kind: type | tuple[type, ...]) -> bool:
    return all(isinstance(one, kind) for one in values)


def counted(number: int, what: str) -> str:
    """Return a number of things in words that fit it.

    Examples
    --------
    >>> counted(1, "row"), counted(1200, "row")
    ('1 row', '1,200 rows')
    """
    return f"{number:,} {what}" if number == 1 else f"{number:,} {what}s"


def _shown(value: Any) -> str:
    return f"{value:,.4g}" if isinstance(value, float) else str(value)
