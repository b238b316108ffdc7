"""Names of the check files for hay, money, rations by hand and linear programs."""

from __future__ import annotations

from pathlib import PurePath
from typing import Final

from rickyard.farm import Storage, Wrap
from rickyard.hay.bales import bales, delivery, weathering
from rickyard.hay.feeding import caps, feeding, need, supply
from rickyard.hay.feeding import hand_rations as by_hand
from rickyard.hay.money import investment, money, worth
from rickyard.hay.storage import storage
from rickyard.quantities import LB_PER_SHORT_TON, Numeric, convert
from rickyard.verify import problems
from rickyard.verify.quantity import Inputs, Quantity, beside


def _daily_dm(q: Inputs) -> Numeric:
    return need.herd_dm(1, q["bw_lb"], q["intake_pct_bw_dm"], 1)


def _hay_need(q: Inputs) -> float:
    dry = need.group_dm(q["head"], q["dmi_lb"], q["days"])
    if q["output"] == "lb_dm":
        return float(dry)
    as_fed = need.as_fed_from_dm(dry, q["dm_pct"])
    if q["output"] == "tons_as_fed":
        return float(as_fed) / LB_PER_SHORT_TON
    return float(need.before_loss(as_fed, q["waste_pct"], q["waste_mode"])) / LB_PER_SHORT_TON


def _to_store(q: Inputs, days: float) -> Numeric:
    as_fed = need.as_fed_from_dm(days * _daily_dm(q), 100.0 * q["dm_frac"])
    return money.price_eaten(as_fed, 100.0 * q["storage_loss"], 100.0 * q["feeding_loss"])


def _round_m3(q: Inputs, diameter: str = "diameter_ft", width: str = "width_ft") -> Numeric:
    return bales.round_volume_m3(convert(q[diameter], "ft", "m"), convert(q[width], "ft", "m"))


def _relative_size(q: Inputs) -> Numeric:
    return 100.0 * _round_m3(q) / _round_m3(q, "ref_diameter_ft", "ref_width_ft")


def _after_storage(q: Inputs) -> Numeric:
    dry = q["weight_lb"] - need.lost(q["weight_lb"], 100.0 * q["moisture_in"])
    return need.before_loss(dry - need.lost(dry, 100.0 * q["dm_loss"]), 100.0 * q["moisture_out"])


def _cow_days(q: Inputs) -> Numeric:
    load = supply.inventory(q["bales"], q["bale_lb"])
    return supply.days_until_out(load, 0.0, q["lb_per_head_day"])


def _extra_acres(q: Inputs) -> Numeric:
    first, second = (
        supply.bales_rounded_up(need.before_loss(q["need_ton"], 100.0 * q[loss]), q["yield_ton_ac"])
        for loss in ("loss_a", "loss_b")
    )
    return second - first


def _dm_price_eaten(q: Inputs) -> Numeric:
    handled = money.dm_price(q["price_as_fed"], q["dm_pct"]) + q["storage"] + q["feeding"]
    return need.before_loss(handled, q["waste_pct"], q["mode"])


def _deficit(q: Inputs, feed: str = "feed_lb", pct: str = "nutrient_pct") -> Numeric:
    return by_hand.deficit(q["required_lb"], by_hand.supplied(q[feed], q[pct]))


def _stigler(q: Inputs) -> float:
    if PurePath(q.get("data", problems.DIET_FILE)).name != problems.DIET_FILE:
        raise ValueError(f"data {q['data']} does not ship; {problems.DIET_FILE} does.")
    return problems.diet_output(problems.cheapest_diet(), q["output"])


