"""What pages will ask for, read before the first of them is asked for."""

from __future__ import annotations

import time
from contextlib import suppress
from datetime import UTC, datetime
from typing import Final

from django.db import connections

from rickyard.book.acting import ONE_PERSON, day_at
from rickyard.book.district import newest_lines
from rickyard.book.services import FarmThere, list_farms, read_farm, read_program
from rickyard.service import ServiceError, read_lots, yard_on

#: A server is ready so much later at most. (judgement, no published source) [s]
LONGEST: Final = 2.0


def read_ahead(longest: float = LONGEST) -> int:
    """Read the farms of a book and their programs, those that were written last first.

    A farm that cannot be read or worked out is passed over: its pages say why.

    Parameters
    ----------
    longest : float
        No more farms are begun after so long. [s]

    Returns
    -------
    int
        How many were read.
    """
    end, read = time.monotonic() + longest, 0
    there = list_farms(ONE_PERSON)
    lines = newest_lines(one.farm for one in there)
    known = [one for one in there if one.farm in lines]
    for one in sorted(known, key=lambda one: lines[one.farm].at, reverse=True):
        if time.monotonic() >= end:
            break
        with suppress(ServiceError):
            _read(one)
            read += 1
    # What is forked off may not share a way to the database.
    connections.close_all()
    return read


def _read(there: FarmThere) -> None:
    farm = read_farm(ONE_PERSON, there.season)
    read_program(ONE_PERSON, there.season)
    read_program(ONE_PERSON, there.season, only_adopted=True)
    read_lots(farm)
    yard_on(farm, day_at(there.time_zone, datetime.now(UTC)))
