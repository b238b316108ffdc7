"""Check rows: read them, compute each quantity, and compare with what was published."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any, Final, Literal, NoReturn

from rickyard.evidence import DERIVED, MEMORY, PRACTICE
from rickyard.verify.quantity import Asked, Quantity, Value
from rickyard.verify.registry import REGISTRY

COLUMNS: Final = (
    "id",
    "quantity",
    "inputs_json",
    "expected",
    "unit",
    "tolerance",
    "source",
    "kind",
)
KINDS: Final = ("published", DERIVED, PRACTICE, MEMORY)
EXACT: Final = "exact"

#: The check files that ship with the package, in reading order.
SHIPPED: Final = (
    "forage_analysis_checks.csv",
    "beef_requirements_checks.csv",
    "lots_sampling_storage_checks.csv",
    "feeds_and_programs_checks.csv",
    "small_stock_and_horse_requirements_checks.csv",
    "intake_condition_and_change_checks.csv",
    "safety_checks.csv",
    "common_practice_checks.csv",
)

# Decimal fractions have no exact binary form: 0.3 - 0.25 is not quite 0.05. This much, relative
# to the numbers compared, is arithmetic and not a difference.
_BINARY_ROUNDING: Final = 1e-12

# What a public function may raise: a refused or missing input, an impossible sum, no optimum.
_REFUSALS: Final = (ValueError, TypeError, ArithmeticError, LookupError, RuntimeError)

Status = Literal["pass", "fail", "unknown"]


class CheckFileError(ValueError):
    """A check file that cannot be read; the message says where and what to write instead."""


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One row of a check file. ``number`` counts from 1, the header included."""

    file: str
    number: int
    id: str
    quantity: str
    inputs: Mapping[str, Any]
    expected: Value
    unit: str
    tolerance: float | Literal["exact"]
    source: str
    kind: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a row. ``message`` says why when there is more to say than the numbers."""

    row: CheckRow
    status: Status
    computed: Value | None
    message: str = ""


@dataclass(frozen=True, slots=True)
class Tally:
    """How many rows passed, failed or name a quantity that is not computed."""

    passed: int
    failed: int
    unknown: int

    def __str__(self) -> str:
        """Return the one line that a person and a script both read."""
        return f"{self.passed} passed, {self.failed} failed, {self.unknown} unknown"


def read_shipped(name: str) -> tuple[CheckRow, ...]:
    """Read one of the check files that ship with the package.

    >>> len(read_shipped("lots_sampling_storage_checks.csv"))
    80
    """
    return parse_checks(files("rickyard.verify").joinpath("data", name).read_bytes(), name)


def read_checks(path: Path) -> tuple[CheckRow, ...]:
    """Read a check file.

    Raises ``CheckFileError`` if the file cannot be opened or its content is not a check file.
    """
    try:
        raw = path.read_bytes()
    except OSError as problem:
        reason = problem.strerror or str(problem)
        raise CheckFileError(f"{path}: cannot be read: {reason}.") from None
    return parse_checks(raw, str(path))


def parse_checks(raw: bytes, name: str) -> tuple[CheckRow, ...]:
    r"""Read check rows from UTF-8 bytes, with or without a byte-order mark, of a file called so.

    What is wrong is a ``CheckFileError`` naming file, row, column and what to write instead.

    >>> head = b"id,quantity,inputs_json,expected,unit,tolerance,source,kind"
    >>> row = b"A1,rfv,{},many,-,0.5,Somebody 1999,published"
    >>> parse_checks(head + b"\n" + row, "mine.csv")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    ...
    rickyard.verify.evaluate.CheckFileError: mine.csv, row 2, column expected: "many" is not...
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = raw.count(b"\n", 0, problem.start) + 1
        raise CheckFileError(
            f"{name}, row {line}: is not UTF-8 text. Save the file as CSV in UTF-8."
        ) from None
    # strict makes an unclosed quote an error instead of swallowing the rest of the file.
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows: list[CheckRow] = []
    seen: dict[str, int] = {}
    number = 1
    try:
        _require_header(next(reader, []), name)
        for number, cells in enumerate(reader, start=2):
            if cells:  # a blank line is no row, and counts as one in a spreadsheet
                row = _row(cells, name, number)
                _require_new(row, seen)
                rows.append(row)
    except csv.Error as problem:
        raise CheckFileError(
            f"{name}, after row {number}: is not CSV: {problem}. "
            "Look for a quotation mark that is never closed."
        ) from None
    if not rows:
        raise CheckFileError(f"{name}: has no rows under its header. Add at least one.")
    return tuple(rows)


