"""A made-up forage whose values belong together, as a laboratory would find them.

Ranges are common practice, no published source; they only have to be believable. Indices follow
from the fiber by the usual equations, so that a printed index agrees with its printed fiber.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

#: Per kind: dry matter, protein, ADF, ADF as a share of NDF, lignin as a share of ADF, fat, ash,
#: calcium, phosphorus, magnesium, potassium.
RANGES: dict[str, tuple[tuple[float, float], ...]] = {
    "alfalfa": (
        (83, 91), (16, 22), (29, 37), (0.75, 0.81), (0.19, 0.22), (1.6, 2.6), (9, 11.5),
        (1.1, 1.6), (0.22, 0.32), (0.24, 0.36), (1.9, 2.7),
    ),
    "cool_grass": (
        (83, 91), (8, 13), (34, 41), (0.58, 0.64), (0.12, 0.15), (1.7, 2.8), (6.5, 9),
        (0.36, 0.6), (0.18, 0.29), (0.16, 0.26), (1.4, 2.4),
    ),
    "warm_grass": (
        (85, 92), (7, 12), (33, 39), (0.52, 0.57), (0.13, 0.16), (1.3, 2.2), (5.5, 8),
        (0.3, 0.52), (0.17, 0.25), (0.15, 0.28), (1.1, 1.9),
    ),
    "legume_grass": (
        (83, 90), (11, 16), (32, 39), (0.65, 0.71), (0.15, 0.19), (1.7, 2.6), (7, 9.5),
        (0.7, 1.1), (0.21, 0.3), (0.2, 0.3), (1.6, 2.4),
    ),
    "summer_annual": (
        (82, 89), (7.5, 12), (34, 40), (0.58, 0.63), (0.11, 0.14), (1.5, 2.3), (7, 10),
        (0.38, 0.55), (0.17, 0.26), (0.24, 0.34), (1.6, 2.5),
    ),
    "small_grain": (
        (84, 90), (8.5, 12.5), (32, 38), (0.59, 0.64), (0.11, 0.14), (1.6, 2.4), (6.5, 9),
        (0.25, 0.4), (0.19, 0.28), (0.14, 0.22), (1.5, 2.4),
    ),
    "corn_silage": (
        (31, 38), (7.4, 8.8), (23, 28), (0.58, 0.62), (0.1, 0.13), (2.6, 3.4), (3.8, 5),
        (0.18, 0.28), (0.2, 0.26), (0.14, 0.2), (0.9, 1.2),
    ),
}  # fmt: skip
WORDS = {
    "alfalfa": "alfalfa", "cool_grass": "cool-season grass", "warm_grass": "bermudagrass",
    "legume_grass": "legume-grass mix", "summer_annual": "sorghum-sudan",
    "small_grain": "oat hay", "corn_silage": "corn silage",
}  # fmt: skip
HAY = ("alfalfa", "cool_grass", "warm_grass", "legume_grass", "summer_annual", "small_grain")
NAMES = ("dm", "cp", "adf", "share", "lignin", "ee", "ash", "ca", "p", "mg", "k")
MCAL_PER_LB = 1 / 2.20462262  # Mcal/lb in one Mcal/kg
MJ_PER_MCAL = 4.184
NITROGEN_IN_NO3 = 14.007 / 62.005
NITROGEN_IN_KNO3 = 14.007 / 101.103


@dataclass
class Forage:
    """One forage: dry matter in percent, and values of dry matter by analyte.

    Percent for shares, parts per million for traces and nitrate, Mcal/kg for energy.
    """

    kind: str
    dm: float
    dry: dict[str, float] = field(default_factory=dict)

    def value(self, analyte: str, basis: str | None) -> float:
        if analyte == "dm":
            return self.dm
        if analyte == "moisture":
            return 100 - self.dm
        dry = self.dry[analyte]
        if basis == "ar":
            return dry * self.dm / 100
        if basis in ("cp", "ndf") and analyte not in SHARES:
            return 100 * dry / self.dry[basis]
        return dry


#: Analytes kept as a share of their part, not of dry matter.
SHARES = frozenset({"ndfd30", "ndfd48", "soluble_cp"})


def draw(rng: Random, kind: str | None = None) -> Forage:
    """Return a made-up forage of a kind."""
    kind = kind or rng.choice(HAY)
    got = {name: rng.uniform(*span) for name, span in zip(NAMES, RANGES[kind], strict=True)}
    forage = Forage(kind, round(got.pop("dm"), 1))
    dry = forage.dry
    dry["cp"], dry["adf"] = round(got["cp"], 2), round(got["adf"], 2)
    dry["ndf"] = round(dry["adf"] / got["share"], 2)
    dry["lignin"] = dry["adf"] * got["lignin"]
    for name in ("ee", "ash", "ca", "p", "mg", "k"):
        dry[name] = got[name]
    rounded = {name: round(dry[name], 1) for name in ("cp", "ndf", "ee", "ash")}
    dry["nfc"] = 100 - sum(rounded.values())
    _carbohydrates(rng, forage)
    _energy(forage)
    _minor(rng, forage)
    return forage


def _carbohydrates(rng: Random, forage: Forage) -> None:
    dry = forage.dry
    nfc = dry["nfc"]
    share = (0.6, 0.7) if forage.kind == "corn_silage" else (0.04, 0.09)
    dry["starch"] = nfc * rng.uniform(*share)
    dry["wsc"] = nfc * (0.06 if forage.kind == "corn_silage" else rng.uniform(0.3, 0.42))
    dry["esc"] = dry["wsc"] * rng.uniform(0.6, 0.75)
    dry["nsc"] = round(dry["starch"], 1) + round(dry["wsc"], 1)
    dry["ndfd48"] = rng.uniform(44, 58)
    dry["ndfd30"] = dry["ndfd48"] - rng.uniform(5, 8)
    dry["undf240"] = dry["ndf"] * rng.uniform(0.3, 0.36)


def _energy(forage: Forage) -> None:
    """Fill energies from TDN, and TDN and relative feed value from the printed fiber."""
    dry = forage.dry
    adf, ndf = round(dry["adf"], 1), round(dry["ndf"], 1)
    dry["tdn"] = 88.9 - 0.79 * adf
    dry["de"] = dry["tdn"] * 0.04409
    me = dry["me"] = dry["de"] * 0.82
    dry["nem"] = 1.37 * me - 0.138 * me**2 + 0.0105 * me**3 - 1.12
    dry["neg"] = 1.42 * me - 0.174 * me**2 + 0.0122 * me**3 - 1.65
    dry["nel"] = 0.0245 * dry["tdn"] - 0.12
    dry["rfv"] = (88.9 - 0.779 * adf) * (120 / ndf) / 1.29


def _minor(rng: Random, forage: Forage) -> None:
    dry, cp = forage.dry, forage.dry["cp"]
    dry["n"] = round(cp, 1) / 6.25
    dry["adicp"] = cp * rng.uniform(0.06, 0.11)
    dry["ndicp"] = cp * rng.uniform(0.2, 0.28)
    dry["soluble_cp"] = rng.uniform(28, 42)
    dry["s"] = rng.uniform(0.14, 0.26)
    dry["na"] = rng.uniform(0.02, 0.09)
    dry["cl"] = rng.uniform(0.3, 0.7)
    for name, low, high in (
        ("fe", 90, 260), ("mn", 35, 95), ("zn", 17, 34), ("cu", 4.5, 10),
        ("mo", 0.8, 2.4), ("se", 0.06, 0.2), ("co", 0.15, 0.4),
    ):  # fmt: skip
        dry[name] = rng.uniform(low, high)
    no3n = rng.uniform(150, 900)
    dry["nitrate_no3n"] = no3n
    dry["nitrate_no3"] = dry["nitrate"] = no3n / NITROGEN_IN_NO3
    dry["nitrate_kno3"] = no3n / NITROGEN_IN_KNO3
    dry["hcn"] = rng.uniform(60, 180)
    dry["ph"] = rng.uniform(3.8, 4.3) if forage.kind == "corn_silage" else rng.uniform(4.6, 5.4)
    dry["lactic"], dry["acetic"] = rng.uniform(4, 6), rng.uniform(1.2, 2.6)
    dry["ammonia"] = rng.uniform(4, 9)
