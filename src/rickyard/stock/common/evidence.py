"""How each requirement is known: reproduced, seen, cross-checked, from memory, or practice.

The flags say how the program knows a number, not how true it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final


class Flag(StrEnum):
    """How a number is known."""

    REPRODUCED = "reproduced"
    SEEN = "seen"
    CROSS_CHECKED = "cross-checked"
    MEMORY = "from memory"
    PRACTICE = "common practice"


#: What each flag means, for the reader.
MEANING: Final[Mapping[Flag, str]] = MappingProxyType(
    {
        Flag.REPRODUCED: "the program reproduces published numbers to their rounding",
        Flag.SEEN: "the number was seen in the source that is named",
        Flag.CROSS_CHECKED: "from memory, and held against an independent published result",
        Flag.MEMORY: "from memory of the publication that is named",
        Flag.PRACTICE: "common practice, no published source",
    }
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """How one requirement is known, and where it comes from."""

    what: str
    flag: Flag
    source: str


_NRC: Final = "NRC 2000"
_MINERALS: Final = "NASEM 2016, in the Merck Veterinary Manual"
_VITAMINS: Final = "NASEM 2016, in the MSD Veterinary Manual"

#: Every requirement of beef cattle by its name in the output.
BEEF: Final[Mapping[str, Evidence]] = MappingProxyType(
    {
        "nem_maintenance_mcal": Evidence(
            "maintenance",
            Flag.REPRODUCED,
            f"{_NRC}; Lofgreen & Garrett 1968; cow table of Univ. of Nebraska",
        ),
        "breed_factor": Evidence("breed", Flag.MEMORY, f"{_NRC} Table 10-1"),
        "intact_male": Evidence(
            "bulls, factor 1.15", Flag.CROSS_CHECKED, f"{_NRC}; Mississippi State 2564"
        ),
        "condition_factor": Evidence("thin and fat, factor on maintenance", Flag.MEMORY, _NRC),
        "acclimatisation": Evidence(
            "last month's temperature", Flag.CROSS_CHECKED, f"{_NRC}; South Dakota State Univ."
        ),
        "activity_factor": Evidence(
            "walking and grazing", Flag.PRACTICE, "1.08 to 1.30 measured, Di Marco et al. 2001"
        ),
        "heat_factor": Evidence("panting", Flag.SEEN, "NRC 1981 p.65; 1.18 from memory"),
        "nem_cold_mcal": Evidence(
            "cold, by percent or by factors",
            Flag.CROSS_CHECKED,
            f"Oklahoma State Univ. (Selk); D. R. Ames; {_NRC} chapters 1 and 10",
        ),
        "wind_chill": Evidence(
            "wind chill of cattle", Flag.MEMORY, "Ames & Insley 1975; supported by Drovers"
        ),
        "cold_owed_mcal": Evidence(
            "energy of storms not fed yet", Flag.PRACTICE, "storm cap of 25%"
        ),
        "storm": Evidence("storm cap of 25%", Flag.PRACTICE, "Oklahoma State Univ. example"),
        "mud": Evidence("mud, 20% of maintenance", Flag.PRACTICE, "Ohio State; Iowa State"),
        "nem_lactation_mcal": Evidence(
            "milk", Flag.REPRODUCED, f"{_NRC} p.45; cow table of Univ. of Nebraska"
        ),
        "peak_milk": Evidence(
            "milk of first-calf heifers, 74%", Flag.SEEN, "Univ. of Arkansas 2018"
        ),
        "nem_pregnancy_mcal": Evidence(
            "pregnancy", Flag.REPRODUCED, f"{_NRC} Table 4-2; Ferrell et al. 1976"
        ),
        "conceptus_kg": Evidence("weight of the conceptus", Flag.MEMORY, _NRC),
        "retained_energy_mcal": Evidence(
            "gain", Flag.REPRODUCED, f"{_NRC}; Montana State Univ.; Mississippi State 2564"
        ),
        "nem_condition_mcal": Evidence(
            "reserves of cows",
            Flag.REPRODUCED,
            f"{_NRC}; Univ. of Nebraska; efficiency 0.80 from memory",
        ),
        "mp_g": Evidence(
            "protein for maintenance and gain; milk and pregnancy from memory",
            Flag.REPRODUCED,
            f"{_NRC}; Mississippi State 2564",
        ),
        "cp_kg": Evidence("crude protein, MP over 0.67", Flag.SEEN, "Univ. of Arkansas MP391"),
        "cp_floor": Evidence(
            "7% of the dry matter", Flag.SEEN, "New Mexico State Circular 583; Univ. of Missouri"
        ),
        "ca_kg": Evidence("calcium", Flag.MEMORY, _NRC),
        "p_kg": Evidence("phosphorus", Flag.MEMORY, _NRC),
        "mg_g": Evidence("magnesium", Flag.SEEN, _MINERALS),
        "k_g": Evidence("potassium", Flag.SEEN, _MINERALS),
        "na_g": Evidence("sodium", Flag.SEEN, _MINERALS),
        "s_g": Evidence("sulfur", Flag.SEEN, _MINERALS),
        "cu_mg": Evidence("copper", Flag.SEEN, _MINERALS),
        "zn_mg": Evidence("zinc", Flag.SEEN, _MINERALS),
        "mn_mg": Evidence("manganese", Flag.SEEN, _MINERALS),
        "se_mg": Evidence("selenium", Flag.SEEN, _MINERALS),
        "fe_mg": Evidence("iron", Flag.SEEN, _MINERALS),
        "co_mg": Evidence("cobalt", Flag.SEEN, _MINERALS),
        "i_mg": Evidence("iodine", Flag.SEEN, _MINERALS),
        "salt_g": Evidence("salt, 0.25% of the dry matter", Flag.PRACTICE, "free choice"),
        "vitamin_a_iu": Evidence("vitamin A", Flag.SEEN, _VITAMINS),
        "vitamin_d_iu": Evidence("vitamin D", Flag.SEEN, _VITAMINS),
        "vitamin_e_iu": Evidence("vitamin E", Flag.SEEN, _VITAMINS),
        "water_l": Evidence(
            "water of cows",
            Flag.REPRODUCED,
            "Spencer 2016, Kansas State Univ.; growing stock and bulls Beef Magazine",
        ),
        "intake_growing": Evidence(
            "appetite of growing stock", Flag.REPRODUCED, f"{_NRC}; Mississippi State 2564"
        ),
        "usual_hay_dm_kg": Evidence(
            "appetite of cows",
            Flag.CROSS_CHECKED,
            f"{_NRC}; bias reported by Oklahoma State Univ. (Gross 2024)",
        ),
        "ndf_cap": Evidence("fibre that fills, 1.2% of weight", Flag.SEEN, "Univ. of Missouri"),
        "intake_by_weather": Evidence(
            "appetite by temperature and mud", Flag.MEMORY, f"{_NRC} Table 10-4"
        ),
        "calving_spread": Evidence("equal numbers calve each day", Flag.PRACTICE, ""),
    }
)

#: Flag of each constituent, as a series of needs carries it.
BEEF_EVIDENCE: Final[Mapping[str, str]] = MappingProxyType(
    {name: f"{one.flag.value}: {one.source}".rstrip(": ") for name, one in BEEF.items()}
)
