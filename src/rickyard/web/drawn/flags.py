"""The flag of a lot: the cloth and its end say the field, the strokes the cutting."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Lot

#: None is red, which is danger, or green, which is enough. White is for hay of no field.
CLOTHS: Final = ("blue", "yellow", "violet", "orange", "teal", "brown", "pink")
ENDS: Final[Mapping[str, str]] = {
    "notched": "M4 2H30L25 10L30 18H4Z",
    "straight": "M4 2H30V18H4Z",
    "pointed": "M4 2H23L30 10L23 18H4Z",
    "slanted": "M4 2H30L24 18H4Z",
}
#: Cloths on which a stroke is drawn light.
_DARK: Final = frozenset({"blue", "violet", "teal", "brown"})
_STROKES: Final = ("no stroke", "one stroke", "two strokes", "three strokes", "four strokes")


@dataclass(frozen=True, slots=True)
class Flag:
    """A flag. ``strokes`` is ``None`` for hay of no field or cutting, which is framed instead."""

    cloth: str
    end: str
    strokes: int | None

    @property
    def words(self) -> str:
        """Return it in words."""
        last = "framed" if self.strokes is None else _STROKES[self.strokes]
        return f"{self.cloth.capitalize()} flag, {self.end} end, {last}"


def flags_of(lots: Iterable[Lot]) -> dict[str, Flag]:
    """Return the flag of each lot, so that no two fields have cloth and end in common.

    Parameters
    ----------
    lots : iterable of Lot
        The lots of a farm in their order.

    Returns
    -------
    dict of str to Flag
        The flag by the lot's short name.
    """
    fields: dict[str, int] = {}
    found = {}
    for lot in lots:
        if not lot.field_name:
            found[lot.lot_id] = Flag("white", "straight", None)
            continue
        at = fields.setdefault(lot.field_name.casefold(), len(fields))
        turn = at // len(CLOTHS)
        end = tuple(ENDS)[(at + turn) % len(ENDS)]
        strokes = lot.cutting if lot.cutting is not None and lot.cutting < len(_STROKES) else None
        found[lot.lot_id] = Flag(CLOTHS[at % len(CLOTHS)], end, strokes)
    return found


def flag(one: Flag, *, big: bool = False) -> str:
    """Return a flag as a drawing.

    Parameters
    ----------
    one : Flag
        The flag.
    big : bool
        Whether it stands by itself.

    Returns
    -------
    str
        SVG.

    Examples
    --------
    >>> 'aria-label="Blue flag, notched end, two strokes"' in flag(Flag("blue", "notched", 2))
    True
    """
    return (
        f'<svg class="flag{" big" if big else ""}" width="32" height="30" '
        f'viewBox="0 0 32 30" role="img" aria-label="{one.words}">{flag_shapes(one)}</svg>'
    )


def flag_shapes(one: Flag) -> str:
    """Return the shapes of a flag, to stand within another drawing.

    Parameters
    ----------
    one : Flag
        The flag.

    Returns
    -------
    str
        Shapes of SVG, 32 by 30.

    Examples
    --------
    >>> flag_shapes(Flag("white", "straight", None)).count("<path")
    2
    """
    ink = "var(--c-on-dark)" if one.cloth in _DARK else "var(--c-on-light)"
    if one.strokes is None:
        inside = (
            '<rect x="8" y="5.5" width="18" height="9" fill="none" stroke="'
            f'{ink}" stroke-width="1.8"/>'
        )
    else:
        first = 16.0 - 2.5 * one.strokes
        inside = "".join(
            f'<path d="M{first + 5 * number:g} 5.2V14.8" stroke="{ink}" stroke-width="2.6"/>'
            for number in range(one.strokes)
        )
    return (
        '<path d="M3 1V30" stroke="var(--staff)" stroke-width="2.4"/>'
        f'<path d="{ENDS[one.end]}" fill="var(--c-{one.cloth})" stroke="var(--staff)" '
        f'stroke-width="1.4"/>{inside}'
    )
