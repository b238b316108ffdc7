"""What planning several winters together says, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.farm import Winter
from rickyard.program.result import (
    Bought,
    WinterProgram,
    WinterPrograms,
    Words,
    day,
    dollars,
    listed,
)

#: Money or hay below this is not worth a sentence, US dollars and kg DM.
TRIFLE_USD: Final = 1.0
TRIFLE_KG: Final = 50.0

#: Less than this is told by the pound or kilogram, in tons of the farm.
SMALL_TONS: Final = 0.5

#: Days of hay below this are no reserve.
TRIFLE_DAYS: Final = 0.5


def winter_sentences(programs: WinterPrograms) -> tuple[str, ...]:
    """Say what to buy and keep in autumn, what each winter costs, and what planning for all saves.

    Parameters
    ----------
    programs : WinterPrograms
        The winters planned together.

    Returns
    -------
    tuple of str
        In the order in which a person acts on them.
    """
    words = Words(programs.farm.units)
    return (
        _known(programs),
        _autumn(programs, words),
        _hold_back(programs, words),
        *(_winter(one, words) for one in programs.winters),
        _expected(programs),
        _normal_only(programs),
    )


def _known(programs: WinterPrograms) -> str:
    why = (
        ""
        if programs.known_on_stated
        else " (after a third of the season, as winter_known_on says nothing)"
    )
    names = listed([one.winter.value for one in programs.winters]).replace(" and ", " or ")
    return (
        f"Until {day(programs.known_on)}{why} nobody knows whether the winter is {names}: up to "
        "then the feeding and the purchases are the same."
    )


def _autumn(programs: WinterPrograms, words: Words) -> str:
    if not programs.autumn:
        return "Buy nothing in autumn."
    paid = sum(one.cost_usd for one in programs.autumn)
    return f"Buy in autumn: {_list(programs.autumn, words)}, for {dollars(paid)}."


def _list(bought: Sequence[Bought], words: Words) -> str:
    return listed([f"{_amount(one.as_fed_kg, words)} of {one.name}" for one in bought])


def _amount(kg: float, words: Words) -> str:
    return words.mass(kg) if kg < SMALL_TONS * words.kg_per_ton else words.tons(kg)


def _hold_back(programs: WinterPrograms, words: Words) -> str:
    if programs.winters[-1].winter is not Winter.SEVERE:
        return "A severe winter has no chance here, so no hay is held back for one."
    if programs.hold_back_kg_dm < TRIFLE_KG or programs.reserve_days < TRIFLE_DAYS:
        return "No hay is held back for a severe winter: it takes no more of it than a normal one."
    return (
        f"Hold back {words.tons(programs.hold_back_kg_dm)} of hay (dry matter) for a severe "
        f"winter, {programs.reserve_days:.0f} days of hay for the stock of the last day: that is "
        f"what it takes beyond a normal one after {day(programs.known_on)}."
    )


def _winter(one: WinterProgram, words: Words) -> str:
    sentence = f"A {one.winter.value} winter (chance {one.chance_pct:.0f} %) costs "
    sentence += dollars(one.cost_usd)
    if one.bought_later:
        plain = [_plain(bought) for bought in one.bought_later]
        sentence += f" and asks later for {_list(plain, words)}"
    sentence += f"; {words.tons(max(0.0, one.hay_left_kg_dm))} of hay (dry matter) are left."
    if one.cash_short_usd >= TRIFLE_USD:
        sentence += f" The cash limit is passed by {dollars(one.cash_short_usd)}."
    if one.program.shortages:
        sentence += f" Something is short: {one.program.shortages[0].sentence}"
    return sentence


def _plain(bought: Bought) -> Bought:
    name = bought.name.rsplit(",", 1)[0]
    return Bought(bought.feed_id, name, bought.as_fed_kg, bought.cost_usd)


def _expected(programs: WinterPrograms) -> str:
    return f"The cost to expect is {dollars(programs.expected_usd)}."


def _normal_only(programs: WinterPrograms) -> str:
    hardest = programs.winters[-1]
    if programs.normal_only_usd is None or hardest.normal_only_usd is None:
        return (
            f"Who plans for a normal winter alone and meets a {hardest.winter.value} one cannot "
            "keep to the feeding planned for autumn."
        )
    more = hardest.normal_only_usd - hardest.cost_usd
    lacks = (hardest.normal_only_penalty_usd or 0.0) - hardest.penalty_usd
    opening = f"Who plans for a normal winter alone and meets a {hardest.winter.value} one pays "
    told = f"{opening}{dollars(hardest.normal_only_usd)}"
    if lacks > TRIFLE_USD:
        return f"{told} and leaves needs unmet that this plan meets."
    if more > TRIFLE_USD:
        return f"{told}, {dollars(more)} more."
    return f"{told}, about the same: nothing is lost by waiting."