def evaluate(row: CheckRow, registry: Mapping[str, Quantity] = REGISTRY) -> Outcome:
    """Compute the quantity of one row and compare.

    ``unknown`` when nothing computes the quantity; ``fail`` when the answer is off by more than the
    tolerance, is no finite number, or the function refused the inputs or does not know one of them.

    >>> rows = read_shipped("lots_sampling_storage_checks.csv")
    >>> evaluate(rows[0]).status
    'pass'
    """
    compute = registry.get(row.quantity)
    if compute is None:
        return Outcome(row, "unknown", None, "no function computes this quantity")
    inputs = Asked(row.inputs)
    try:
        computed = compute(inputs)
    except KeyError as problem:
        return Outcome(row, "fail", None, f"no input or entry is named {problem}")
    except _REFUSALS as problem:
        return Outcome(row, "fail", None, f"{type(problem).__name__}: {problem}")
    if unknown := inputs.unknown():
        return Outcome(row, "fail", None, _not_known(unknown, inputs.names))
    if not isinstance(computed, str | int | float):
        return Outcome(row, "fail", None, f"the answer is neither number nor text: {computed!r}")
    return _compare(row, computed)


def evaluate_all(
    rows: Sequence[CheckRow], registry: Mapping[str, Quantity] = REGISTRY
) -> tuple[Outcome, ...]:
    """Evaluate rows in order; see `evaluate`.

    ``registry``: what is computed, by name.
    """
    return tuple(evaluate(row, registry) for row in rows)


def tally(outcomes: Sequence[Outcome]) -> Tally:
    """Count outcomes by status.

    ``outcomes``: what became of each row that was checked. Returns how many passed, failed and are
    not known.

    >>> str(tally(evaluate_all(read_shipped("lots_sampling_storage_checks.csv")[:3])))
    '3 passed, 0 failed, 0 unknown'
    """
    statuses = [outcome.status for outcome in outcomes]
    return Tally(statuses.count("pass"), statuses.count("fail"), statuses.count("unknown"))


def _not_known(unknown: Sequence[str], names: Collection[str]) -> str:
    return (
        f"{', '.join(unknown)}: no such input here. This row's quantity takes "
        f"{', '.join(sorted(names, key=str.casefold)) or 'no input'}."
    )


def _compare(row: CheckRow, computed: Value) -> Outcome:
    if isinstance(computed, str):
        if row.tolerance in (EXACT, 0.0) and computed == row.expected:
            return Outcome(row, "pass", computed)
        wanted = "" if isinstance(row.expected, str) else "the function answers in words"
        return Outcome(row, "fail", computed, wanted)
    number = float(computed)
    if not math.isfinite(number):
        return Outcome(row, "fail", None, f"the answer is {number}, not a finite number")
    if isinstance(row.expected, str):
        return Outcome(row, "fail", number, "the function answers with a number")
    if row.tolerance == EXACT:
        return Outcome(row, "pass" if number == row.expected else "fail", number)
    allowed = row.tolerance + _BINARY_ROUNDING * max(1.0, abs(number), abs(row.expected))
    difference = number - row.expected
    if abs(difference) <= allowed:
        return Outcome(row, "pass", number)
    return Outcome(row, "fail", number, f"off by {difference:+.6g}")


