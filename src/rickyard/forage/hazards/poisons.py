"""Hazards of nitrate and prussic acid in a lot."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rickyard.display import listed
from rickyard.farm import Forage, Lot, Package
from rickyard.forage import Risk, lot_risks
from rickyard.forage.hazards.hazard import ALL_STOCK, ASK, Hazard
from rickyard.forage.hazards.hazard_tables import HCN_DM, NITRATE_CLEMSON
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.values import (
    CLEMSON_SOURCE,
    DIET_NO3N_CEILING_PREGNANT_PPM,
    LAB_SPREAD_NO3N_PPM,
    SERVITECH_SOURCE,
    nitrate_share_limit,
)

NITRATE_RISK_SOURCE: Final = (
    "Extension advice on nitrate: sorghum family, small grains, corn and drought-stressed forage"
)
#: Stock that a forage suspected of nitrate is kept from before it is tested.
PREGNANT_RUMINANTS: Final = tuple(
    f"pregnant {kind}" for kind in ("beef", "dairy cattle", "sheep", "goats")
)
# Extension table on dry matter, from memory. [ppm]
HCN_TOXIC_FROM_PPM: Final = 500.0
HCN_DANGER_ABOVE_PPM: Final = 1000.0
_HCN_TABLE: Final = f"{HCN_DM.name}, {HCN_DM.unit}"
_HCN_CONCERNS: Final = "ruminants first, all stock"
_NITRATE_TABLE: Final = f"{NITRATE_CLEMSON.name}, by ServiTech if pregnant, {NITRATE_CLEMSON.unit}"
_NITRATE_CONCERNS: Final = "pregnant, thin, sick or unaccustomed ruminants first, then all"
HCN_RISK_SOURCE: Final = (
    "Alberta forage extension and ServiTech Crop File 6.05.032, prussic acid in cured and wet hay"
)


def is_nitrate_suspect(lot: Lot) -> bool:
    """Say whether a lot may hold nitrate that only a test can rule out.

    Parameters
    ----------
    lot : Lot
        Forage, species, name and drought are read.

    Returns
    -------
    bool
        True for summer annuals, small grains, corn and the sorghum family, and for any forage
        that grew in drought.

    References
    ----------
    .. [1] Extension advice on nitrate; common practice, no published source.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> is_nitrate_suspect(Lot("L1", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1)))
    True
    """
    return Risk.NITRATE in lot_risks(lot) or bool(lot.drought)


def is_sorghum_family(lot: Lot) -> bool:
    """Say whether a lot may form prussic acid, by species, else by name and forage.

    Parameters
    ----------
    lot : Lot
        The lot.

    Returns
    -------
    bool
        Whether prussic acid has to be thought of.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> is_sorghum_family(Lot("L1", "Teff", Forage.SUMMER_ANNUAL, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1), species="teff"))
    False
    >>> is_sorghum_family(Lot("L2", "Drought corn", Forage.SUMMER_ANNUAL, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1), species="corn"))
    False
    """
    return Risk.PRUSSIC_ACID in lot_risks(lot)


def prussic_acid_reasons(lot: Lot) -> tuple[str, ...]:
    """Return why a lot may hold prussic acid that only a test can rule out; nothing if it may not.

    Parameters
    ----------
    lot : Lot
        Species, name, forage, package, frost and drought are read.

    Returns
    -------
    tuple of str
        What befell it, each as the end of a sentence about the lot.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> prussic_acid_reasons(Lot("L1", "Milo", Forage.SUMMER_ANNUAL, Package.BALEAGE,
    ...     Storage.WRAPPED, 40, date(2026, 8, 1), date(2026, 10, 1), species="milo", frosted=True))
    ('was frosted', 'was baled wet')
    """
    if not is_sorghum_family(lot):
        return ()
    wet = lot.package is Package.BALEAGE or lot.forage is Forage.CORN_SILAGE
    reasons = (
        ("was frosted", lot.frosted),
        ("grew in drought", lot.drought),
        ("was baled wet", wet),
    )
    return tuple(words for words, holds in reasons if holds)


def nitrate_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what the nitrate of a lot, or its want of a nitrate test, calls for.

    Parameters
    ----------
    lot : Lot
        The lot.
    profile : LotProfile
        The lot as it is counted.

    Yields
    ------
    Hazard
        At most one; it keeps the hay from pregnant stock where it is not known to be safe.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 8, 1), date(2026, 10, 1), frosted=True)
    >>> [one.level for one in nitrate_hazards(lot, lot_profile(lot, ()))]
    ['warning']
    """
    known = profile.nitrate_no3n_ppm
    if known is not None:
        yield from _nitrate_known(lot, known)
    elif profile.nitrate_unstated_ppm is None and is_nitrate_suspect(lot):
        why = "it grew in drought" if lot.drought else "this forage gathers nitrate"
        yield Hazard(
            "nitrate",
            "warning",
            f"{lot.name} has no nitrate test, and {why}",
            "forages and seasons that gather nitrate",
            NITRATE_RISK_SOURCE,
            _NITRATE_CONCERNS,
            "test it before feeding it to pregnant stock, and start hungry stock on it slowly.",
            "Ask your extension office which test.",
            not_for=PREGNANT_RUMINANTS,
        )


