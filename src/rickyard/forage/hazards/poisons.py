"""Hazards of nitrate and prussic acid in a lot, and the nitrate of a whole diet with its water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from rickyard.display import listed
from rickyard.farm import Lot
from rickyard.forage import Risk, lot_risks
from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.values import (
    CLASS_TABLES,
    DIET_NO3N_CEILING_PREGNANT_PPM,
    LAB_SPREAD_NO3N_PPM,
    NO3_PER_NO3N,
    is_wet,
    nitrate_share_limit,
)
from rickyard.quantities import Numeric, above_zero, as_given

#: Hay drier than this is fully cured: common practice, no published source. [% as fed]
CURED_DM_PCT: Final = 82.0

HCN_RISK_SOURCE: Final = (
    "Alberta forage extension and ServiTech Crop File 6.05.032, prussic acid in cured and wet hay"
)


def is_nitrate_suspect(lot: Lot) -> bool:
    """Say whether a lot may hold nitrate that only a test can rule out.

    Source: Extension advice on nitrate; common practice, no published source.

    Parameters
    ----------
    lot : Lot
        Forage, species, name and drought are read.

    Returns
    -------
    bool
        True for summer annuals, small grains, corn and the sorghum family, and for any forage
        that grew in drought.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Forage, Package, Storage
    >>> is_nitrate_suspect(Lot("L1", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1)))
    True
    """
    return Risk.NITRATE in lot_risks(lot) or bool(lot.drought)


def nitrate_past(lot: Lot) -> str:
    """Return what makes the nitrate of a plant that gathers it likely to be deadly, in words.

    Source: ServiTech Crop File 6.05.022, rating nitrate hazard in forages.

    Parameters
    ----------
    lot : Lot
        Its drought, nitrogen, frost and weeds are read.

    Returns
    -------
    str
        The end of a sentence about the lot; empty where nothing is known to have befallen it.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Forage, Package, Storage
    >>> nitrate_past(Lot("L1", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1), drought=True))
    'grew in drought'
    """
    words = [
        text
        for text, holds in (
            ("grew in drought", lot.drought),
            ("had heavy nitrogen", lot.heavy_nitrogen),
            ("was frosted", lot.frosted),
            ("holds weeds that gather it", lot.weedy),
        )
        if holds
    ]
    return " and ".join(words)


def counts_as_deadly(lot: Lot) -> bool:
    """Say whether a lot, as long as nobody has tested its nitrate, counts as deadly.

    Source: ServiTech Crop File 6.05.022; that the unknown counts as high is judgement, no
    published source.

    Parameters
    ----------
    lot : Lot
        The lot, not tested for nitrate.

    Returns
    -------
    bool
        True for a forage that gathers nitrate and was stressed.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Forage, Package, Storage
    >>> counts_as_deadly(Lot("L1", "Brome", Forage.COOL_GRASS, Package.ROUND,
    ...     Storage.ENCLOSED_BARN, 40, date(2026, 8, 1), date(2026, 10, 1), drought=True))
    False
    """
    return Risk.NITRATE in lot_risks(lot) and bool(nitrate_past(lot))


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
    >>> from rickyard.farm import Forage, Package, Storage
    >>> prussic_acid_reasons(Lot("L1", "Milo", Forage.SUMMER_ANNUAL, Package.BALEAGE,
    ...     Storage.WRAPPED, 40, date(2026, 8, 1), date(2026, 10, 1), species="milo", frosted=True))
    ('was frosted', 'was baled wet')
    """
    if Risk.PRUSSIC_ACID not in lot_risks(lot):
        return ()
    reasons = (
        ("was frosted", lot.frosted),
        ("grew in drought", lot.drought),
        ("was baled wet", is_wet(lot)),
    )
    return tuple(words for words, holds in reasons if holds)


