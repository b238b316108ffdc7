"""Tables of forage energy and two printed reports, beside what is computed.

Single check values are those that ship with the program; `tests/test_checks.py` holds them.
"""

from __future__ import annotations

import pytest

from rickyard.forage.energy.energy import (
    de_from_tdn,
    me_from_tdn,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_tdn,
)
from rickyard.forage.energy.indices import nfc_pct
from rickyard.forage.energy.summative import tdn_nrc2001
from rickyard.forage.energy.tdn import tdn_western_alfalfa_90, tdn_western_alfalfa_100
from rickyard.forage.values.basis import dm_to_basis
from rickyard.quantities import UNITS
from support.rows import each_row

# TDN, DE, ME, NEm, NEg, NEl in Mcal/kg; NEm, NEg, NEl in Mcal/lb: derived from the
# cubics of Garrett, per pound as the extension tables print it.
NET_ENERGY = [
    (45, 1.984, 1.627, 0.789, 0.252, 0.983, 0.358, 0.114, 0.446),
    (50, 2.204, 1.808, 0.968, 0.420, 1.105, 0.439, 0.191, 0.501),
    (55, 2.425, 1.988, 1.141, 0.582, 1.228, 0.518, 0.264, 0.557),
    (60, 2.645, 2.169, 1.310, 0.736, 1.350, 0.594, 0.334, 0.612),
    (65, 2.866, 2.350, 1.474, 0.884, 1.473, 0.668, 0.401, 0.668),
    (70, 3.086, 2.531, 1.633, 1.027, 1.595, 0.741, 0.466, 0.723),
]


@each_row("row", NET_ENERGY)
def test_net_energy_table(row: tuple[float, ...]) -> None:
    tdn = float(row[0])
    per_kg = (
        de_from_tdn(tdn),
        me_from_tdn(tdn),
        nem_from_tdn(tdn),
        neg_from_tdn(tdn),
        nel_from_tdn(tdn),
    )
    assert per_kg == pytest.approx(row[1:6], abs=0.00051)
    per_lb = [UNITS["mcal_per_lb"].from_canonical(value) for value in per_kg[2:]]
    assert per_lb == pytest.approx(row[6:], abs=0.00051)


def test_alfalfa_class_limits_of_2003_confirm_the_western_equation() -> None:
    """USDA-AMS hay quality guidelines 2003, ADF against TDN at 100 and 90 % dry matter."""
    for adf, tdn in ((27, 62.0), (29, 60.5), (32, 58.0), (35, 56.0)):
        assert tdn_western_alfalfa_100(adf) == pytest.approx(tdn, abs=0.35)
    for adf, tdn in ((27, 55.9), (29, 54.5), (32, 52.5)):
        assert tdn_western_alfalfa_90(adf) == pytest.approx(tdn, abs=0.05)
    assert dm_to_basis(60.5) == pytest.approx(54.45)


def test_parts_of_the_printed_report_of_mature_timothy() -> None:
    """Printed laboratory report: NFC 18.5, TDN 53 from its parts."""
    assert nfc_pct(6.4, 71.9, 1.9, 3.43, 2.1) == pytest.approx(18.5, abs=0.05)
    assert round(tdn_nrc2001(6.4, 71.9, 8.5, 3.43, 1.9, 2.1, 0.8)) == 53
