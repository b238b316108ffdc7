"""What a check file's quantity is to the program: a function of the row's inputs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final, TypeAlias

#: The inputs of a row by name, as read from its JSON.
Inputs: TypeAlias = Mapping[str, Any]
Value: TypeAlias = float | str
Quantity: TypeAlias = Callable[[Inputs], Value | None]

#: An input of this name is a remark for the reader, whatever the quantity.
REMARK: Final = "note"


class Asked(Mapping[str, Any]):
    """The inputs of a row, which remember what a quantity asked for.

    A row that states an input which nothing asks for puts another question than the one that is
    answered: `unknown` names such inputs, in sets of inputs within an input too.

    ``inputs``: the inputs of a row, as read from its JSON.

    >>> asked = Asked({"c": [2.0], "bounds": [[0.0, 1.0]], "note": "rounded in print"})
    >>> asked["c"], asked.get("A_ub")
    ([2.0], None)
    >>> asked.unknown(), sorted(asked.names)
    (('bounds',), ['A_ub', 'c'])
    """

    def __init__(self, inputs: Inputs) -> None:
        self._inputs = {name: _asked(value) for name, value in inputs.items()}
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> Any:
        self.names.add(name)
        return self._inputs[name]

    def __contains__(self, name: object) -> bool:
        # To ask whether an input is there is not to use it.
        return name in self._inputs

    def __iter__(self) -> Iterator[str]:
        return iter(self._inputs)

    def __len__(self) -> int:
        return len(self._inputs)

    def unknown(self) -> tuple[str, ...]:
        """Return the inputs that nothing asked for, in their order; one within another as a.b."""
        return tuple(self._unknown())

    def _unknown(self) -> Iterator[str]:
        for name, value in self._inputs.items():
            if name not in self.names:
                if name != REMARK:
                    yield name
                continue
            for part in value if isinstance(value, list) else [value]:
                if isinstance(part, Asked):
                    yield from (f"{name}.{inner}" for inner in part._unknown())


def _asked(value: Any) -> Any:
    if isinstance(value, dict):
        return Asked(value)
    return [_asked(part) for part in value] if isinstance(value, list) else value


def only_for(inputs: Inputs, **fixed: Value) -> None:
    """Refuse inputs that a function does not take unless they are what it has built in.

    A row that states another value asks another question than the one computed.

    >>> only_for({"milk_fat_pct": 4.0, "month": 3}, milk_fat_pct=4.0)
    >>> only_for({"milk_fat_pct": 3.5}, milk_fat_pct=4.0)
    Traceback (most recent call last):
    ...
    ValueError: milk_fat_pct 3.5 is not computed; the program has 4 built in here.
    """
    for name, value in fixed.items():
        if name in inputs and inputs[name] != value:
            built_in = value if isinstance(value, str) else f"{value:g}"
            raise ValueError(
                f"{name} {inputs[name]} is not computed; the program has {built_in} built in here."
            )


def built_in(quantity: Quantity, **fixed: Value) -> Quantity:
    """Return a quantity whose rows may state what it has built in; see `only_for`.

    >>> built_in(lambda q: 2.0 * q["dm_kg"], species="sheep")({"dm_kg": 1.0, "species": "sheep"})
    2.0
    """

    def checked(inputs: Inputs) -> Value | None:
        only_for(inputs, **fixed)
        return quantity(inputs)

    return checked


def beside(quantity: Quantity, *names: str) -> Quantity:
    """Return a quantity whose rows may state inputs that its answer does not depend on.

    They stand in a row because the table that printed the value names them.

    >>> asked = Asked({"dm_kg": 1.0, "printed_row_lb": 90})
    >>> beside(lambda q: 2.0 * q["dm_kg"], "printed_row_lb")(asked), asked.unknown()
    (2.0, ())
    """

    def told(inputs: Inputs) -> Value | None:
        for name in names:
            inputs.get(name)
        return quantity(inputs)

    return told
