"""What is kept from whom, and what is said about it."""

from dataclasses import replace
from datetime import date

import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Storage,
)
from rickyard.safety.told import rule_cautions
from rickyard.service import read_lots
from rickyard.stock.herd import cautions
from support.rows import each_row
from support.rules_bound import all_cautions, bars

DAY = date(2026, 11, 1)
SEASON = Season(DAY, date(2027, 4, 1))
HAY = Lot("hay", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 9, DAY, DAY)
BALEAGE = replace(HAY, lot_id="wet", name="Baleage", package=Package.BALEAGE)
MINERAL = Feed("min", "Cow mineral", FeedKind.MINERAL, 1.2)
SALT = Feed("salt", "Salt", FeedKind.MINERAL, 0.3, table_id="salt")
UREA = Feed("urea", "Range cubes", FeedKind.SUPPLEMENT, 0.4, npn_cp_pct=10.0, ionophore=False)
MEDICATED = Feed("med", "Cattle grower", FeedKind.SUPPLEMENT, 0.4, ionophore=True)
SEED = Feed("seed", "Cottonseed", FeedKind.SUPPLEMENT, 0.3, table_id="whole_cottonseed")
FEEDS = (MINERAL, SALT, UREA, MEDICATED, SEED)


def farm_of(kind: AnimalClass, **changes: object) -> Farm:
    group = Group("g", "The group", kind, 5, 70.0)
    farm = Farm("Home", SEASON, lots=(HAY, BALEAGE), groups=(group,), feeds=FEEDS)
    return replace(farm, **changes)  # type: ignore[arg-type]


def barred(kind: AnimalClass, **changes: object) -> set[str]:
    return {bar.source_id for bar in bars(farm_of(kind, **changes))}


def sentences(kind: AnimalClass, **changes: object) -> str:
    return " ".join(caution.sentence for caution in all_cautions(farm_of(kind, **changes)))


@pytest.mark.parametrize(
    "kind",
    [
        AnimalClass.HORSE,
        AnimalClass.MARE,
        AnimalClass.YOUNG_HORSE,
        AnimalClass.DONKEY,
        AnimalClass.MULE,
    ],
)
def test_urea_ionophores_cottonseed_and_baleage_are_kept_from_horses(kind: AnimalClass) -> None:
    assert barred(kind) == {"wet", "urea", "med", "seed"}


@each_row(
    "kind",
    [
        AnimalClass.EWE,
        AnimalClass.EWE_LAMB,
        AnimalClass.RAM,
        AnimalClass.FEEDER_LAMB,
        AnimalClass.LLAMA,
        AnimalClass.ALPACA,
    ],
)
def test_a_mineral_of_unknown_copper_is_kept_from_sheep_and_llamas(kind: AnimalClass) -> None:
    assert "min" in barred(kind)
    assert "salt" not in barred(kind)


@pytest.mark.parametrize(("copper", "kept"), [(15.0, False), (15.1, True), (1500.0, True)])
def test_a_mineral_of_known_copper_is_judged_by_the_limit_of_the_whole_diet(
    copper: float, kept: bool
) -> None:
    feeds = (replace(MINERAL, copper_ppm=copper),)
    assert (barred(AnimalClass.EWE, feeds=feeds) == {"min"}) is kept


@pytest.mark.parametrize("kind", [AnimalClass.COW, AnimalClass.DAIRY_HEIFER, AnimalClass.BULL])
def test_nothing_is_kept_from_cattle(kind: AnimalClass) -> None:
    assert barred(kind, groups=(Group("g", "The group", kind, 5, 300.0),)) == set()


def test_urea_is_kept_from_small_stock_and_ionophores_from_sheep() -> None:
    assert barred(AnimalClass.DOE) == {"urea"}
    assert barred(AnimalClass.EWE) == {"min", "urea", "med"}
    assert barred(AnimalClass.LLAMA) == {"min", "urea", "med", "seed"}


