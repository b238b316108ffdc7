"""What was worked out once, held by what it was worked out of.

What was not asked for longest is dropped.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import fields, replace
from functools import wraps
from threading import Lock
from typing import Any, Concatenate, Final, Generic, ParamSpec, TypeVar
from weakref import WeakSet

from rickyard.farm import Farm
from rickyard.forage.plausibility import forget_profiles
from rickyard.program.inputs import forget_needs
from rickyard.safety import bindings

Key = TypeVar("Key", bound=Hashable)
Found = TypeVar("Found")
First = TypeVar("First")
P = ParamSpec("P")


class Held(Generic[Key, Found]):
    """Things by their keys, no more than so many; any may be dropped at any time.

    Parameters
    ----------
    most : int
        How many are held.

    Examples
    --------
    >>> held = Held[int, str](2)
    >>> held.hold({1: "a", 2: "b", 3: "c"})
    >>> held.of([2, 1])
    {2: 'b'}
    >>> held.hold({4: "d"})
    >>> held.of([2, 3, 4])
    {2: 'b', 4: 'd'}
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._found: dict[Key, Found] = {}
        self._lock = Lock()
        _EVERY.add(self)

    def of(self, keys: Iterable[Key]) -> dict[Key, Found]:
        """Return what is held of keys.

        Parameters
        ----------
        keys : iterable of Key
            What is wanted.

        Returns
        -------
        dict
            By key, in the order asked for.
        """
        with self._lock:
            found = {key: self._found.pop(key) for key in keys if key in self._found}
            self._found.update(found)
        return found

    def hold(self, new: Mapping[Key, Found]) -> None:
        """Hold things, and drop those that were not asked for longest where there are too many.

        Parameters
        ----------
        new : mapping
            By key.
        """
        with self._lock:
            self._found.update(new)
            for old in list(self._found)[: -self._most]:
                del self._found[old]

    def forget(self) -> None:
        """Drop all."""
        with self._lock:
            self._found.clear()


#: All that is held anywhere in this process.
_EVERY: Final = WeakSet[Held[Any, Any]]()


def forget_all() -> None:
    """Drop all that this process holds of any farm.

    Examples
    --------
    >>> held = Held[int, str](2)
    >>> held.hold({1: "Hill farm"})
    >>> forget_all()
    >>> held.of([1])
    {}
    """
    for held in tuple(_EVERY):
        held.forget()
    bindings.cache_clear()
    forget_profiles()
    forget_needs()


def held_by_object(
    most: int,
) -> Callable[[Callable[Concatenate[First, P], Found]], Callable[Concatenate[First, P], Found]]:
    """Hold what a function gave for this very object and the same words beside it.

    A farm that is looked at again is the same object where the book did not change, and to compare
    objects of a whole farm takes as long as to work it out. Words that cannot be told apart are
    not held.

    Parameters
    ----------
    most : int
        How many results are held; each keeps its object.

    Returns
    -------
    callable
        What makes of a function one that holds.

    Examples
    --------
    >>> asked = []
    >>> @held_by_object(2)
    ... def length(farm, more=0):
    ...     asked.append(more)
    ...     return len(farm) + more
    >>> hay = ["flat", "hill"]
    >>> length(hay), length(hay), length(hay, more=1), length(list(hay)), asked
    (2, 2, 3, 2, [0, 1, 0])
    """

    def made(
        function: Callable[Concatenate[First, P], Found],
    ) -> Callable[Concatenate[First, P], Found]:
        held = Held[Any, tuple[First, Found]](most)

        @wraps(function)
        def worked(first: First, /, *args: P.args, **words: P.kwargs) -> Found:
            key = (id(first), args, *sorted(words.items()))
            try:
                found = held.of([key])
            except TypeError:
                return function(first, *args, **words)
            if key not in found:
                # The object is kept with what it gave, so that its number is no other's.
                found = {key: (first, function(first, *args, **words))}
                held.hold(found)
            return found[key][1]

        return worked

    return made


#: Farms without what is fed and moved, by all that they still say.
_still: Final = Held[tuple[Any, ...], Farm](64)


def still(farm: Farm) -> Farm:
    """Return a farm without what was fed, moved, wished and drawn.

    What hay is and what stock needs does not hang on that. Where all else of two farms is the same
    object, this gives the same one for both, so that what is held of it holds.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Farm
        The same without its log, its moves, wishes and stacks.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from rickyard.calls import demo_farm
    >>> before = demo_farm()
    >>> after = replace(before, fed=before.fed[:-1])
    >>> still(before) is still(after), still(before).fed, still(before).lots is before.lots
    (True, (), True)
    """
    bare = replace(farm, fed=(), moves=(), wishes=(), stacks=())
    parts = [getattr(bare, one.name) for one in fields(bare)]
    key = tuple(one if isinstance(one, str) else id(one) for one in parts)
    found = _still.of([key])
    if key not in found:
        # The farm keeps its parts, so that their numbers are no others'.
        found = {key: bare}
        _still.hold(found)
    return found[key]
