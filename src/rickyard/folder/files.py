"""Every file of a farm folder and its columns, as data.

The reader, the writer, the messages and the tables of ``docs/farm-folder.md`` all come from
what is written here; ``reports.csv`` adds columns for the analytes (see ``analytes``).
"""

from __future__ import annotations

from typing import Final

from rickyard import farm
from rickyard.folder import limits, limits_season
from rickyard.folder.columns import (
    Column,
    Table,
    day,
    flag,
    ident,
    number,
    per_bale,
    quantity,
    share,
    text,
    whole,
    word,
)
from rickyard.folder.files_feeding import FED, FEEDS, NEEDS, WISHES
from rickyard.folder.files_yard import LABS, MOVES

LOTS: Final = Table(
    "lots.csv",
    "one lot of hay: one field, one cutting, one way of storing",
    True,
    (
        ident("lot", "lot_id", "short name of the lot, as on its flag"),
        text("name", "what people call it", required=True),
        word("forage", "forage", farm.Forage, "what it is made of", required=True),
        text("species", "the plants, in your own words"),
        word("maturity", "maturity", farm.Maturity, "how far it had grown when it was cut"),
        word("package", "package", farm.Package, "how it is put up", required=True),
        word("storage", "storage", farm.Storage, "where it stands", required=True),
        word("wrap", "wrap", farm.Wrap, "what holds a round bale together"),
        number("bales", "bales on the day they were counted", limits.BALES, required=True),
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
        text("field", "where it grew", "field_name"),
        whole("cutting", "first cutting is 1", limits.CUTTING),
        day("baled_on", "day it was baled", required=True),
        day("counted_on", "day the bales were counted", required=True),
        quantity(
            "value",
            "value_usd_per_kg",
            "price",
            "what the hay would bring as fed, in the yard",
            limits.HAY_VALUE,
        ),
        per_bale(
            "value_usd_per_bale",
            "value_usd_per_kg",
            "dollars per bale, in place of value; needs bale_weight",
            limits.VALUE_PER_BALE,
        ),
        quantity(
            "sale",
            "sale_usd_per_kg",
            "price",
            "what a buyer would pay as fed on the first day of the season; blank is not for sale",
            limits.HAY_VALUE,
        ),
        per_bale(
            "sale_usd_per_bale",
            "sale_usd_per_kg",
            "dollars per bale, in place of sale; needs bale_weight",
            limits.VALUE_PER_BALE,
        ),
        flag("rained_on", "was rained on after it was cut"),
        flag("drought", "grew in a drought"),
        flag("frosted", "was cut after a frost"),
        quantity(
            "highest_temperature",
            "highest_temperature_c",
            "temperature",
            "hottest reading inside a bale or stack",
            limits.HAY_TEMPERATURE,
        ),
        flag("heavy_nitrogen", "had much nitrogen shortly before it was cut"),
        flag("flooded", "was flooded"),
        flag("weedy", "holds weeds"),
        text("preservative", "what was put on at baling"),
        quantity(
            "baled_moisture",
            "baled_moisture_pct",
            "percent",
            "moisture when it was baled",
            limits.MOISTURE,
        ),
        whole("bales_weighed", "how many bales the mean weight is of", limits.WEIGHED),
        quantity(
            "bale_weight_sd",
            "bale_weight_sd_kg",
            "mass",
            "standard deviation of those weights from bale to bale",
            limits.WEIGHT_SD,
        ),
        number("bales_reachable", "bales that a probe can reach", limits.BALES),
        day("feed_from", "first day it may be fed"),
        day("feed_by", "last day it may be fed"),
        text("note", "anything else"),
    ),
    ("lot_id",),
)

REPORTS: Final = Table(
    "reports.csv",
    "one laboratory report on one sample of one lot",
    True,
    (
        ident("report", "report_id", "short name of the report"),
        ident("lot", "lot_id", "the lot that was sampled, as in lots.csv"),
        day("sampled_on", "day the cores were taken"),
        day("reported_on", "day printed on the report"),
        text("lab", "name of the laboratory"),
        text("lab_no", "the laboratory's number of the sample"),
        text("method", "NIR or wet chemistry, for every value of the report"),
        text("tdn_method", "how the laboratory computed TDN, as it says"),
        whole("cores", "cores in the sample", limits.CORES),
        text("source", "the laboratory's file in the folder sources, and its SHA-256"),
    ),
    ("report_id",),
)

