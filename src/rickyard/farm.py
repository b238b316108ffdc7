"""The plain objects of a farm: lots, reports, groups, feeds, season.

Everything speaks these: the folder reader makes them, the science reads them, the season
program is solved from them. They are frozen, know no database and no screen, and hold
canonical units (see ``quantities``). ``None`` always means "not known", never zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from rickyard.kinds import (
    AnimalClass,
    Basis,
    BeefBreed,
    Care,
    Coat,
    ColdRule,
    Feeder,
    FeedKind,
    Forage,
    Hide,
    Maturity,
    MoveKind,
    Mud,
    Offered,
    Package,
    Panting,
    Sex,
    Storage,
    Wanted,
    WindChill,
    Winter,
    Work,
    Wrap,
)
from rickyard.tables import Tabular, counted

__all__ = [
    "Analyte",
    "AnimalClass",
    "Assumption",
    "Basis",
    "BeefBreed",
    "Care",
    "Caution",
    "Coat",
    "ColdRule",
    "Farm",
    "FedRow",
    "Feed",
    "FeedKind",
    "Feeder",
    "Forage",
    "Group",
    "Hide",
    "LabPackage",
    "Lot",
    "Maturity",
    "MoveKind",
    "MoveRow",
    "Mud",
    "Offered",
    "Package",
    "Panting",
    "Report",
    "Season",
    "Sex",
    "StackRow",
    "StatedNeed",
    "Storage",
    "Wanted",
    "WeatherRow",
    "WindChill",
    "Winter",
    "WishRow",
    "Work",
    "Wrap",
]


@dataclass(frozen=True, slots=True)
class Analyte:
    """One value on a laboratory report, exactly as the laboratory printed it.

    ``value`` is in ``unit`` on ``basis``; it is ``None`` when the laboratory printed a
    non-number such as ``ND``. ``censored`` is ``"<"`` or ``">"`` when the laboratory printed
    a limit. Nitrate is named by its form: ``nitrate_no3n``, ``nitrate_no3``,
    ``nitrate_kno3``, or plain ``nitrate`` when the form is not stated.
    """

    name: str
    value: float | None
    unit: str
    basis: Basis
    method: str = ""
    text: str = ""
    censored: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """A laboratory report on one sample of one lot.

    ``source`` names the laboratory's own file in the folder ``sources`` and its SHA-256.
    """

    report_id: str
    lot_id: str
    analytes: tuple[Analyte, ...]
    sampled_on: date | None = None
    reported_on: date | None = None
    lab: str = ""
    lab_no: str = ""
    tdn_method: str = ""
    cores: int | None = None
    source: str = ""

    def get(self, name: str) -> Analyte | None:
        """Return the analyte of that name, or ``None`` when the report has none."""
        return next((analyte for analyte in self.analytes if analyte.name == name), None)


@dataclass(frozen=True, slots=True)
class Lot:
    """Hay that is sampled, stored, priced and fed as one thing.

    ``bale_weight_kg`` is the mean weight as fed on ``counted_on``; when it is unknown the
    dimensions and a density stand in; ``bale_weight_sd_kg`` is the spread of the
    ``bales_weighed`` from bale to bale. ``value_usd_per_kg`` is what the hay would bring as
    fed, in the yard; ``sale_usd_per_kg`` is what a buyer would pay for it as fed on the first day
    of the season, and ``None`` where it is not for sale. ``latest_temperature_c`` is what was read
    inside it on a later day than the hottest. What happened to it, from ``rained_on`` to
    ``stone_fruit_leaves``, decides which hazards are looked for.
    """

    lot_id: str
    name: str
    forage: Forage
    package: Package
    storage: Storage
    bales: float
    baled_on: date
    counted_on: date
    species: str = ""
    field_name: str = ""
    cutting: int | None = None
    wrap: Wrap | None = None
    bale_weight_kg: float | None = None
    bale_diameter_m: float | None = None
    bale_width_m: float | None = None
    bale_length_m: float | None = None
    bale_height_m: float | None = None
    dm_pct: float | None = None
    value_usd_per_kg: float | None = None
    rained_on: bool | None = None
    drought: bool | None = None
    frosted: bool | None = None
    highest_temperature_c: float | None = None
    latest_temperature_c: float | None = None
    feed_by: date | None = None
    feed_from: date | None = None
    note: str = ""
    heavy_nitrogen: bool | None = None
    flooded: bool | None = None
    weedy: bool | None = None
    dusty: bool | None = None
    blister_beetles: bool | None = None
    stone_fruit_leaves: bool | None = None
    preservative: str = ""
    baled_moisture_pct: float | None = None
    bales_weighed: int | None = None
    bale_weight_sd_kg: float | None = None
    bales_reachable: float | None = None
    maturity: Maturity | None = None
    sale_usd_per_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """Animals that eat together.

    ``weight_kg`` is the mean weight at the start of the season, or on ``from_on`` when that is
    later, full or shrunk as ``weight_is_shrunk`` says, without the conceptus; ``age_months`` is
    the age on the same day.
    ``gain_kg_per_day`` is the wanted daily gain of growing stock (shrunk); ``target_weight_kg``
    by ``target_on`` may be given instead, and for cows ``target_condition_score``.
    ``calving_on`` is the mean day; ``calving_spread_days`` runs from the first calving to the
    last. Of sheep, goats, horses and llamas it is the day of lambing, kidding, foaling or birth,
    and ``young`` is how many of them a mother bears and raises. ``coat``, ``hide``, ``mud`` and
    ``windbreak`` count only under a rule of cold, ``work`` and
    ``care`` only for horses.

    ``hays_at_once`` and ``assurance_pct`` take the place of the season's; hay is put out every
    ``feed_every_days``; another hay is mixed in over ``change_over_days``, and where that is
    ``None`` the change is only shown. ``offered`` says whether they have as much hay as they like;
    where it is ``None`` the feeder and the class decide. ``hours_at_hay`` is how long a day cattle
    are let to it, all day where that is ``None``. ``rations_at_most``, ``least_ration_days``,
    ``things_in_ration`` and ``week_may_lack_pct`` take the place of the season's.
    """

    group_id: str
    name: str
    animal_class: AnimalClass
    head: int
    weight_kg: float
    weight_is_shrunk: bool = False
    mature_weight_kg: float | None = None
    finish_weight_kg: float | None = None
    condition_score: float | None = None
    sex: Sex | None = None
    age_months: float | None = None
    calving_on: date | None = None
    weaning_on: date | None = None
    breeding_on: date | None = None
    peak_milk_kg_per_day: float | None = None
    calf_birth_weight_kg: float | None = None
    gain_kg_per_day: float | None = None
    target_weight_kg: float | None = None
    target_on: date | None = None
    activity_factor: float | None = None
    breed_factor: float | None = None
    feeder: Feeder | None = None
    feeding_loss_pct: float | None = None
    from_on: date | None = None
    to_on: date | None = None
    least_forage_pct_bw: float | None = None
    breed: BeefBreed | None = None
    crossed_with: BeefBreed | None = None
    calving_spread_days: int | None = None
    target_condition_score: float | None = None
    coat: Coat | None = None
    hide: Hide | None = None
    mud: Mud | None = None
    mud_depth_cm: float | None = None
    windbreak: bool = False
    panting: Panting | None = None
    young: float | None = None
    work: Work | None = None
    note: str = ""
    hays_at_once: int | None = None
    assurance_pct: float | None = None
    feed_every_days: int | None = None
    change_over_days: int | None = None
    care: Care | None = None
    offered: Offered | None = None
    hours_at_hay: float | None = None
    rations_at_most: int | None = None
    least_ration_days: int | None = None
    things_in_ration: int | None = None
    week_may_lack_pct: float | None = None


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed that can be bought. Nutrients are percent of dry matter.

    ``table_id`` names a row of the shipped feed table from which unknown values are taken.
    ``price_usd_per_kg`` is as fed and delivered. ``most_kg`` is the most that can be bought
    in the season, as fed; ``most_kg_per_head_day`` the most fed to one head, as fed, and
    ``least_kg_per_head_day`` what every head gets of a mineral that is always on offer.
    ``copper_ppm``, ``selenium_ppm`` and the vitamins are of dry matter; ``ionophore`` says whether
    it holds one. It can be fed from ``from_on`` until the day before ``to_on``, as grazing and
    stockpiled forage must be, and is bought in whole loads of ``load_kg`` as fed where those are
    given. ``same_as`` is the id of the feed of which this is a later purchase: to the stock both
    are one feed. ``measure`` is what it is measured out with, as a scoop, a bucket or a sack, and
    ``measure_kg`` what one of them holds as fed.
    """

    feed_id: str
    name: str
    kind: FeedKind
    price_usd_per_kg: float
    table_id: str = ""
    dm_pct: float | None = None
    tdn_pct: float | None = None
    cp_pct: float | None = None
    ndf_pct: float | None = None
    ca_pct: float | None = None
    p_pct: float | None = None
    nitrate_no3n_ppm: float | None = None
    npn_cp_pct: float | None = None
    most_kg: float | None = None
    most_kg_per_head_day: float | None = None
    least_kg_per_head_day: float | None = None
    feeding_loss_pct: float | None = None
    bale_weight_kg: float | None = None
    copper_ppm: float | None = None
    ionophore: bool | None = None
    note: str = ""
    starch_pct: float | None = None
    fat_pct: float | None = None
    sulfur_pct: float | None = None
    from_on: date | None = None
    to_on: date | None = None
    load_kg: float | None = None
    magnesium_pct: float | None = None
    selenium_ppm: float | None = None
    vitamin_a_iu_per_kg: float | None = None
    vitamin_e_iu_per_kg: float | None = None
    same_as: str = ""
    potassium_pct: float | None = None
    measure: str = ""
    measure_kg: float | None = None

    @property
    def known_as(self) -> str:
        """Return the id under which stock know it."""
        return self.same_as or self.feed_id


