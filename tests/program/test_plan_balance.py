"""Every balance and every nutrient row of a plan, added up again from its JSON alone."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import Any

import pytest

from rickyard.farm import Farm
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.program.planning.season import plan_season
from rickyard.sheets.data_files.plan_json import plan_json
from support.farms import random_farm
from support.shipped import SHORT, demo_farm, shipped_farm

REL = 1e-6


def document(farm: Farm) -> dict[str, Any]:
    return dict(json.loads(plan_json(plan_season(farm, options=SHORT))))


FARMS = {
    "demo": shipped_farm,
    "demo, simpler": lambda: demo_farm(1.0),
    **{f"seed {seed}": (lambda seed=seed: random_farm(seed, weeks=8)) for seed in (7, 42)},
}


@pytest.fixture(scope="module", params=FARMS, ids=list(FARMS))
def plan(request: pytest.FixtureRequest) -> dict[str, Any]:
    return document(FARMS[request.param]())


def test_every_ton_of_every_lot_is_accounted_for(plan: dict[str, Any]) -> None:
    head_days = {
        (cell["group"], cell["period"]): cell["head"] * cell["days"] for cell in plan["groups"]
    }
    dm = {one["source"]: one["dm_pct"] / 100.0 for one in plan["sources"]}
    eaten: dict[str, float] = defaultdict(float)
    offered: dict[str, float] = defaultdict(float)
    for row in plan["feeding"]:
        days = head_days[row["group"], row["period"]]
        eaten[row["source"]] += row["eaten_kg_dm_per_head_day"] * days / 1000.0
        offered[row["source"]] += row["offered_kg"] * dm[row["source"]] / 1000.0
    for lot in plan["lots"]:
        scale = max(lot["start_t"], 1e-6)
        gone = lot["eaten_t"] + lot["feeding_loss_t"] + lot["storage_loss_t"] + lot["left_t"]
        gone += lot["sold_t"]
        assert gone == pytest.approx(lot["start_t"], abs=REL * scale)
        assert lot["eaten_t"] == pytest.approx(eaten[lot["lot"]], abs=REL * scale)
        lost = offered[lot["lot"]] - eaten[lot["lot"]]
        assert lot["feeding_loss_t"] == pytest.approx(lost, abs=REL * scale)
        assert lot["left_t"] >= -REL * scale
        assert lot["fed_t"] == pytest.approx(offered[lot["lot"]], abs=REL * scale)


def room_pct(one: dict[str, Any]) -> float:
    """Return the fiber of hay whose room a source takes, of its dry matter.

    Hay of 60 % fiber that half a percent of weight puts aside: seven tenths of a kilogram for one
    of corn, of which 72.1 % is starch, and three tenths for a fibrous by-product. Common practice.
    """
    if one["is_forage"]:
        return float(one["ndf_pct"])
    starchy = min((one["starch_pct"] or 0.0) / 72.1, 1.0)
    fibrous = one["cp_pct"] < 30.0 and one["ndf_pct"] >= 20.0
    return 60.0 * (0.7 * starchy + (0.3 * (1.0 - starchy) if fibrous else 0.0))


def counted_magnesium_pct(one: dict[str, Any]) -> float:
    """Return the magnesium of a tested forage, or of a feed as rich as any diet needs to be."""
    if one["origins"].get("magnesium_pct") == "book":
        return 0.0
    pct = float(one["magnesium_pct"] or 0.0)
    return pct if one["is_forage"] or pct >= 0.2 else 0.0


def test_what_concentrate_does_to_hay_is_charged_to_it(plan: dict[str, Any]) -> None:
    """Room taken up, and 8.06 points of the digestibility of fiber of 1.2 % of weight."""
    for one in plan["sources"]:
        if not one["is_forage"]:
            starchy = min((one["starch_pct"] or 0.0) / 72.1, 1.0)
            tdn = max(one["tdn_pct"] - 8.06 * 1.2 * starchy, 0.0)
            nem = float(nem_from_tdn(tdn)) if tdn else 0.0
            neg = float(neg_from_tdn(tdn)) if tdn else 0.0
            assert one["nem_mcal_per_kg"] == pytest.approx(nem, rel=1e-9), one["source"]
            assert one["neg_mcal_per_kg"] == pytest.approx(neg, rel=1e-9), one["source"]
    for one in plan["sources"]:
        assert one["room_ndf_pct"] == pytest.approx(room_pct(one), rel=1e-9), one["source"]
    assert any(one["room_ndf_pct"] > 0.0 for one in plan["sources"] if not one["is_forage"])


def test_every_nutrient_row_is_the_sum_of_what_is_eaten(plan: dict[str, Any]) -> None:
    source = {one["source"]: one for one in plan["sources"]}
    diet: dict[tuple[str, int], dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for row in plan["feeding"]:
        one, amount = source[row["source"]], row["eaten_kg_dm_per_head_day"]
        total = diet[row["group"], row["period"]]
        total["dm"] += amount
        total["nem"] += amount * one["nem_mcal_per_kg"]
        total["neg"] += amount * one["neg_mcal_per_kg"]
        total["tdn"] += amount * one["tdn_pct"] / 100.0
        total["cp"] += amount * one["cp_pct"] / 100.0
        total["ca"] += amount * one["ca_pct"] * 10.0
        total["mg"] += amount * counted_magnesium_pct(one) * 10.0
        total["p"] += amount * one["p_pct"] * 10.0
        total["nitrate"] += amount * (one["nitrate_no3n_ppm"] or 0.0)
        total["fat"] += amount * (one["fat_pct"] or 0.0) / 100.0
        total["sulfur"] += amount * (one["sulfur_pct"] or 0.0) * 10.0
        total["npn"] += amount * (one["npn_cp_pct"] or 0.0) / 100.0
        total["ndf"] += amount * room_pct(one) / 100.0
        if one["is_forage"]:
            total["forage"] += amount
    column = {
        "nem": "nem",
        "gain_energy": "nem",
        "tdn": "tdn",
        "cp": "cp",
        "cp_floor": "cp",
        "ca": "ca",
        "ca_to_p": "ca",
        "p": "p",
        "forage": "forage",
        "least_dm": "dm",
        "most_dm": "dm",
        "appetite": "dm",
        "ndf": "ndf",
        "nitrate": "nitrate",
        "fat": "fat",
        "sulfur": "sulfur",
        "npn": "npn",
        "mg": "mg",
        "ca_floor": "ca",
    }
    needs = {(row["group"], row["period"], row["nutrient"]): row for row in plan["needs"]}
    assert len(needs) == len(plan["needs"]) == len(plan["supplied"])
    for row in plan["supplied"]:
        key = (row["group"], row["period"], row["nutrient"])
        need = needs[key]
        added = diet[row["group"], row["period"]][column[row["nutrient"]]]
        scale = max(abs(need["need"]), 1e-3)
        assert row["supplied"] == pytest.approx(added, abs=REL * scale), key
        if need["bound"] == "at_least":
            missing = need["need"] - added
            assert need["shortage"] == pytest.approx(max(0.0, missing), abs=2 * REL * scale), key
        else:
            assert added <= need["need"] + REL * scale, key


def test_energy_of_growing_stock_is_kilograms_for_maintenance_and_for_gain(
    plan: dict[str, Any],
) -> None:
    """NRC 2000: divide each need by its own feed value, add kilograms."""
    source = {one["source"]: one for one in plan["sources"]}
    cells = {(cell["group"], cell["period"]): cell for cell in plan["groups"]}
    seen = 0
    for row in plan["needs"]:
        if row["nutrient"] != "gain_energy":
            continue
        fed = [
            (source[one["source"]], one["eaten_kg_dm_per_head_day"])
            for one in plan["feeding"]
            if (one["group"], one["period"]) == (row["group"], row["period"])
        ]
        cell = cells[row["group"], row["period"]]
        seen += 1
        if not fed:  # no hay is safe for them, and nothing else is fed without hay
            assert row["shortage"] == pytest.approx(row["need"], rel=REL)
            assert row["need"] > 0
            assert cell["expected_gain_kg_per_day"] == 0
            assert cell["intake_kg_dm_per_head_day"] == 0
            continue
        dm = sum(amount for _, amount in fed)
        nem = sum(amount * one["nem_mcal_per_kg"] for one, amount in fed) / dm
        neg = sum(amount * one["neg_mcal_per_kg"] for one, amount in fed) / dm
        if row["shortage"] == 0:
            assert cell["expected_gain_kg_per_day"] >= cell["wanted_gain_kg_per_day"] * (1 - 1e-5)
        assert row["need"] >= 0
        assert neg < nem
    if any(cell["wanted_gain_kg_per_day"] for cell in plan["groups"]):
        assert seen > 0


def test_cost_is_hay_used_and_feed_bought(plan: dict[str, Any]) -> None:
    costs = plan["costs"]
    parts = sum(value for name, value in costs.items() if name != "total")
    assert parts == pytest.approx(costs["total"], rel=1e-9)
    assert plan["cost"] == pytest.approx(costs["total"], rel=1e-9)
    price = {one["source"]: one["usd_per_kg_dm"] * 1000.0 for one in plan["sources"]}
    hay = sum(lot["eaten_t"] * price[lot["lot"]] for lot in plan["lots"])
    assert costs["hay_eaten"] == pytest.approx(hay, rel=1e-9, abs=1e-6)
    bought = sum(one["cost_usd"] for one in plan["purchases"])
    assert costs["purchases"] == pytest.approx(bought, rel=1e-9, abs=1e-6)


def test_the_bound_is_below_and_the_gap_is_the_distance(plan: dict[str, Any]) -> None:
    total = plan["cost"] + plan["penalty"]
    assert plan["bound"] <= total * (1 + 1e-9)
    assert plan["gap"] == pytest.approx((total - plan["bound"]) / total, abs=1e-9)
    assert (plan["status"] == "short") == bool(plan["shortages"])
