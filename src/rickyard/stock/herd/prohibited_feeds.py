"""What must not be fed to whom: copper, urea, ionophores, cottonseed, baleage; and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final, Literal, TypeAlias, cast

from rickyard.animals import CAMELIDS, HORSES, SHEEP
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import (
    AnimalClass,
    Caution,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
)
from rickyard.stock.common import read_rows
from rickyard.stock.dairy import CLOSE_UP_DAYS, MOST_K_PCT_BEFORE_CALVING
from rickyard.stock.herd.horse_care import (
    FESCUE_DAYS,
    FESCUE_SOURCE,
    before_foaling,
    care_against_feed,
    care_against_lot,
    care_cautions,
    is_risky_fescue,
    says_fescue,
    sugars_of,
)
from rickyard.stock.horses import (
    LEAST_FORAGE_PCT_BW,
    NSC_GREEN_PCT,
    NSC_RED_PCT,
    WANTED_FORAGE_PCT_BW,
)
from rickyard.stock.sheep import safe_copper_ppm

DONKEYS: Final = frozenset({AnimalClass.DONKEY, AnimalClass.MULE})

#: Plain minerals of the feed table to which no copper is added.
WITHOUT_COPPER: Final = frozenset(
    {
        "salt",
        "limestone",
        "calcium_carbonate",
        "dicalcium_phosphate",
        "monocalcium_phosphate",
        "magnesium_oxide",
        "potassium_chloride",
    }
)

Level: TypeAlias = Literal["danger", "warning", "note"]
#: A way to say a caution: its level, sentence and source.
_Say: TypeAlias = Callable[[Level, str, str], None]

#: Stands for the groups in a caution that holds for several.
_NAMES: Final = "\0"

ASK: Final = "Ask your veterinarian or local extension office."
_COPPER_SOURCE: Final = "Duncan 1997, In Practice 19:503; Berger, Univ. Illinois"


@dataclass(frozen=True, slots=True)
class Prohibition:
    """A lot or feed that a group must not be given, and why.

    ``spans`` are the days on which it must not, each from a first day until the day before
    another; where there are none it never may.
    """

    group_id: str
    source_id: str
    caution: Caution
    spans: tuple[tuple[date, date], ...] = ()

    def holds(self, start: date, days: int) -> bool:
        """Say whether it holds on any of so many days from ``start``."""
        end = start + timedelta(days=days)
        return not self.spans or any(start < last and first < end for first, last in self.spans)


def bars(farm: Farm) -> tuple[Prohibition, ...]:
    """Return every pair of a group and a lot or feed that must not meet, or not on some days.

    Parameters
    ----------
    farm : Farm
        Its groups, lots and feeds are read.

    Returns
    -------
    tuple of Prohibition
        In the order of the groups. A mineral is barred from sheep and llamas unless its copper
        is known to be within the limit of the whole diet or it holds none.

    References
    ----------
    .. [1] Duncan (1997), In Practice 19:503; Berger, Univ. Illinois (copper); monensin: LD50 of
       horses about 1.4 mg/kg; urea and cottonseed for horses common practice; baleage: Univ. of
       Georgia and Univ. of Minnesota 2019.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> ewes = Group("E", "Ewes", AnimalClass.EWE, 40, 70.0)
    >>> mineral = Feed("M", "Cow mineral", FeedKind.MINERAL, 1.2)
    >>> season = Season(date(2027, 1, 1), date(2027, 3, 1))
    >>> [(bar.group_id, bar.source_id) for bar in bars(Farm("F", season, groups=(ewes,),
    ...  feeds=(mineral,)))]
    [('E', 'M')]
    """
    found = []
    for group in farm.groups:
        for feed in farm.feeds:
            found += [_bar(group, feed.feed_id, *why) for why in _against_feed(group, feed)]
        for lot in farm.lots:
            found += [_bar(group, lot.lot_id, *why) for why in _against_lot(group, lot, farm)]
        found += _fescue_before_foaling(group, farm)
    return tuple(found)


def cautions(farm: Farm) -> tuple[Caution, ...]:
    """Return what to watch for in groups of small stock and horses, bars included.

    Parameters
    ----------
    farm : Farm
        Its groups, lots, feeds and reports are read.

    Returns
    -------
    tuple of Caution
        One for each thing to watch, bars first.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> donkeys = Group("D", "Donkeys", AnimalClass.DONKEY, 2, 180.0)
    >>> farm = Farm("F", Season(date(2027, 1, 1), date(2027, 3, 1)), groups=(donkeys,))
    >>> any("starve" in caution.sentence for caution in cautions(farm))
    True
    """
    found = _for_all_groups(farm)
    for group in farm.groups:
        found += _of_group(group, farm)
    return tuple(dict.fromkeys(found))


def _for_all_groups(farm: Farm) -> list[Caution]:
    """Return the cautions of the bars; those that differ in the group alone are told together."""
    names = {group.group_id: group.name for group in farm.groups}
    together: dict[Caution, list[str]] = {}
    for bar in bars(farm):
        name, sentence = names[bar.group_id], bar.caution.sentence
        one = sentence.count(name) == 1
        blank = (
            replace(bar.caution, sentence=sentence.replace(name, _NAMES)) if one else bar.caution
        )
        together.setdefault(blank, []).append(name)
    return [
        replace(caution, sentence=caution.sentence.replace(_NAMES, _listed(groups)))
        for caution, groups in together.items()
    ]


def _listed(names: list[str]) -> str:
    *others, last = dict.fromkeys(names)
    return f"{', '.join(others)} and {last}" if others else last


def _bar(group: Group, source_id: str, sentence: str, source: str) -> Prohibition:
    return Prohibition(group.group_id, source_id, Caution("danger", source_id, sentence, source))


def _against_feed(group: Group, feed: Feed) -> Iterator[tuple[str, str]]:
    kind = group.animal_class
    if kind in HORSES:
        yield from _against_feed_of_horses(group, feed)
        yield from care_against_feed(group, feed)
    limit = _copper_limit(kind)
    if limit is None:
        return
    if feed.copper_ppm is not None:
        if feed.copper_ppm > limit:
            yield (
                f"{feed.name} holds {feed.copper_ppm:.0f} mg/kg of copper, over the {limit:.0f} "
                f"mg/kg safe in the whole diet of {group.name}: it is kept from them. {ASK}",
                _COPPER_SOURCE,
            )
    elif feed.kind is FeedKind.MINERAL and feed.table_id not in WITHOUT_COPPER:
        yield (
            f"{feed.name} is kept from {group.name}: its copper is not known, and the copper of "
            "cattle, horse, goat or poultry minerals poisons them. Write copper_ppm if it is a "
            f"mineral for sheep. {ASK}",
            _COPPER_SOURCE,
        )


def _copper_limit(kind: AnimalClass) -> float | None:
    # Goats tolerate more (40 mg/kg of the whole diet): for them a caution, no bar.
    if kind in SHEEP:
        return safe_copper_ppm(["sheep"])
    return safe_copper_ppm(["camelid"]) if kind in CAMELIDS else None


def _against_feed_of_horses(group: Group, feed: Feed) -> Iterator[tuple[str, str]]:
    if feed.npn_cp_pct:
        yield (
            f"{feed.name} has urea or other non-protein nitrogen and is kept from {group.name}.",
            COMMON_PRACTICE,
        )
    if feed.ionophore:
        yield (
            f"{feed.name} has an ionophore, which kills horses: keep it out of reach of "
            f"{group.name}, and feed them nothing mixed after it.",
            "monensin in horses, review: LD50 about 1.4 mg per kg of body weight",
        )
    if "cottonseed" in f"{feed.table_id} {feed.name}".lower():
        yield (
            f"{feed.name} may have gossypol and is kept from {group.name}.",
            COMMON_PRACTICE,
        )


def _against_lot(group: Group, lot: Lot, farm: Farm) -> Iterator[tuple[str, str]]:
    if group.animal_class not in HORSES:
        return
    yield from care_against_lot(group, lot, farm)
    if lot.package is Package.BALEAGE or lot.forage is Forage.CORN_SILAGE:
        yield (
            f"{lot.name} is baleage or silage and is kept from {group.name}: botulism. Feed it "
            "only with botulism vaccination, sound wrap, a 10 to 14 day change and a "
            "veterinarian's approval.",
            "Univ. of Georgia and Univ. of Minnesota 2019",
        )


def _fescue_before_foaling(group: Group, farm: Farm) -> Iterator[Prohibition]:
    """Yield what is fescue, and not known to be free of the endophyte, for mares near foaling."""
    spans = before_foaling(group, farm)
    if not spans:
        return
    fescue = [(lot.lot_id, lot.name) for lot in farm.lots if is_risky_fescue(lot, farm)]
    fescue += [
        (feed.feed_id, feed.name)
        for feed in farm.feeds
        if feed.kind in (FeedKind.FORAGE, FeedKind.GRAZING)
        and says_fescue(f"{feed.name} {feed.table_id}")
    ]
    for source_id, name in fescue:
        why = (
            f"{name} is kept from {group.name} in the last {FESCUE_DAYS} days before foaling: the "
            "endophyte of fescue can kill foal and mare. If a test shows that there is none, write "
            f'"endophyte-free" with its species or name. {ASK}'
        )
        caution = Caution("danger", source_id, why, FESCUE_SOURCE)
        yield Prohibition(group.group_id, source_id, caution, spans)


def _of_group(group: Group, farm: Farm) -> list[Caution]:
    kind = group.animal_class
    found: list[Caution] = []

    def say(level: Level, sentence: str, source: str) -> None:
        found.append(Caution(level, group.group_id, sentence, source))

    if kind in SHEEP:
        _of_sheep(group, farm, say)
    if kind in HORSES:
        found += care_cautions(group, farm)
        _of_horses(group, farm, say)
    for row in read_rows("class_cautions"):
        if kind.value in row["classes"].split():
            sentence = row["sentence"].format(name=group.name, **_LIMITS)
            say(cast(Level, row["level"]), sentence, row["source"])
    return found


#: What the cautions of a class name beside the group.
_LIMITS: Final = {
    "ask": ASK,
    "sheep_cu": safe_copper_ppm(["sheep"]),
    "goat_cu": safe_copper_ppm(["goat"]),
    "least_forage": LEAST_FORAGE_PCT_BW,
    "wanted_forage": WANTED_FORAGE_PCT_BW,
    "green_nsc": NSC_GREEN_PCT,
    "red_nsc": NSC_RED_PCT,
    "most_k": MOST_K_PCT_BEFORE_CALVING,
    "close_up": CLOSE_UP_DAYS,
}


def _of_sheep(group: Group, farm: Farm, say: _Say) -> None:
    limit = safe_copper_ppm(["sheep"])
    tested = {
        report.lot_id: analyte.value
        for report in farm.reports
        if (analyte := report.get("cu")) is not None and analyte.value is not None
    }
    for lot in farm.lots:
        copper = tested.get(lot.lot_id)
        if copper is not None and copper > limit:
            say(
                "danger",
                f"{lot.name} holds {copper:.0f} mg/kg of copper; more than {limit:.0f} in the "
                f"whole diet poisons {group.name}. {ASK}",
                _COPPER_SOURCE,
            )


def _may_be_mixed(feed: Feed) -> bool:
    """Tell whether a mill may have put something in: pellets and sweet feed go as grain too."""
    if feed.kind is FeedKind.GRAIN:
        return not feed.table_id  # a row of the feed table is one plain grain
    return feed.kind in (FeedKind.SUPPLEMENT, FeedKind.MINERAL)


def _of_horses(group: Group, farm: Farm, say: _Say) -> None:
    unknown = [feed.name for feed in farm.feeds if feed.ionophore is None and _may_be_mixed(feed)]
    if unknown:
        say(
            "danger",
            f"Make sure that {', '.join(unknown)} have no ionophore such as monensin before "
            f"{group.name} can reach them: it kills horses. Write yes or no under ionophore.",
            "monensin in horses, review: LD50 about 1.4 mg per kg of body weight",
        )
    if group.animal_class in DONKEYS:
        return
    _say_sugars(farm, group, say)
    if group.animal_class is AnimalClass.MARE and not (group.calving_on or group.breeding_on):
        fescue = [lot.name for lot in farm.lots if is_risky_fescue(lot, farm)]
        if fescue:
            say(
                "danger",
                f"Keep {', '.join(fescue)} from {group.name} in the last {FESCUE_DAYS} days before "
                "foaling unless it is free of the fescue endophyte; write the day of foaling in "
                f"calving_on, so that the program keeps it from them. {ASK}",
                FESCUE_SOURCE,
            )


def _say_sugars(farm: Farm, group: Group, say: _Say) -> None:
    """Say which lots hold too much sugar for horses prone to laminitis, where it was tested."""
    for lot in farm.lots:
        for report in farm.reports_of(lot.lot_id):
            verdict = sugars_of(report)
            if verdict is not None and verdict.light != "green":
                say(
                    "warning" if verdict.light == "red" else "note",
                    f"{lot.name} for any of {group.name} prone to laminitis: {verdict.sentence}",
                    "Harris 2011",
                )
                break