@dataclass(frozen=True, slots=True)
class Caution:
    """Something that can hurt an animal or a person, or spoil the program.

    ``level`` is ``danger``, ``warning`` or ``note``; ``about`` is the id of a lot, feed or
    group, or empty for the whole farm. ``rules`` names the rules of safety that it tells of.
    ``groups`` are the ids of those it is for, none where it is for all stock; ``sources`` the lots
    and feeds that it tells of, none where it holds whatever is fed. Who reads it is decided by
    these ids: a group may be called "sheep", and any sentence may hold that word. It holds from
    ``start`` until the day before ``end``, where they are given.
    """

    level: Literal["danger", "warning", "note"]
    about: str
    sentence: str
    source: str
    rules: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    start: date | None = None
    end: date | None = None

    def holds(self, first: date, end: date) -> bool:
        """Say whether it holds on any day from a first until the day before another."""
        return (self.start is None or self.start < end) and (self.end is None or first < self.end)


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something the program took for granted, with its source."""

    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class Season:
    """The span to plan and the choices that hold for the whole farm.

    ``start`` is the first day fed and ``end`` the first day no longer fed. ``period_days`` is
    the length of a planning period. ``carry_over_value_pct`` is what hay left at the end is
    worth, as a percentage of its value now; unless stated it is what a further year of storage
    leaves, on the mean of six ways to store it (derived from Huhnke, BAE-1716).
    ``simpler_for_pct`` is how much dearer than the cheapest the program may be, in percent, so
    that it is easier to follow. ``acclimatise`` lets maintenance follow last month's temperature;
    ``cold_rule`` counts the cold of days, and the percent rule never stands beside
    ``acclimatise``. ``grain_on_hay`` counts what concentrate does to the hay beside
    it. ``intake_by_weather`` lets appetite follow temperature and mud,
    ``maintenance_by_condition`` maintenance the
    condition score.

    No group is fed more than ``hays_at_once`` lots of hay in a period; a hay once begun is fed
    for ``least_run_days`` at least, no less of it than ``least_serving_pct_bw`` of live weight as
    dry matter a day, and beginning another after the first costs ``change_usd``. Hay for
    ``reserve_days`` is left at the end, and no more than ``cash_limit_usd`` is spent on feed.
    A program of rations has at most ``rations_at_most`` of them for a group, none shorter than
    ``least_ration_days`` and none of more than ``things_in_ration`` things beside mineral; a single
    week may lack ``week_may_lack_pct`` of energy and protein while the mean of its ration is met.
    ``assurance_pct`` is the chance with which each group's protein and energy are to be enough,
    as far as lots are not known exactly; ``None`` counts on the means alone.
    ``water_sulfate_ppm`` is mg per litre of sulfate in the water they drink, and
    ``water_nitrate_no3n_ppm`` and ``water_nitrate_no3_ppm`` of its nitrate, in the form the report
    gives. Whether the winter
    is mild, normal or severe is known on ``winter_known_on``; what is bought from that day on
    costs ``late_price_pct`` more. Weights and ages of groups are those of ``weighed_on``, or of
    ``start`` where that is ``None``; stock eat ``intake_pct`` of what the equations expect.
    """

    start: date
    end: date
    period_days: int = 7
    rainfall_mm_per_year: float | None = None
    carry_over_value_pct: float = 90.0
    least_forage_pct_bw: float | None = None
    intake_calibrated: bool = True
    acclimatise: bool = False
    cold_rule: ColdRule = ColdRule.NONE
    wind_chill: WindChill = WindChill.CATTLE
    winter: Winter = Winter.AS_GIVEN
    intake_by_weather: bool = False
    maintenance_by_condition: bool = False
    least_ca_to_p: float | None = None
    grain_on_hay: bool = True
    simpler_for_pct: float = 0.0
    hays_at_once: int | None = None
    least_run_days: int | None = None
    rations_at_most: int | None = None
    least_ration_days: int | None = None
    things_in_ration: int | None = None
    week_may_lack_pct: float = 3.0
    change_usd: float = 0.0
    least_serving_pct_bw: float = 0.25
    reserve_days: float | None = None
    cash_limit_usd: float | None = None
    assurance_pct: float | None = None
    water_sulfate_ppm: float | None = None
    water_nitrate_no3n_ppm: float | None = None
    water_nitrate_no3_ppm: float | None = None
    winter_known_on: date | None = None
    mild_chance_pct: float = 25.0
    severe_chance_pct: float = 25.0
    late_price_pct: float = 0.0
    weighed_on: date | None = None
    intake_pct: float = 100.0


@dataclass(frozen=True, slots=True)
class StatedNeed:
    """A need that a specialist states himself, per head and day, in place of the computed one.

    What is ``None`` is not constrained.
    """

    group_id: str
    start: date
    end: date
    nem_mcal: float | None = None
    tdn_kg: float | None = None
    cp_kg: float | None = None
    ca_kg: float | None = None
    p_kg: float | None = None
    least_dm_kg: float | None = None
    most_dm_kg: float | None = None


@dataclass(frozen=True, slots=True)
class WeatherRow:
    """A day, or a month's normal when ``day`` is its first day and ``monthly`` is set."""

    day: date
    monthly: bool
    mean_temperature_c: float | None = None
    wind_km_per_h: float | None = None
    precipitation_mm: float | None = None