HAY: Final[dict[str, Quantity]] = {
    "round_volume": lambda q: _round_m3(q) / convert(1.0, "ft", "m") ** 3,
    "round_weight": lambda q: convert(
        bales.bale_weight_kg(_round_m3(q), convert(q["density_lb_ft3"], "lb_per_ft3", "kg_per_m3")),
        "kg",
        "lb",
    ),
    "rect_weight": lambda q: convert(
        bales.bale_weight_kg(
            bales.square_volume_m3(
                convert(q["length_ft"], "ft", "m"),
                convert(q["width_ft"], "ft", "m"),
                convert(q["height_ft"], "ft", "m"),
            ),
            convert(q["density_lb_ft3"], "lb_per_ft3", "kg_per_m3"),
        ),
        "kg",
        "lb",
    ),
    "rel_size": _relative_size,
    "round_weight_ref": lambda q: q["ref_weight_lb"] / 100.0 * _relative_size(q),
    "bale_value_rel": lambda q: q["ref_value_usd"] / 100.0 * _relative_size(q),
    "weight_after_storage": _after_storage,
    "outer_layer_pct": lambda q: weathering.weathered_pct(
        q["layer_in"], q["diameter_in"], q.get("width_in"), q["ends"]
    ),
    "end_layer_lb": lambda q: (
        q["bale_lb"]
        * weathering.weathered_ends_pct(q["layer_in"], q["width_in"], q["ends"])
        / 100.0
    ),
    "bottom_segment_pct": lambda q: weathering.bottom_segment_pct(q["depth_in"], q["diameter_in"]),
    "storage_loss_lookup": lambda q: storage.storage_loss_lookup(
        q["table"], q["method"], q.get("period", ""), q.get("end", "")
    ),
    "storage_loss_model": lambda q: storage.storage_loss_pct(
        Storage(q["method"]),
        q["months"],
        convert(q["rain_in_yr"], "in", "mm"),
        Wrap(q["wrap"]) if "wrap" in q else None,
    ),
    "bunker_loss": lambda q: storage.bunker_loss_pct(
        convert(q["dm_density_lb_ft3"], "lb_per_ft3", "kg_per_m3")
    ),
    "feeder_lookup": lambda q: feeding.feeding_loss_lookup(
        q["table"], q["method"], q.get("end", "")
    ),
    "waste_pct": lambda q: feeding.waste_pct(q["waste_lb"], q["disappearance_lb"]),
    "waste_lb": lambda q: need.lost(q["bale_lb"], q["waste_pct"]),
    "waste_cost": lambda q: need.lost(q["bale_price_usd"] * q["bales"], q["waste_pct"]),
    "wasted_hay_ton": lambda q: (
        need.group_dm(q["head"], q["waste_lb_head_day"], q["days"]) / LB_PER_SHORT_TON
    ),
    "feeder_space_in": lambda q: feeding.feeder_space_in(
        q["class"], q["mode"], "low" if q["bound"] == "min" else "high"
    ),
}

NEED: Final[dict[str, Quantity]] = {
    "herd_dm": lambda q: need.herd_dm(q["head"], q["bw_lb"], q["intake_pct_bw_dm"], q["days"]),
    "asfed_intake": lambda q: need.as_fed_from_dm(_daily_dm(q), 100.0 * q["dm_frac"]),
    "hay_to_store_daily": lambda q: _to_store(q, 1.0),
    "season_hay": lambda q: _to_store(q, q["days"]),
    "hay_need": beside(_hay_need, "dm_pct", "waste_pct", "waste_mode"),
    "need_after_loss": lambda q: need.before_loss(q["need_ton"], 100.0 * q["loss"]),
    "hay_as_fed_per_day": lambda q: need.as_fed_from_dm(q["dm_lb"], q["dm_pct"]),
    "hay_to_haul_per_day": lambda q: need.before_loss(q["as_fed_lb"], q["waste_pct"]),
    "as_fed_from_dm": lambda q: need.as_fed_from_dm(q["dm_lb"], q["dm_pct"]),
    "animal_units": lambda q: need.animal_units(q["groups"]),
    "bales_needed": lambda q: supply.bales_needed(q["total_lb"], q["bale_lb"]),
    "inventory_lb": lambda q: supply.inventory(q["bales"], q["bale_lb"], q["loss_pct"]),
    "inventory_ton": lambda q: (
        supply.inventory(q["bales"], q["bale_lb"], 100.0 * q["storage_loss"]) / LB_PER_SHORT_TON
    ),
    "acres_extra": _extra_acres,
    "bales_carry_forward": lambda q: delivery.bales_this_feeding(
        q["cum_need_lb"], q["bale_lb"], q["bales_given"]
    ),
    "cow_days_per_load": _cow_days,
    "feeding_cost_per_head_day": lambda q: q["cost_per_load"] / _cow_days(q),
}

