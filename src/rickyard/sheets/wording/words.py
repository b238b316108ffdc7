"""The words of the season sheet: every sentence that the sheet itself says, in one place."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, inf
from typing import Final

from rickyard.display import Display, listed
from rickyard.program.result import (
    NUTRIENT_WORDS,
    TOO_MUCH,
    Costs,
    Coverage,
    Outcome,
    SeasonProgram,
)

LEVEL_WORDS: Final = {"danger": "DANGER", "warning": "Warning", "note": "Note"}
#: Marks that are told apart by their shape, in black and white.
LEVEL_MARKS: Final = {"danger": "▲", "warning": "◆", "note": "•"}
LEVEL_ORDER: Final = {"danger": 0, "warning": 1, "note": 2}

SHEET_TITLE: Final = "Season feeding program"
RIBBON_TITLE: Final = "Which hay goes to whom, and when"
AMOUNTS_TITLE: Final = "What to put out each day"
PURCHASES_TITLE: Final = "What to buy"
COSTS_TITLE: Final = "What the season costs"
NOTHING_BOUGHT: Final = "Nothing is bought."
NOTHING_FED: Final = "Nothing is fed to this group this season."
MONEY_TITLE: Final = "What to buy, and what the season costs"
SHORT_TITLE: Final = "What is short"
LIMITS_TITLE: Final = "What drives the cost"
WORTH_TITLE: Final = "What one more ton is worth, and the price at which feeds pay"
UNIT_WORTH_TITLE: Final = "What one more unit is worth"
FEEDS_TITLE: Final = "The price at which each feed pays"
CAUTIONS_TITLE: Final = "Take care"
ASSUMPTIONS_TITLE: Final = "Assumptions"
PURCHASE_HEADS: Final = ("Buy", "as fed", "price", "cost")
RATION_HEADS: Final = ("days", "hay a day or week", "feeds a day", "why it begins")
TOTAL: Final = "Total"
#: Less than half a cent is nothing. [USD]
CENT: Final = 0.005
SALES_TITLE: Final = "What to sell on the first day"
SALE_HEADS: Final = ("Sell", "as fed", "bales", "brings")
WISHES_TITLE: Final = "Wishes"
FARM_LIMITS_TITLE: Final = "Money and reserve"
REASONS_TITLE: Final = "Why this hay there"
REMEDIES_TITLE: Final = "What would help"
TESTS_TITLE: Final = "Which test would pay"
CHANGE_TITLE: Final = "How to change from feed to feed"
MORE_IN_JSON: Final = "more in the JSON file."
#: A distance beyond this tells nobody anything, and is said in words. [-]
TELLING_GAP: Final = 0.5

#: Rations that can be less short by no more than this share of it are told to be the least short.
NO_SHORTER: Final = 0.005

COST_WORDS: Final = (
    ("hay_eaten", "Hay eaten"),
    ("hay_feeding_loss", "Hay lost at the feeder"),
    ("hay_storage_loss", "Hay lost in storage"),
    ("carry_over_discount", "Value lost on carryover hay"),
    ("purchases", "Feed bought"),
)

#: Kinds of cost that are told where there is any; the first two can be negative.
MORE_COST_WORDS: Final = (
    ("feed_left", "Bought feed left over, value kept"),
    ("hay_sold", "Hay sold, value less price"),
    ("changes", "Cost of switching hays"),
)


def outcome_words(outcome: Outcome) -> str:
    """Say what becomes of a group, and whether its goals are met."""
    return " ".join([outcome.sentence, *(one.sentence for one in outcome.goals)])


def cost_rows(costs: Costs) -> tuple[tuple[str, float], ...]:
    """Return the kinds of cost in words with what each comes to. [USD]."""
    always = [(label, float(getattr(costs, key))) for key, label in COST_WORDS]
    some = [(label, float(getattr(costs, key))) for key, label in MORE_COST_WORDS]
    return (*always, *((label, usd) for label, usd in some if abs(usd) > CENT))


def nutrient_word(nutrient: str) -> str:
    """Return a nutrient in a word; an unknown one is shown as it is named.

    Examples
    --------
    >>> nutrient_word("cp"), nutrient_word("vitamin_a")
    ('protein', 'vitamin a')
    """
    return NUTRIENT_WORDS.get(nutrient, nutrient.replace("_", " "))


def enough(left: str, day: str, beside: str) -> str:
    """Say that the hay lasts, and what is counted beside the yard.

    Examples
    --------
    >>> enough("66 tons", "May 3", "26 tons of grazing")
    'Enough hay: 66 tons left May 3 (26 tons of grazing counted).'
    """
    counted = f" ({beside} counted)" if beside else ""
    if left.split()[0] == "0":
        return f"Enough hay, with none to spare: the yard is empty on {day}{counted}."
    return f"Enough hay: {left} left {day}{counted}."


def no_stock(left: str, day: str) -> str:
    """Say of a farm without animals what stands at the end."""
    return f"No stock to feed: {left} of hay left {day}."


#: Hay to buy that is less than a bale, or one.
ONE_BALE: Final = "about one bale"


def hay_short(since: str, buy: str, day: str, *, checked: bool, gives_all: bool = True) -> str:
    """Say from when hay runs short, and how much to buy.

    Examples
    --------
    >>> hay_short("Dec 1", "56 tons", "May 3", checked=True)
    'Hay runs short from Dec 1. Buy 56 tons of hay to last to May 3: as bought, losses counted.'
    >>> print(hay_short("Dec 1", "56 tons", "May 3", checked=True, gives_all=False))
    Hay runs short from Dec 1. Buy 56 tons of hay to last to May 3: as bought, losses counted. \
