"""What a program finds in a book that the last one did not close: told when it starts."""

from __future__ import annotations

from typing import Any

from django.db.models import OuterRef, Q, Subquery

from rickyard.book import records
from rickyard.book.base import BOOK_FILE, BookPlace


def left_open(place: BookPlace) -> bool:
    """Return whether the last program that wrote in a book has not closed it.

    To be asked before the book is opened: that puts it in order.

    Parameters
    ----------
    place : BookPlace
        Where the book is. A database server puts its own in order, and tells nobody.

    Returns
    -------
    bool
        Whether a log of writing lies beside the file.
    """
    log = place.folder / f"{BOOK_FILE}-wal"
    return not place.is_server and log.is_file() and log.stat().st_size > 0


def told_at_start(*, was_left: bool) -> tuple[str, ...]:
    """Return what was found in the open book, and what becomes of it.

    Parameters
    ----------
    was_left : bool
        What `left_open` said before it was opened.

    Returns
    -------
    tuple of str
        Sentences; none where the last program closed the book and nothing was under way.
    """
    found = []
    if was_left:
        newest = _newest_line()
        last = "" if newest is None else f", the last at {newest.at:%Y-%m-%d %H:%M} UTC"
        service = "" if newest is None else f" ({newest.service})"
        found.append(
            "The program that wrote in the record book before was ended without closing it, or "
            f"has it open still. All that it said was written is there{last}{service}; what it "
            "was at then is written whole or not at all. Look at the last lines, and run rickyard "
            "doctor if you doubt it."
        )
    works = records.Work.objects.filter(state=records.RUNNING).count()
    if works:
        seasons = "A season was" if works == 1 else f"{works} seasons were"
        found.append(f"{seasons} being planned. That is taken up again within half a minute.")
    return tuple(found)


def _newest_line() -> Any:
    """Return the newest line of all trails, ``None`` where there is none.

    The newest of each farm is looked up by its index: trails are long, and are not read through.
    """
    lines = records.TrailLine.objects.filter(farm_id=OuterRef("id")).order_by("-number")
    newest = records.Farm.objects.annotate(line=Subquery(lines.values("id")[:1]))
    of_no_farm = Q(farm__isnull=True)
    found = records.TrailLine.objects.filter(Q(id__in=newest.values("line")) | of_no_farm)
    return found.order_by("-at").first()
