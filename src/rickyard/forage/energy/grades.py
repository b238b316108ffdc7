"""Market grades of hay: published tables, each with its edition, never mixed.

The same hay is "Premium" by one edition and "Good" by another, so a grade is always told with
its table. The tables take one number or an array; see ``ClassTable``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.forage.energy.indices import relative_feed_value
from rickyard.forage.energy.tdn import tdn_western_alfalfa_100
from rickyard.forage.values import CLASS_TABLES

_ALFALFA_RISING: Final = ("Utility", "Fair", "Good", "Premium", "Supreme")
USDA_ALFALFA_RFV: Final = CLASS_TABLES["usda_alfalfa_rfv"]
USDA_GRASS_CP: Final = CLASS_TABLES["usda_grass_cp"]
TASK_FORCE_RFV: Final = CLASS_TABLES["task_force_rfv"]
USDA_2003_SOURCE: Final = USDA_GRASS_CP.source

#: Columns of the alfalfa table disagree by up to this many classes before the grade is "mixed";
#: judgement, no published source.
MOST_CLASSES_APART: Final = 2


@dataclass(frozen=True, slots=True)
class AlfalfaGrade:
    """The grade of an alfalfa hay by each column of the 2003 table.

    ``grade`` goes by relative feed value; ``mixed`` says that the columns span more than two
    classes, so that it should be read with care.
    """

    grade: str
    by_column: dict[str, str]
    mixed: bool
    source: str = USDA_2003_SOURCE


def alfalfa_grade_2003(adf_pct: float, ndf_pct: float, cp_pct: float) -> AlfalfaGrade:
    """Grade an alfalfa hay by the USDA guidelines of 2003.

    For alfalfa with at most 10 % grass. There is no official rule for columns that disagree,
    and "quantitative factors are approximate". Heavy damage, mold or weeds lower any grade to
    Utility; no analysis shows them.

    Source: USDA-AMS hay quality guidelines (2003), reprinted by Montana State University Extension
    (Cash & Dixon).

    Parameters
    ----------
    adf_pct, ndf_pct, cp_pct : float
        Acid and neutral detergent fiber, above 0, and crude protein. [% DM]

    Returns
    -------
    AlfalfaGrade
        The grade by relative feed value, and by every other column.

    Examples
    --------
    >>> graded = alfalfa_grade_2003(28.0, 35.0, 19.0)
    >>> graded.grade, graded.by_column["protein"], graded.mixed
    ('Premium', 'Good', False)
    """
    columns = {
        "relative feed value": (USDA_ALFALFA_RFV, float(relative_feed_value(adf_pct, ndf_pct))),
        "ADF": (CLASS_TABLES["usda_alfalfa_adf"], adf_pct),
        "NDF": (CLASS_TABLES["usda_alfalfa_ndf"], ndf_pct),
        "TDN": (CLASS_TABLES["usda_alfalfa_tdn"], float(tdn_western_alfalfa_100(adf_pct))),
        "protein": (CLASS_TABLES["usda_alfalfa_cp"], cp_pct),
    }
    grades = {name: table.label(value) for name, (table, value) in columns.items()}
    ranks = [_ALFALFA_RISING.index(grade) for grade in grades.values()]
    spread = max(ranks) - min(ranks) + 1
    return AlfalfaGrade(grades["relative feed value"], grades, spread > MOST_CLASSES_APART)


def usda_alfalfa_grade(rfv: float) -> str:
    """Return the USDA grade of 2003 of an alfalfa hay by relative feed value.

    Parameters
    ----------
    rfv : float
        Relative feed value. [-]

    Returns
    -------
    str
        Supreme, Premium, Good, Fair or Utility.

    Examples
    --------
    >>> usda_alfalfa_grade(185.0), usda_alfalfa_grade(160.0), usda_alfalfa_grade(120.0)
    ('Premium', 'Good', 'Utility')
    """
    return USDA_ALFALFA_RFV.label(rfv)


def usda_grass_grade(cp_pct: float) -> str:
    """Return the USDA grade of 2003 of a grass hay by protein.

    Parameters
    ----------
    cp_pct : float
        Crude protein. [% DM]

    Returns
    -------
    str
        Premium, Good, Fair or Low.

    Examples
    --------
    >>> usda_grass_grade(14.0), usda_grass_grade(9.0), usda_grass_grade(4.0)
    ('Premium', 'Good', 'Low')
    """
    return USDA_GRASS_CP.label(cp_pct)
