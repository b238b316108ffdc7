"""Every file of a farm folder and its columns, as data.

The reader, the writer, the messages and the tables of ``docs/farm-folder.md`` all come from
what is written here; ``reports.csv`` adds columns for the analytes (see ``analytes``).
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from rickyard import farm
from rickyard.folder import limits
from rickyard.folder.columns import Column, Table, quantity
from rickyard.folder.files_yard import LABS, MOVES
from rickyard.folder.limits import Limit


def _text(name: str, means: str, field: str = "", *, required: bool = False) -> Column:
    return Column(name, field or name, "text", means, required=required, blank="")


def _id(name: str, field: str, means: str, *, required: bool = True) -> Column:
    return Column(name, field, "id", means, required=required, blank=None if required else "")


def _word(
    name: str, field: str, words: type[StrEnum], means: str, *, required: bool = False
) -> Column:
    return Column(name, field, "word", means, required=required, words=words)


def _flag(name: str, means: str, blank: bool | None = None) -> Column:
    return Column(name, name, "flag", means, blank=blank)


def _number(name: str, means: str, limit: Limit, *, required: bool = False) -> Column:
    return Column(name, name, "number", means, required=required, limit=limit)


def _whole(name: str, means: str, limit: Limit, *, required: bool = False) -> Column:
    return Column(name, name, "whole", means, required=required, limit=limit)


def _date(name: str, means: str, field: str = "", *, required: bool = False) -> Column:
    return Column(name, field or name, "date", means, required=required)


def _share(name: str, means: str, limit: Limit = limits.PERCENT) -> Column:
    return quantity(name, f"{name}_pct", "percent", means, limit)


LOTS: Final = Table(
    "lots.csv",
    "one lot of hay: one field, one cutting, one way of storing",
    True,
    (
        _id("lot", "lot_id", "short name of the lot, as on its flag"),
        _text("name", "what people call it", required=True),
        _word("forage", "forage", farm.Forage, "what it is made of", required=True),
        _text("species", "the plants, in your own words"),
        _word("maturity", "maturity", farm.Maturity, "how far it had grown when it was cut"),
        _word("package", "package", farm.Package, "how it is put up", required=True),
        _word("storage", "storage", farm.Storage, "where it stands", required=True),
        _word("wrap", "wrap", farm.Wrap, "what holds a round bale together"),
        _number("bales", "bales on the day they were counted", limits.BALES, required=True),
        quantity(
            "bale_weight",
            "bale_weight_kg",
            "mass",
            "mean weight of one bale as fed; of one load of loose hay",
            limits.ANY_BALE_WEIGHT,
        ),
        quantity(
            "bale_diameter",
            "bale_diameter_m",
            "length",
            "diameter of a round bale",
            limits.ROUND_SIZE,
        ),
        quantity(
            "bale_width",
            "bale_width_m",
            "length",
            "width of a bale; of a round bale the width of the pickup",
            limits.BALE_SIDE,
        ),
        quantity(
            "bale_length", "bale_length_m", "length", "length of a square bale", limits.BALE_SIDE
        ),
        quantity(
            "bale_height", "bale_height_m", "length", "height of a square bale", limits.BALE_SIDE
        ),
        quantity("dm", "dm_pct", "percent", "dry matter of the hay as fed", limits.LOT_DM),
        quantity(
            "moisture",
            "dm_pct",
            "percent",
            "moisture of the hay as fed, in place of dm_pct",
            limits.MOISTURE,
            counts="rest_of_100",
        ),
        _text("field", "where it grew", "field_name"),
        _whole("cutting", "first cutting is 1", limits.CUTTING),
        _date("baled_on", "day it was baled", required=True),
        _date("counted_on", "day the bales were counted", required=True),
        quantity(
            "value",
            "value_usd_per_kg",
            "price",
            "what the hay would bring as fed, in the yard",
            limits.HAY_VALUE,
        ),
        Column(
            "value_usd_per_bale",
            "value_usd_per_kg",
            "number",
            "dollars per bale, in place of value; needs bale_weight",
            limit=limits.VALUE_PER_BALE,
            counts="per_bale",
        ),
        _flag("rained_on", "was rained on after it was cut"),
        _flag("drought", "grew in a drought"),
        _flag("frosted", "was cut after a frost"),
        quantity(
            "highest_temperature",
            "highest_temperature_c",
            "temperature",
            "hottest reading inside a bale or stack",
            limits.HAY_TEMPERATURE,
        ),
        _flag("heavy_nitrogen", "had much nitrogen shortly before it was cut"),
        _flag("flooded", "was flooded"),
        _flag("weedy", "holds weeds"),
        _text("preservative", "what was put on at baling"),
        quantity(
            "baled_moisture",
            "baled_moisture_pct",
            "percent",
            "moisture when it was baled",
            limits.MOISTURE,
        ),
        _whole("bales_weighed", "how many bales the mean weight is of", limits.WEIGHED),
        quantity(
            "bale_weight_sd",
            "bale_weight_sd_kg",
            "mass",
            "standard deviation of those weights from bale to bale",
            limits.WEIGHT_SD,
        ),
        _number("bales_reachable", "bales that a probe can reach", limits.BALES),
        _date("feed_from", "first day it may be fed"),
        _date("feed_by", "last day it may be fed"),
        _text("note", "anything else"),
    ),
    ("lot_id",),
)

REPORTS: Final = Table(
    "reports.csv",
    "one laboratory report on one sample of one lot",
    True,
    (
        _id("report", "report_id", "short name of the report"),
        _id("lot", "lot_id", "the lot that was sampled, as in lots.csv"),
        _date("sampled_on", "day the cores were taken"),
        _date("reported_on", "day printed on the report"),
        _text("lab", "name of the laboratory"),
        _text("lab_no", "the laboratory's number of the sample"),
        _text("method", "NIR or wet chemistry, for every value of the report"),
        _text("tdn_method", "how the laboratory computed TDN, as it says"),
        _whole("cores", "cores in the sample", limits.CORES),
    ),
    ("report_id",),
)

GROUPS: Final = Table(
    "groups.csv",
    "one group of animals that eat together",
    True,
    (
        _id("group", "group_id", "short name of the group"),
        _text("name", "what people call it", required=True),
        _word("class", "animal_class", farm.AnimalClass, "what they are", required=True),
        _whole("head", "how many", limits.HEAD, required=True),
        quantity(
            "weight",
            "weight_kg",
            "mass",
            "mean weight of one head when the season starts",
            limits.ANY_HEAD_WEIGHT,
            required=True,
        ),
        _flag("weight_is_shrunk", "weighed after a night without feed and water", False),
        quantity(
            "mature_weight",
            "mature_weight_kg",
            "mass",
            "weight of one head full grown, in moderate condition",
            limits.GROWN_WEIGHT,
        ),
        quantity(
            "finish_weight",
            "finish_weight_kg",
            "mass",
            "weight at which they would be finished",
            limits.GROWN_WEIGHT,
        ),
        _number("condition_score", "body condition, 1 to 9", limits.CONDITION),
        _word("sex", "sex", farm.Sex, "sex of growing stock"),
        _number("age_months", "age when the season starts", limits.AGE),
        _date("calving_on", "mean day of calving, lambing, kidding, foaling or birth"),
        _date("weaning_on", "day the calves are weaned; before calving, those of the year before"),
        _date("breeding_on", "mean day of breeding"),
        quantity(
            "peak_milk",
            "peak_milk_kg_per_day",
            "mass_per_day",
            "milk of one cow on her best day",
            limits.PEAK_MILK,
        ),
        quantity(
            "calf_birth_weight",
            "calf_birth_weight_kg",
            "mass",
            "weight of a calf at birth",
            limits.BIRTH_WEIGHT,
        ),
        quantity(
            "gain",
            "gain_kg_per_day",
            "mass_per_day",
            "wanted gain of growing stock",
            limits.GAIN,
        ),
        quantity(
            "target_weight",
            "target_weight_kg",
            "mass",
            "weight wanted on target_on, in place of gain",
            limits.TARGET_WEIGHT,
        ),
        _date("target_on", "day of the target weight or condition"),
        _number("activity_factor", "1 in a lot, more on hills", limits.FACTOR),
        _number("breed_factor", "maintenance of the breed, 1 for most", limits.FACTOR),
        _word("feeder", "feeder", farm.Feeder, "how hay is offered"),
        _share("feeding_loss", "share of the hay offered that is wasted, if known", limits.LOSS),
        _date("from_on", "first day in the group, if later than the season's start"),
        _date("to_on", "first day no longer in the group, if before the season's end"),
        quantity(
            "least_forage",
            "least_forage_pct_bw",
            "percent",
            "least forage dry matter, percent of live weight",
            limits.FORAGE_SHARE,
            tail="_bw",
        ),
        _word("breed", "breed", farm.BeefBreed, "breed of cattle, for what is not given itself"),
        _word("crossed_with", "crossed_with", farm.BeefBreed, "the other parent breed of a cross"),
        _whole(
            "calving_spread_days",
            "days from the first calving to the last, around calving_on",
            limits.CALVING_SPREAD,
        ),
        _number(
            "target_condition_score",
            "body condition of cows wanted on target_on, 1 to 9",
            limits.CONDITION,
        ),
        _word("coat", "coat", farm.Coat, "their coat when dry, for a rule of cold"),
        _word("hide", "hide", farm.Hide, "their hide, for the factorial rule of cold"),
        _word("mud", "mud", farm.Mud, "the mud they wear, for a rule of cold"),
        quantity(
            "mud_depth",
            "mud_depth_cm",
            "length",
            "depth of the mud they stand in, for intake_by_weather",
            limits.MUD_DEPTH,
            field_unit="cm",
        ),
        _flag("windbreak", "whether they stand behind a windbreak", False),
        _word("panting", "panting", farm.Panting, "how they breathe in heat"),
        _number("young", "lambs or kids that a mother bears and raises, 1 to 3", limits.YOUNG),
        _word("work", "work", farm.Work, "the work of horses"),
        _text("note", "anything else"),
    ),
    ("group_id",),
)

FEEDS: Final = Table(
    "feeds.csv",
    "one feed that can be bought",
    True,
    (
        _id("feed", "feed_id", "short name of the feed"),
        _text("name", "what people call it", required=True),
        _word("kind", "kind", farm.FeedKind, "what it is", required=True),
        quantity(
            "price",
            "price_usd_per_kg",
            "price",
            "price as fed, delivered",
            limits.PRICE,
            required=True,
        ),
        _id("table_id", "table_id", "row of the feed table for what is blank", required=False),
        _share("dm", "dry matter as fed", limits.FEED_DM),
        _share("tdn", "total digestible nutrients, of dry matter", limits.FEED_TDN),
        _share("cp", "crude protein, of dry matter", limits.FEED_CP),
        _share("ndf", "neutral detergent fiber, of dry matter", limits.FIBER),
        _share("ca", "calcium, of dry matter"),
        _share("p", "phosphorus, of dry matter"),
        quantity(
            "nitrate_no3n",
            "nitrate_no3n_ppm",
            "ppm",
            "nitrate as nitrogen, of dry matter",
            limits.PPM,
        ),
        _share("npn_cp", "crude protein from urea and the like, of dry matter", limits.FEED_NPN),
        quantity("most", "most_kg", "mass", "most that can be bought, as fed", limits.MOST),
        quantity(
            "most",
            "most_kg_per_head_day",
            "mass",
            "most for one head in a day, as fed",
            limits.MOST_PER_HEAD,
            tail="_per_head_day",
        ),
        quantity(
            "least",
            "least_kg_per_head_day",
            "mass",
            "what one head takes in a day of a mineral that is always on offer, as fed",
            limits.LEAST_PER_HEAD,
            tail="_per_head_day",
        ),
        _share("feeding_loss", "share of what is offered that is wasted", limits.LOSS),
        quantity(
            "bale_weight",
            "bale_weight_kg",
            "mass",
            "weight of one bale or bag",
            limits.ANY_BALE_WEIGHT,
        ),
        quantity("copper", "copper_ppm", "ppm", "copper, of dry matter; for sheep", limits.PPM),
        _flag("ionophore", "whether it holds monensin or the like, which kills horses"),
        _text("note", "anything else"),
    ),
    ("feed_id",),
)


def _need(name: str, means: str, limit: Limit) -> Column:
    return quantity(name, f"{name}_kg", "mass", means, limit)


NEEDS: Final = Table(
    "needs.csv",
    "what one head needs in a day, stated in place of the computed need",
    False,
    (
        _id("group", "group_id", "the group, as in groups.csv"),
        _date("start", "first day it holds", required=True),
        _date("end", "first day it no longer holds", required=True),
        quantity("nem", "nem_mcal", "energy", "net energy for maintenance", limits.NEED_ENERGY),
        _need("tdn", "total digestible nutrients", limits.NEED_FEED),
        _need("cp", "crude protein", limits.NEED_FEED),
        _need("ca", "calcium", limits.NEED_MINERAL),
        _need("p", "phosphorus", limits.NEED_MINERAL),
        _need("least_dm", "least dry matter", limits.NEED_FEED),
        _need("most_dm", "most dry matter", limits.NEED_FEED),
    ),
    ("group_id", "start", "end"),
)

WEATHER: Final = Table(
    "weather.csv",
    "the weather of one day, or the normal of one month",
    False,
    (
        Column(
            "day",
            "day",
            "day",
            "a day, 2026-01-15, or a month for its normal, 2026-01",
            required=True,
        ),
        quantity(
            "mean_temperature",
            "mean_temperature_c",
            "temperature",
            "mean air temperature",
            limits.AIR_TEMPERATURE,
        ),
        quantity("wind", "wind_km_per_h", "speed", "mean wind", limits.WIND),
        quantity(
            "precipitation",
            "precipitation_mm",
            "length",
            "rain and melted snow of the day or month",
            limits.RAIN,
            field_unit="mm",
        ),
    ),
    ("day",),
)

FED: Final = Table(
    "fed.csv",
    "what was really fed to one group on one day",
    False,
    (
        _date("day", "day it was fed", required=True),
        _id("source", "source_id", "the lot or feed"),
        _id("group", "group_id", "the group, as in groups.csv"),
        _number("bales", "bales fed", limits.BALES),
        quantity("mass", "mass_kg", "mass", "weight fed, as fed", limits.FED_MASS),
        _text("note", "anything else"),
    ),
    ("day", "source_id", "group_id"),
)

#: Every file of a farm folder beside ``farm.toml``, in the order in which faults are told.
TABLES: Final = (LOTS, REPORTS, GROUPS, FEEDS, NEEDS, WEATHER, FED, MOVES, LABS)
