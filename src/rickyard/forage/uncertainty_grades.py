"""The grades that the error of a test allows: a grade is sure only when its class holds them."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.forage.classes import ClassTable
from rickyard.forage.uncertainty import Measured


@dataclass(frozen=True, slots=True)
class GradeInterval:
    """The class of a value, and the classes of both ends of its 90 % interval.

    ``lowest`` and ``highest`` go by the value, so that for fiber ``lowest`` is the better one.
    ``sure`` says that the whole interval lies in one class.
    """

    label: str
    lowest: str
    highest: str
    sure: bool
    table: ClassTable

    def words(self) -> str:
        """Say the grade and what the error of the test allows.

        Examples
        --------
        >>> table = ClassTable("feed value", "index", (130.0, 150.0), ("Fair", "Good", "Premium"),
        ...                    "up", "a table")
        >>> print(grade_interval(table, Measured.normal(148.0, 8.0, "", "")).words())
        Good by feed value (index); the error of the test allows Good to Premium
        >>> print(grade_interval(table, Measured.normal(140.0, 2.0, "", "")).words())
        Good by feed value (index), whatever the error of the test
        """
        said = f"{self.label} by {self.table.name} ({self.table.unit})"
        if self.sure:
            return f"{said}, whatever the error of the test"
        return f"{said}; the error of the test allows {self.lowest} to {self.highest}"


def grade_interval(table: ClassTable, value: Measured) -> GradeInterval:
    """Grade a value and both ends of its interval.

    Parameters
    ----------
    table : ClassTable
        The table of grades.
    value : Measured
        What is graded, in the unit of the table.

    Returns
    -------
    GradeInterval
        The grade with those that the error allows.

    Raises
    ------
    OutOfRange
        If the value is not a number.

    References
    ----------
    .. [1] Handbook on forage analysis, propagation of errors: a grade is probable only if the
       interval stays inside it.

    Examples
    --------
    >>> table = ClassTable("protein", "% of dry matter", (5.0, 9.0), ("Low", "Fair", "Good"),
    ...                    "up", "a table")
    >>> grade_interval(table, Measured.normal(9.2, 1.0, "", "")).lowest
    'Fair'
    """
    low, label, high = (table.label(one) for one in (value.low, value.value, value.high))
    return GradeInterval(label, low, high, low == label == high, table)
