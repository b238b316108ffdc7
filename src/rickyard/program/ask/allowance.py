"""How much may be spent on answering: work first, and the clock for one who cannot wait."""

from __future__ import annotations

import time
from collections.abc import Callable
from math import inf

from rickyard.program.solver import Meter


class Allowance:
    """What may be spent on one kind of answer, from now on.

    ``meter``: counts the work of the solver. ``effort``: how much more it may count [units of
    work]. ``seconds``: how long it may take by the clock all the same [s]. ``stop``: asked whether
    a person has had enough.
    """

    def __init__(
        self,
        meter: Meter,
        effort: float,
        seconds: float = inf,
        stop: Callable[[], bool] | None = None,
    ) -> None:
        self._meter, self._stop = meter, stop
        self._most = meter.work + effort
        self._until = time.perf_counter() + seconds

    def spent(self) -> bool:
        """Return whether no more is to be begun."""
        if self._stop is not None and self._stop():
            return True
        return self._meter.work >= self._most or time.perf_counter() > self._until
