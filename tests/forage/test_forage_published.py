"""The forage chapter's check values, recomputed; published ones carry their source."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from rickyard.forage.energy.energy import (
    de_from_tdn,
    me_from_tdn,
    me_hales2022,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_tdn,
)
from rickyard.forage.energy.indices import (
    ca_to_p_ratio,
    digestible_dry_matter_pct,
    dry_matter_intake_pct_bw,
    nfc_g_per_kg,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.energy.summative import de_nrc2001, tdn_nrc2001, tdn_rfq_grass, tdn_rfq_legume
from rickyard.forage.energy.tdn import tdn_western_alfalfa_90, tdn_western_alfalfa_100
from rickyard.forage.hazards.heating import hay_temperature_label
from rickyard.forage.plausibility.plausibility import rfv_disagrees
from rickyard.forage.values.basis import as_received_to_dm, dm_to_basis
from rickyard.forage.values.feed_table import cell
from rickyard.forage.values.nitrate import (
    kno3_pct_from_no3_ppm,
    nitrate_class_clemson,
    nitrate_class_servitech,
    no3_from_no3n,
)
from rickyard.forage.values.protein import adjusted_cp_pct, available_cp_pct
from rickyard.quantities import UNITS

Inputs = Mapping[str, Any]


def tdn_of(q: Inputs) -> float:
    return float(q["tdn"] if "tdn" in q else q["tdn_pct_dm"])


def pick(q: Inputs, names: str) -> tuple[Any, ...]:
    return tuple(q[name] for name in names.split())


NRC = "cp ndf lignin ash ee ndicp adicp paf"
RFQ = "cp ndf ndfd48 ash ee ndicp"
NFC = "cp ndf ee ash ndicp"

COMPUTED: dict[str, Callable[[Inputs], Any]] = {
    "ddm_pct": lambda q: digestible_dry_matter_pct(q["adf"]),
    "dmi_pct_bw": lambda q: dry_matter_intake_pct_bw(q["ndf"]),
    "rfv": lambda q: relative_feed_value(q["adf"], q["ndf"]),
    "tdn_western_100": lambda q: tdn_western_alfalfa_100(q["adf"]),
    "tdn_western_90": lambda q: tdn_western_alfalfa_90(q["adf"]),
    "tdn_nrc2001_1x": lambda q: tdn_nrc2001(*pick(q, NRC)),
    "de1x_nrc2001": lambda q: de_nrc2001(*pick(q, NRC)),
    "tdn_rfq_legume": lambda q: tdn_rfq_legume(*pick(q, RFQ)),
    "tdn_rfq_grass": lambda q: tdn_rfq_grass(*pick(q, RFQ)),
    "rfq_legume": lambda q: relative_forage_quality_legume(*pick(q, RFQ)),
    "rfq_grass": lambda q: relative_forage_quality_grass(*pick(q, "cp adf" + RFQ[2:])),
    "nfc_pct": lambda q: nfc_pct(*pick(q, NFC)),
    "nfc_g_per_kg": lambda q: nfc_g_per_kg(*pick(q, NFC)),
    "nsc_pct": lambda q: nsc_pct(q["starch"], q["wsc"]),
    "nsc_kg_day": lambda q: nsc_pct(q["starch"], q["wsc"]),
    "available_cp_pct": lambda q: available_cp_pct(q["cp"], q["adicp"]),
    "adjusted_cp_pct": lambda q: adjusted_cp_pct(q["cp"], q["adicp"]),
    "de_from_tdn": lambda q: de_from_tdn(tdn_of(q)),
    "me_from_tdn": lambda q: me_from_tdn(tdn_of(q)),
    "me_hales2022": lambda q: me_hales2022(q["de"]),
    "nem_from_tdn": lambda q: nem_from_tdn(tdn_of(q)),
    "neg_from_tdn": lambda q: neg_from_tdn(tdn_of(q)),
    "nel_from_tdn": lambda q: nel_from_tdn(tdn_of(q)),
    "ca_p_ratio": lambda q: ca_to_p_ratio(q["ca_g"], q["p_g"]),
    "plausibility_flag_rfv_recompute": lambda q: (
        "flag" if rfv_disagrees(q["rfv_reported"], q["adf"], q["ndf"], q["limit"]) else "ok"
    ),
    "as_received_to_dm": lambda q: as_received_to_dm(q["value"], q["dm"]),
    "no3_ppm_to_kno3_pct": lambda q: kno3_pct_from_no3_ppm(q["no3_ppm"]),
    "no3n_ppm_to_no3_ppm": lambda q: no3_from_no3n(q["no3n_ppm"]),
    "nitrate_class_clemson": lambda q: nitrate_class_clemson(q["no3n_ppm_dm"]),
    "nitrate_class_servitech": lambda q: nitrate_class_servitech(q["no3n_ppm_dm"]),
    "hay_temp_action": lambda q: hay_temperature_label(UNITS["degF"].to_canonical(q["temp_f"])),
    "feed_table_cell": lambda q: cell(q["feed_id"], q["column"]),
}

with (Path(__file__).parents[1] / "published" / "forage.csv").open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_check_value_is_met(row: dict[str, str]) -> None:
    got = COMPUTED[row["quantity"]](json.loads(row["inputs_json"]))
    if isinstance(got, str):
        assert got == row["expected"], row["source"]
    else:
        limit = float(row["tolerance"])
        assert abs(got - float(row["expected"])) <= limit, row["source"]


def test_every_quantity_has_a_check_and_most_are_published() -> None:
    assert {row["quantity"] for row in ROWS} == set(COMPUTED)
    assert sum(row["kind"] == "published" for row in ROWS) >= 40


# TDN, DE, ME, NEm, NEg, NEl in Mcal/kg; NEm, NEg, NEl in Mcal/lb: handbook table of net energy,
# derived from the cubics, per pound as the extension tables print it.
NET_ENERGY = [
    (45, 1.984, 1.627, 0.789, 0.252, 0.983, 0.358, 0.114, 0.446),
    (50, 2.204, 1.808, 0.968, 0.420, 1.105, 0.439, 0.191, 0.501),
    (55, 2.425, 1.988, 1.141, 0.582, 1.228, 0.518, 0.264, 0.557),
    (60, 2.645, 2.169, 1.310, 0.736, 1.350, 0.594, 0.334, 0.612),
    (65, 2.866, 2.350, 1.474, 0.884, 1.473, 0.668, 0.401, 0.668),
    (70, 3.086, 2.531, 1.633, 1.027, 1.595, 0.741, 0.466, 0.723),
]


@pytest.mark.parametrize("row", NET_ENERGY)
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
