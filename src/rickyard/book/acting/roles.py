"""The table of permissions: which role may ask which service."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Final


class Role(StrEnum):
    """What a person is on a farm."""

    PRODUCER = "producer"
    SPECIALIST = "specialist"
    HELPER = "helper"


_ALL: Final = frozenset(Role)
_BOTH: Final = frozenset({Role.PRODUCER, Role.SPECIALIST})
_OWNER: Final = frozenset({Role.PRODUCER})

#: Who may ask what. A service that stands in no row cannot be asked by anybody.
PERMISSIONS: Final[Mapping[str, frozenset[Role]]] = {
    "write farm": _BOTH,
    "write season": _BOTH,
    "begin season": _BOTH,
    "write lot": _BOTH,
    "take intake": _BOTH,
    "give back intake": _BOTH,
    "write group": _BOTH,
    "write feed": _BOTH,
    "count lot": _ALL,
    "weigh lot": _ALL,
    "probe lot": _ALL,
    "bring in report": _ALL,
    "use report": _BOTH,
    "take out lot": _BOTH,
    "take out group": _BOTH,
    "take out feed": _BOTH,
    "add fed": _ALL,
    "add moves": _ALL,
    "add weather": _ALL,
    "add needs": _BOTH,
    "add labs": _BOTH,
    "add wishes": _BOTH,
    "add stacks": _BOTH,
    "undo fed": _ALL,
    "undo moves": _BOTH,
    "undo weather": _BOTH,
    "undo needs": _BOTH,
    "undo labs": _BOTH,
    "undo wishes": _BOTH,
    "undo stacks": _BOTH,
    "take core": _ALL,
    "undo core": _ALL,
    "send sample": _ALL,
    "write prices": _BOTH,
    "write labs": _BOTH,
    "plan": _BOTH,
    "stop plan": _BOTH,
    "adopt": _BOTH,
    "let in": _OWNER,
    "end membership": _OWNER,
    "invite": _OWNER,
    "end invitation": _OWNER,
    "share lot": _OWNER,
    "share season": _OWNER,
    "end share": _OWNER,
    "read people": _ALL,
    "read farm": _ALL,
    # What a farm costs and what its hay is worth is nobody's business who only feeds.
    "read costs": _BOTH,
    "read trail": _ALL,
    "export": _BOTH,
    "delete farm": _OWNER,
}
