"""Everything that this package takes from the rest of the program, in one place."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import Final

import numpy as np

from rickyard.farm import Analyte, Basis, Farm, LabPackage, Lot, Report
from rickyard.folder import FarmFolder, read_folder, write_folder
from rickyard.folder.tables import ANALYTES, HEADERS, AnalyteSpec, header_of
from rickyard.forage.energy import (
    de_from_tdn,
    me_from_tdn,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_tdn,
)
from rickyard.forage.plausibility import RULES, Rule, broken_rules, report_findings
from rickyard.forage.values import (
    FORAGE_WORDS,
    column_values,
    columns_of_rows,
    feed_ids,
    shipped_screens,
    word_of,
)
from rickyard.kinds import Forage

__all__ = [
    "ANALYTE_SPECS",
    "HEADERS",
    "RULES",
    "Analyte",
    "AnalyteSpec",
    "Basis",
    "Farm",
    "FarmFolder",
    "Forage",
    "LabPackage",
    "Lot",
    "Report",
    "Rule",
    "broken_rules",
    "column_values",
    "columns_of_rows",
    "energies_of_tdn",
    "header_of",
    "read_farm_folder",
    "report_findings",
    "shipped_screens",
    "told_rule",
    "word_of",
    "write_folder",
]

#: Every analyte of the farm folder by its name.
ANALYTE_SPECS: Final[dict[str, AnalyteSpec]] = {spec.name: spec for spec in ANALYTES}


def read_farm_folder(path: Path) -> FarmFolder:
    """Read a farm folder with the layout that it was written in.

    Parameters
    ----------
    path : Path
        The folder.

    Returns
    -------
    FarmFolder
        The farm with its files as they were written.
    """
    return read_folder(path, known_table_ids=feed_ids())


def energies_of_tdn(tdn_pct: float) -> dict[str, float]:
    """Return the energies that belong to a TDN, in Mcal/kg of dry matter.

    Parameters
    ----------
    tdn_pct : float
        Total digestible nutrients, 0 to 100. [% DM]

    Returns
    -------
    dict of str to float
        NEm, NEg, NEl, ME and DE by their keys. [Mcal/kg DM]

    Examples
    --------
    >>> {name: round(value, 2) for name, value in energies_of_tdn(60.0).items()}
    {'nem': 1.31, 'neg': 0.74, 'nel': 1.35, 'me': 2.17, 'de': 2.65}
    """
    return {
        "nem": float(nem_from_tdn(tdn_pct)),
        "neg": float(neg_from_tdn(tdn_pct)),
        "nel": float(nel_from_tdn(tdn_pct)),
        "me": float(me_from_tdn(tdn_pct)),
        "de": float(de_from_tdn(tdn_pct)),
    }


def told_rule(rule: Rule, name: str, forage: Forage, wet: bool, values: Mapping[str, float]) -> str:
    """Return what a broken rule says about a sample, with the likely cause.

    Parameters
    ----------
    rule : Rule
        The rule that is broken.
    name : str
        How the sample is called.
    forage : Forage
        What it is of.
    wet : bool
        Whether it is silage or baleage.
    values : mapping of str to float
        What was reported, by key, in the units of the rules; what is absent is unknown.

    Returns
    -------
    str
        The finding and, where it can be told, its cause.
    """
    # A rule can hold by one value where another that it looks at was not reported.
    known = {**dict.fromkeys(rule.needs, math.nan), **values}
    columns = columns_of_rows([forage], [wet], [known])
    screens = shipped_screens()
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        numbers = {one: float(columns[one][0]) for one in rule.needs}
        numbers |= {one: float(turn(columns, screens)[0]) for one, turn in rule.told.items()}
        numbers["proposed"] = math.nan
        if rule.proposed is not None:
            numbers["proposed"] = float(rule.proposed[1](columns, screens)[0])
    words = {"report": name, "forage": FORAGE_WORDS[forage]}
    texts = (
        (rule.sentence, rule.why)
        if math.isfinite(numbers["proposed"]) or ("{proposed" not in rule.why)
        else (rule.sentence,)
    )
    return " ".join(text.format(**numbers, **words) for text in texts)
