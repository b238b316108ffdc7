"""One rule of safety: what is found how, whom it binds, what it demands, and who says so."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final, Literal, TypeAlias, cast

from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT

Known: TypeAlias = Literal["measured", "stated", "unknown"]
Level: TypeAlias = Literal["danger", "warning", "note"]
#: ``none``: not to be fed. ``share``: at most so many percent of the dry matter. ``pct_bw``: at
#: most so many percent of body weight a day. ``diet``: a ceiling of the whole diet. ``counts_as``:
#: what stands in for an unknown content. ``step``: days over which it is raised from nothing.
#: ``rise``: kilograms as fed by which it is raised a day at most. ``begin``: days on which it is
#: begun by thirds of its share. ``beside``: at least so many percent of the dry matter is forage
#: where it is fed. ``least_ratio``: at least so much of one to the other. ``hold``: at least so
#: many percent of what was fed before. ``fall``: forage falls by at most so many percent of the
#: ration from one night to the next. ``least``: at least so many percent of the dry matter of the
#: whole diet. ``keep``: a thing to do or watch, told but not counted. ``watch``: a content of the
#: whole diet above which it is told, and not limited. ``mix``: at most so many percent of the
#: forage where other forage is there; where none is, it is told. ``written``: at most so many
#: percent of the intake a head that is written for a mineral. ``a_head``: at most so many grams as
#: fed a head and day where nobody wrote a most.
Demand: TypeAlias = Literal[
    "none",
    "share",
    "pct_bw",
    "diet",
    "counts_as",
    "step",
    "rise",
    "begin",
    "beside",
    "least_ratio",
    "least",
    "hold",
    "fall",
    "keep",
    "watch",
    "mix",
    "written",
    "a_head",
]

#: Demands that say what one group may get of one lot or feed.
OF_A_SOURCE: Final[frozenset[Demand]] = frozenset(
    {"none", "share", "pct_bw", "step", "rise", "begin", "keep", "mix", "written", "a_head"}
)


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table.

    ``finding`` names what is found of a lot or feed, ``known`` how; it holds where the value that
    was found is above ``above`` and up to ``upto``. ``stock`` and ``stage`` say whom it binds.
    ``mixed`` says that what it limits is weighed and mixed every day. Sources that rules of one
    name ``together`` limit count as one for a group: what each may be is the most of all of them.
    ``words`` are filled in with the source and the groups; where they are empty the finding has a
    caution of its own.
    """

    rule_id: str
    hazard: str
    finding: str
    known: Known
    above: float | None
    upto: float | None
    stock: tuple[str, ...]
    stage: str
    demand: Demand
    amount: float | None
    mixed: bool
    together: str
    level: Level
    words: str
    source: str
    evidence: str

    def meets(self, value: float | None) -> bool:
        """Say whether a value that was found lies where the rule holds.

        Examples
        --------
        >>> rule_of("nitrate-half").meets(1600.0), rule_of("nitrate-half").meets(1500.0)
        (True, False)
        """
        if self.above is None and self.upto is None:
            return True
        if value is None:
            return False
        over = self.above is None or value > self.above
        return over and (self.upto is None or value <= self.upto)

    @property
    def rests_on_judgement(self) -> bool:
        """Say whether no publication stands behind the whole of it."""
        return self.evidence == "judgement" or self.source in (JUDGEMENT, COMMON_PRACTICE)

    @property
    def most_share(self) -> float:
        """Return the largest part of the dry matter that it leaves. [-]."""
        if self.demand == "none":
            return 0.0
        return (self.amount or 0.0) / 100.0 if self.demand == "share" else 1.0


@cache
def rules() -> tuple[Rule, ...]:
    """Return every rule, in the order of the table.

    Examples
    --------
    >>> len(rules()) >= 100, len({one.rule_id for one in rules()}) == len(rules())
    (True, True)
    """
    text = files("rickyard.safety").joinpath("data", "rules.csv").read_text(encoding="utf-8")
    return tuple(_rule(row) for row in csv.DictReader(text.splitlines()))


def _rule(row: dict[str, str]) -> Rule:
    def number(name: str) -> float | None:
        return float(row[name]) if row[name] else None

    return Rule(
        rule_id=row["id"],
        hazard=row["hazard"],
        finding=row["finding"],
        known=cast(Known, row["known"]),
        above=number("above"),
        upto=number("upto"),
        stock=tuple(row["stock"].split()),
        stage=row["stage"],
        demand=cast(Demand, row["demand"]),
        amount=number("amount"),
        mixed=row["mixed"] == "yes",
        together=row["together"],
        level=cast(Level, row["level"]),
        words=row["words"],
        source=row["source"],
        evidence=row["evidence"],
    )


@cache
def _by_id() -> Mapping[str, Rule]:
    return MappingProxyType({one.rule_id: one for one in rules()})


def rule_of(rule_id: str) -> Rule:
    """Return a rule by its name.

    Parameters
    ----------
    rule_id : str
        The name of the rule.

    Returns
    -------
    Rule
        The row of the table.

    Raises
    ------
    KeyError
        If the table has no rule of that name.
    """
    return _by_id()[rule_id]


def amount_of(rule_id: str) -> float:
    """Return the number that a rule demands, in the unit of its demand.

    Parameters
    ----------
    rule_id : str
        The name of the rule.

    Returns
    -------
    float
        In the unit of what is demanded: a share [%], days [d], or the unit of the ceiling.

    Raises
    ------
    ValueError
        If the rule has no number.

    Examples
    --------
    >>> amount_of("urea-step"), amount_of("copper-diet-sheep")
    (14.0, 15.0)
    """
    amount = rule_of(rule_id).amount
    if amount is None:
        raise ValueError(f"The rule {rule_id} has no amount.")
    return amount
