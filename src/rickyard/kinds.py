"""The words that a farm is described in: forages, packages, storage, coats, rules of cold ...

They are part of the plain objects of ``farm``, which gives them out again.
"""

from __future__ import annotations

from enum import StrEnum


class Forage(StrEnum):
    """The forage a lot is made of; the class decides screening limits and book values."""

    ALFALFA = "alfalfa"
    CLOVER = "clover"
    LEGUME_GRASS = "legume_grass"
    COOL_GRASS = "cool_grass"
    ANNUAL_RYEGRASS = "annual_ryegrass"
    WARM_GRASS = "warm_grass"  # bermudagrass, bahiagrass
    SUMMER_ANNUAL = "summer_annual"  # sudan, sorghum-sudan, millet, crabgrass, teff
    SMALL_GRAIN = "small_grain"
    PRAIRIE = "prairie"
    STRAW = "straw"  # straw, stalks, stover
    CORN_SILAGE = "corn_silage"


class Maturity(StrEnum):
    """How far the stand had grown when it was cut."""

    VEGETATIVE = "vegetative"
    BOOT = "boot"  # heads or buds felt, not seen
    EARLY_BLOOM = "early_bloom"  # grass: heading
    MID_BLOOM = "mid_bloom"
    FULL_BLOOM = "full_bloom"
    LATE_BLOOM = "late_bloom"
    MATURE = "mature"  # seed formed


class Package(StrEnum):
    """How the hay is put up."""

    ROUND = "round"
    LARGE_SQUARE = "large_square"
    SMALL_SQUARE = "small_square"
    BALEAGE = "baleage"
    LOOSE = "loose"


class Storage(StrEnum):
    """Where the lot stands, by the classes for which storage losses are published."""

    EXPOSED_GROUND = "exposed_ground"
    EXPOSED_ELEVATED = "exposed_elevated"
    COVERED_GROUND = "covered_ground"
    COVERED_ELEVATED = "covered_elevated"
    ROOF_OPEN_SIDES = "roof_open_sides"
    ENCLOSED_BARN = "enclosed_barn"
    WRAPPED = "wrapped"  # baleage under film


class Wrap(StrEnum):
    """What holds a round bale together."""

    PLASTIC_TWINE = "plastic_twine"
    NET = "net"
    SISAL = "sisal"
    FILM = "film"


class Basis(StrEnum):
    """What a laboratory value is a share of."""

    DRY_MATTER = "dm"
    AS_RECEIVED = "ar"
    NONE = "none"  # an index, a ratio, or a share of something else: never rescaled


class Sex(StrEnum):
    """Sex of growing stock, where it changes a need."""

    FEMALE = "female"
    STEER = "steer"
    INTACT_MALE = "intact_male"


class Feeder(StrEnum):
    """How hay is offered to a group; the choice decides the feeding loss."""

    CONE_RING = "cone_ring"
    SHEETED_RING = "sheeted_ring"
    OPEN_RING = "open_ring"
    TRAILER = "trailer"
    CRADLE = "cradle"
    BUNK = "bunk"
    MIXED_RATION = "mixed_ration"  # hay ground and mixed with the feeds in one load
    UNROLLED_DAILY = "unrolled_daily"
    UNROLLED_EXCESS = "unrolled_excess"
    NONE = "none"


class Offered(StrEnum):
    """How much of their hay animals may have; it decides how much they eat."""

    FREE_CHOICE = "free_choice"
    LIMITED = "limited"
    HAND_FED = "hand_fed"


class Coat(StrEnum):
    """The coat of cattle, when it is dry."""

    SUMMER = "summer"
    FALL = "fall"
    WINTER = "winter"
    HEAVY_WINTER = "heavy_winter"


class Hide(StrEnum):
    """How thick the hide of cattle is."""

    THIN = "thin"
    AVERAGE = "average"
    THICK = "thick"


class Mud(StrEnum):
    """The mud that animals wear."""

    CLEAN = "clean"
    LOW = "low"  # some mud on the lower body
    SIDES = "sides"  # mud on the lower body and sides
    CAKED = "caked"