def test_every_bar_is_a_danger_with_a_source() -> None:
    for kind in AnimalClass:
        farm = farm_of(kind)
        for bar in bars(farm):
            for caution in rule_cautions(farm, [bar]):
                assert caution.level == "danger"
                assert caution.source
                assert caution.about == bar.source_id
                assert caution.rules == (bar.rule.rule_id,)


def test_cattle_alone_bring_no_caution_of_small_stock() -> None:
    assert cautions(farm_of(AnimalClass.COW)) == ()


def test_copper_on_a_report_of_hay_for_sheep_is_told() -> None:
    copper = Analyte("cu", 22.0, "ppm", Basis.DRY_MATTER)
    reports = (Report("r", "hay", (copper,)),)
    assert "Barn hay holds 22 mg/kg of copper" in sentences(AnimalClass.EWE, reports=reports)
    assert "Barn hay holds" not in sentences(AnimalClass.EWE)


@each_row(
    ("kind", "said"),
    [
        (AnimalClass.EWE, "singles, twins and triplets separately"),
        (AnimalClass.RAM, "urinary stones"),
        (AnimalClass.BUCK, "urinary stones"),
        (AnimalClass.KID, "urinary stones"),
        (AnimalClass.DOE, "at most 40 mg/kg; where sheep eat with them, at most 15"),
        (AnimalClass.HORSE, "starch + WSC under 10%, at most 12%"),
        (AnimalClass.HORSE, "at least 1%, better 1.5%"),
        (AnimalClass.HORSE, "no ionophore such as monensin in Cow mineral before"),
        (AnimalClass.HORSE, "ask where Salt and Cottonseed comes from before"),
        (AnimalClass.DONKEY, "Never starve"),
        (AnimalClass.DRY_DAIRY_COW, "potassium under 1.3%"),
        (AnimalClass.LLAMA, "planning estimates"),
    ],
)
def test_what_is_said_of_a_class(kind: AnimalClass, said: str) -> None:
    assert said in sentences(kind)


@each_row(
    ("values", "said"),
    [
        ({"starch": 1.5, "wsc": 7.0}, ""),
        (
            {"starch": 2.0, "wsc": 9.0},
            "NSC (starch + WSC) is 11.0%, between 10 and 12%: they may have it",
        ),
        ({"starch": 2.0, "wsc": 14.0}, "NSC (starch + WSC) is 16.0%: over 12%"),
        ({"nsc": 13.0}, "NSC (starch + WSC) is 13.0%: over 12%"),
        ({"starch": 1.5, "esc": 6.0}, "without fructan"),
        ({"wsc": 14.0}, ""),
    ],
)
def test_tested_sugars_are_judged_for_horses(values: dict[str, float], said: str) -> None:
    tested = tuple(
        Analyte(name, 10.0 * value, "g_per_kg", Basis.DRY_MATTER)
        if name == "wsc"
        else Analyte(name, value, "pct", Basis.DRY_MATTER)
        for name, value in values.items()
    )
    text = sentences(AnimalClass.HORSE, reports=(Report("r", "hay", tested),))
    assert ("Barn hay for any of" in text) is bool(said)
    assert said in text
    assert "Barn hay for any of" not in sentences(
        AnimalClass.EWE, reports=(Report("r", "hay", tested),)
    )


def test_fescue_is_told_for_mares_of_no_known_day() -> None:
    lots = (replace(HAY, species="tall fescue"),)
    assert "last 90 days before foaling" in sentences(AnimalClass.MARE, lots=lots)
    assert "last 90 days" not in sentences(AnimalClass.MARE)


def mares_at(fescue: Lot, *reports: Report, **changes: object) -> Farm:
    mares = Group("g", "Mares", AnimalClass.MARE, 2, 520.0, calving_on=date(2027, 3, 25))
    group = replace(mares, **changes)  # type: ignore[arg-type]
    return Farm("Home", SEASON, lots=(fescue,), groups=(group,), reports=reports)


