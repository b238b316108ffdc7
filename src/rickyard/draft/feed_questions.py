"""Question ten: what can be bought, by the names people use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from rickyard.draft.asking import Asking
from rickyard.draft.assumptions import OTHER_PRICE_USD_PER_TON, PRICE_USD_PER_TON
from rickyard.draft.told import Told
from rickyard.farm import FeedKind
from rickyard.folder.tables import FEEDS
from rickyard.forage.values import FeedFound, find_feeds

#: What the classes of the feed table are in a folder; all others are supplements. Cubes and
#: pellets of alfalfa are no long forage.
_KINDS: Final = {
    "energy_grain": FeedKind.GRAIN,
    "mineral": FeedKind.MINERAL,
    "mineral_mix": FeedKind.MINERAL,
    "residue": FeedKind.FORAGE,
    "silage": FeedKind.FORAGE,
}
_DANGERS: Final = {
    "urea": "Urea kills when it is eaten fast or unmixed: only as the tag says, never to horses.",
    "whole_cottonseed": "Cottonseed holds gossypol: little of it, none to young stock.",
    "copper_sulfate": "Copper kills sheep: ask the veterinarian before any is fed.",
}


def ask_feed(
    asking: Asking, line: str, before: Sequence[Mapping[str, Told]]
) -> Mapping[str, Told] | None:
    """Ask which feed of the table is meant and what it costs; ``None`` if none is like it."""
    words = line.strip()
    found = find_feeds(words)
    if not found:
        asking.say(
            f'  No feed of the table is called "{words}". Say one word of it, or write it into '
            "feeds.csv afterwards with the values of its tag."
        )
        return None
    one = _one_of(asking, words, found)
    table_id = one.row.table_id
    if any(row["table_id"].text == table_id for row in before):
        asking.say(f"  {one.row.name} is written already.")
        return None
    if table_id in _DANGERS:
        asking.say(f"  {_DANGERS[table_id]}")
    unit, ton = ("usd_per_ton", "ton") if asking.units == "us" else ("usd_per_t", "tonne")
    usual = f"{PRICE_USD_PER_TON.get(one.row.feed_class, OTHER_PRICE_USD_PER_TON)}"
    return {
        "feed": Told(table_id[:40]),
        "name": Told(one.row.name.split(" (")[0]),
        "kind": Told(_KINDS.get(one.row.feed_class, FeedKind.SUPPLEMENT).value),
        f"price_{unit}": asking.cell(
            f"    What does {one.row.name} cost delivered, in dollars a {ton}?",
            FEEDS.column_of("price_usd_per_kg"),
            unit,
            usual,
            f"{one.row.name} costs ${usual} a {ton}",
        ),
        "table_id": Told(table_id),
    }


def _one_of(asking: Asking, words: str, found: Sequence[FeedFound]) -> FeedFound:
    exact = [one for one in found if one.exact]
    if len(found) == 1 or len(exact) == 1:
        one = (exact or list(found))[0]
        asking.say(f"  {one.row.name}.")
        return one
    found = exact or found
    return asking.choose(f'"{words}" may be one of these:', [(one.row.name, one) for one in found])