def nitrate_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what the nitrate of a lot, or its want of a nitrate test, calls for: at most one.

    It keeps the hay from pregnant stock where it is not known to be safe.
    """
    no3n = profile.nitrate_no3n_ppm
    if no3n is None:
        if profile.nitrate_unstated_ppm is None and is_nitrate_suspect(lot):
            if counts_as_deadly(lot):
                why = f"this forage gathers nitrate and {nitrate_past(lot)}"
                yield told("nitrate_untested_stressed", lot.name, why=why)
            else:
                why = "it grew in drought" if lot.drought else "this forage gathers nitrate"
                yield told("nitrate_untested", lot.name, why=why)
        return
    pregnant, other = (nitrate_share_limit(no3n, pregnant=one) for one in (True, False))
    if pregnant == 1.0:
        return
    watched = other < 1.0 or no3n > DIET_NO3N_CEILING_PREGNANT_PPM
    key = "nitrate_limited" if pregnant else "nitrate_none_pregnant" if other else "nitrate_deadly"
    yield told(
        key,
        lot.name,
        level=("warning" if watched else "note") if pregnant else "danger",
        no3n=no3n,
        pregnant=pregnant,
        other=other,
        others=f" and {other:.0%} for other cattle, sheep and goats"
        if other < 1.0
        else "; other cattle, sheep and goats may eat it freely",
        spread=LAB_SPREAD_NO3N_PPM,
    )


def is_known_cured(lot: Lot, profile: LotProfile) -> bool:
    """Say whether its dry matter, tested or stated, shows a lot to be fully cured hay.

    Parameters
    ----------
    lot : Lot
        Its package is read.
    profile : LotProfile
        Its dry matter, and where that comes from.

    Returns
    -------
    bool
        False where nobody knows it.
    """
    known = profile.origins["dm_pct"] != "book"
    return known and not is_wet(lot) and profile.dm_pct >= CURED_DM_PCT


def prussic_acid_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what prussic acid, tested or suspected, calls for: at most one."""
    ppm = profile.hcn_ppm
    if ppm is None:
        if reasons := prussic_acid_reasons(lot):
            cured = is_known_cured(lot, profile)
            key = "prussic_acid_cured" if cured else "prussic_acid_suspected"
            yield told(key, lot.name, why=listed(reasons))
        return
    key = ("", "prussic_acid_toxic", "prussic_acid_deadly")[CLASS_TABLES["hcn"].place(ppm)]
    if key:
        yield told(key, lot.name, ppm=ppm)


def water_no3n_mg_per_l(no3n_mg_per_l: float | None, no3_mg_per_l: float | None) -> float | None:
    """Return the nitrate-nitrogen of water from a report in either form.

    Parameters
    ----------
    no3n_mg_per_l, no3_mg_per_l : float or None
        Nitrate as nitrogen and as nitrate, ``None`` where the report does not give it. [mg/L]

    Returns
    -------
    float or None
        Of two forms that do not agree the higher; ``None`` where nobody measured it. [mg/L]

    Examples
    --------
    >>> round(water_no3n_mg_per_l(None, 88.54), 1), water_no3n_mg_per_l(None, None)
    (20.0, None)
    """
    as_nitrogen = None if no3_mg_per_l is None else no3_mg_per_l / NO3_PER_NO3N
    return max((one for one in (no3n_mg_per_l, as_nitrogen) if one is not None), default=None)


def diet_no3n_ppm(
    share_frac: Sequence[Numeric],
    no3n_ppm: Sequence[Numeric],
    water_l_per_day: Numeric = 0.0,
    water_no3n_mg_per_l: Numeric = 0.0,
    intake_kg_per_day: Numeric = 1.0,
) -> Numeric:
    """Return the nitrate-nitrogen of all that is eaten and drunk.

    Parameters
    ----------
    share_frac : sequence of float or array
        Share of each feed in the dry matter. [fraction]
    no3n_ppm : sequence of float or array
        Nitrate-nitrogen of each feed. [ppm DM]
    water_l_per_day, water_no3n_mg_per_l : float or array
        Water drunk and its nitrate-nitrogen. [L/day; mg/L]
    intake_kg_per_day : float or array
        Dry matter eaten, above 0. [kg/day]

    Returns
    -------
    float or array
        Nitrate-nitrogen, to be held against the tables of forage. [ppm DM]

    Examples
    --------
    >>> round(diet_no3n_ppm([0.6, 0.4], [2400.0, 200.0], 45.0, 20.0, 11.0))
    1602
    """
    above_zero("Dry matter eaten must be above 0.", intake_kg_per_day)
    feed = sum(
        np.asarray(share) * np.asarray(one) for share, one in zip(share_frac, no3n_ppm, strict=True)
    )
    water = np.asarray(water_l_per_day) * water_no3n_mg_per_l / intake_kg_per_day
    return as_given(feed + water, *share_frac, *no3n_ppm, water, intake_kg_per_day)
