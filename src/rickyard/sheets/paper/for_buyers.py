"""What a seller hands to a buyer of a lot: the hay, its test, its dangers, what is not known.

It is made from the lot and its reports alone. Stock, feeds, what the owner values the hay at and
the owner's notes are nobody else's business and never stand on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import Final

from rickyard.display import Display, clean, display_for, listed, localized, money_text, with_unit
from rickyard.farm import Caution, Farm, Lot, Package, Report, Storage, Wrap
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.forage.reading import LotReading, ReadNumber, every_number, read_lot
from rickyard.forage.values import FORAGE_WORDS
from rickyard.hay.sampling import PRACTICE_CORES, PROTOCOL_CORES, UNKNOWN_RAIN_MM
from rickyard.hay.storage import LotOnHand, book_of, standing_on

#: Standard errors to either side of a figure that hold the truth nine times in ten.
_NINE_IN_TEN: Final = 1.645

_PACKAGES: Final[Mapping[Package, str]] = MappingProxyType(
    {
        Package.ROUND: "round bales",
        Package.LARGE_SQUARE: "large square bales",
        Package.SMALL_SQUARE: "small square bales",
        Package.BALEAGE: "wrapped bales (baleage)",
        Package.LOOSE: "loose stacks",
    }
)
_STORAGES: Final[Mapping[Storage, str]] = MappingProxyType(
    {
        Storage.EXPOSED_GROUND: "outside on the ground, not covered",
        Storage.EXPOSED_ELEVATED: "outside off the ground, not covered",
        Storage.COVERED_GROUND: "outside on the ground, under a cover",
        Storage.COVERED_ELEVATED: "outside off the ground, under a cover",
        Storage.ROOF_OPEN_SIDES: "under a roof with open sides",
        Storage.ENCLOSED_BARN: "in a closed barn",
        Storage.WRAPPED: "wrapped in film",
    }
)
_WRAPS: Final[Mapping[Wrap, str]] = MappingProxyType(
    {
        Wrap.PLASTIC_TWINE: "plastic twine",
        Wrap.NET: "net wrap",
        Wrap.SISAL: "sisal twine",
        Wrap.FILM: "film",
    }
)
_OUTSIDE: Final = (Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED)

#: What may have befallen a hay, by the field of the lot.
_PAST: Final[Mapping[str, str]] = MappingProxyType(
    {
        "rained_on": "rained on while it lay cut",
        "drought": "drought-stressed",
        "frosted": "frosted",
        "heavy_nitrogen": "given heavy nitrogen",
        "flooded": "flooded",
        "weedy": "weedy",
        "dusty": "dusty",
        "blister_beetles": "with blister beetles",
        "stone_fruit_leaves": "with leaves of cherry, plum or the like",
    }
)

#: What a plain test holds; where one is missing the sheet says so, by the field of the profile.
_LEAST_TESTED: Final[Mapping[str, str]] = MappingProxyType(
    {
        "dm_pct": "dry matter",
        "crude_cp_pct": "protein",
        "ndf_pct": "fiber (NDF)",
        "ca_pct": "calcium",
        "p_pct": "phosphorus",
    }
)
_INDICES: Final = ("rfq", "rfq_legume", "rfq_grass")
_PER_KG: Final = "Mcal/kg"

#: So many values stand first on a page: dry matter, energy, protein, fiber, minerals.
_MAIN: Final = 9

STANDS_FOR: Final = (
    "The sample stands for this lot alone: one field and one cutting, baled and stored alike. It "
    "says nothing of other hay of this farm."
)
RANGE: Final = (
    "Everything on this page is in the dry matter unless it says otherwise. 90% range: the true "
    "value of the lot is within it 9 times out of 10, given the error of sampling and of the "
    "laboratory. Laboratories compute TDN by different equations: compare hays by one equation."
)
NOT_TESTED: Final = (
    "No test of this lot is written, so this sheet says nothing of its protein, energy or fiber. "
    "Have it cored and tested before you buy it by its feeding value."
)
FOR_BUYERS: Final = (
    "Look at the stack, open a bale and smell it: no analysis shows dust, and few show mold.",
    "Take cores of your own before you pay if much depends on it, and send them to a laboratory "
    "of your choice; expect the two results to differ by about the range above.",
    "Agree on the weight over a scale, and on who bears the loss until the hay is fetched.",
    "Before you feed it, ask your local extension office or a veterinarian about anything marked "
    "danger or warning.",
)
STANDING: Final = (
    "This sheet tells what the owner has written of the lot, what a laboratory found in one sample "
    "of it, and what published equations make of that. It is no promise of how stock will do on it."
)


@dataclass(frozen=True, slots=True)
class SheetValue:
    """One line of the analysis, as it is read."""

    words: str
    value: str
    between: str
    origin: str


@dataclass(frozen=True, slots=True)
class LotSheet:
    """The sheet of one lot, in plain words.

    ``answer`` says it in one line. ``figures`` are what is bought, each with its word; ``basis`` is
    the price by other measures; ``good_for`` what the hay suits and lacks, as read.
    """

    title: str
    answer: str
    farm: str
    place: str
    day: str
    facts: tuple[tuple[str, str], ...]
    cautions: tuple[Caution, ...]
    sample: tuple[str, ...]
    values: tuple[SheetValue, ...]
    grade: str
    unknown: tuple[str, ...]
    ranges: str
    figures: tuple[tuple[str, str], ...] = ()
    basis: tuple[tuple[str, str], ...] = ()
    good_for: tuple[str, ...] = ()
    buyers: tuple[str, ...] = FOR_BUYERS
    standing: str = STANDING

    @property
    def main(self) -> tuple[SheetValue, ...]:
        """Return the values that a buyer asks for first, as far as they are known."""
        return self.values[:_MAIN]

    @property
    def more(self) -> tuple[SheetValue, ...]:
        """Return the rest of the values."""
        return self.values[_MAIN:]


def lot_sheet(farm: Farm, lot: Lot, day: date) -> LotSheet:
    """Return what a buyer of a lot should know of it.

    Parameters
    ----------
    farm : Farm
        Its name and place, its reports on the lot, and the book of its yard are read.
    lot : Lot
        The lot.
    day : date
        The day whose evening the bales are counted for.

    Returns
    -------
    LotSheet
        Words alone, in the units of the farm.

    Raises
    ------
    OutOfRange
        If the weight of a bale is not known and its size neither.

    Examples
    --------
    >>> from rickyard.farm import Forage, Season
    >>> lot = Lot("A", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 6, 1), date(2026, 10, 1), bale_weight_kg=500.0)
    >>> farm = Farm("Hill", Season(date(2026, 11, 1), date(2027, 4, 1)), lots=(lot,))
    >>> sheet = lot_sheet(farm, lot, date(2026, 11, 1))
    >>> sheet.facts[1], sheet.values
    (('Price', 'not stated: ask the owner'), ())
    """
    display = display_for(farm.units)
    reports = farm.reports_of(lot.lot_id)
    profile = lot_profile(lot, reports)
    rain = farm.season.rainfall_mm_per_year
    moisture = profile.dm_pct
    book = book_of(lot, farm.moves, farm.fed, moisture, UNKNOWN_RAIN_MM if rain is None else rain)
    there = standing_on(book, max(day, lot.counted_on), moisture)
    reading = localized(read_lot(lot, reports), display)
    tested = next((one for one in reports if one.report_id == profile.report_id), None)
    return LotSheet(
        title=clean(lot.name),
        answer=_answer(lot, there, profile, display),
        farm=clean(farm.name),
        place=clean(farm.place),
        day=display.day_year_text(there.day),
        facts=tuple(_facts(lot, there, display)),
        cautions=reading.cautions,
        sample=tuple(_sample(lot, tested, there.day, display)),
        values=tuple(_values(lot, reports, reading, profile, display)),
        grade=_grade(reading) if profile.tested else "",
        unknown=tuple(_unknown(lot, profile, tested)),
        ranges=display.local(RANGE) if profile.tested else "",
        figures=tuple(_figures(lot, there, display)),
        basis=tuple(_basis(lot, profile, display)),
        good_for=tuple(filter(None, (reading.suits, reading.lacks))) if profile.tested else (),
    )


def _answer(lot: Lot, there: LotOnHand, profile: LotProfile, display: Display) -> str:
    tested = "tested" if profile.tested else "not tested"
    price = lot.sale_usd_per_kg
    asked = "" if price is None else f", {display.price_a_ton(price)}"
    return f"{clean(lot.name)}: {there.bales:,.0f} {_PACKAGES[lot.package]}, {tested}{asked}."


def _figures(lot: Lot, there: LotOnHand, display: Display) -> Iterator[tuple[str, str]]:
    whole, dry = (display.tons_text(one / 1000.0) for one in (there.as_fed_kg, there.dry_kg))
    yield f"{there.bales:,.0f}", _PACKAGES[lot.package]
    yield display.mass_text(there.bale_kg), "a bale, about, as it stands"
    yield whole, f"as they stand; {dry} dry"


def _basis(lot: Lot, profile: LotProfile, display: Display) -> Iterator[tuple[str, str]]:
    """Yield what it costs by its dry matter, energy and protein, where it was tested."""
    if lot.sale_usd_per_kg is None or not profile.tested:
        return
    dry = lot.sale_usd_per_kg / (profile.dm_pct / 100.0)
    yield f"A dry {display.ton_word}", money_text(dry * display.kg_per_ton)
    for words, share in (("TDN", profile.tdn_pct), ("protein", profile.crude_cp_pct)):
        if share > 0.0:
            cents = 100.0 * dry / (share / 100.0) / display.mass(1.0)
            yield f"A {display.mass_unit} of {words}", f"{cents:.1f} cents"


def _facts(lot: Lot, there: LotOnHand, display: Display) -> Iterator[tuple[str, str]]:
    kind = FORAGE_WORDS[lot.forage]
    hay = f"{kind}, {lot.species}" if lot.species and lot.species not in kind else kind
    cutting = "" if lot.cutting is None else f", cutting {lot.cutting}"
    baled = f"baled {display.day_year_text(lot.baled_on)}"
    stage = "" if lot.maturity is None else f", cut at {lot.maturity.replace('_', ' ')}"
    yield "Hay", clean(f"{hay}{cutting}{stage}, {baled}")
    yield "Price", _price(lot, there, display)
    wrap = "" if lot.wrap is None or lot.wrap == Wrap.FILM else f", in {_WRAPS[lot.wrap]}"
    yield (
        "Bales",
        f"{there.bales:,.0f} {_PACKAGES[lot.package]}{wrap}, on "
        f"{display.day_year_text(there.day)} by the book of the yard; counted "
        f"{display.day_year_text(lot.counted_on)}",
    )
    spread = _NINE_IN_TEN * there.as_fed_se_kg / 1000.0
    whole = there.as_fed_kg / 1000.0
    low, high = (display.tons_text(one) for one in (max(0.0, whole - spread), whole + spread))
    yield (
        "Weight",
        f"about {display.mass_text(there.bale_kg)} a bale as it stands ({_weighed(lot, there)}), "
        f"{display.tons_text(whole)} in all (90% range {low} to {high})",
    )
    yield "Stored", _STORAGES[lot.storage]
    if lot.preservative:
        yield "Preservative", clean(lot.preservative)
    if lot.baled_moisture_pct is not None:
        yield "Baled at", f"{lot.baled_moisture_pct:.0f}% moisture"
    if lot.highest_temperature_c is not None:
        text = display.local(f"{lot.highest_temperature_c * 1.8 + 32:.0f} °F")
        yield "Hottest", f"{text} in the stack"
    if lot.latest_temperature_c is not None:
        text = display.local(f"{lot.latest_temperature_c * 1.8 + 32:.0f} °F")
        yield "Read again", f"{text} in the stack on a later day"
    yield "Past", _past(lot)


def _weighed(lot: Lot, there: LotOnHand) -> str:
    if lot.bale_weight_kg is not None and lot.bales_weighed is None:
        return "how many bales were weighed is not written"
    return there.weight_is


def _price(lot: Lot, there: LotOnHand, display: Display) -> str:
    if lot.sale_usd_per_kg is None:
        return "not stated: ask the owner"
    each = ""
    if lot.package is not Package.LOOSE:
        each = f", ${lot.sale_usd_per_kg * (lot.bale_weight_kg or there.bale_kg):,.2f} a bale"
    return f"{display.price_a_ton(lot.sale_usd_per_kg)} as it stands{each}"


def _past(lot: Lot) -> str:
    told = {name: getattr(lot, name) for name in _PAST}
    was = [_PAST[name] for name, found in told.items() if found]
    was_not = [_PAST[name] for name, found in told.items() if found is False]
    said = []
    if was:
        said.append(f"It was {listed(was)}.")
    if was_not:
        said.append(f"It was not {listed(was_not, 'or')}.")
    return " ".join(said) or "nothing is written of weather or weeds"


def _sample(lot: Lot, report: Report | None, day: date, display: Display) -> Iterator[str]:
    if report is None:
        yield NOT_TESTED
        return
    lab = f"by {clean(report.lab)}" if report.lab else "by a laboratory that is not written"
    number = report.lab_no or report.report_id
    on = "" if report.reported_on is None else f" on {display.day_year_text(report.reported_on)}"
    yield f"Tested {lab}, report {clean(number)}{on}."
    if report.sampled_on is None:
        yield "The day on which it was sampled is not written."
    else:
        days = (day - report.sampled_on).days
        old = f", {days} days before this sheet" if days > 0 else ""
        yield f"Sampled {display.day_year_text(report.sampled_on)}{old}."
    if report.cores is None:
        yield (
            "How many bales were cored is not written: ask. "
            f"{PROTOCOL_CORES} cores from {PROTOCOL_CORES} bales drawn at random are the protocol."
        )
    elif report.cores < PRACTICE_CORES:
        yield (
            f"{report.cores:,} cores, fewer than the {PRACTICE_CORES} that are common practice and "
            f"the {PROTOCOL_CORES} of the protocol: the sample may miss the mean of the lot."
        )
    else:
        yield (
            f"{report.cores:,} cores; {PROTOCOL_CORES} from {PROTOCOL_CORES} bales drawn at random "
            f"are the protocol, {PRACTICE_CORES} are common practice."
        )
    yield STANDS_FOR
    if lot.storage in _OUTSIDE:
        yield "It stands outside without a cover and goes on weathering after it was sampled."


def _values(
    lot: Lot,
    reports: Sequence[Report],
    reading: LotReading,
    profile: LotProfile,
    display: Display,
) -> Iterator[SheetValue]:
    if not profile.tested:
        return
    more = [
        one
        for one in every_number(lot, reports)
        if one.origin == "lab" or one.name in _INDICES or one.name.startswith("rfq")
    ]
    for one in (*reading.numbers, *localized(tuple(more), display)):
        same = one.name == "cp_pct" and profile.cp_pct == profile.crude_cp_pct
        if one.origin != "book" and not same:
            named = replace(one, words=f"TDN, {profile.tdn_method}")
            yield _value(named if one.name == "tdn_pct" else one, display)


def _value(one: ReadNumber, display: Display) -> SheetValue:
    per_kg = one.unit.startswith(_PER_KG)
    unit = one.unit.replace("/kg", f"/{display.mass_unit}", 1) if per_kg else one.unit
    ends = [
        f"{display.energy_density(end) if per_kg else end:,.{one.decimals}f}"
        for end in (one.value, one.low, one.high)
        if end is not None
    ]
    short = unit.replace(" of dry matter", "").replace(" dry matter", "").replace("index", "")
    between = " to ".join(ends[1:])
    return SheetValue(clean(one.words), with_unit(ends[0], short.strip()), between, one.origin)


def _grade(reading: LotReading) -> str:
    if reading.grade and any(one.level == "danger" for one in reading.cautions):
        return f"{reading.grade} A grade says nothing of the danger above."
    return reading.grade


def _unknown(lot: Lot, profile: LotProfile, report: Report | None) -> Iterator[str]:
    past = [words for name, words in _PAST.items() if getattr(lot, name) is None]
    if past:
        yield f"Whether it was {listed(past, 'or')} is not written."
    if lot.bale_weight_kg is None:
        yield "No bale was weighed: the weight is worked out from the size of a bale."
    if lot.highest_temperature_c is None:
        yield "No temperature of the stack is written."
    if report is None:
        return
    lacking = [
        words for name, words in _LEAST_TESTED.items() if profile.origins.get(name) == "book"
    ]
    if lacking:
        yield f"Not tested: {listed(lacking)}."
    if profile.nitrate_no3n_ppm is None:
        yield "Nitrate was not tested."
    if "mold" not in profile.measured:
        yield "Mold and its poisons were not tested."
