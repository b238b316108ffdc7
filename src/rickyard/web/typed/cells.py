"""Cells of a form: each read as the same cell of a farm folder, its fault beside its field."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any

from rickyard.book.acting import NotTaken
from rickyard.display import clean
from rickyard.farm import Farm
from rickyard.folder import is_american
from rickyard.folder.tables import CellError, FolderFaults, Table, parse_cell


@dataclass(slots=True)
class Typed:
    """What was read of a form, by field, and the sentence beside each field that is at fault."""

    values: dict[str, Any] = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)


def typed(table: Table, texts: Mapping[str, str], farm: Farm, lacking: Mapping[str, str]) -> Typed:
    """Return the cells of a form as values of a row.

    Parameters
    ----------
    table : Table
        Which table of a farm folder they are of.
    texts : mapping of str to str
        What was typed, by field; a blank is unknown.
    farm : Farm
        Its units are meant where a number has none.
    lacking : mapping of str to str
        The fields that must be filled, and what is said where one is not.

    Returns
    -------
    Typed
        Values and faults.
    """
    found = Typed()
    american = is_american(farm.units, farm.country)
    for name, text in texts.items():
        if not text:
            continue
        column = table.column_of(name)
        unit = _unit(column.common_units(), farm.units) if column.dimension else ""
        try:
            found.values[name] = parse_cell(column, unit, text, american=american)
        except CellError as error:
            found.faults[name] = f"{error.problem} {error.suggestion}".strip()
    for name, told in lacking.items():
        if not texts.get(name):
            found.faults[name] = told
    return found


def _unit(offered: Collection[str], units: str) -> str:
    """Return the first unit of a column that belongs to a farm's units: American ones come first.

    Examples
    --------
    >>> _unit(("lb", "kg"), "us"), _unit(("lb", "kg"), "metric")
    ('lb', 'kg')
    """
    return tuple(offered)[0 if units == "us" else -1]


def texts_of(said: Any, names: Collection[str]) -> dict[str, str]:
    """Return what stands in the fields of a form, on one line each.

    Parameters
    ----------
    said : QueryDict
        What was sent. A field with a unit beside it has that in ``NAME_unit``.
    names : collection of str
        The fields.

    Returns
    -------
    dict of str to str
        Texts; a number without a unit has the one that was chosen behind it.
    """
    found = {}
    for name in names:
        text, unit = clean(said.get(name, "")), said.get(f"{name}_unit", "")
        bare = text.replace(",", "").replace(".", "").isdigit()
        found[name] = f"{text} {unit}" if bare and unit else text
    return found


def faults_told(problem: NotTaken, table: Table) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return the faults that a rule of the folder names, by field, and those of other places.

    Parameters
    ----------
    problem : NotTaken
        Why nothing was written.
    table : Table
        The table that was written to.

    Returns
    -------
    tuple of (dict of str to str, tuple of str)
        Sentences by field of the row, and sentences that belong to none.
    """
    cause = problem.__cause__
    if not isinstance(cause, FolderFaults):
        return {}, (str(problem),)
    of_fields, others = {}, []
    for fault in cause.faults:
        place, _, told = fault.message.partition(": ")
        said = " ".join(told.split())
        column = next((one for one in table.columns if fault.column.startswith(one.name)), None)
        if fault.file == table.file and column is not None:
            of_fields[column.field] = said
        else:
            others.append(f"{place}: {said}")
    return of_fields, tuple(others)
