"""What migrations are written with: tables in few words, and the guards of tables.

What is written in the book is never changed or taken away. The program never does it; a guard in
the database refuses it to everybody else who speaks to the tables.
"""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any, Final

from django.db import migrations, models

#: What a guard answers.
SENTENCE: Final = "what stands in the record book is not changed or taken away"

_KINDS: Final[dict[str, Any]] = {
    "text": models.TextField,
    "flag": models.BooleanField,
    "whole": models.BigIntegerField,
    "count": models.PositiveIntegerField,
    "number": models.FloatField,
    "day": models.DateField,
    "time": models.DateTimeField,
    "bytes": models.BinaryField,
}

#: How a default is read, by the kind of its column.
_READ: Final[dict[str, Any]] = {
    "text": str,
    "flag": lambda word: word == "yes",
    "whole": int,
    "count": int,
    "number": float,
}

#: A column with its name and what Django makes of it.
ColumnOf = tuple[str, Any]


def table(
    name: str, *columns: ColumnOf | list[ColumnOf], rules: Sequence[models.BaseConstraint] = ()
) -> Any:
    """Return the step that makes a table with an id of its own.

    Parameters
    ----------
    name : str
        The class of its rows.
    *columns : tuple or list of tuple
        Its columns, as `columns` and `to` give them.
    rules : sequence of constraint
        What must hold.

    Returns
    -------
    migrations.CreateModel
        The step.
    """
    made = [("id", models.UUIDField(primary_key=True, default=uuid.uuid4, serialize=False))]
    for one in columns:
        made.extend(one if isinstance(one, list) else [one])
    return migrations.CreateModel(name, made, {"constraints": list(rules)} if rules else None)


def columns(text: str) -> list[ColumnOf]:
    """Return plain columns.

    Parameters
    ----------
    text : str
        Names with the kind of each; a question mark where it may be unknown, and after an equals
        sign what it is where nothing is said, an empty text where nothing follows.

    Returns
    -------
    list of (str, field)
        The columns.

    Examples
    --------
    >>> made = columns("cut:whole? note:text=")
    >>> [(name, field.null, field.get_default()) for name, field in made]
    [('cut', True, None), ('note', False, '')]
    """
    made = []
    for word in text.split():
        name, _, kind = word.partition(":")
        kind, said, default = kind.partition("=")
        extra: dict[str, Any] = {"null": True} if kind.endswith("?") else {}
        kind = kind.rstrip("?")
        if said:
            extra["default"] = _READ[kind](default)
        made.append((name, _KINDS[kind](**extra)))
    return made


def to(name: str, other: str, *, unknown: bool = False, back: str = "+") -> ColumnOf:
    """Return a column that names a row of another table.

    Parameters
    ----------
    name : str
        The column.
    other : str
        The class of the other table's rows.
    unknown : bool
        Whether it may name none.
    back : str
        What the other row calls those that name it.

    Returns
    -------
    (str, field)
        The column.
    """
    extra = {"null": True} if unknown else {}
    return name, models.ForeignKey(f"book.{other}", models.PROTECT, related_name=back, **extra)


def added(name: str, text: str) -> list[Any]:
    """Return the steps that add columns to a table that stands.

    Parameters
    ----------
    name : str
        The class of its rows.
    text : str
        The columns, as `columns` takes them: each may be unknown, or is something where nothing is
        said.

    Returns
    -------
    list of migrations.AddField
        The steps.
    """
    return [migrations.AddField(name, column, field) for column, field in columns(text)]


def undoing(name: str) -> ColumnOf:
    """Return the column with which a line of a ledger undoes another.

    Parameters
    ----------
    name : str
        The class of the lines.

    Returns
    -------
    (str, field)
        The column.
    """
    field = models.OneToOneField(f"book.{name}", models.PROTECT, null=True, related_name="+")
    return "undoes", field


def once(name: str, *fields: str) -> models.UniqueConstraint:
    """Return the rule that no two rows agree in all of some columns.

    Parameters
    ----------
    name : str
        What the rule is called in the database.
    *fields : str
        The columns.

    Returns
    -------
    UniqueConstraint
        The rule.
    """
    return models.UniqueConstraint(fields=list(fields), name=name)


#: What stands here lets rows go: a farm that is being deleted.
_LEAVING: Final = "book_leaving"

_SERVER_FUNCTION: Final = f"""
CREATE OR REPLACE FUNCTION book_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM {_LEAVING}) THEN
        RETURN OLD;
    END IF;
    RAISE EXCEPTION '%: {SENTENCE}', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$
"""


def guarded(*names: str) -> Any:
    """Return the step that guards tables against being changed.

    While a farm is being deleted its rows may go: it says so in a row which its own transaction
    alone sees. Where a column that is never unknown is added, SQLite makes the table anew without
    its guards: such a step guards it again.

    Parameters
    ----------
    *names : str
        The classes of their rows.

    Returns
    -------
    migrations.RunPython
        The step.
    """

    def make(apps: Any, editor: Any) -> None:
        known = editor.connection.introspection.table_names()
        for name in names:
            table = f"book_{name.lower()}"
            if editor.connection.vendor == "postgresql":
                statements = _of_server(table)
            else:
                # Where the table of those that leave is not made yet, a guard cannot ask it.
                statements = _of_file(table, can_leave=_LEAVING in known)
            for statement in statements:
                editor.execute(statement, params=None)

    # A guard goes with its table where the step is taken back.
    return migrations.RunPython(make, migrations.RunPython.noop)


def _of_file(table: str, *, can_leave: bool) -> list[str]:
    unless = f"WHEN NOT EXISTS (SELECT 1 FROM {_LEAVING}) " if can_leave else ""
    return [
        statement
        for deed, when in (("UPDATE", ""), ("DELETE", unless))
        for statement in (
            f"DROP TRIGGER IF EXISTS {table}_no_{deed.lower()}",
            f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} {when}"
            f"BEGIN SELECT RAISE(ABORT, '{table}: {SENTENCE}'); END",
        )
    ]


def _of_server(table: str) -> list[str]:
    return [
        _SERVER_FUNCTION,
        f"CREATE OR REPLACE TRIGGER {table}_kept BEFORE UPDATE OR DELETE ON {table} "
        "FOR EACH ROW EXECUTE FUNCTION book_refuse()",
        f"CREATE OR REPLACE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION book_refuse()",
    ]
