"""How far results of one lot lie apart, by analyte: from core to core, and at the laboratory.

Planning figures, to stand in until a farm has pairs of its own. What a report is read with and
what a sample is planned with are the same.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT

#: First cuttings and weedy or rained-on fields vary more between bales: common practice; Crop
#: File 6.01.002 says that a first cutting usually shows the greatest variability.
UNEVEN_LOT_FACTOR: Final = 1.5


@dataclass(frozen=True, slots=True)
class ErrorSize:
    """Standard deviations of one analyte: points of dry matter, or percent of the value.

    ``single_core`` is that of cores analysed one by one, one determination of the laboratory
    (``repeat``) included; ``one_lab`` and ``any_lab`` are those of a reported value with all
    error but that of sampling. ``cores_relative`` and ``lab_relative`` say which are percent.
    """

    single_core: float
    repeat: float
    one_lab: float
    any_lab: float
    cores_relative: bool
    lab_relative: bool
    source: str

    @property
    def bias(self) -> float:
        """Return what laboratories differ by beyond the error within one, in the same unit."""
        return math.sqrt(self.any_lab**2 - self.one_lab**2)


_COLLINS: Final = (
    "cores: Collins 2000 in Undersander 2007, less the repeat of Shewmaker & Putnam; laboratory: "
    "Meyer (Hay & Forage Grower), read as two standard deviations, between labs twice that within"
)
_ADF: Final = f"{_COLLINS}; cores of ADF by {COMMON_PRACTICE}"
_K_STATE: Final = "K-State, range of 23 bales of one field; laboratory by common practice"
_TDN: Final = "cores by common practice; laboratory: ADF's by the western alfalfa equation"
_READ: Final = f"laboratory: a reading of Meyer; cores, 5% as protein's: {JUDGEMENT}"
# Between laboratories: root sum of the repeat (4, 8, 7 %) and the bias (6, 10, 10 %).
_MAJOR_MINERAL: Final = ErrorSize(12.0, 4.0, 4.0, 7.21, True, True, COMMON_PRACTICE)
_TRACE_MINERAL: Final = ErrorSize(20.0, 8.0, 8.0, 12.81, True, True, COMMON_PRACTICE)
_NITRATE: Final = ErrorSize(44.0, 7.0, 7.0, 12.21, True, True, _K_STATE)
OTHER_ERROR: Final = ErrorSize(5.0, 0.0, 6.0, 12.0, True, True, JUDGEMENT)

#: Error of each analyte by its name on a report; any other takes `OTHER_ERROR`.
ERROR_SIZES: Final[dict[str, ErrorSize]] = {
    "dm": ErrorSize(1.0, 0.3, 0.5, 1.0, False, False, COMMON_PRACTICE),
    "cp": ErrorSize(0.8, 0.25, 0.5, 1.0, False, False, _COLLINS),
    "ndf": ErrorSize(2.0, 0.75, 1.0, 2.0, False, False, _COLLINS),
    "adf": ErrorSize(1.5, 0.5, 0.8, 1.6, False, False, _ADF),
    "tdn": ErrorSize(1.2, 0.4, 0.6, 1.2, False, False, _TDN),
    "ash": ErrorSize(5.0, 0.0, 0.4, 0.8, True, False, _READ),
    "ee": ErrorSize(5.0, 0.0, 0.3, 0.6, True, False, _READ),
    "ndfd48": ErrorSize(5.0, 0.0, 3.0, 5.0, True, False, _READ),
    **dict.fromkeys(("ca", "p", "mg", "k", "s", "na", "cl"), _MAJOR_MINERAL),
    **dict.fromkeys(("fe", "mn", "zn", "cu", "mo", "co", "se"), _TRACE_MINERAL),
    **dict.fromkeys(("nitrate", "nitrate_no3n", "nitrate_no3", "nitrate_kno3"), _NITRATE),
}
#: Dry matter of a lot outside varies threefold between cores; common practice.
OUTSIDE_DM_FACTOR: Final = 3.0
