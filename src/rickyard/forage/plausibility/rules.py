"""The table of plausibility rules: each a test, a sentence, a likely cause and a remedy.

The rows stand in ``data/plausibility_rules.toml``, which says how to write one; what they test
beyond sums and comparisons stands in ``rule_tests``.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache, partial, reduce
from itertools import groupby, pairwise
from typing import Any, Final, Literal, TypeAlias

import numpy as np

from rickyard.forage import shipped_toml
from rickyard.forage.plausibility import rule_tests
from rickyard.forage.values import (
    KINDS,
    ReportColumns,
    Screens,
    is_rescaled,
    kind_of,
    shipped_screens,
    word_of,
)

Level: TypeAlias = Literal["error", "warning", "note"]
Values: TypeAlias = Callable[[ReportColumns, Screens], Any]


class Cause(StrEnum):
    """What probably went wrong, in one word or two."""

    UNIT = "another unit"
    NITROGEN = "nitrogen for protein"
    SHARE = "a share of a part"
    SWAPPED = "two values swapped"
    COLUMNS = "columns swapped"
    COPIED = "column copied"
    BASIS = "as received for dry matter"
    OTHER_SAMPLE = "dry matter of another sample"
    MISSING_DM = "dry matter not given"
    PACKAGE = "another kind of lot"
    FORM = "form of nitrate"
    SPECIES = "another forage"
    METHOD = "another method"
    TYPING = "mistyped"
    SOIL = "soil"
    HEAT = "heat damage"


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table of rules.

    Parameters
    ----------
    rule : str
        Number of the rule in ``docs/forage-plausibility.md``; several rows of one number tell
        several causes.
    level : {"error", "warning", "note"}
        ``error`` must be corrected or confirmed by a person before use.
    cause : Cause
        The likely cause.
    needs : tuple of str
        Columns without which the rule is silent.
    broken : callable
        Marks the rows of the columns that break the rule.
    sentence, why, remedy : str
        What a person reads: what does not fit, why perhaps, what to do. ``{name}`` stands for
        a column or a number of ``told``, ``{report}`` for the report, ``{forage}`` for the
        forage in words.
    about : tuple of str
        Values on which it casts doubt; ``needs`` when empty.
    drops : tuple of str
        Values that are not counted while it stands.
    told : mapping of str to callable
        Further numbers of the sentence.
    proposed : (str, callable), optional
        A column and what its values would be if the cause is right. Never applied.
    yields : bool
        Whether it is left unsaid where an error already casts doubt on one of its values.
    """

    rule: str
    level: Level
    cause: Cause
    needs: tuple[str, ...]
    broken: Values
    sentence: str
    why: str
    remedy: str
    about: tuple[str, ...] = ()
    drops: tuple[str, ...] = ()
    told: Mapping[str, Values] = field(default_factory=dict)
    proposed: tuple[str, Values] | None = None
    yields: bool = False

    @property
    def concerns(self) -> tuple[str, ...]:
        """Return the values on which the rule casts doubt.

        Examples
        --------
        >>> next(rule for rule in RULES if rule.rule == "P04").concerns
        ('adf', 'ndf')
        """
        return self.about or self.needs


#: What the names of a row that stands for several may be, beside those that it lists.
_EACH: Final[dict[str, Callable[[], list[str]]]] = {
    "kinds": lambda: list(KINDS),
    "percentages": lambda: [name for name, kind in KINDS.items() if kind.measure == "percent"],
    "restated": lambda: [
        name for name, kind in KINDS.items() if is_rescaled(name) and kind.measure != "none"
    ],
    "screens": lambda: [name for name in shipped_screens().limits if "/" not in name],
}

_SIGNS: Final[dict[type[ast.AST], Callable[[Any, Any], Any]]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.And: operator.and_,
    ast.Or: operator.or_,
}


def _read() -> Iterator[Rule]:
    rows = shipped_toml("plausibility_rules.toml")["rule"]
    # Rows of one rule that stand for the same names are told name by name.
    for _, same in groupby(rows, key=lambda row: (row["rule"], row.get("each"))):
        block = list(same)
        names = block[0].get("each", [""])
        for name in _EACH[names]() if isinstance(names, str) else names:
            marks = _marks(name)
            yield from (_rule(_filled(row, marks)) for row in block)


