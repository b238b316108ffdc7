"""Molds, their poisons and those of endophytes: counts, and the published levels.

The levels of the food and drug administration are for grain and its by-products, as fed at 88 %
dry matter, as tabulated by Kansas State University (Fritz, 2024) and Missouri; none is set for
hay.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.forage.hazards.hazard import ASK, Hazard, Level, told
from rickyard.forage.values import CLASS_TABLES, word_of

PPB_PER_PPM: Final = 1000.0  # by definition
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
#: The strictest level in a diet, and the stock it is for.
_STRICTEST: Final = {
    "aflatoxin": (
        AFLATOXIN_LIMIT_PPB["dairy"] / PPB_PER_PPM,
        "dairy cows, young stock and stock of unknown use",
    ),
    "fumonisin": (FUMONISIN_DIET_LIMIT_PPM["horse"], "horses"),
    "don": (DON_TOTAL_RATION_PPM["other"], "stock other than cattle over 4 months"),
}
#: Zearalenone, ochratoxin A and T-2 have no federal level.
WITHOUT_LEVEL: Final = ("zearalenone", "ochratoxin", "t2")
_MOLD: Final = CLASS_TABLES["mold"]
_CATTLE: Final = CLASS_TABLES["ergovaline_cattle"]
#: By class of ergovaline for cattle, the Missouri and Oregon State figures joined.
_ERGOVALINE: Final[tuple[tuple[Level, str], ...]] = (
    ("note", "cattle tolerate it as it is"),
    ("warning", "cattle should have it mixed with other hay"),
    ("danger", "feed it to cattle only well diluted, and to none in cold or heat"),
)
#: What Oregon State's laboratory prints: late pregnancy of mares is the last 60-90 days, from
#: memory.
_ORST_PRINTED: Final = {
    "cattle": "400-750",
    "sheep": "500-800",
    "horse": "300-500",
    "brood_mare": "0",
}


def mold_class(colonies_per_g: float) -> str:
    """Return the Penn State class of a mold count.

    Source: Adams et al. (1993), Penn State, mold and mycotoxin problems in livestock feeding.

    Parameters
    ----------
    colonies_per_g : float
        Colonies in the sample as received. [CFU/g]

    Returns
    -------
    str
        What the class means for ruminants; mycotoxins are not seen by it.

    Examples
    --------
    >>> mold_class(700_000.0)
    'relatively safe'
    >>> mold_class(float("inf"))
    'discontinue feeding'
    """
    return _MOLD.label(colonies_per_g)


def ergovaline_threshold_text(animal: str) -> str:
    """Return the published threshold of ergovaline as it is printed.

    Source: Oregon State University Endophyte Service Laboratory.

    Parameters
    ----------
    animal : str
        ``cattle``, ``sheep``, ``horse`` or ``brood_mare``. Another raises ``KeyError``.

    Returns
    -------
    str
        Parts per billion of dry matter, low to high.

    Examples
    --------
    >>> ergovaline_threshold_text("cattle"), ergovaline_threshold_text("brood_mare")
    ('400-750', '0')
    """
    return _ORST_PRINTED[animal]


def mold_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield one hazard for the mold count, and one for each poison above a level."""
    count = values.get("mold")
    if count is not None and CLASS_TABLES["mold_horse"].place(count):
        yield _count(name, count)
    for toxin, (strictest_ppm, stock) in _STRICTEST.items():
        if toxin not in values:
            continue
        ppm = values[toxin] * LIMITS_DM_PCT / 100.0
        if ppm > strictest_ppm:
            yield told(
                "mold_poison",
                name,
                toxin=toxin,
                word=word_of(toxin),
                ppm=ppm,
                limit=strictest_ppm,
                strictest=stock,
            )
    for toxin in WITHOUT_LEVEL:
        if values.get(toxin, 0.0) > 0.0:
            word, ppm = word_of(toxin), values[toxin]
            yield told("mold_poison_without_level", name, toxin=toxin, word=word, ppm=ppm)


def endophyte_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what ergovaline of tall fescue and lolitrem B of ryegrass call for."""
    ppb = values.get("ergovaline", 0.0) * PPB_PER_PPM
    if ppb > 0.0:
        level, cattle = _ERGOVALINE[_CATTLE.place(ppb)]
        horses = "horses" if CLASS_TABLES["ergovaline_horse"].place(ppb) else "pregnant horses"
        sheep = ("sheep",) if CLASS_TABLES["ergovaline_sheep"].place(ppb) else ()
        yield told(
            "ergovaline",
            name,
            level=level,
            ppb=ppb,
            cattle=cattle,
            whom="" if level == "note" else ASK,
            not_for=(horses, *sheep),
        )
    lolitrem = values.get("lolitrem_b", 0.0) * PPB_PER_PPM
    if CLASS_TABLES["lolitrem_b"].place(lolitrem):
        yield told("lolitrem_b", name, ppb=lolitrem)


def _count(name: str, count: float) -> Hazard:
    many = "too many molds to count" if count == float("inf") else f"{count:,.0f} mold colonies/g"
    label = _MOLD.label(count)
    much = _MOLD.place(count) > _MOLD.labels.index("relatively safe")
    level: Level = "danger" if label == _MOLD.labels[-1] else "warning" if much else "note"
    whom = f"Ask the lab for a mycotoxin screen. {ASK}" if much else ""
    return told("mold", name, level=level, many=many, label=label, whom=whom)
