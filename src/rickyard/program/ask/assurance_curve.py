"""What a surer supply of protein and energy costs: the season at one chance after another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from threading import Lock
from typing import Final

import numpy as np

from rickyard.display import money_text
from rickyard.farm import Assumption, Farm
from rickyard.program.model import Model, Tangents, build_model
from rickyard.program.problem import (
    EVEN_CHANCE_PCT,
    Assurance,
    Problem,
    farm_from,
    problem_of,
    promises,
    spreads,
    wishes_of,
    with_wishes,
)
from rickyard.program.result import PlanOptions
from rickyard.program.solver import MOVING_ROUNDS, Optimum, Session, settle
from rickyard.quantities import is_some

#: Chances that are tried when nobody names others. [%]
LEVELS_PCT: Final = (50.0, 60.0, 70.0, 80.0, 85.0, 90.0, 95.0, 97.5)

#: What shortages are priced at may grow by so much before a promise counts as not to be kept.
KEPT_USD: Final = 1.0

#: A curve is drawn when its cost moves by no more than this share in a round, after so many rounds:
#: what is left is less than the width of its line.
STILL: Final = 1e-4
ROUNDS_AT_LEAST: Final = 6

#: The bar of the dearest level, in letters.
BAR: Final = 24


@dataclass(frozen=True, slots=True)
class AssurancePoint:
    """The season at one chance.

    ``cost_usd`` is money, ``more_usd`` what that is above counting on means. ``kept`` is false
    where no mix on this farm keeps the promise everywhere; the money is then what the nearest
    costs, and says nothing of a price.
    """

    chance_pct: float
    cost_usd: float
    more_usd: float
    penalty_usd: float
    kept: bool


@dataclass(frozen=True, slots=True)
class AssuranceCurve:
    """The price of assurance, the least chance first."""

    farm_name: str
    points: tuple[AssurancePoint, ...]
    assumptions: tuple[Assumption, ...]


def price_of_assurance(
    farm: Farm,
    levels_pct: Sequence[float] = LEVELS_PCT,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen, so one will do for all
    progress: Callable[[str], None] | None = None,
) -> AssuranceCurve:
    """Return what the season costs with one chance after another promised to every group.

    Each level starts from the season that counts on means, without the tangents of the level
    before: they would hold, but a thousand rows that hardly bind cost more than they save. So two
    levels can be planned at once. A level is taken as found when a round moves the season's cost
    by no more than ``STILL``.

    Raises ``OutOfRange`` if a level is no chance that can be promised. Raises ``SolveError`` if the
    solver fails.

    Parameters
    ----------
    farm : Farm
        A farm as the folder reader gives it; its own assurances are set aside.
    levels_pct : sequence of float
        Chances, 50 (means) to under 100. [%]
    options : PlanOptions
        The day to plan from and the wishes are read.
    progress : callable, optional
        Called with a short sentence as the work goes on.

    Returns
    -------
    AssuranceCurve
        Hays may be mixed at will, so that only the assurance differs from point to point.
    """
    say = progress or _silent
    farm = _counting_on_means(farm_from(farm, options.from_on).farm)
    free = problem_of(farm)
    problem = with_wishes(farm, free, (*options.wishes, *wishes_of(farm, free))).problem
    sd = spreads(farm, problem.sources.values)
    even = Assurance(np.full(len(farm.groups), EVEN_CHANCE_PCT), sd)
    levels = sorted(levels_pct)
    say(f"Planning at {len(levels)} levels of assurance")
    told = _Told(say, len(levels))
    shares = [some for some in (levels[::2], levels[1::2]) if some]
    with ThreadPoolExecutor(max_workers=len(shares) or 1) as pool:
        tasks = [pool.submit(_season_at, problem, even, some, told) for some in shares]
        seasons = [season for task in tasks for season in task.result()]
    found = [
        AssurancePoint(
            chance_pct=one.level_pct,
            cost_usd=one.cost_usd + problem.fixed_usd,
            more_usd=one.cost_usd - one.means_usd,
            penalty_usd=one.penalty_usd,
            kept=one.penalty_usd <= one.means_penalty_usd + KEPT_USD,
        )
        for one in sorted(seasons, key=lambda one: one.level_pct)
    ]
    everybody = replace(farm, season=replace(farm.season, assurance_pct=EVEN_CHANCE_PCT))
    return AssuranceCurve(farm.name, tuple(found), promises(everybody)[-1:])


@dataclass(frozen=True, slots=True)
class _Season:
    """The season at one chance, and counting on means."""

    level_pct: float
    cost_usd: float
    penalty_usd: float
    means_usd: float
    means_penalty_usd: float


class _Told:
    """Says which chance is done, whichever thread it was done in."""

    def __init__(self, say: Callable[[str], None], levels: int) -> None:
        self._say, self._levels, self._done, self._lock = say, levels, 0, Lock()

    def done(self, level_pct: float) -> None:
        with self._lock:
            self._done += 1
            self._say(f"{level_pct:g}% assurance planned, {self._done} of {self._levels}")


def _season_at(
    problem: Problem, even: Assurance, levels_pct: Sequence[float], told: _Told
) -> list[_Season]:
    """Return the season at some chances, each from the season that counts on means."""
    model = build_model(replace(problem, assurance=even))
    session = Session(model.cost, model.lower, model.upper, model.rows)
    tangents = Tangents(model, session)
    means = _money(model, _settled(session, tangents))
    marks = session.mark(), tangents.mark()
    found = []
    for level in levels_pct:
        session.back_to(marks[0])
        tangents.back_to(marks[1])
        tangents.assure(even.for_everybody(level))
        cost, penalty = _money(model, _settled(session, tangents))
        found.append(_Season(level, cost, penalty, *means))
        told.done(level)
    return found


def assurance_answer(curve: AssuranceCurve) -> str:
    """Say in a sentence what the surest promise costs that can be kept, and which cannot.

    Parameters
    ----------
    curve : AssuranceCurve
        What each chance costs.

    Returns
    -------
    str
        One sentence; money in US dollars.

    Examples
    --------
    >>> kept = AssurancePoint(90.0, 10500.0, 500.0, 0.0, True)
    >>> assurance_answer(AssuranceCurve("Farm", (kept,), ()))
    '90% assurance costs $500 more than counting on averages, 5.0% of the season.'
    """
    kept = [one for one in curve.points if one.kept and one.chance_pct > EVEN_CHANCE_PCT]
    lost = [f"{one.chance_pct:g}%" for one in curve.points if not one.kept]
    cannot = f"No mix on this farm can promise {' or '.join(lost)} everywhere." if lost else ""
    if not kept:
        return cannot or "Only average values were asked for."
    best = kept[-1]
    base = best.cost_usd - best.more_usd
    share = f", {100.0 * best.more_usd / base:.1f}% of the season" if is_some(base) else ""
    said = (
        f"{best.chance_pct:g}% assurance costs {money_text(best.more_usd)} more than counting on "
        f"averages{share}."
    )
    return f"{said} {cannot}".strip()


def assurance_lines(curve: AssuranceCurve) -> tuple[str, ...]:
    """Return the curve as lines of text: chance, cost, what that is above means, and a bar.

    Parameters
    ----------
    curve : AssuranceCurve
        What each chance costs.

    Returns
    -------
    tuple of str
        A heading and one line a chance. [%, US dollars]

    Examples
    --------
    >>> points = (AssurancePoint(50.0, 10000.0, 0.0, 0.0, True),
    ...           AssurancePoint(90.0, 10500.0, 500.0, 0.0, True))
    >>> for line in assurance_lines(AssuranceCurve("Farm", points, ())):
    ...     print(line)
    assurance     season   more than average
        50%    $10,000              $0
        90%    $10,500            $500  ========================
    """
    most = max((one.more_usd for one in curve.points if one.kept), default=0.0)
    lines = ["assurance     season   more than average"]
    for one in curve.points:
        start = f"{one.chance_pct:>6g}% {money_text(one.cost_usd):>10}"
        if not one.kept:
            lines.append(f"{start}   cannot be promised everywhere")
            continue
        bar = "=" * round(BAR * one.more_usd / most) if is_some(most) else ""
        lines.append(f"{start} {money_text(max(0.0, one.more_usd)):>15}  {bar}".rstrip())
    return tuple(lines)


def _counting_on_means(farm: Farm) -> Farm:
    groups = tuple(replace(group, assurance_pct=None) for group in farm.groups)
    return replace(farm, groups=groups, season=replace(farm.season, assurance_pct=None))


def _settled(session: Session, tangents: Tangents) -> Optimum:
    return settle(
        session.minimise,
        tangents.improve,
        moving=range(1, MOVING_ROUNDS),
        enough=lambda number, step: number > ROUNDS_AT_LEAST and step < STILL,
    )[0]


def _money(model: Model, optimum: Optimum) -> tuple[float, float]:
    """Return what is paid and what shortages are priced at."""
    first = model.columns.first_shortage
    paid = float(model.cost[:first] @ optimum.x[:first])
    return paid, float(model.cost[first:] @ optimum.x[first:])


def _silent(_: str) -> None:
    return None
