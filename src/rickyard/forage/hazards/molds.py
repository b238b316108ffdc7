"""Molds and their poisons: counts, and the levels of the food and drug administration."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.forage.hazards.hazard import ALL_STOCK, ASK, Hazard
from rickyard.forage.hazards.hazard_tables import MOLD_HORSE, MOLD_PENN_STATE, PPB_PER_PPM

# FDA levels as tabulated by Kansas State University (Fritz, 2024) and Missouri; for grain and
# its by-products. None is set for hay. As fed at 88 % dry matter.
LIMITS_DM_PCT: Final = 88.0
AFLATOXIN_LIMIT_PPB: Final[dict[str, float]] = {
    "dairy": 20.0,
    "immature": 20.0,
    "unknown": 20.0,
    "breeding_cattle": 100.0,
    "finishing_beef": 300.0,
}
# Parts per million of the whole diet: the level in the ingredient times its largest share.
FUMONISIN_DIET_LIMIT_PPM: Final[dict[str, float]] = {
    "horse": 1.0,
    "breeding_ruminants": 15.0,
    "ruminants_for_slaughter": 30.0,
}
# FDA letter as printed by Neogen (FD214-1010): parts per million of the total ration; other
# animals 5 ppm in at most 40 % of the diet.
DON_TOTAL_RATION_PPM: Final[dict[str, float]] = {
    "beef_over_4_months": 10.0,
    "dairy_over_4_months": 5.0,
    "other": 2.0,
}
#: Milk must hold less aflatoxin than this (FDA). [ppb]
FDA_SOURCE: Final = (
    "US FDA levels for grain, as tabulated by Kansas State University (Fritz 2024) and the "
    "Missouri Department of Agriculture"
)
#: Zearalenone, ochratoxin A and T-2 have no federal level.
WITHOUT_LEVEL: Final = ("zearalenone", "ochratoxin", "t2")
# Penn State (Adams et al. 1993), colonies per gram as received.
MOLD_TOLD_ABOVE: Final = 1_000_000.0
MOLD_DANGER_ABOVE: Final = 5_000_000.0
# Common practice for horses; University of Wisconsin.
HORSE_MOLD_TOLD_ABOVE: Final = 500_000.0


def mold_class(colonies_per_g: float) -> str:
    """Return the Penn State class of a mold count.

    Parameters
    ----------
    colonies_per_g : float
        Colonies in the sample as received. [CFU/g]

    Returns
    -------
    str
        What the class means for ruminants; mycotoxins are not seen by it.

    References
    ----------
    .. [1] Adams et al. (1993), Penn State, mold and mycotoxin problems in livestock feeding.

    Examples
    --------
    >>> mold_class(700_000.0)
    'relatively safe'
    >>> mold_class(float("inf"))
    'discontinue feeding'
    """
    return MOLD_PENN_STATE.label(colonies_per_g)


def aflatoxin_limit_ppb(animal: str) -> float:
    """Return the action level of aflatoxin.

    Parameters
    ----------
    animal : str
        ``dairy``, ``immature``, ``unknown``, ``breeding_cattle`` or ``finishing_beef``.

    Returns
    -------
    float
        Level at 88 % dry matter. [ppb]

    Raises
    ------
    KeyError
        If no level is published for the animal.

    Examples
    --------
    >>> aflatoxin_limit_ppb("dairy")
    20.0
    """
    return AFLATOXIN_LIMIT_PPB[animal]


def fumonisin_diet_limit_ppm(animal: str) -> float:
    """Return the level of fumonisin in the whole diet.

    Parameters
    ----------
    animal : str
        ``horse``, ``breeding_ruminants`` or ``ruminants_for_slaughter``.

    Returns
    -------
    float
        Level in the diet at 88 % dry matter. [ppm]

    Raises
    ------
    KeyError
        If no level is published for the animal.

    Examples
    --------
    >>> fumonisin_diet_limit_ppm("horse")
    1.0
    """
    return FUMONISIN_DIET_LIMIT_PPM[animal]


def mold_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what mold count and mycotoxins of a hay call for.

    Parameters
    ----------
    name : str
        What the lot is called.
    values : mapping of str to float
        ``mold`` in colonies per gram; ``aflatoxin``, ``fumonisin``, ``don`` and others in ppm of
        dry matter, where measured.

    Yields
    ------
    Hazard
        One for the count, one for each poison above a level.

    Examples
    --------
    >>> [(one.name, one.level) for one in mold_hazards("Creek", {"mold": 6e6})]
    [('mold', 'danger')]
    >>> [one.name for one in mold_hazards("Creek", {"aflatoxin": 0.05})]
    ['aflatoxin']
    """
    count = values.get("mold")
    if count is not None and count > HORSE_MOLD_TOLD_ABOVE:
        yield _count(name, count)
    yield from _poison(name, values, "aflatoxin", AFLATOXIN_LIMIT_PPB["dairy"] / PPB_PER_PPM)
    yield from _poison(name, values, "fumonisin", FUMONISIN_DIET_LIMIT_PPM["horse"])
    yield from _poison(name, values, "don", DON_TOTAL_RATION_PPM["other"])
    for toxin in WITHOUT_LEVEL:
        if values.get(toxin, 0.0) > 0.0:
            yield Hazard(
                toxin,
                "warning",
                f"The lab found {_WORDS[toxin]} in {name}, {values[toxin]:.2f} ppm of dry matter",
                "no federal level",
                FDA_SOURCE,
                "all stock, breeding stock first",
                "no safe level is published. Hold it back until its lab or veterinarian clears it.",
                ASK,
                not_for=(ALL_STOCK,),
            )