MONEY: Final[dict[str, Quantity]] = {
    "price_per_ton": lambda q: (
        money.price_per_mass(q["bale_price_usd"], q["bale_lb"]) * LB_PER_SHORT_TON
    ),
    "nutrient_lb_per_ton": lambda q: by_hand.supplied(
        LB_PER_SHORT_TON, 100.0 * q["nutrient_frac_dm"], 100.0 * q["dm_frac"]
    ),
    "nutrient_lb_per_unit": lambda q: by_hand.supplied(
        q["unit_lb"], q["nutrient_pct"], q.get("dm_pct")
    ),
    "nutrient_cost_per_lb": lambda q: money.nutrient_cost(
        q["price"], q["unit_lb"], q["nutrient_pct"], q.get("dm_pct")
    ),
    "cost_per_lb_nutrient": lambda q: (
        money.nutrient_cost(
            q["price_per_ton_usd"],
            LB_PER_SHORT_TON,
            100.0 * q["nutrient_frac_dm"],
            100.0 * q["dm_frac"],
        )
        if "dm_frac" in q
        else money.nutrient_cost(q["price"], q["unit_lb"], q["nutrient_pct_dm"], q["dm_pct"])
    ),
    "cost_per_lb_tdn_bushel": lambda q: money.nutrient_cost(
        q["price_bu_usd"], q["lb_bu"], 100.0 * q["nutrient_frac_dm"], 100.0 * q["dm_frac"]
    ),
    "dm_price": lambda q: (
        money.dm_price(q["price_per_ton_usd"], 100.0 * q["dm_frac"])
        if "dm_frac" in q
        else money.dm_price(q["price_as_fed"], q["dm_pct"])
    ),
    "delivered_dm_cost": _dm_price_eaten,
    "season_feed_cost": lambda q: need.group_dm(
        q["head"], _dm_price_eaten(q) / LB_PER_SHORT_TON * q["dm_lb_per_day"], q["days"]
    ),
    "waste_adjusted_price": lambda q: need.before_loss(q["price"], q["waste_pct"], q["mode"]),
    "value_lost": lambda q: need.lost(q["price_per_ton_usd"], 100.0 * q["loss"]),
    "equivalent_hay_price": lambda q: (
        worth.hay_value(q["cost_per_lb"], q["nutrient_pct_dm"], q["dm_pct"]) * LB_PER_SHORT_TON
    ),
    "equiv_price": lambda q: (
        money.nutrient_cost(q["price_per_ton_usd"], 1.0, q["nutrient_pct"])
        * by_hand.supplied(1.0, q["ref_nutrient_pct"])
    ),
    "petersen_value": lambda q: worth.petersen_value(
        worth.nutrient_prices(
            (q["corn_tdn"] * q["corn_dm"], q["corn_cp"] * q["corn_dm"], q["corn_usd_ton"]),
            (q["meal_tdn"] * q["meal_dm"], q["meal_cp"] * q["meal_dm"], q["meal_usd_ton"]),
        ),
        100.0 * q["hay_tdn"],
        100.0 * q["hay_cp"],
        100.0 * q["hay_dm"],
    ),
    "factor_value": lambda q: worth.factor_value(
        (q["sbm_factor"], q["corn_factor"], q["alfalfa_factor"]),
        (q["sbm_usd"], q["corn_usd"], q["alfalfa_usd"]),
    ),
    "annuity": lambda q: investment.capital_recovery(
        q["capital_usd"], 100.0 * q["rate"], q["years"]
    ),
    "capital_per_ton": lambda q: money.price_per_mass(q["capital_usd"], q["tons"]),
    "annual_per_ton": lambda q: money.price_per_mass(q["capital_usd"], q["tons"] * q["years"]),
    "breakeven_price": lambda q: investment.breakeven_price(
        q["cost_per_ton_usd"], 100.0 * q["loss_without"], 100.0 * q["loss_with"]
    ),
    "wintering_cost_per_head": lambda q: money.basket_cost(
        [q["tons"], q["tons"], q["days"]],
        [q["price_per_ton"], q["freight_per_ton"], q["yardage_per_day"]],
    ),
}