def _marks(name: str) -> dict[str, str]:
    """Return what the marks of a row stand for, where it speaks of one name or of two."""
    one, _, other = name.partition("/")
    column = "dm" if name == "dm_wet" else name
    return {
        "<name>": name,
        "<column>": column,
        "<1>": one,
        "<2>": other,
        "<word>": word_of(column),
        "<word 1>": word_of(one),
        "<word 2>": word_of(other),
        "<unit>": " ppm" if kind_of(column).measure == "ppm" else "%",
        "<in dm>": "" if column == "dm" else " in the dry matter",
    }


def _filled(part: Any, marks: Mapping[str, str]) -> Any:
    if isinstance(part, str) and "<" not in part:
        return part
    if isinstance(part, str):
        return re.sub(r"<\w[\w ]*>", lambda mark: marks[mark[0]], part)
    if isinstance(part, list):
        return [_filled(one, marks) for one in part]
    if isinstance(part, dict):
        return {key: _filled(one, marks) for key, one in part.items()}
    return part


def _rule(row: Mapping[str, Any]) -> Rule:
    proposed = row.get("proposed")
    return Rule(
        rule=row["rule"],
        level=row["level"],
        cause=Cause(row["cause"]),
        needs=tuple(row["needs"]),
        broken=_when_asked(row["test"]),
        sentence=row["sentence"],
        why=row["why"],
        remedy=row["remedy"],
        about=tuple(row.get("about", ())),
        drops=tuple(row.get("drops", ())),
        told={name: _when_asked(one) for name, one in row.get("told", {}).items()},
        proposed=None if proposed is None else (proposed[0], _when_asked(proposed[1])),
        yields=row.get("yields", False),
    )


def _when_asked(written: str) -> Values:
    """Return a formula that is read when a report first asks for it: most are about other reports.

    What cannot be read raises ``ValueError`` then.
    """
    return lambda c, s: read_formula(written)(c, s)


@cache
def read_formula(written: str) -> Values:
    """Read a sum or comparison of the table, or a call of ``rule_tests``.

    A value whose column is not there is NaN.
    """
    return _built(ast.parse(written, mode="eval").body)


def _built(part: ast.expr) -> Values:
    """Return what a part of a formula of the table stands for."""
    match part:
        case ast.Constant(value=number):
            return lambda c, s: number
        case ast.Name(id=name):
            return lambda c, s: c[name] if c.has(name) else np.full(len(c), np.nan)
        case ast.Call(func=ast.Name(id="abs"), args=[one]):
            size = _built(one)
            return lambda c, s: abs(size(c, s))
        case ast.Call(func=ast.Name(id=name), args=given):
            function, arguments = getattr(rule_tests, name), [ast.literal_eval(a) for a in given]
            return lambda c, s: function(c, s, *arguments)
        case ast.UnaryOp(op=ast.USub(), operand=one):
            positive = _built(one)
            return lambda c, s: -positive(c, s)
        case ast.BinOp(left=one, op=sign, right=other):
            return _joined(_SIGNS[type(sign)], _built(one), _built(other))
        case ast.BoolOp(op=sign, values=parts):
            return reduce(partial(_joined, _SIGNS[type(sign)]), map(_built, parts))
        case ast.Compare(left=first, ops=signs, comparators=others):
            sides = [_built(one) for one in (first, *others)]
            links = [
                _joined(_SIGNS[type(sign)], *two)
                for sign, two in zip(signs, pairwise(sides), strict=True)
            ]
            return reduce(partial(_joined, operator.and_), links)
    raise ValueError(f"A rule for reports cannot hold {ast.unparse(part)!r}.")


def _joined(sign: Callable[[Any, Any], Any], one: Values, other: Values) -> Values:
    return lambda c, s: sign(one(c, s), other(c, s))


#: The whole table, in the order in which findings are told.
RULES: Final[tuple[Rule, ...]] = tuple(_read())
