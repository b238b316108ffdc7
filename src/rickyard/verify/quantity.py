"""What a check file's quantity is to the program: a function of the row's inputs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

#: The inputs of a row by name, as read from its JSON.
Inputs: TypeAlias = Mapping[str, Any]
Value: TypeAlias = float | str
Quantity: TypeAlias = Callable[[Inputs], Value | None]


def only_for(inputs: Inputs, **fixed: float) -> None:
    """Refuse inputs that a function does not take unless they are what it has built in.

    Parameters
    ----------
    inputs : mapping
        The inputs of a row.
    **fixed : float
        The value that the function has built in, by the name of the input.

    Raises
    ------
    ValueError
        If a row states another value: computing on would answer another question.

    Examples
    --------
    >>> only_for({"milk_fat_pct": 4.0, "month": 3}, milk_fat_pct=4.0)
    >>> only_for({"milk_fat_pct": 3.5}, milk_fat_pct=4.0)
    Traceback (most recent call last):
    ...
    ValueError: milk_fat_pct 3.5 is not computed; the program has 4 built in here.
    """
    for name, value in fixed.items():
        if name in inputs and inputs[name] != value:
            raise ValueError(
                f"{name} {inputs[name]} is not computed; the program has {value:g} built in here."
            )