def _nitrate_known(lot: Lot, no3n_ppm: float) -> Iterator[Hazard]:
    pregnant = nitrate_share_limit(no3n_ppm, pregnant=True)
    other = nitrate_share_limit(no3n_ppm, pregnant=False)
    finding = (
        f"The nitrate of {lot.name} is {no3n_ppm:,.0f} ppm nitrate-nitrogen (NO3-N) in the dry "
        "matter"
    )
    rest = (
        "Treat thin, sick or unaccustomed stock as pregnant. Count the nitrate of water and "
        f"other feeds to it; labs differ by about {LAB_SPREAD_NO3N_PPM:.0f} ppm."
    )
    source = f"{CLEMSON_SOURCE}; {SERVITECH_SOURCE}"
    in_short = f"{no3n_ppm:,.0f} ppm nitrate-nitrogen"
    if other == 0.0:
        yield Hazard(
            "nitrate",
            "danger",
            finding,
            _NITRATE_TABLE,
            source,
            "all ruminants; horses are rarely affected",
            "it can kill. Do not feed it to any stock.",
            ASK,
            in_short=in_short,
        )
    elif pregnant == 0.0:
        yield Hazard(
            "nitrate",
            "danger",
            finding,
            _NITRATE_TABLE,
            source,
            _NITRATE_CONCERNS,
            "feed none to cows or heifers that are or may be pregnant, and no more than "
            f"{100.0 * other:.0f}% of the dry matter eaten to other cattle. {rest}",
            ASK,
            in_short=in_short,
        )
    elif pregnant < 1.0:
        limited = other < 1.0
        rule = f"keep it to {100.0 * pregnant:.0f}% of the dry matter eaten for pregnant stock"
        rule += (
            f" and {100.0 * other:.0f}% for other cattle"
            if limited
            else "; other cattle may eat it freely"
        )
        yield Hazard(
            "nitrate",
            "warning" if limited or no3n_ppm > DIET_NO3N_CEILING_PREGNANT_PPM else "note",
            finding,
            _NITRATE_TABLE,
            source,
            _NITRATE_CONCERNS,
            f"{rule}. {rest}",
        )


def prussic_acid_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what prussic acid, tested or suspected, calls for.

    Parameters
    ----------
    lot : Lot
        The lot.
    profile : LotProfile
        The lot as it is counted.

    Yields
    ------
    Hazard
        At most one.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 8, 1), date(2026, 10, 1), frosted=True)
    >>> [one.level for one in prussic_acid_hazards(lot, lot_profile(lot, ()))]
    ['warning']
    """
    known = profile.hcn_ppm
    if known is not None:
        yield from _hcn_known(lot, known)
        return
    if reasons := prussic_acid_reasons(lot):
        yield Hazard(
            "prussic acid",
            "warning",
            f"{lot.name} is of the sorghum family and {listed(reasons)}",
            "frost, drought or wet baling of a sorghum",
            HCN_RISK_SOURCE,
            _HCN_CONCERNS,
            "it may hold prussic acid. Fully cured hay has lost most of it; poorly cured hay and "
            "fresh wet bales may not have. Test it before any stock eats it.",
            "Ask the lab first how to send the sample, because a dried, heated or frozen one reads "
            "too low, and ask your extension office or veterinarian what to do.",
            not_for=(ALL_STOCK,),
        )


def _hcn_known(lot: Lot, hcn_ppm: float) -> Iterator[Hazard]:
    if hcn_ppm < HCN_TOXIC_FROM_PPM:
        return
    finding = f"The prussic acid of {lot.name} is {hcn_ppm:,.0f} ppm in the dry matter"
    if hcn_ppm > HCN_DANGER_ABOVE_PPM:
        yield Hazard(
            "prussic acid",
            "danger",
            finding,
            _HCN_TABLE,
            HCN_DM.source,
            _HCN_CONCERNS,
            "it can kill within minutes. Feed it to no stock.",
            ASK,
            in_short=f"{hcn_ppm:,.0f} ppm prussic acid",
        )
    else:
        yield Hazard(
            "prussic acid",
            "warning",
            f"{finding}, which may poison stock",
            _HCN_TABLE,
            HCN_DM.source,
            _HCN_CONCERNS,
            "do not feed it alone, and test again after curing.",
            ASK,
            not_for=(ALL_STOCK,),
        )