BY_HAND: Final[dict[str, Quantity]] = {
    "pearson_square": lambda q: getattr(
        by_hand.pearson_square(q["target_pct"], q["a_pct"], q["b_pct"]), q["output"]
    ),
    "pearson_pct_of_feed_a": lambda q: (
        by_hand.pearson_square(q["target_pct"], q["a_pct"], q["b_pct"]).pct_a
    ),
    "two_feed_two_nutrient": lambda q: by_hand.two_feeds_two_nutrients(q["a"], q["b"], q["req"])[
        ("a", "b").index(q["output"])
    ],
    "two_feed_energy_amount_a": lambda q: by_hand.feed_for(
        _deficit(q, "total_lb", "b_pct"), q["a_pct"] - q["b_pct"]
    ),
    "substitution_pct_of_diet": lambda q: by_hand.feed_for(
        q["deficit_pct_of_diet"], q["new_pct"] - q["old_pct"]
    ),
    "nutrient_supplied_lb": lambda q: by_hand.supplied(q["feed_lb"], q["nutrient_pct"]),
    "nutrient_deficit_lb": lambda q: by_hand.deficit(q["required_lb"], q["supplied_lb"]),
    "deficit_lb": _deficit,
    "supplement_for_deficit_lb": lambda q: by_hand.feed_for(q["deficit_lb"], q["supplement_pct"]),
    "supplement_for_deficit": lambda q: by_hand.feed_for(_deficit(q), q["supplement_pct"]),
    "forage_dm_for_nutrient": lambda q: by_hand.feed_for(q["required_lb"], q["nutrient_pct"]),
    "season_supplement_lb": lambda q: by_hand.feed_for(
        by_hand.deficit(
            q["season_tdn_lb_required"],
            by_hand.supplied(q["hay_dm_lb_per_day"] * q["days"], q["hay_tdn_pct"]),
        ),
        q["supplement_tdn_pct"],
    ),
    "urea_pct_from_npn": lambda q: caps.urea_pct_from_tag(q["npn_cp_equiv_pct"], q["urea_cp_pct"]),
    "urea_pct_from_npn_cpe": lambda q: caps.urea_pct_from_tag(
        q["npn_cpe_pct"], 100.0 * q["urea_factor"]
    ),
    "urea_lb_per_day": lambda q: by_hand.supplied(
        q["feed_lb"], caps.urea_pct_from_tag(q["npn_cp_equiv_pct"], q["urea_cp_pct"])
    ),
    "sulfur_max_inclusion_pct": lambda q: caps.most_feed_for_sulfur_pct(
        q["base_s_pct"], q["feed_s_pct"], q["max_diet_s_pct"]
    ),
    "pct_bw_limit_lb": lambda q: need.herd_dm(1, q["bw_lb"], q["limit_pct_bw"], 1),
    "gossypol_whole_seed_pct": lambda q: caps.whole_seed_gossypol_pct(q["kernel_gossypol_pct"]),
    "substitution_rate": lambda q: caps.substitution_rate(
        q["hay_without_kg"], q["hay_with_kg"], q["supplement_kg"]
    ),
    "margin_of_safety_mean": lambda q: caps.mean_less_margin(q["mean"], q["sd"], q["k"]),
}

PROBLEMS: Final[dict[str, Quantity]] = {
    "lp": lambda q: problems.linear_output(problems.solve_written(q), q["output"]),
    "stigler_lp": _stigler,
    "diet_cost_usd_per_year": lambda q: problems.diet_cost_usd(q["annual_qty"], q["unit_size"]),
}
