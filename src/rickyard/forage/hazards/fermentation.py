"""How well baleage or silage soured: published ranges of acidity and acids."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.forage.hazards.hazard import ASK, Hazard

KUNG_SOURCE: Final = (
    "Kung & Shaver, University of Wisconsin Focus on Forage, interpretation and use of silage "
    "fermentation analysis reports, Table 1"
)
#: Little lactic acid, Kentucky forage newsletter 2020; much butyric, Kung & Shaver. [% DM]
LEAST_LACTIC_PCT: Final = 3.0
MOST_BUTYRIC_PCT: Final = 0.5


@dataclass(frozen=True, slots=True)
class Fermentation:
    """Usual ranges of a well soured silage; acids in percent of dry matter.

    ``ammonia`` is a share of the protein. ``None`` where the table is silent.
    """

    ph: tuple[float, float]
    lactic: tuple[float, float] | None = None
    acetic: tuple[float, float] | None = None
    propionic: tuple[float, float] | None = None
    butyric: tuple[float, float] | None = None
    ethanol: tuple[float, float] | None = None
    ammonia: tuple[float, float] | None = None


# Kung & Shaver, Table 1, by crop and percent dry matter.
FERMENTATIONS: Final[dict[tuple[str, str], Fermentation]] = {
    ("legume", "30-40"): Fermentation(
        (4.3, 4.7), (7.0, 8.0), (2.0, 3.0), (0.0, 0.5), (0.0, 0.5), (0.2, 1.0), (10.0, 15.0)
    ),
    ("legume", "45-55"): Fermentation(
        (4.7, 5.0), (2.0, 4.0), (0.5, 2.0), (0.0, 0.1), (0.0, 0.0), (0.0, 0.5), (0.0, 12.0)
    ),
    ("grass", "30-35"): Fermentation(
        (4.3, 4.7), (6.0, 10.0), (1.0, 3.0), (0.0, 0.1), (0.5, 1.0), (0.5, 1.0), (8.0, 12.0)
    ),
    ("corn", "30-40"): Fermentation((3.7, 4.2)),
}


def silage_ph_range(crop: str, dm_pct_range: str) -> str:
    """Return the usual acidity of a silage as text, low to high.

    Parameters
    ----------
    crop : str
        ``legume``, ``grass`` or ``corn``.
    dm_pct_range : str
        Dry matter as the table groups it: ``30-40``, ``45-55`` (legume), ``30-35`` (grass).

    Returns
    -------
    str
        For example ``4.3-4.7``. [pH]

    Raises
    ------
    KeyError
        If the table holds no such row.

    References
    ----------
    .. [1] Kung & Shaver, University of Wisconsin Focus on Forage, Table 1.

    Examples
    --------
    >>> silage_ph_range("legume", "30-40")
    '4.3-4.7'
    """
    low, high = FERMENTATIONS[crop, dm_pct_range].ph
    return f"{low:.1f}-{high:.1f}"


def fermentation_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what the acids of baleage or silage call for.

    Parameters
    ----------
    name : str
        What the lot is called.
    values : mapping of str to float
        ``lactic`` and ``butyric`` in percent of dry matter, where measured.

    Yields
    ------
    Hazard
        For little lactic or much butyric acid.

    Examples
    --------
    >>> [one.name for one in fermentation_hazards("Creek", {"butyric": 1.2, "lactic": 5.0})]
    ['butyric acid']
    """
    butyric, lactic = values.get("butyric"), values.get("lactic")
    if butyric is not None and butyric > MOST_BUTYRIC_PCT:
        yield Hazard(
            "butyric acid",
            "warning",
            f"The butyric acid of {name} is {butyric:.1f}% of the dry matter, a sign of clostridia",
            f"butyric acid above {MOST_BUTYRIC_PCT:g}% of the dry matter",
            KUNG_SOURCE,
            "all stock; fresh and pregnant cows, ewes and horses first",
            "smell every bale, throw out slimy or foul ones, and feed none to horses.",
            ASK,
            not_for=("horses",),
        )
    if lactic is not None and lactic < LEAST_LACTIC_PCT:
        yield Hazard(
            "lactic acid",
            "warning",
            f"The lactic acid of {name} is {lactic:.1f}% of the dry matter, a sign of poor "
            "fermentation",
            f"lactic acid below {LEAST_LACTIC_PCT:g}% of the dry matter",
            "Kentucky forage newsletter 2020",
            "all stock",
            "it spoils fast once open. Have a bale eaten within a day where you can, and look for "
            "mold.",
        )