Even with it they are short: hay alone is not enough.
    """
    short = f"Hay runs short from {since}"
    if not buy:
        return f"{short}, before the season ends on {day}."
    some = "" if checked else "at least "
    rest = "" if gives_all else " Even with it they are short: hay alone is not enough."
    return f"{short}. Buy {some}{buy} of hay to last to {day}: as bought, losses counted.{rest}"


def unfit(left: str) -> str:
    """Say of hay left that it is no help."""
    return f" {left} of hay are left, but those who are short may not have it: see What is short."


def barred(left: str) -> str:
    """Say of hay left that nobody here may have it.

    Examples
    --------
    >>> barred("29 tons")
    ' 29 tons more may be fed to no animal here.'
    """
    return f" {left} more may be fed to no animal here."


def left_beside(left: str) -> str:
    """Say of hay left that more of it does not help."""
    return f" {left} of hay left do not give what is short."


def dangerous_left(left: str) -> str:
    """Say how much of what is left carries a danger.

    Examples
    --------
    >>> dangerous_left("33 tons")
    ' 33 tons of what is left carry a danger: read it before any is fed or sold.'
    """
    return f" {left} of what is left carry a danger: read it before any is fed or sold."


def unfinished(missed: str, since: str) -> str:
    """Say that the search has not found what the farm could supply.

    Examples
    --------
    >>> unfinished("Cows are short of long forage", "Mar 14")
    'Not finished: Cows are short of long forage from Mar 14, and need not be. Give more --effort.'
    """
    return f"Not finished: {missed} from {since}, and need not be. Give more --effort."


def missed(who: str, nutrient: str) -> str:
    """Say who is short of what, or gets too much of it."""
    verb = "get too much" if nutrient in TOO_MUCH else "are short of"
    return f"{who} {verb} {nutrient_word(nutrient)}"


def hungry(who: str, what: str, since: str, left: str, day: str) -> str:
    """Say that a group goes without much of what it needs although hay is left.

    Examples
    --------
    >>> hungry("Bulls", "long forage", "Nov 2", "9 tons", "May 3")
    'Bulls go short of long forage from Nov 2, with 9 tons of hay left May 3.'
    """
    return f"{who} go short of {what} from {since}, with {left} of hay left {day}."


def need_short(who: str, nutrient: str, since: str, left: str, day: str) -> str:
    """Say that hay is left while a need is not met, or a ceiling not kept.

    Examples
    --------
    >>> need_short("Cows", "sulfur", "Nov 2", "9 tons", "May 3")
    'The hay lasts (9 tons left May 3), but Cows get too much sulfur from Nov 2.'
    """
    return f"The hay lasts ({left} left {day}), but {missed(who, nutrient)} from {since}."


def farm_short(what: str, left: str, day: str) -> str:
    """Say that the hay lasts while the whole farm misses something: money, or a reserve."""
    if what == "reserve":
        return f"The hay lasts, but {left} left {day} is less than the reserve you asked for."
    missed = {"cash": "money for feed"}.get(what, nutrient_word(what))
    return f"The hay lasts ({left} left {day}), but {missed} runs short."


def runs_out(day: str) -> str:
    """Say when the yard is empty."""
    return f"empty about {day}"


def tons_basis(display: Display) -> str:
    """Say what a ton means on this sheet."""
    ton = "A ton is a short ton (2,000 lb)" if display.system == "us" else "A tonne (t) is 1,000 kg"
    return f"{ton} of dry matter: hay without its water."


def dangers_of(names: list[str]) -> str:
    """Point from what a group is fed to the dangers further down."""
    return f"DANGER: read the note on {listed(names)} below first."


def left_out(names: list[str]) -> str:
    """Say what the program counts on that is too little to weigh out."""
    return f"Too little to weigh out, and left off: {listed(names)}."


def dangers_below(count: int) -> str:
    """Point to the dangers further down."""
    if count == 1:
        return "1 danger below. Read it before feeding."
    return f"{count} dangers below. Read them before feeding."


def group_title(name: str, head: int) -> str:
    """Name what a group is given."""
    return f"{name}, {head:,} head: what to put out each day, as fed"


def lots_title(unit: str) -> str:
    """Name the balance of the lots."""
    return f"Where the hay goes, {unit} of dry matter"


def more_in_json(count: int, what: str = "") -> str:
    """Say that a list was cut."""
    middle = f" {what}" if what else ""
    return f"{count}{middle} {MORE_IN_JSON}"


def proof(gap: float, *, short: bool) -> str:
    """Say how close the program is to the cheapest there can be."""
    if gap < 0.0005:
        return "Proven: no cheaper program exists for these numbers."
    if gap > TELLING_GAP:
        why = " because what is short outweighs it" if short else ""
        return (
            f"How close this is to the least cost is not proven{why}; a longer search (--effort) "
            "may find a better program."
        )
    priced = ", shortages priced in" if short else ""
    share = f"{gap * 100:.1f}"
    return f"Proven: within {share}% of the least possible cost for these numbers{priced}."


def proof_apart(short_gap: float, money_gap: float) -> str:
    """Say of rations that are short how near they are to the least short, and to the least money.

    >>> proof_apart(0.001, 0.0312)
    'Proven: no rations can be less short for these numbers. Of rations no shorter than these, \
none costs over 3.1% less.'
    >>> proof_apart(0.08, 0.9)
    'Proven: at least 92% of this shortage, counted by the harm it does, cannot be avoided. \
How much less they could cost is not proven; a longer search (--effort) may find a better program.'
    """
    if short_gap < NO_SHORTER:
        short = "Proven: no rations can be less short for these numbers."
    elif short_gap > TELLING_GAP:
        short = (
            "How much of this shortage could be avoided is not proven; a longer search (--effort) "
            "may find less."
        )
    else:
        short = (
            f"Proven: at least {floor(100.0 * (1.0 - short_gap))}% of this shortage, counted by "
            "the harm it does, cannot be avoided."
        )
    if money_gap > TELLING_GAP:
        more = "a longer search (--effort) may find a better program."
        return f"{short} How much less they could cost is not proven; {more}"
    if money_gap < 0.0005:
        return f"{short} Of rations no shorter than these, none costs less."
    return (
        f"{short} Of rations no shorter than these, none costs over {100.0 * money_gap:.1f}% less."
    )


def worth_sentences(program: SeasonProgram) -> list[str]:
    """Say what more of each lot is worth, the dearest first, and what feeds would enter."""
    sought = [one for one in program.lot_worth if one.usd_per_t_dm is None or one.usd_per_t_dm > 0]
    # A lot that would make up a shortage comes before any that only saves money.
    sought.sort(key=lambda one: -inf if one.usd_per_t_dm is None else -one.usd_per_t_dm)
    return [one.sentence for one in sought] + [
        one.sentence for one in program.feed_worth if not one.bought
    ]


def printed(day: str) -> str:
    """Say when the sheet was printed."""
    return f"printed {day}"


TITLE: Final = "What to put out this week"
FED_COLUMN: Final = "actually fed, total"
SHARE_IN_PROGRAM: Final = "share of the day's hay"
DANGER: Final = "DANGER: read the note on it first"
NOTHING: Final = "Nothing to put out for them this week."
SEEN_ABOVE: Final = "▲ and ◆ beside a name: read the note on it where it is first listed."
SEEN_FIRST: Final = (
    "▲ beside a name: read its danger where it is first listed in this week. ◆ beside a name: read "
    "the note on it on the first pages."
)
ALWAYS_TITLE: Final = "To be read once, and known in every week"
WRITE_BOOK: Final = (
    "Figures are for the whole group, as fed. An empty day means nothing is put out. Write what "
    "was actually fed below each figure or in the last column: it goes into fed.csv, and a new "
    "plan starts from it. Dangers stand in every week; a new plan makes this file stale."
)
WRITE_NOTE: Final = (
    "Figures are for the whole group, as fed. An empty day means nothing is put out. Write what "
    "was actually fed below each figure: it goes into fed.csv, and a new plan starts from it."
)
FOR_ALL: Final = "For the whole farm"


def kept_from(named: Sequence[str]) -> str:
    """Say what a group never gets, for whoever stands at the stack and is short of a bale.

    >>> kept_from(["Sudan rounds (nitrate)", "Oats (grain and starch)"])
    'Never give them Sudan rounds (nitrate) or Oats (grain and starch).'
    """
    return f"Never give them {listed(list(named), 'or')}."


def for_nobody(named: Sequence[str]) -> str:
    """Say what nobody on the farm gets.

    >>> for_nobody(["Millet hay (nitrate)"])
    'Give to no animal here: Millet hay (nitrate).'
    """
    return f"Give to no animal here: {listed(list(named))}."


def by_flake(name: str, daily: str) -> str:
    """Say that a small bale is fed by the flake, and how much of it in a day.

    >>> by_flake("Timothy squares", "6.7 lb")
    'Feed Timothy squares by the flake, about 6.7 lb a day: the day of a bale is when to open it.'
    """
    return f"Feed {name} by the flake, about {daily} a day: the day of a bale is when to open it."


def mixed_by_hand(old: Sequence[str], new: str, day: str, days: int) -> str:
    """Say that a hay is changed by the pounds of each day, and that bales are only opened for it.

    >>> mixed_by_hand(["Orchard"], "Bermuda", "Jan 18", 10)
    'Change from Orchard to Bermuda over 10 days from Jan 18: feed of both what stands here \
for each day, and open bales as they are used up.'
    """
    return (
        f"Change from {listed(list(old))} to {new} over {days} days from {day}: feed of both what "
        "stands here for each day, and open bales as they are used up."
    )


def read_above(hays: Sequence[str], group: str, *, danger: bool = True) -> str:
    """Say where the dangers, or else the warnings, of hays that several groups get are told.

    >>> read_above(["Sudan"], "Heifers")
    'The danger of Sudan stands under Heifers: read it before you feed this group.'
    >>> read_above(["Fescue"], "Ponies", danger=False)
    'The warning of Fescue stands under Ponies: read it before you feed this group.'
    """
    named, level = listed(list(hays)), "danger" if danger else "warning"
    return f"The {level} of {named} stands under {group}: read it before you feed this group."


def title(first: str, last: str) -> str:
    """Name the week."""
    return f"{TITLE}: {first} to {last}"


MIXED_TOGETHER: Final = ", weighed and mixed together"


def no_hay_today(day: str) -> str:
    """Say when hay is next put out.

    >>> no_hay_today("Thu, Nov 5")
    'no hay today, next on Thu, Nov 5'
    """
    return f"no hay today, next on {day}"


def by_bale(weight: str) -> str:
    """Say that figures are bales, and what one weighs."""
    return f"bales, about {weight} each"


def by_hand(unit: str) -> str:
    """Say that figures are what a day gets of a hay that is mixed in by hand.

    >>> by_hand("lb")
    'lb a day in place of bales, if mixed by hand'
    """
    return f"{unit} a day in place of bales, if mixed by hand"


def forked(unit: str) -> str:
    """Say that figures are weighed out of an opened bale.

    >>> forked("lb")
    'lb a day, forked from an opened bale'
    """
    return f"{unit} a day, forked from an opened bale"


def still_fed(name: str, day: str, following: str) -> str:
    """Say that an earlier bale of a hay is still being fed, and when the next comes.

    >>> still_fed("Prairie hay", "Mon, Dec 7", "Wed, Dec 23")
    'The bale of Prairie hay put out on Mon, Dec 7 is still theirs; the next is for Wed, Dec 23.'
    >>> still_fed("Prairie hay", "Mon, Dec 7", "")
    'The bale of Prairie hay put out on Mon, Dec 7 is still theirs: their last.'
    """
    then = f"; the next is for {following}." if following else ": their last."
    return f"The bale of {name} put out on {day} is still theirs{then}"


def weighed(unit: str) -> str:
    """Say that figures are weighed out and mixed into other feed."""
    return f"{unit}, weighed and mixed in"


def by_mass(unit: str, days: int) -> str:
    """Say that figures are a mass, and how long one that comes once is for."""
    return f"{unit}, for {days} days" if days > 1 else unit


def the_same_in(name: str) -> str:
    """Say that a line tells an amount once more."""
    return f"the same, {name}"


def by_measure(measure: str, weight: str) -> str:
    """Say what figures count, and what one of it holds."""
    return f"{measure}, {weight} each"


def grazing(names: list[str]) -> str:
    """Say that a group is on grass."""
    return f"They are on {listed(names)}."


def outside(day: str, first: str, last: str) -> str:
    """Say that a day is not in the season."""
    return (
        f"{day} is not in the season, which runs from {first} to {last}.\n"
        "  Give a day of the season with --on."
    )


OUTCOMES_TITLE: Final = "What becomes of the stock"
OUTCOMES_BELOW: Final = (
    "Worked out from energy alone; the range is what 8% less or more eaten would make of it. Score "
    "condition by hand at weaning, 90 days before calving and at calving, and believe your hands."
)

TRACED_TITLE: Final = "Minerals and vitamins against need"

#: The columns: what each is called over its column.
TRACED_HEADINGS: Final = {
    "cu": "copper",
    "se": "selenium",
    "mg": "magnesium",
    "vitamin_a": "vitamin A",
    "vitamin_e": "vitamin E",
}
TRACED_BELOW: Final = (
    "Of the highest need of the season, by the tags of minerals and feeds and the tests of hay; "
    "vitamins of hay are not counted. tag? means that what the tag says is not written in "
    "feeds.csv. Ask your veterinarian before you feed more selenium or copper."
)


def coverage_cell(one: Coverage) -> str:
    """Say in a word how far a trace mineral or vitamin is covered."""
    if one.verdict == "covered":
        return "covered"
    if one.verdict == "too_much":
        return "too much"
    if one.verdict == "unknown":
        return "tag?"
    share = 100.0 * (one.from_feeds + one.from_hay) / one.need if one.need > 0.0 else 100.0
    return f"{min(share, 99.0):.0f}%"
