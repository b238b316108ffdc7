"""Names of a room that are loaded when they are first asked for.

A command that needs one small thing of a large room does not wait for all of it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def at_first_use(room: str, homes: Mapping[str, str]) -> Callable[[str], Any]:
    """Return the ``__getattr__`` of a room.

    Parameters
    ----------
    room : str
        The dotted name of the room.
    homes : mapping of str to str
        Names that the room offers, parted by blanks, by the file of the room that defines them;
        files that are offered themselves stand under an empty name.

    Returns
    -------
    callable
        Gives a name of the room; an ``AttributeError`` where the room offers none.

    Examples
    --------
    >>> of_json = at_first_use("json", {"decoder": "JSONDecodeError"})
    >>> of_json("JSONDecodeError").__name__
    'JSONDecodeError'
    """
    places = {name: home for home, names in homes.items() for name in names.split()}

    def get(name: str) -> Any:
        if name not in places:
            raise AttributeError(f"module {room!r} has no attribute {name!r}")
        home = import_module(f"{room}.{places[name] or name}")
        value = getattr(home, name) if places[name] else home
        # The next look finds it at once.
        setattr(sys.modules[room], name, value)
        return value

    return get