def _require_header(header: list[str], name: str) -> None:
    missing = [column for column in COLUMNS if column not in header]
    if missing:
        raise CheckFileError(
            f"{name}, row 1: lacks {', '.join(missing)}. The first row must be {','.join(COLUMNS)}."
        )
    if tuple(header) != COLUMNS:
        raise CheckFileError(f"{name}, row 1: the first row must be {','.join(COLUMNS)}.")


def _require_new(row: CheckRow, seen: dict[str, int]) -> None:
    if row.id in seen:
        raise CheckFileError(
            f'{row.file}, row {row.number}, column id: "{row.id}" is row {seen[row.id]} already. '
            "Give each row its own id."
        )
    seen[row.id] = row.number


def _row(cells: list[str], name: str, number: int) -> CheckRow:
    if len(cells) != len(COLUMNS):
        raise CheckFileError(
            f"{name}, row {number}: has {len(cells)} cells, and {len(COLUMNS)} are expected. "
            "Put quotation marks around a cell that holds a comma."
        )
    cell = {column: text.strip() for column, text in zip(COLUMNS, cells, strict=True)}
    where = _Place(name, number)
    for column in ("id", "quantity", "source"):
        if not cell[column]:
            where.refuse(column, "is empty", "Every row needs one.")
    if cell["kind"] not in KINDS:
        where.refuse("kind", f'"{cell["kind"]}" is not a kind', f"Write {', '.join(KINDS)}.")
    tolerance = _tolerance(cell["tolerance"], where)
    return CheckRow(
        file=name,
        number=number,
        id=cell["id"],
        quantity=cell["quantity"],
        inputs=_inputs(cell["inputs_json"], where),
        expected=_expected(cell["expected"], tolerance, where),
        unit=cell["unit"],
        tolerance=tolerance,
        source=cell["source"],
        kind=cell["kind"],
    )


@dataclass(frozen=True, slots=True)
class _Place:
    file: str
    number: int

    def refuse(self, column: str, problem: str, remedy: str) -> NoReturn:
        raise CheckFileError(
            f"{self.file}, row {self.number}, column {column}: {problem}. {remedy}"
        )


def _finite(text: str) -> float | None:
    try:
        number = float(text)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _tolerance(text: str, where: _Place) -> float | Literal["exact"]:
    if text == EXACT:
        return "exact"
    number = _finite(text)
    if number is None or number < 0.0:
        where.refuse(
            "tolerance",
            f'"{text}" is not a tolerance',
            "Write a number from 0 up in the unit of the row, or exact.",
        )
    return number


def _expected(text: str, tolerance: float | Literal["exact"], where: _Place) -> Value:
    number = _finite(text)
    if number is not None:
        return number
    if not text:
        where.refuse("expected", "is empty", "Write the published value.")
    if tolerance not in (EXACT, 0.0):  # words that may differ by nothing are compared as words
        where.refuse(
            "expected",
            f'"{text}" is not a number',
            "Write a number, or write exact in the tolerance column to compare text.",
        )
    return text


def _inputs(text: str, where: _Place) -> Mapping[str, Any]:
    def finite(word: str) -> float:
        number = _finite(word)
        if number is None:
            where.refuse("inputs_json", f"{word} is not a number", "Leave an unknown input out.")
        return number

    try:
        inputs = json.loads(text, parse_constant=finite, parse_float=finite)
    except json.JSONDecodeError as problem:
        where.refuse(
            "inputs_json",
            f"is not JSON at character {problem.pos + 1}: {problem.msg}",
            'Write {"name": value, ...} in quotation marks, and double those inside.',
        )
    except RecursionError:
        where.refuse("inputs_json", "is nested too deeply", "Write plain values.")
    if not isinstance(inputs, dict):
        where.refuse("inputs_json", "is not a set of named inputs", 'Write {"name": value, ...}.')
    return inputs
