"""What stands where a value is expected, and the unit and basis behind it."""

from __future__ import annotations

from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import Found, Hint
from rickyard.labs.vocabulary import Op, Printed, method_in, written_in


def as_value(one: Seen) -> Printed:
    """Return what stands where a value is expected: "NA" is sodium only in a heading."""
    told = one.value.op in (Op.ABSENT, Op.NOT_DETECTED, Op.TOO_MANY)
    return one.value if one.is_value or told else Printed(Op.UNREADABLE, rest=one.text)


def hints_of_text(found: Found, rest: str, where: str) -> None:
    """Take the unit and the basis that stand behind a number."""
    if not rest:
        return
    known = written_in(rest)
    if known.unit:
        found.units.append(Hint(known.unit, where))
    if known.basis:
        found.bases.append(Hint(known.basis, where))
    found.method = found.method or method_in(known.rest)
