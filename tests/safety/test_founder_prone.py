"""Horses that founder get no hay of unknown sugar where fit hay is there, and no heap of any."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import AnimalClass, Care, Farm, Feeder, Group, Package
from rickyard.hay.feeding import group_loss, wants_net
from rickyard.safety import bindings, rule_cautions, rule_of
from support.shown_findings import farm_showing

NONE, TOLD = "sugar-hay-unknown-none", "sugar-hay-unknown"


def sugar_rules(farm: Farm) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for one in bindings(farm):
        if one.rule.hazard == "sugar":
            found.setdefault(one.source_id, set()).add(one.rule.rule_id)
    return found


def test_hay_of_unknown_sugar_is_kept_off_where_enough_fit_hay_is_there() -> None:
    """A pony that founders was given untested fescue alone, "to be tested before it is fed"."""
    farm = farm_showing(rule_of(NONE), AnimalClass.HORSE)
    assert sugar_rules(farm) == {"X": {NONE}}
    assert next(one for one in bindings(farm) if one.rule.rule_id == NONE).bars
    # Untested, too little, wrapped or too rich: then none is starved, and it is told as a danger.
    fit, other = farm.lots
    rich = replace(
        farm.reports[0],
        analytes=tuple(replace(one, value=16.0) if one.name == "nsc" else one
                       for one in farm.reports[0].analytes),
    )  # fmt: skip
    for changed in (
        replace(farm, reports=()),
        replace(farm, lots=(replace(fit, bales=1.0), other)),
        replace(farm, lots=(replace(fit, package=Package.BALEAGE), other)),
        replace(farm, reports=(rich,)),
    ):
        assert TOLD in sugar_rules(changed)["X"]
        assert NONE not in sugar_rules(changed)["X"]


def test_hay_that_is_bought_is_asked_for_its_test_or_kept_off_too() -> None:
    """Bought hay was fed a pony that founders, and nobody was told to ask what sugar it holds."""
    bought = farm_showing(rule_of("sugar-hay-bought"), AnimalClass.HORSE)
    rule = next(one for one in bindings(bought) if one.rule.rule_id == "sugar-hay-bought")
    assert (rule.source_id, rule.bars, rule.rule.level) == ("X", False, "danger")
    told = [one.sentence for one in rule_cautions(bought, bindings(bought))]
    assert any("ask the seller for a test of starch and WSC" in one for one in told)
    fit = farm_showing(rule_of(NONE), AnimalClass.HORSE)
    hay = replace(bought.feeds[0], feed_id="H")
    assert sugar_rules(replace(fit, feeds=(hay,)))["H"] == {NONE}


@pytest.mark.parametrize(
    ("kind", "care", "feeder", "package", "pct"),
    [
        (AnimalClass.HORSE, Care.FOUNDER_PRONE, Feeder.NONE, Package.ROUND, 6.0),
        (AnimalClass.HORSE, Care.FOUNDER_PRONE, None, Package.ROUND, 6.0),
        (AnimalClass.HORSE, None, Feeder.NONE, Package.ROUND, 57.0),
        (AnimalClass.HORSE, Care.FOUNDER_PRONE, Feeder.CRADLE, Package.ROUND, 11.0),
        (AnimalClass.HORSE, Care.METABOLIC, Feeder.NONE, Package.SMALL_SQUARE, 13.0),
    ],
)
def test_where_a_net_is_ordered_the_waste_of_a_net_is_counted(
    kind: AnimalClass, care: Care | None, feeder: Feeder | None, package: Package, pct: float
) -> None:
    """Of 20 lb before a pony of 520 lb 57 % was to be wasted, beside the order of a net."""
    pony = Group("P", "Pony", kind, 1, 236.0, care=care, feeder=feeder)
    assert group_loss(pony, package).pct == pct
    assert wants_net(pony, package) is (pct == 6.0)
