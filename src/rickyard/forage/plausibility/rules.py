"""What a plausibility rule is: a row of data with a test, a sentence, a cause and a remedy.

A test works on columns of many reports at once and marks the rows that break the rule. A value
that is not given is NaN, compares false with everything, and so breaks no rule.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal, TypeAlias

from rickyard.forage.values import ReportColumns, Screens
from rickyard.types import BoolArray, FloatArray

Level: TypeAlias = Literal["error", "warning", "note"]
Test: TypeAlias = Callable[[ReportColumns, Screens], BoolArray]
Values: TypeAlias = Callable[[ReportColumns, Screens], FloatArray]


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
    broken: Test
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
        >>> rule = Rule("P04", "error", Cause.SWAPPED, ("adf", "ndf"), lambda c, s: c["adf"] > 0,
        ...             "", "", "")
        >>> rule.concerns
        ('adf', 'ndf')
        """
        return self.about or self.needs
