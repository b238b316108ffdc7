"""What monensin, salt, urea and selenium do and may do, and what weaning early saves.

No credit is taken for any of them unless the farm says that it is fed.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given

#: Gain that monensin adds to stockers on forage, kg a day at 112 days of study, and what it is less
#: by for each further day: Gadberry et al. 2022, 38 experiments.
MONENSIN_GAIN_KG: Final = 0.0784
MONENSIN_DAYS: Final = 112.0
MONENSIN_PER_DAY_KG: Final = 0.0007
#: Not told for shorter studies.
LEAST_STUDY_DAYS: Final = 30.0

#: What monensin takes off the forage that mature cows eat, percent: Lalman et al. 2022, 26
#: experiments. Either this at equal energy, or 4.7 % more energy, never both.
MONENSIN_INTAKE_PCT: Final = -7.8


def monensin_forage_kg(forage_kg: Numeric, change_pct: Numeric = MONENSIN_INTAKE_PCT) -> Numeric:
    """Return the forage that mature cows eat with monensin [kg/d], at equal gain.

    Deadly to horses and donkeys: see ``class_cautions``. Source: Lalman et al. (2022), Transl.
    Anim. Sci., txac086.

    >>> round(monensin_forage_kg(25.0), 2)
    23.05
    """
    share = 1.0 + np.asarray(change_pct) / 100.0
    return as_given(np.asarray(forage_kg) * share, forage_kg, change_pct)


def monensin_gain_kg(study_days: Numeric) -> Numeric:
    """Return the gain that monensin adds to stockers on forage [kg/d], by days fed.

    Raises ``OutOfRange`` under 30 days. Source: Gadberry et al. (2022), meta-analysis.

    >>> round(monensin_gain_kg(60.0), 3)
    0.115
    """
    days = np.asarray(study_days, dtype=np.float64)
    if np.any(days < LEAST_STUDY_DAYS):
        raise OutOfRange(f"The gain on monensin is told from {LEAST_STUDY_DAYS:.0f} days on.")
    gain = MONENSIN_GAIN_KG - MONENSIN_PER_DAY_KG * (days - MONENSIN_DAYS)
    return as_given(np.maximum(gain, 0.0), study_days)


def salt_limited_kg(weight_kg: Numeric, salt_pct_bw: Numeric = 0.1) -> Numeric:
    """Return the salt that limits the intake of a self-fed mix [kg/d]: 0.1 lb for each 100 lb.

    Never with water of more than 5,000 ppm dissolved solids, or frozen. Source: Cole, Univ. of
    Missouri.

    >>> salt_limited_kg(500.0)
    0.5
    """
    return as_given(np.asarray(weight_kg) * np.asarray(salt_pct_bw) / 100.0, weight_kg, salt_pct_bw)


def salt_water_litres(salt_kg: Numeric, litres_per_kg: Numeric) -> Numeric:
    """Return the water that salt asks for beside what is drunk anyway [L/d].

    Source: Rich et al., Oklahoma State Univ. ANSI-3008, about 5 gallons for a pound.

    >>> salt_water_litres(0.5, 41.7)
    20.85
    """
    return as_given(np.asarray(salt_kg) * np.asarray(litres_per_kg), salt_kg, litres_per_kg)


def toxic_urea_g(weight_kg: Numeric, g_per_kg: Numeric) -> Numeric:
    """Return urea at once that may kill cattle which are not used to it [g].

    0.3 to 0.5 g for each kg of body weight; 0.44 killed fasted cows on poor hay. Ask a
    veterinarian before urea is fed. Source: J. Anim. Sci. (1969) 29:786.

    >>> toxic_urea_g(500.0, 0.3)
    150.0
    """
    return as_given(np.asarray(weight_kg) * np.asarray(g_per_kg), weight_kg, g_per_kg)


def mix_at_selenium_limit_g(limit_mg: Numeric, selenium_ppm: Numeric) -> Numeric:
    """Return the most of a mix that holds selenium to its limit a head and day [g].

    Source: 21 CFR 573.920, 3 mg a head for beef cattle (salt mix to 120 ppm), 0.7 mg for sheep
    (to 90 ppm).

    >>> mix_at_selenium_limit_g(3.0, 120.0)
    25.0
    """
    return as_given(
        np.asarray(limit_mg) / np.asarray(selenium_ppm) * 1000.0, limit_mg, selenium_ppm
    )


def early_weaning_saves_kg(
    head: Numeric, days: Numeric, nursing_dm_kg: Numeric, less_pct: Numeric
) -> Numeric:
    """Return the hay that early weaning saves [kg DM]: 25 to 40 % of what nursing cows eat.

    Source: Kreager, Ohio State Univ.; derived.

    >>> early_weaning_saves_kg(60.0, 45.0, 13.0, 25.0)
    8775.0
    """
    eaten = np.asarray(head) * np.asarray(days) * np.asarray(nursing_dm_kg)
    return as_given(eaten * np.asarray(less_pct) / 100.0, head, days, nursing_dm_kg, less_pct)
