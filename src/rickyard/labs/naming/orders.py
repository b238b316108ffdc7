"""Numbers of a laboratory that stand before the names: "88-1 Ridge, south" of order 88."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from rickyard.labs.common import Sample

#: The number of an order, the place of the sample in it, and its name.
_LED: Final = re.compile(
    r"(?P<number>(?P<order>[A-Z]{0,5}\d{1,7})[-/.–—]\d{1,3}[a-z]?)\s*[-–—:,]?\s+(?P<name>[^\W\d_].+)"
)
_TOLD: Final = (
    r"\b(?:order|job|batch|report|submission|file|case|auftrag|commande|dossier|pedido|ordine|ordre|"
    r"uppdrag|opdracht)\w{{0,8}}\W{{0,3}}(?:(?:no|nr|number|n)\b\W{{0,3}})?{order}\b"
)


def number_by_order(samples: Sequence[Sample], texts: Iterable[str]) -> None:
    """Part the laboratory's number from the names that it leads, where the report tells the order.

    Without the number of the order in the text, "25-1 Ridge" may be what stands on the bag.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file; each without a number of its own and led so is changed.
    texts : iterable of str
        What else the file says.

    Examples
    --------
    >>> samples = [Sample(id="88-1 Ridge – south"), Sample(id="88-2 Ridge – north")]
    >>> number_by_order(samples, ["Dear client, results for order 88."])
    >>> [(one.lab_no, one.id) for one in samples]
    [('88-1', 'Ridge – south'), ('88-2', 'Ridge – north')]
    """
    told = [(one, led) for one in samples if not one.lab_no and (led := _LED.fullmatch(one.id))]
    orders = {led["order"] for _, led in told}
    numbers = {led["number"] for _, led in told}
    if len(orders) != 1 or len(told) != len(samples) or len(numbers) != len(told):
        return
    pattern = re.compile(_TOLD.format(order=re.escape(orders.pop())), re.IGNORECASE)
    if any(map(pattern.search, texts)):
        for sample, led in told:
            sample.lab_no, sample.id = led["number"], led["name"].strip()
