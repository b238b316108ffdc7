"""What problems of a test are made of by hand: things with only the parts that are read."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from rickyard.program.model.variables import Columns

INF, NAN = np.inf, np.nan


def one(**what: Any) -> Any:
    """Return a thing with these parts and no others: what reads another one fails."""
    return SimpleNamespace(**what)


def ints(*values: int) -> Any:
    """Return whole numbers as the program counts places with them."""
    return np.array(values, dtype=np.int64)


def columns_of(**what: Any) -> Columns:
    """Return where variables stand for one group, three sources and three weeks.

    Amounts: 0 to 2 the first source, 3 and 4 the second from the second week on, 5 to 7 the third.
    No loads, sales, totals, rises or shortages but those that are said.
    """
    usual: dict[str, Any] = {
        "group": ints(*[0] * 8),
        "source": ints(0, 0, 0, 1, 1, 2, 2, 2),
        "period": ints(0, 1, 2, 1, 2, 0, 1, 2),
        "loads": ints(-1, -1, -1),
        "sold": ints(-1, -1, -1),
        "total": ints(-1, -1, -1),
        "rise": ints(*[-1] * 8),
        "shortage": {},
        "farm_short": {},
        "unkept": ints(*[-1] * 8),
    }
    return Columns(**{**usual, **what})
