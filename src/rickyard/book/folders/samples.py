"""Which samples of seasons were sent to a laboratory: a farm folder has no place for that."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from rickyard.book import records
from rickyard.hay.sampling import Sent


def sent_of(seasons: Iterable[UUID]) -> dict[UUID, tuple[Sent, ...]]:
    """Return the samples of many seasons that were sent, in one query.

    Parameters
    ----------
    seasons : iterable of UUID
        The seasons.

    Returns
    -------
    dict of UUID to tuple of Sent
        By season, in the order in which they were sent.
    """
    found: dict[UUID, list[Sent]] = {one: [] for one in seasons}
    rows = records.Shipment.objects.filter(season_id__in=list(found), counts=True)
    for row in rows.order_by("place", "id"):
        sent = Sent(row.code, row.lab, row.tests, row.sent_on, row.expected_on)
        found[row.season_id].append(sent)
    return {season: tuple(sent) for season, sent in found.items()}