GROUPS: Final = Table(
    "groups.csv",
    "one group of animals that eat together",
    True,
    (
        ident("group", "group_id", "short name of the group"),
        text("name", "what people call it", required=True),
        word("class", "animal_class", farm.AnimalClass, "what they are", required=True),
        whole("head", "how many", limits.HEAD, required=True),
        quantity(
            "weight",
            "weight_kg",
            "mass",
            "mean weight of one head when the season starts",
            limits.ANY_HEAD_WEIGHT,
            required=True,
        ),
        flag("weight_is_shrunk", "weighed after a night without feed and water", False),
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
        number("condition_score", "body condition, 1 to 9", limits.CONDITION),
        word("sex", "sex", farm.Sex, "sex of growing stock"),
        number("age_months", "age when the season starts", limits.AGE),
        day("calving_on", "mean day of calving, lambing, kidding, foaling or birth"),
        day("weaning_on", "day the calves are weaned; before calving, those of the year before"),
        day("breeding_on", "mean day of breeding"),
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
        day("target_on", "day of the target weight or condition"),
        number("activity_factor", "1 in a lot, more on hills", limits.FACTOR),
        number("breed_factor", "maintenance of the breed, 1 for most", limits.FACTOR),
        word("feeder", "feeder", farm.Feeder, "how hay is offered"),
        share("feeding_loss", "share of the hay offered that is wasted, if known", limits.LOSS),
        day("from_on", "first day in the group, if later than the season's start"),
        day("to_on", "first day no longer in the group, if before the season's end"),
        quantity(
            "least_forage",
            "least_forage_pct_bw",
            "percent",
            "least forage dry matter, percent of live weight",
            limits.FORAGE_SHARE,
            tail="_bw",
        ),
        word("breed", "breed", farm.BeefBreed, "breed of cattle, for what is not given itself"),
        word("crossed_with", "crossed_with", farm.BeefBreed, "the other parent breed of a cross"),
        whole(
            "calving_spread_days",
            "days from the first calving to the last, around calving_on",
            limits.CALVING_SPREAD,
        ),
        number(
            "target_condition_score",
            "body condition of cows wanted on target_on, 1 to 9",
            limits.CONDITION,
        ),
        word("coat", "coat", farm.Coat, "their coat when dry, for a rule of cold"),
        word("hide", "hide", farm.Hide, "their hide, for the factorial rule of cold"),
        word("mud", "mud", farm.Mud, "the mud they wear, for a rule of cold"),
        quantity(
            "mud_depth",
            "mud_depth_cm",
            "length",
            "depth of the mud they stand in, for intake_by_weather",
            limits.MUD_DEPTH,
            field_unit="cm",
        ),
        flag("windbreak", "whether they stand behind a windbreak", False),
        word("panting", "panting", farm.Panting, "how they breathe in heat"),
        number("young", "lambs or kids that a mother bears and raises, 1 to 3", limits.YOUNG),
        word("work", "work", farm.Work, "the work of horses"),
        whole(
            "hays_at_once",
            "most hays fed in a period, in place of the season's",
            limits_season.HAYS_AT_ONCE,
        ),
        number(
            "assurance_pct",
            "chance that protein and energy are enough, in place of the season's",
            limits_season.ASSURANCE,
        ),
        whole("feed_every_days", "days from one feeding of hay to the next", limits_season.EVERY),
        whole(
            "change_over_days",
            "days over which another hay is mixed in; blank only shows the change",
            limits_season.CHANGE_OVER,
        ),
        text("note", "anything else"),
    ),
    ("group_id",),
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

#: Every file of a farm folder beside ``farm.toml``, in the order in which faults are told.
TABLES: Final = (LOTS, REPORTS, GROUPS, FEEDS, NEEDS, WEATHER, FED, MOVES, LABS, WISHES)
