"""Every nutrient that a season program constrains, one row each.

A row says how the nutrient is named and counted, where its need and its supply come from, and
what missing it costs. To constrain another one, give it a row here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

#: What a person would say that a nutrient is about.
Kind = Literal["energy", "protein", "minerals", "room", "hazards", "scarcity", "price", "rules"]


@dataclass(frozen=True, slots=True)
class Supply:
    """What a kilogram of dry matter brings: the field of ``SourceValues`` it is read from.

    ``scale`` turns the field into the unit that is counted, per kilogram. ``of_forage`` counts
    long forage alone. Where the program counts only dry matter or forage, ``field`` is empty.
    """

    key: str
    field: str
    scale: float = 1.0
    of_forage: bool = False


@dataclass(frozen=True, slots=True)
class Tagged:
    """A content that few reports hold: its name on a report, in the feed table and in words.

    ``unknown`` says what stands in for it in a hay of a forage that no table knows: the most or
    the least of any dry hay, whichever is the cautious side.
    """

    field: str
    analyte: str
    table_field: str
    word: str
    unknown: Literal["most", "least"] = "most"


@dataclass(frozen=True, slots=True)
class Nutrient:
    """One constrained nutrient.

    Attributes
    ----------
    key : str
        How the rows and the files name it.
    word : str
        How a sentence names it.
    unit : str
        Its unit, per head and day (of the whole farm for money and reserve).
    kind : str
        What a person would say it is about.
    shortage_usd : float or None
        Price of one missing unit per head and day, ``None`` where it cannot be missed. [USD]
    supply : str
        The `Supply` of which there must be at least so much; empty where a rule of its own holds.
    need : str
        The field of needs, computed and stated, that holds it; empty where a rule makes it.
    need_scale : float
        What turns that field into ``unit``.
    by_order : bool
        Whether its price is that of those who go short first, and higher for all who follow them.
    sentence : str
        How a sentence begins that says it holds the cost up; empty where none is told.
    too_much : bool
        Whether what is missed is that there is too much of it.
    room : bool
        Whether it is a ceiling whose price is that of more room.
    row_scale : float
        What its row is divided by, so that it is near the size of the others.
    floor_of, floor_among : str
        The `Supply` of which so much is asked of each kilogram of another, ``floor_among``;
        ``floor_of`` is empty where none is.
    """

    key: str
    word: str
    unit: str
    kind: Kind
    shortage_usd: float | None = None
    supply: str = ""
    need: str = ""
    need_scale: float = 1.0
    by_order: bool = False
    sentence: str = ""
    too_much: bool = False
    room: bool = False
    row_scale: float = 1.0
    floor_of: str = ""
    floor_among: str = "dm"


#: Grams in a kilogram of dry matter that holds one percent.
_G_PER_PCT: Final = 10.0

_SUPPLIES: Final = (
    Supply("dm", ""),
    Supply("nem", "nem_mcal_per_kg"),
    Supply("neg", "neg_mcal_per_kg"),
    Supply("tdn", "tdn_pct", 0.01),
    Supply("cp", "cp_pct", 0.01),
    Supply("ca", "ca_pct", _G_PER_PCT),
    Supply("p", "p_pct", _G_PER_PCT),
    # Of magnesium, and of the dry matter that it is known of, what is not known is left out.
    Supply("mg", "known_magnesium_pct", _G_PER_PCT),
    Supply("mg_dm", "has_known_magnesium"),
    Supply("forage", "", of_forage=True),
    Supply("ndf", "ndf_pct", 0.01, of_forage=True),
    # Fiber, and the room of it that concentrate takes.
    Supply("room", "room_ndf_pct", 0.01),
    # Unknown nitrate adds nothing to the sum; a suspect lot is barred from the group instead.
    Supply("nitrate", "nitrate_no3n_ppm"),
)

#: What a kilogram of dry matter is counted to bring, by name.
SUPPLIES: Final[Mapping[str, Supply]] = MappingProxyType({one.key: one for one in _SUPPLIES})

#: Contents that a feed may state on its tag and that only some nutrients ask for.
TAGGED: Final = (
    Tagged("starch_pct", "starch", "starch_pct", "starch"),
    Tagged("fat_pct", "ee", "ee_pct", "fat"),
    Tagged("sulfur_pct", "s", "s_pct", "sulfur"),
    Tagged("magnesium_pct", "mg", "mg_pct", "magnesium", unknown="least"),
)

# Prices of what is missing are high enough that nothing is left short which any feed on the
# farm could supply. Those of energy and protein are of the stock that a shortage harms least, and
# up to four times as high for others, by the table of the order; minerals and long forage stand as
# high for all of them as energy does for the last. Common practice, no published source.
_NUTRIENTS: Final = (
    Nutrient(
        "nem", "energy", "Mcal NEm", "energy", 10.0, "nem", "nem_mcal", by_order=True,
        sentence="Energy is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "gain_energy", "energy for the target gain", "Mcal NEm", "energy", 10.0, by_order=True,
        sentence="Energy for the target gain is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "tdn", "energy (TDN)", "kg TDN", "energy", 20.0, "tdn", "tdn_kg", by_order=True,
        sentence="Energy (TDN) is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "cp", "protein", "kg CP", "protein", 50.0, "cp", "cp_kg", by_order=True,
        sentence="Protein is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "cp_floor", "protein in the diet", "kg CP", "protein", 50.0, by_order=True,
        sentence="Protein for the rumen is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "ca", "calcium", "g Ca", "minerals", 0.8, "ca", "ca_kg", 1000.0,
        sentence="Calcium is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "p", "phosphorus", "g P", "minerals", 1.6, "p", "p_kg", 1000.0,
        sentence="Phosphorus is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "ca_to_p", "calcium against phosphorus", "g Ca", "minerals", 0.8,
        sentence="Calcium to phosphorus is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "ca_floor", "calcium in the diet before birth", "g Ca", "minerals", 0.8, floor_of="ca",
        sentence="Calcium before birth is the limit on the ration of {group} {when}",
    ),
    # As dear as the same charge of potassium too much.
    Nutrient(
        "mg", "magnesium", "g Mg", "minerals", 1.2, floor_of="mg", floor_among="mg_dm",
        sentence="Magnesium is the limit on the ration of {group} {when}",
    ),
    # A kilogram of it comes before what a kilogram of the best hay brings to anybody.
    Nutrient(
        "forage", "long forage", "kg DM", "rules", 80.0, "forage",
        sentence="Long forage is the limit on the ration of {group} {when}",
    ),
    # A kilogram of meal in place of hay: dearer than any hay that can be bought, and never so dear
    # that they starve beside a trough of meal.
    Nutrient(
        "forage_share", "forage for half of the diet", "kg DM", "rules", 10.0, floor_of="forage",
        sentence="Half of the diet as forage is the limit on the ration of {group} {when}",
    ),
    # A kilogram of what stock with free access would eat and is not there: hunger comes after need.
    Nutrient("fill", "feed to eat their fill", "kg DM", "room", 2.0),
    Nutrient(
        "least_dm", "dry matter", "kg DM", "rules", 5.0, "dm", "least_dm_kg",
        sentence="Dry matter intake is the limit on the ration of {group} {when}",
    ),
    Nutrient(
        "most_dm", "the most they may eat", "kg DM", "room",
        sentence="{group} are at full appetite {when}", room=True,
    ),
    Nutrient(
        "appetite", "what they can eat", "kg DM", "room",
        sentence="{group} are at full appetite {when}", room=True,
    ),
    Nutrient(
        "ndf", "the fiber they can hold", "kg NDF", "room",
        sentence="{group} are full {when}: no room for more fiber", room=True,
    ),
    # Milligrams over a thousand keep a row in grams, near the size of the others.
    # A milligram too much of nitrate comes with the water: before any need and any wish.
    Nutrient(
        "nitrate", "nitrate in the diet", "mg NO3-N", "hazards", 2.0, too_much=True,
        row_scale=1000.0,
    ),
    Nutrient(
        "grain", "starch grain", "kg DM", "hazards", too_much=True,
        sentence="Starch grain for {group} is at its limit {when}", room=True,
    ),
    Nutrient(
        "starch", "starch", "kg starch", "hazards", too_much=True,
        sentence="Starch for {group} is at its limit {when}", room=True,
    ),
    Nutrient("fat", "fat in the diet", "kg fat", "hazards", too_much=True),
    # A gram too much of sulfur kills: before any need and any wish, as far as water leaves it.
    Nutrient(
        "sulfur", "sulfur", "g S", "hazards", 2000.0, too_much=True,
        sentence="Sulfur in feed and water of {group} is at its limit {when}", room=True,
    ),
    # Cents a gram of calcium: after energy and protein, which no mineral comes before.
    Nutrient(
        "tetany", "potassium against calcium and magnesium", "meq K", "minerals", 0.016,
        too_much=True, row_scale=100.0,
    ),
    # As dear a gram as the charge of tetany: milk fever is of the same minerals.
    Nutrient(
        "milk_fever", "potassium in the diet before calving", "g K", "minerals", 0.4, too_much=True,
        row_scale=10.0,
    ),
    Nutrient("npn", "urea against protein", "kg CP", "hazards", too_much=True),
    Nutrient("urea", "urea in the diet", "kg urea", "hazards", too_much=True),
    Nutrient("copper", "copper in the diet", "mg Cu", "hazards", too_much=True),
    # A kilogram of hay that is newer than the mix allows: it comes after what they need.
    Nutrient("change_over", "old hay to mix in", "kg DM", "rules", 2.0),
    # A kilogram of hay by which it falls further in one night than by degrees: no need of theirs is
    # left short for it, and no dear feed is dearer than the hay that a slower fall takes.
    Nutrient("forage_fall", "hay to come down slowly", "kg DM", "rules", 4.0),
    # A kilogram of other hay beside what is not to be all of it: above what hay costs, below needs.
    Nutrient("other_hay", "other hay to mix in", "kg DM", "rules", 0.5),
    # A dollar over the limit comes before the animals, because it is not there.
    Nutrient("cash", "money for feed", "USD", "price", 5000.0),
    # A kilogram of the hay that should be left comes after the animals.
    Nutrient("reserve", "hay to be left", "t DM", "scarcity", 4.0),
)  # fmt: skip

#: Every constrained nutrient, by its key.
NUTRIENTS: Final[Mapping[str, Nutrient]] = MappingProxyType({one.key: one for one in _NUTRIENTS})

#: Needs that are met by at least so much of one supply.
AT_LEAST: Final = tuple(one for one in _NUTRIENTS if one.supply)

#: Shares of a diet that classes or rules of safety ask for.
FLOORS: Final = tuple(one for one in _NUTRIENTS if one.floor_of)

#: What stands behind the number in a unit, as a sentence names it.
UNIT_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {one.unit: one.word for one in AT_LEAST if one.unit.startswith("g ")}
    | {
        "g Mg": "magnesium",
        "g S": "sulfur",
        "g K": "potassium",
        "mg Cu": "copper",
        "meq K": "potassium, by charge",
        "kg TDN": "TDN",
        "kg CP": "crude protein",
        "kg DM": "dry matter",
        "kg NDF": "fiber",
        "kg starch": "starch",
        "kg fat": "fat",
        "kg urea": "urea",
    }
)
