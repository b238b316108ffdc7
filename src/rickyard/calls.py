"""The calls of somebody who uses Rickyard from Python: a farm in, one finished answer out.

Each call joins what the rooms below offer, so that nobody has to know them; ``import rickyard``
offers it by name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from importlib.resources import as_file, files
from typing import Any, Final

from rickyard.farm import Farm
from rickyard.folder import read_folder
from rickyard.forage.plausibility import lot_profiles
from rickyard.forage.reading import LotReading, read_lot
from rickyard.hay.sampling import Options, SamplePlan, farm_sample_plans
from rickyard.hay.yard import YardPage
from rickyard.hay.yard import yard_page as page_of
from rickyard.program.audit import recheck
from rickyard.program.compare import Comparison
from rickyard.program.compare import compare as set_beside
from rickyard.program.inputs import NeedTable, needs_of
from rickyard.program.planning import Change, WhatIfAnswer, answer, changed, plan_season, using
from rickyard.program.problem import farm_from
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.tables import Table, Tabular, table_of

#: So many things that do not add up are named of a program that fails its re-check.
MOST_NAMED: Final = 20


class NotSound(RuntimeError):  # noqa: N818 - named for what happened, as a person says it
    """A program that did not pass its own re-check, and is therefore not given out."""


def demo_farm() -> Farm:
    """Return the invented farm that ships with the package.

    Returns
    -------
    Farm
        A winter of hay, cows and feeds to try things on. Canonical units. [kg, m, USD]

    Examples
    --------
    >>> demo_farm().name
    'Larkmoor Farm'
    """
    with as_file(files("rickyard") / "demo_farm") as shipped:
        return read_folder(shipped).farm


def plan(
    farm: Farm,
    *,
    options: PlanOptions | None = None,
    progress: Callable[[str], None] | None = None,
) -> SeasonProgram:
    """Return the least-cost season program of a farm, worked out a second time before it is given.

    Parameters
    ----------
    farm : Farm
        A farm, as ``read_folder`` gives it or made in Python.
    options : PlanOptions, optional
        How long to search, from which day on, and what is wished.
    progress : callable, optional
        Called with a short sentence as the work goes on.

    Returns
    -------
    SeasonProgram
        Always a program: what cannot be supplied is named as a shortage. Masses are kilograms
        and money is US dollars unless a name says otherwise. [kg, USD]

    Raises
    ------
    OutOfRange
        If a group leaves the range of its equations, or a day is not in the season.
    SolveError
        If the solver fails.
    NotSound
        If the program does not pass its re-check; it names what does not add up.

    Notes
    -----
    The solver promises the cost, not the health of anybody: read ``cautions`` first, and take
    what they say to the local extension office or a veterinarian.
    """
    chosen = options or PlanOptions()
    program = plan_season(farm, progress, options=chosen)
    violations = recheck(program, farm_from(farm, chosen.from_on).farm)
    if violations:
        lines = "\n".join(f"  {one}" for one in violations[:MOST_NAMED])
        raise NotSound(
            f"The program does not pass its own re-check in {len(violations)} places and is not "
            f"given out. Please report this with the farm folder.\n{lines}"
        )
    return program


def needs(farm: Farm) -> NeedTable:
    """Return what one head of every group needs in every period of the season.

    Parameters
    ----------
    farm : Farm
        Groups, season, stated needs and weather are read.

    Returns
    -------
    NeedTable
        Arrays of shape (groups, periods) per head and day. [Mcal, kg, g]

    Raises
    ------
    OutOfRange
        If a group leaves the range of its equations; the message names it.
    """
    return needs_of(farm)


def readings(farm: Farm) -> tuple[LotReading, ...]:
    """Read every lot of a farm and its reports into sentences, hazards first.

    Parameters
    ----------
    farm : Farm
        Lots and reports are read.

    Returns
    -------
    tuple of LotReading
        In the order of the lots. Percent of dry matter unless a unit says otherwise. [% DM]
    """
    return tuple(read_lot(lot, farm.reports_of(lot.lot_id)) for lot in farm.lots)


def sampling_plan(
    farm: Farm, on: date, *, options: Options | None = None
) -> tuple[SamplePlan, ...]:
    """Say which lots to core, when, which bales, how deep, and which tests to order.

    Parameters
    ----------
    farm : Farm
        Lots, reports, book, groups, laboratories and season are read.
    on : date
        The day asked about.
    options : SamplingOptions, optional
        How the farm samples.

    Returns
    -------
    tuple of SamplePlan
        One for each lot that still stands, soonest first. [m, g, USD]

    Raises
    ------
    OutOfRange
        If the weight of a bale is not known and its size neither.
    """
    return farm_sample_plans(farm, on, _dry_matter_pct(farm), options)


def yard_page(farm: Farm, on: date, *, drought_often: bool = False) -> YardPage:
    """Say what stands in the yard on a day, what storage took and will take, and if it lasts.

    Parameters
    ----------
    farm : Farm
        Lots, book, feeding log, groups and season are read.
    on : date
        The day; stock is that of its evening.
    drought_often : bool
        Whether drought is frequent, which makes the reserve a quarter.

    Returns
    -------
    YardPage
        Every lot and the whole yard. [kg]

    Raises
    ------
    OutOfRange
        If the weight of a bale is not known and its size neither.
    """
    return page_of(farm, on, _dry_matter_pct(farm), drought_often=drought_often)


def what_if(
    farm: Farm,
    *changes: Change,
    base: SeasonProgram | None = None,
    options: PlanOptions | None = None,
) -> WhatIfAnswer:
    """Say what a season costs more, and lacks, when something is different.

    Parameters
    ----------
    farm : Farm
        The farm as it is.
    *changes : HeadCount, Price, LotLoss, Bought, SalePrice, Cash, Condition, Intake and so on
        What is to be different, all of it together.
    base : SeasonProgram, optional
        The program of the farm as it is; planned when not given.
    options : PlanOptions, optional
        How to make the programs.

    Returns
    -------
    WhatIfAnswer
        With the other program, what it costs more, and one sentence. [USD]

    Raises
    ------
    OutOfRange
        If a change speaks of what the farm has not, or makes no sense.
    """
    other = changed(farm, changes)
    before = base or plan(farm, options=options)
    beginning = replace(options or PlanOptions(), begin_from=using(before))
    return answer(farm, before, changes, plan(other, options=beginning))


def compare(programs: Mapping[str, SeasonProgram]) -> Comparison:
    """Set season programs side by side: what each costs, feeds, buys and leaves short.

    Parameters
    ----------
    programs : mapping of str to SeasonProgram
        Programs by a label each; the first is the one that the others are set against.

    Returns
    -------
    Comparison
        Cost by kind in US dollars, hay by lot in metric tonnes of dry matter. [USD, t]

    Raises
    ------
    ValueError
        If there is no program.
    """
    return set_beside(list(programs.items()))


def table(result: Any, name: str = "") -> Table:
    """Return a result, or one part of it, as columns.

    Parameters
    ----------
    result : SeasonProgram, NeedTable, NeedSeries, YardPage, Farm ... or a sequence of rows
        What a call of this package gave.
    name : str
        Which part, one of ``result.table_names``; not for a sequence of rows, and where it is
        left out, the first part.

    Returns
    -------
    Table
        A dictionary of NumPy arrays, one entry a row. Units stand in the names.

    Raises
    ------
    KeyError
        If the result has no such part.

    Examples
    --------
    >>> from rickyard.farm import Assumption
    >>> table([Assumption("It is dry.", "the owner")])
    <Table of 1 row: sentence, source>
    """
    if isinstance(result, Tabular):
        return result.table(name or result.table_names[0])
    return table_of(result)


def to_pandas(result: Any, name: str = "") -> Any:
    """Return a result, or one part of it, as a pandas DataFrame.

    Parameters
    ----------
    result : object
        As for ``table``.
    name : str
        As for ``table``.

    Returns
    -------
    pandas.DataFrame
        The columns of ``table``. Units stand in the names.

    Raises
    ------
    ImportError
        If pandas is not installed; it is no dependency of this package.
    """
    return table(result, name).to_pandas()


def with_season(farm: Farm, **changes: Any) -> Farm:
    """Return a farm whose season is different, for instance in ``hays_at_once``.

    Parameters
    ----------
    farm : Farm
        The farm.
    **changes
        Fields of ``Season`` and their values, in the units that the fields name.

    Returns
    -------
    Farm
        The farm with that season; the given one stays as it is. [as the fields name]

    Raises
    ------
    TypeError
        If ``Season`` has no such field.

    Examples
    --------
    >>> from rickyard.farm import Season
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 4, 1)))
    >>> with_season(farm, hays_at_once=1).season.hays_at_once
    1
    """
    return replace(farm, season=replace(farm.season, **changes))


def _dry_matter_pct(farm: Farm) -> dict[str, float]:
    profiles = lot_profiles(farm.lots, farm.reports)
    return {lot_id: one.dm_pct for lot_id, one in profiles.items()}