@dataclass(frozen=True, slots=True)
class FedRow:
    """What was really fed: bales or a mass, as fed, of a lot or feed, to a group."""

    day: date
    source_id: str
    group_id: str
    bales: float | None = None
    mass_kg: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class MoveRow:
    """A line of the yard's book: what happened to bales of a lot on a day.

    ``bales`` or ``mass_kg`` as fed, or both, say how much. ``to_lot_id`` is the lot that bales
    are moved into. ``named`` is who answers for a correction, which alone may be negative.
    """

    day: date
    lot_id: str
    kind: MoveKind
    bales: float | None = None
    mass_kg: float | None = None
    to_lot_id: str = ""
    named: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class LabPackage:
    """What a laboratory sells for one price: its tests, by the names of analytes."""

    lab: str
    package: str
    price_usd: float
    tests: str
    chemistry: str = ""
    working_days: int | None = None
    note: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """Return the tests, one name each."""
        return tuple(self.tests.replace(",", " ").replace(";", " ").casefold().split())


@dataclass(frozen=True, slots=True)
class WishRow:
    """What a person wants of a season program, as a row says it.

    Of a lot or feed the group is to be fed some (``feed``), none (``keep_off``), or just
    ``as_fed_kg_per_head_day`` with its water (``amount``). It holds from ``start`` until the day
    before ``end``; ``None`` means the season's own day, an empty ``group_id`` every group.
    """

    wish: Wanted
    source_id: str
    group_id: str = ""
    start: date | None = None
    end: date | None = None
    as_fed_kg_per_head_day: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class StackRow:
    """Where the bales of a lot stand in the yard, seen from above.

    ``east_m`` and ``north_m`` are the middle of the stack, from the southwest corner of the yard.
    Its rows run north and are turned clockwise by ``turn_deg``. ``wide`` rows stand side by side,
    ``gap_m`` apart where they do not touch, ``high`` bales on each other; how long it is follows
    from the bales of the lot.
    """

    lot_id: str
    east_m: float
    north_m: float
    turn_deg: float
    wide: int
    high: int
    gap_m: float | None = None