class Panting(StrEnum):
    """How animals breathe in heat."""

    NONE = "none"
    RAPID = "rapid"
    OPEN_MOUTH = "open_mouth"


class ColdRule(StrEnum):
    """How days of cold are turned into feed."""

    NONE = "none"
    PERCENT = "percent"
    FACTORIAL = "factorial"


class WindChill(StrEnum):
    """By which chart wind makes the air colder."""

    CATTLE = "cattle"
    WEATHER_SERVICE = "weather_service"
    OLD_HUMAN = "old_human"
    NONE = "none"


class Winter(StrEnum):
    """Which winter the season is planned for."""

    AS_GIVEN = "as_given"
    MILD = "mild"
    NORMAL = "normal"
    SEVERE = "severe"


class Work(StrEnum):
    """The work of a horse, by hours a week and heartbeats a minute."""

    NONE = "none"
    LIGHT = "light"  # 1 to 3 hours at a mean of 80
    MODERATE = "moderate"  # 3 to 5 hours at 90
    HEAVY = "heavy"  # 4 to 5 hours at 110
    VERY_HEAVY = "very_heavy"  # 6 to 12 hours at 110 to 150, or racing


class Care(StrEnum):
    """The care that horses need beyond their class."""

    EASY_KEEPER = "easy_keeper"  # gets fat on little
    FOUNDER_PRONE = "founder_prone"  # has foundered, or may
    METABOLIC = "metabolic"  # insulin or pituitary disease that a veterinarian found
    SENIOR = "senior"  # old, with teeth that leave long hay


class MoveKind(StrEnum):
    """What happened to bales of a lot; each is a line of the yard's book."""

    PUT_UP = "put_up"
    BOUGHT = "bought"
    MOVED = "moved"
    FED = "fed"
    SOLD = "sold"
    LOST = "lost"
    CORED = "cored"
    CORRECTION = "correction"


class FeedKind(StrEnum):
    """What a purchasable feed is; it decides which limits apply and how it is offered."""

    SUPPLEMENT = "supplement"
    GRAIN = "grain"
    MINERAL = "mineral"
    FORAGE = "forage"
    GRAZING = "grazing"  # standing or stockpiled forage, grazed where it grew


class Wanted(StrEnum):
    """What a person may want of one lot or feed in a season program."""

    FEED = "feed"
    KEEP_OFF = "keep_off"
    AMOUNT = "amount"


class AnimalClass(StrEnum):
    """The classes of animals whose needs the program computes."""

    COW = "cow"
    FIRST_CALF_HEIFER = "first_calf_heifer"
    BRED_HEIFER = "bred_heifer"
    REPLACEMENT_HEIFER = "replacement_heifer"
    STOCKER = "stocker"
    BULL = "bull"
    EWE = "ewe"
    EWE_LAMB = "ewe_lamb"
    RAM = "ram"
    FEEDER_LAMB = "feeder_lamb"
    DOE = "doe"
    KID = "kid"
    BUCK = "buck"
    HORSE = "horse"
    MARE = "mare"
    YOUNG_HORSE = "young_horse"
    DONKEY = "donkey"
    MULE = "mule"
    DAIRY_HEIFER = "dairy_heifer"
    DRY_DAIRY_COW = "dry_dairy_cow"
    LLAMA = "llama"
    ALPACA = "alpaca"


class BeefBreed(StrEnum):
    """The breeds of cattle for which maintenance, birth weight and milk are printed."""

    ANGUS = "angus"
    HEREFORD = "hereford"
    SHORTHORN = "shorthorn"
    CHAROLAIS = "charolais"
    LIMOUSIN = "limousin"
    GELBVIEH = "gelbvieh"
    SIMMENTAL = "simmental"
    BRAUNVIEH = "braunvieh"
    BRAHMAN = "brahman"
    NELLORE = "nellore"
    BRANGUS = "brangus"
    BRAFORD = "braford"
    SANTA_GERTRUDIS = "santa_gertrudis"
    HOLSTEIN = "holstein"
    JERSEY = "jersey"
