"""Market grades of hay: published tables, each with its edition, never mixed.

The same hay is "Premium" by one edition and "Good" by another, so a grade is always told with
its table. A table takes one number or an array; see ``ClassTable``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.forage.energy.indices import relative_feed_value
from rickyard.forage.energy.tdn import tdn_western_alfalfa_100
from rickyard.forage.values import ClassTable, above

USDA_2003_SOURCE: Final = (
    "USDA-AMS hay quality guidelines, 2003, as reprinted by Montana State University Extension"
)
OLDER_SOURCE: Final = (
    "Hay grades in use before 2003, as printed by the Illinois Department of Agriculture"
)
TASK_FORCE_SOURCE: Final = "Hay Marketing Task Force standards, from memory"

_ALFALFA_RISING: Final = ("Utility", "Fair", "Good", "Premium", "Supreme")
_ALFALFA_FALLING: Final = tuple(reversed(_ALFALFA_RISING))


# USDA-AMS 2003, alfalfa with at most 10 % grass, 100 % dry matter. A value on a limit goes to
# the better grade, except that Supreme begins above the limit printed. The limits of Fair and
# Utility at 90 % dry matter are derived. TDN from 60 to 60.5, a gap in print, stays Good.
USDA_ALFALFA_RFV: Final = ClassTable(
    "alfalfa grade by relative feed value",
    "index",
    (130.0, 150.0, 170.0, above(185.0)),
    _ALFALFA_RISING,
    "up",
    USDA_2003_SOURCE,
)
USDA_ALFALFA_ADF: Final = ClassTable(
    "alfalfa grade by ADF",
    "% of dry matter",
    (27.0, 29.0, 32.0, 35.0),
    _ALFALFA_FALLING,
    "up",
    USDA_2003_SOURCE,
)
USDA_ALFALFA_NDF: Final = ClassTable(
    "alfalfa grade by NDF",
    "% of dry matter",
    (34.0, 36.0, 40.0, 44.0),
    _ALFALFA_FALLING,
    "up",
    USDA_2003_SOURCE,
)
USDA_ALFALFA_TDN: Final = ClassTable(
    "alfalfa grade by TDN",
    "% of dry matter",
    (56.0, 58.0, 60.5, above(62.0)),
    _ALFALFA_RISING,
    "up",
    USDA_2003_SOURCE,
)
USDA_ALFALFA_CP: Final = ClassTable(
    "alfalfa grade by protein",
    "% of dry matter",
    (16.0, 18.0, 20.0, above(22.0)),
    _ALFALFA_RISING,
    "up",
    USDA_2003_SOURCE,
)
# USDA-AMS 2003, grass hay: 9.0 is Good, 5.0 is Fair, Premium begins above 13.
USDA_GRASS_CP: Final = ClassTable(
    "grass grade by protein",
    "% of dry matter",
    (5.0, 9.0, above(13.0)),
    ("Low", "Fair", "Good", "Premium"),
    "up",
    USDA_2003_SOURCE,
)
# Before 2003, alfalfa and mixtures; kept apart, for reports that still use it.
OLDER_ALFALFA_RFV: Final = ClassTable(
    "alfalfa and mixed hay grade by relative feed value, before 2003",
    "index",
    (100.0, 125.0, 150.0, above(180.0)),
    ("Low", "Fair", "Good", "Premium", "Supreme"),
    "up",
    OLDER_SOURCE,
)
# Hay Marketing Task Force, legume, grass and mixtures, from memory; without the gaps of print.
TASK_FORCE_RFV: Final = ClassTable(
    "standard by relative feed value",
    "index",
    (75.0, 87.0, 103.0, 125.0, above(151.0)),
    ("5", "4", "3", "2", "1", "Prime"),
    "up",
    TASK_FORCE_SOURCE,
)

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

    Parameters
    ----------
    adf_pct, ndf_pct, cp_pct : float
        Acid and neutral detergent fiber, crude protein. [% DM]

    Returns
    -------
    AlfalfaGrade
        The grade by relative feed value, and by every other column.

    Raises
    ------
    OutOfRange
        If fiber is not positive or a value is not a number.

    Notes
    -----
    For alfalfa with at most 10 % grass. There is no official rule for columns that disagree,
    and "quantitative factors are approximate". Heavy damage, mold or weeds lower any grade to
    Utility; no analysis shows them.

    References
    ----------
    .. [1] USDA-AMS hay quality guidelines (2003), reprinted by Montana State University
       Extension (Cash & Dixon).

    Examples
    --------
    >>> graded = alfalfa_grade_2003(28.0, 35.0, 19.0)
    >>> graded.grade, graded.by_column["protein"], graded.mixed
    ('Premium', 'Good', False)
    """
    columns = {
        "relative feed value": (USDA_ALFALFA_RFV, float(relative_feed_value(adf_pct, ndf_pct))),
        "ADF": (USDA_ALFALFA_ADF, adf_pct),
        "NDF": (USDA_ALFALFA_NDF, ndf_pct),
        "TDN": (USDA_ALFALFA_TDN, float(tdn_western_alfalfa_100(adf_pct))),
        "protein": (USDA_ALFALFA_CP, cp_pct),
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


def older_alfalfa_grade(rfv: float) -> str:
    """Return the grade before 2003 of an alfalfa or mixed hay, still printed by some states.

    Parameters
    ----------
    rfv : float
        Relative feed value. [-]

    Returns
    -------
    str
        Supreme, Premium, Good, Fair or Low.

    Examples
    --------
    Good by the guidelines of 2003:

    >>> older_alfalfa_grade(160.0)
    'Premium'
    """
    return OLDER_ALFALFA_RFV.label(rfv)


def task_force_standard(rfv: float) -> str:
    """Return the Hay Marketing Task Force standard, Prime to 5, of legume, grass or mixed hay.

    Parameters
    ----------
    rfv : float
        Relative feed value. [-]

    Returns
    -------
    str
        Prime, 1, 2, 3, 4 or 5.

    References
    ----------
    .. [1] Hay Marketing Task Force standards, from memory.

    Examples
    --------
    >>> task_force_standard(152.0), task_force_standard(151.0), task_force_standard(74.0)
    ('Prime', '1', '5')
    """
    return TASK_FORCE_RFV.label(rfv)
