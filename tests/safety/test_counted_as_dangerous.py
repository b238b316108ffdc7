"""What is written under another name, or not at all, counts as the dangerous kind it may be."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Feed, FeedKind, Forage, Group, Lot
from rickyard.safety import bindings, rule_cautions
from rickyard.safety.found import of_feed
from support.farms import START
from support.rows import each_row
from support.season_farms import farm_of, hay

FOALING = START + timedelta(days=30)


def animals(kind: AnimalClass, weight_kg: float = 300.0, **changes: object) -> Group:
    return replace(Group("g", "Stock", kind, 2, weight_kg), **changes)  # type: ignore[arg-type]


def lot_of(species: str, **changes: object) -> Lot:
    return replace(hay("lot", 55.0, 10.0, 60.0, 90.0), species=species, **changes)  # type: ignore[arg-type]


def rules_on(about: Lot | Feed, group: Group) -> dict[str, float | None]:
    """Return what each rule leaves of a lot or feed for a group, percent; ``None`` if watched."""
    farm = farm_of([], [group], [])
    farm = replace(farm, **{"lots" if isinstance(about, Lot) else "feeds": (about,)})  # type: ignore[arg-type]
    left: dict[str, float | None] = {"none": 0.0, "keep": None}
    return {
        one.rule.rule_id: left.get(one.rule.demand, one.rule.amount)
        for one in bindings(farm)
        if one.source_id
    }


@each_row("kind", [AnimalClass.MARE, AnimalClass.HORSE, AnimalClass.DONKEY])
@each_row("species", ["tall fescue", "KY-31", "Kentucky 31"])
def test_fescue_is_kept_from_every_kind_in_foal(kind: AnimalClass, species: str) -> None:
    """Oregon State University: no ergovaline is safe late in pregnancy, 90 days from memory."""
    in_foal = animals(kind, calving_on=FOALING)
    assert rules_on(lot_of(species), in_foal)["fescue-unknown-mares"] == 0.0
    assert "fescue-unknown-mares" not in rules_on(lot_of(species), animals(kind))
    assert "fescue-unknown-mares" not in rules_on(lot_of("timothy"), in_foal)


@pytest.mark.parametrize("kind", [AnimalClass.DONKEY, AnimalClass.LLAMA, AnimalClass.EWE])
def test_sweet_clover_is_kept_from_all_before_birth(kind: AnimalClass) -> None:
    """From memory: none for any stock within four weeks of giving birth."""
    group = animals(kind, 80.0, calving_on=FOALING)
    assert rules_on(lot_of("sweet clover"), group)["sweet-clover-late"] == 0.0


def bought(name: str, table_id: str = "") -> Feed:
    return Feed("f", name, FeedKind.FORAGE, 0.2, table_id=table_id)


@pytest.mark.parametrize(
    "feed",
    [
        bought("Bought grass haylage"),
        bought("Neighbor's baleage"),
        bought("Trench", table_id="corn_silage"),
    ],
)
def test_what_is_bought_in_wet_is_kept_from_horses_and_from_pregnant_ewes(feed: Feed) -> None:
    """Botulism of horses and listeria of ewes do not ask who made the silage."""
    assert rules_on(feed, animals(AnimalClass.HORSE))["baleage-horses"] == 0.0
    ewes = animals(AnimalClass.EWE, 70.0, calving_on=FOALING)
    assert rules_on(feed, ewes)["ph-unknown-small-stock"] == 0.0
    assert "ph-unknown-small-stock" not in rules_on(feed, animals(AnimalClass.RAM, 90.0))
    assert "baleage-horses" not in rules_on(bought("Dry grass hay"), animals(AnimalClass.HORSE))


@each_row(
    ("name", "sorghum"),
    [
        ("Bought cane hay", True), ("Cane bales", True), ("Haygrazer rounds", True),
        ("Red top cane", True), ("Cane Creek meadow hay", False), ("Redtop hay", False),
    ],
)  # fmt: skip
def test_sorghum_under_the_names_of_the_trade_is_kept_from_horses(name: str, sorghum: bool) -> None:
    found = rules_on(bought(name), animals(AnimalClass.HORSE))
    assert (found.get("sorghum-horses") == 0.0) is sorghum


@each_row(
    ("species", "rule"),
    [
        ("millet", "millet-unnamed-horses"), ("millets", "millet-unnamed-horses"),
        ("foxtail millet", "foxtail-millet-horses"), ("German millet", "foxtail-millet-horses"),
        ("Pearl-millet", ""), ("pearl millet", ""), ("browntop millet", ""),
    ],
)  # fmt: skip
def test_millet_of_no_known_kind_counts_as_foxtail_millet(species: str, rule: str) -> None:
    """A hay seller's page on foxtail millet; half of the diet: judgement."""
    lot = lot_of(species, forage=Forage.SUMMER_ANNUAL)
    found = rules_on(lot, animals(AnimalClass.HORSE))
    millets = {one: share for one, share in found.items() if "millet" in one}
    assert millets == ({rule: 50.0} if rule else {})
    assert not any("millet" in one for one in rules_on(lot, animals(AnimalClass.COW, 550.0)))


def test_a_field_called_after_millet_is_no_millet() -> None:
    found = rules_on(lot_of("timothy", name="Millet field"), animals(AnimalClass.HORSE))
    assert not any("millet" in one for one in found)


def test_a_field_named_after_clover_holds_none() -> None:
    """Sweet clover and alsike have rules of their own."""
    names = ("Clover Hill timothy", "Sweet clover", "Alsike clover", "Red clover", "Ladino clover")
    told = []
    for name in names:
        feed = Feed("f", name, FeedKind.FORAGE, 0.1)
        told.append("clover" in {one.finding for one in of_feed(feed)})
    assert told == [False, False, False, True, True]


@each_row(
    ("celsius", "barred"), [(65.0, False), (65.56, True), (78.0, True), (79.5, True), (48.0, False)]
)
def test_a_hot_stack_is_fed_to_nobody_until_a_cool_reading(celsius: float, barred: bool) -> None:
    """150 degF is where the fire department is called (Penn State; Purdue; Cornell)."""
    rules = rules_on(lot_of("alfalfa", highest_temperature_c=celsius), animals(AnimalClass.COW))
    assert (0.0 in rules.values()) == barred


@each_row(
    ("hottest", "latest", "held"),
    [
        (70.0, None, {"hot-stack": "none"}),
        (70.0, 49.0, {"hot-stack": "none"}),
        (70.0, 30.0, {"cooled-stack": "keep"}),
        (60.0, 30.0, {}),
        (82.0, 30.0, {"charred": "none"}),
    ],
)
def test_a_stack_that_has_cooled_is_fed_again_unless_it_charred(
    hottest: float, latest: float | None, held: dict[str, str]
) -> None:
    """Cool under 120 degF: common practice; charred hay is put up anew by who looked at it."""
    stack = lot_of("alfalfa", highest_temperature_c=hottest, latest_temperature_c=latest)
    farm = replace(farm_of([], [animals(AnimalClass.COW)], []), lots=(stack,))
    heat = [one.rule for one in bindings(farm) if one.rule.hazard == "hot hay"]
    of_heat = [one for one in heat if one.words]
    assert {one.rule_id: one.demand for one in of_heat} == held
    told = [one.sentence for one in rule_cautions(farm, bindings(farm))]
    heated = [one for one in told if "heated to" in one]
    fahrenheit = round(hottest * 1.8 + 32.0)
    assert all(f"heated to {fahrenheit} °F ({hottest:.0f} °C)" in one for one in heated)
    assert len(heated) == len(held)
    assert not any("highest_temperature" in one for one in told)