_WORDS: Final = {
    "aflatoxin": "aflatoxin",
    "fumonisin": "fumonisin",
    "don": "vomitoxin (DON)",
    "zearalenone": "zearalenone",
    "ochratoxin": "ochratoxin A",
    "t2": "T-2 toxin",
}
_STRICTEST: Final = {
    "aflatoxin": "dairy cows, young stock and stock of unknown use",
    "fumonisin": "horses",
    "don": "stock other than cattle over 4 months",
}


def _count(name: str, count: float) -> Hazard:
    many = "too many molds to count" if count == float("inf") else f"{count:,.0f} mold colonies/g"
    danger, told = count > MOLD_DANGER_ABOVE, count > MOLD_TOLD_ABOVE
    return Hazard(
        "mold",
        "danger" if danger else "warning" if told else "note",
        f'The lab counted {many} in {name} as received (for cattle, "{mold_class(count)}")',
        f"{MOLD_PENN_STATE.name}; {MOLD_HORSE.name}, {MOLD_HORSE.unit}",
        f"{MOLD_PENN_STATE.source}; {MOLD_HORSE.source}",
        "all stock; horses and people who handle it first",
        "feed none of it to horses, work with it in the open and wear a mask, and throw out moldy "
        "parts. The count does not tell whether the molds made poison.",
        f"Ask the lab for a mycotoxin screen. {ASK}" if told else "",
        not_for=("horses",),
    )


def _poison(
    name: str, values: Mapping[str, float], toxin: str, strictest_ppm: float
) -> Iterator[Hazard]:
    if toxin not in values:
        return
    as_fed = values[toxin] * LIMITS_DM_PCT / 100.0
    if as_fed <= strictest_ppm:
        return
    yield Hazard(
        toxin,
        "danger",
        f"The {_WORDS[toxin]} of {name} is {as_fed:.3g} ppm at 88 % dry matter, above the "
        f"strictest level for grain, {strictest_ppm:.3g} ppm",
        f"FDA level of {_WORDS[toxin]}, as fed at 88 % dry matter; none is set for hay",
        FDA_SOURCE,
        f"{_STRICTEST[toxin]}; others bear more",
        f"feed none to {_STRICTEST[toxin]} before it is cleared.",
        ASK,
    )