@dataclass(frozen=True, slots=True, repr=False)
class Farm(Tabular):
    """A whole farm as one value."""

    name: str
    season: Season
    lots: tuple[Lot, ...] = ()
    reports: tuple[Report, ...] = ()
    groups: tuple[Group, ...] = ()
    feeds: tuple[Feed, ...] = ()
    needs: tuple[StatedNeed, ...] = ()
    weather: tuple[WeatherRow, ...] = ()
    fed: tuple[FedRow, ...] = ()
    place: str = ""
    units: str = "us"
    note: str = ""
    moves: tuple[MoveRow, ...] = ()
    labs: tuple[LabPackage, ...] = ()
    country: str = ""
    wishes: tuple[WishRow, ...] = ()
    stacks: tuple[StackRow, ...] = ()

    def lot(self, lot_id: str) -> Lot:
        """Return the lot of that id; a ``KeyError`` names an id that no lot has."""
        for lot in self.lots:
            if lot.lot_id == lot_id:
                return lot
        raise KeyError(lot_id)

    def group(self, group_id: str) -> Group:
        """Return the group of that id; a ``KeyError`` names an id that no group has."""
        for group in self.groups:
            if group.group_id == group_id:
                return group
        raise KeyError(group_id)

    def reports_of(self, lot_id: str) -> tuple[Report, ...]:
        """Return the reports on a lot, newest first; undated reports come last."""
        mine = [report for report in self.reports if report.lot_id == lot_id]
        return tuple(
            sorted(
                mine,
                key=lambda report: report.reported_on or report.sampled_on or date.min,
                reverse=True,
            )
        )

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("", self.name),
            ("season", f"{self.season.start} to {self.season.end}"),
            ("", counted(len(self.lots), "lot")),
            ("", counted(len(self.reports), "report")),
            ("", counted(len(self.groups), "group")),
            ("", counted(len(self.feeds), "feed")),
        )