def test_fescue_is_kept_from_mares_in_their_last_ninety_days_only() -> None:
    (bar,) = bars(mares_at(replace(HAY, species="tall fescue")))
    assert not bar.holds(date(2026, 12, 1), 7)
    assert bar.holds(date(2026, 12, 21), 7)  # the last day of the week is one of the ninety
    assert bar.holds(date(2027, 3, 22), 7)
    assert not bar.holds(date(2027, 3, 29), 7)


def test_breeding_tells_when_mares_foal_and_a_spread_widens_the_days() -> None:
    fescue = replace(HAY, species="tall fescue")
    bred = mares_at(fescue, calving_on=None, breeding_on=date(2026, 4, 19))
    assert bars(bred)[0].spans[0] == (date(2026, 12, 24), date(2027, 3, 26))
    wide = mares_at(fescue, calving_spread_days=60)
    assert bars(wide)[0].holds(date(2026, 11, 25), 1)


@pytest.mark.parametrize(
    ("species", "ppb", "kept"),
    [
        ("tall fescue", None, True),
        ("tall fescue", 50.0, True),
        ("tall fescue", 0.0, False),
        ("endophyte-free tall fescue", None, False),
        ("orchardgrass", None, False),
    ],
)
def test_fescue_without_ergovaline_is_no_danger_to_mares(
    species: str, ppb: float | None, kept: bool
) -> None:
    lot = replace(HAY, species=species)
    tested = (Analyte("ergovaline", ppb, "ppb", Basis.DRY_MATTER),)
    reports = () if ppb is None else (Report("r", "hay", tested),)
    assert bool(bars(mares_at(lot, *reports))) is kept


def test_a_bar_of_several_groups_is_told_once() -> None:
    horses = Group("h", "Horses", AnimalClass.HORSE, 2, 500.0)
    farm = Farm("Home", SEASON, groups=(horses, replace(horses, group_id="k", name="Ponies")))
    told = [one.sentence for one in all_cautions(replace(farm, feeds=(MEDICATED,)))]
    assert sum("ionophore, which kills" in one for one in told) == 1
    assert any("out of reach of Horses and Ponies" in one for one in told)


def test_hay_that_no_stock_of_the_farm_may_have_is_told_so_when_it_is_read() -> None:
    """Sorghum is for no horse: what it would be worth to cows is no answer to who keeps horses."""
    sorghum = replace(HAY, forage=Forage.SUMMER_ANNUAL, species="sorghum-sudan")
    (reading,) = read_lots(farm_of(AnimalClass.HORSE, lots=(sorghum,))).readings
    assert reading.headline.endswith("No stock here may have it.")
    assert "cows" not in f"{reading.headline} {reading.lacks} {reading.suits}"
    assert any("sorghum-horses" in one.rules for one in reading.cautions)
    groups = tuple(
        Group(kind.value, kind.value, kind, 5, 450.0)
        for kind in (AnimalClass.HORSE, AnimalClass.BULL)
    )
    (beside,) = read_lots(farm_of(AnimalClass.HORSE, lots=(sorghum,), groups=groups)).readings
    assert "No stock here" not in beside.headline
    assert "cows" in f"{beside.headline} {beside.lacks} {beside.suits}"


def test_a_score_that_may_be_of_five_is_asked_about() -> None:
    def told(kind: AnimalClass, score: float | None) -> list[str]:
        group = Group("g", "The group", kind, 5, 70.0, condition_score=score)
        farm = farm_of(kind, lots=(), feeds=(), groups=(group,))
        return [one.sentence for one in cautions(farm) if "scale from 1 to 9" in one.sentence]

    (said,) = told(AnimalClass.EWE, 3.0)
    assert said.endswith("If it was scored from 1 to 5, write 5 instead.")
    assert not told(AnimalClass.EWE, 5.5)
    assert not told(AnimalClass.EWE, None)
    assert not told(AnimalClass.HORSE, 3.0)
