"""Which rows a test looks at: hundreds in one test, or of many alike some in every run.

A test costs the runner some milliseconds beside what it does itself. Rows that take less than that
are looked at in one test instead of one each; what takes longer, or needs a place or a patch of its
own, stays with ``pytest.mark.parametrize``.

Of cases that try the same of more farms, days or databases, some are in every run and all of them
with ``--more``, which the continuous integration and ``tools/mutate.py`` ask for.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Collection, Iterable, Sequence
from functools import wraps
from typing import Any

import pytest

#: So many rows are told with what is wrong with each, and the others by their names.
MOST_TOLD = 20


def each_row(
    names: str | Sequence[str],
    rows: Iterable[Any],
    *,
    ids: Callable[[Any], object] = str,
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Give a test every row in turn, as ``pytest.mark.parametrize`` gives one to each of many.

    Parameters
    ----------
    names : str or sequence of str
        The arguments that a row fills: one name, or several.
    rows : iterable
        A value for one name, a tuple for several.
    ids : callable, optional
        Names a value; without it a value is named as it is written.

    Returns
    -------
    callable
        What makes of a test of one row a test of all. It fails when there are no rows, and names
        every row that fails.
    """
    several = not isinstance(names, str)
    cases = [tuple(row) if several else (row,) for row in rows]
    filled = list(names) if several else [names]

    def of_all(test: Callable[..., None]) -> Callable[..., None]:
        @wraps(test)
        def every(**kwargs: Any) -> None:
            assert cases, "there is no row to look at"
            failed = list[tuple[str, BaseException]]()
            for case in cases:
                try:
                    test(**kwargs, **dict(zip(filled, case, strict=True)))
                except (Exception, pytest.fail.Exception) as error:
                    failed.append(("-".join(str(ids(value)) for value in case), error))
            if failed:
                told = [f"{name}: {type(error).__name__}: {error}" for name, error in failed]
                told[MOST_TOLD:] = [name for name, _ in failed[MOST_TOLD:]]
                said = "\n".join([f"{len(failed)} of {len(cases)} rows fail.", *told])
                raise AssertionError(said) from failed[0][1]

        own = inspect.signature(test)
        left = [one for name, one in own.parameters.items() if name not in filled]
        every.__signature__ = own.replace(parameters=left)  # type: ignore[attr-defined]
        return every

    return of_all


def few(cases: Iterable[Any], usual: int | Collection[Any]) -> list[Any]:
    """Leave cases that are the like of others to the runs that take more time.

    Parameters
    ----------
    cases : iterable
        What ``pytest.mark.parametrize`` takes: a value, or a tuple for several names.
    usual : int or collection
        Which cases are in every run: the first so many, or these.

    Returns
    -------
    list
        The cases, of which the rest are marked ``more``.
    """
    every = list(cases)
    kept = every[:usual] if isinstance(usual, int) else usual
    assert all(case in every for case in kept), "a case that is to be in every run is not there"
    return [
        case
        if case in kept
        else pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.more)
        for case in every
    ]
