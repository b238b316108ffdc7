"""Wrapped bales: moisture, acidity, and what grows in them when they do not sour."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rickyard.farm import Forage, Lot, Package
from rickyard.forage.hazards.hazard import ALL_STOCK, ASK, Hazard
from rickyard.forage.plausibility import LotProfile

# Wrapped bales: University of Kentucky (Arnold; Kentucky forage newsletter 2020), Ohio State
# (Buckeye Dairy News 18(3)). The moisture conditions of the pH steps are judgement.
WET_BALEAGE_ABOVE_MOISTURE_PCT: Final = 65.0
SOAKED_BALEAGE_ABOVE_MOISTURE_PCT: Final = 70.0
DRY_BALEAGE_BELOW_MOISTURE_PCT: Final = 40.0
PH_SAFE: Final = 4.5
PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT: Final = 50.0
PH_DOUBTFUL_ABOVE: Final = 5.0
PH_DANGER_SMALL_GRAIN: Final = 5.5
BALEAGE_SOURCE: Final = (
    "University of Kentucky baleage advice (Arnold; forage newsletter 2020); Ohio State, Buckeye "
    "Dairy News 18(3)"
)
OPENED_SOURCE: Final = "Hay & Forage Grower, store and feed baleage: within 24 hours of opening"
_MOISTURE_TABLE: Final = (
    f"moisture of wrapped bales: {DRY_BALEAGE_BELOW_MOISTURE_PCT:.0f}-"
    f"{WET_BALEAGE_ABOVE_MOISTURE_PCT:.0f}% sound, above "
    f"{SOAKED_BALEAGE_ABOVE_MOISTURE_PCT:.0f}% dangerous"
)
_PH_TABLE: Final = (
    f"pH of wrapped bales: {PH_SAFE:.1f} safe, above {PH_DOUBTFUL_ABOVE:.1f} doubtful, "
    f"{PH_DANGER_SMALL_GRAIN:.1f} in small grain dangerous"
)
_CONCERNS: Final = "all stock; horses and pregnant ewes and does first"


def baleage_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what the moisture and acidity of wrapped bales call for.

    Parameters
    ----------
    lot : Lot
        The lot; nothing is yielded unless it is baleage.
    profile : LotProfile
        Its dry matter and acidity.

    Yields
    ------
    Hazard
        Moisture, acidity, and what holds for every wrapped bale.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Rye", Forage.SMALL_GRAIN, Package.BALEAGE, Storage.WRAPPED, 40,
    ...           date(2026, 5, 6), date(2026, 10, 1), dm_pct=28.0)
    >>> [(one.name, one.level) for one in baleage_hazards(lot, lot_profile(lot, ()))]
    [('clostridia', 'danger'), ('listeria and botulism', 'note')]
    """
    if lot.package is not Package.BALEAGE:
        return
    known = profile.origins["dm_pct"] != "book"
    moisture = 100.0 - profile.dm_pct if known else None
    if moisture is not None:
        yield from _moisture(lot, moisture)
    if profile.ph is not None:
        yield from _acidity(lot, profile.ph, moisture)
    yield Hazard(
        "listeria and botulism",
        "note",
        f"Baleage, {lot.name}",
        "no safe level",
        f"{OPENED_SOURCE}; {BALEAGE_SOURCE}",
        "all stock; horses are the most easily killed by botulism",
        "have an opened bale eaten within a day where you can, and in three days at most when it "
        "is warm (two for sheep and goats), mend holes in the film the day they appear, and "
        "throw out bales that smell foul or are moldy, slimy or hold a dead animal (listeria, "
        "botulism). Never feed a doubtful bale to a horse.",
        "Call the veterinarian if stock go weak or unsteady, and ask about the botulism vaccine "
        "for horses.",
    )


def _moisture(lot: Lot, moisture: float) -> Iterator[Hazard]:
    finding = f"The moisture of {lot.name} is {moisture:.0f}%"
    if moisture > SOAKED_BALEAGE_ABOVE_MOISTURE_PCT:
        yield Hazard(
            "clostridia",
            "danger",
            f"{finding}, so wet that clostridia and botulism can grow",
            _MOISTURE_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "have pH and fermentation tested.",
            ASK,
            in_short=f"{moisture:.0f}% moisture",
        )
    elif moisture > WET_BALEAGE_ABOVE_MOISTURE_PCT:
        yield Hazard(
            "clostridia",
            "warning",
            f"{finding}, which favors clostridia",
            _MOISTURE_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "have pH and fermentation tested before you feed it to any stock.",
            not_for=(ALL_STOCK,),
        )
    elif moisture < DRY_BALEAGE_BELOW_MOISTURE_PCT:
        yield Hazard(
            "mold",
            "note",
            f"{finding}, dry for baleage",
            _MOISTURE_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "it hardly ferments, so mold is the danger. Keep the film tight, check every bale, "
            "and feed it early.",
        )


def _acidity(lot: Lot, ph: float, moisture: float | None) -> Iterator[Hazard]:
    if moisture is not None and moisture < DRY_BALEAGE_BELOW_MOISTURE_PCT:
        return
    finding = f"The pH of {lot.name} is {ph:.1f}"
    if ph >= PH_DANGER_SMALL_GRAIN and lot.forage is Forage.SMALL_GRAIN:
        yield Hazard(
            "botulism",
            "danger",
            finding,
            _PH_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "small-grain baleage that did not ferment well can carry botulism. Feed it to no stock "
            "until it is cleared.",
            ASK,
            in_short=f"pH {ph:.1f}, botulism",
        )
    elif ph > PH_DOUBTFUL_ABOVE:
        yield Hazard(
            "listeria and clostridia",
            "warning",
            f"{finding}, not acid enough to hold back listeria and clostridia",
            _PH_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "suspect every bale, and feed none to pregnant ewes, does or horses.",
            ASK,
            not_for=("pregnant sheep", "goats", "horses"),
        )
    elif ph > PH_SAFE and (moisture is None or moisture > PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT):
        yield Hazard(
            "listeria and clostridia",
            "warning",
            f"{finding}, above the {PH_SAFE:.1f} that keeps wet baleage safe",
            _PH_TABLE,
            BALEAGE_SOURCE,
            _CONCERNS,
            "check every bale, feed it quickly once open, and give horses none.",
            not_for=("horses",),
        )
