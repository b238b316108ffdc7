"""What planning several winters together says, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.display import Display, display_for, listed, money_text
from rickyard.farm import Winter
from rickyard.program.result import Bought, WinterProgram, WinterPrograms

#: Money or hay below this is not worth a sentence, US dollars and kg DM.
TRIFLE_USD: Final = 1.0
TRIFLE_KG: Final = 50.0

#: Less than this is told by the pound or kilogram, in tons of the farm.

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
    display = display_for(programs.farm.units)
    return (
        _known(programs, display),
        _autumn(programs, display),
        _hold_back(programs, display),
        *(_winter(one, display) for one in programs.winters),
        f"Expected cost over the winters: {money_text(programs.expected_usd)}.",
        _normal_only(programs),
    )


def _known(programs: WinterPrograms, display: Display) -> str:
    why = (
        ""
        if programs.known_on_stated
        else " (a third of the season; set winter_known_on in farm.toml to change it)"
    )
    names = listed([one.winter.value for one in programs.winters], "or")
    return (
        f"Until {display.day_year_text(programs.known_on)}{why} no one knows yet whether the "
        f"winter is {names}: up to then feeding and purchases are the same."
    )


def _autumn(programs: WinterPrograms, display: Display) -> str:
    if not programs.autumn:
        return "Buy nothing this fall."
    paid = sum(one.cost_usd for one in programs.autumn)
    return f"Buy this fall: {_list(programs.autumn, display)}, for {money_text(paid)}."


def _list(bought: Sequence[Bought], display: Display) -> str:
    return listed([f"{display.amount_text(one.as_fed_kg)} of {one.name}" for one in bought])


def _hold_back(programs: WinterPrograms, display: Display) -> str:
    if programs.winters[-1].winter is not Winter.SEVERE:
        return "A severe winter is given no chance here, so no hay is held back for one."
    if programs.hold_back_kg_dm < TRIFLE_KG or programs.reserve_days < TRIFLE_DAYS:
        return "No hay is held back for a severe winter: it takes no more of it than a normal one."
    return (
        f"Hold back {display.amount_text(programs.hold_back_kg_dm)} of hay (dry matter) for a "
        f"severe winter, {programs.reserve_days:.0f} days of hay for the stock of the last day: "
        "what it takes beyond a normal one after "
        f"{display.day_year_text(programs.known_on)}."
    )


def _winter(one: WinterProgram, display: Display) -> str:
    sentence = f"A {one.winter.value} winter ({one.chance_pct:.0f}% chance) costs "
    sentence += money_text(one.cost_usd)
    if one.bought_later:
        plain = [replace(bought, name=bought.name.rsplit(",", 1)[0]) for bought in one.bought_later]
        sentence += f" and buys later {_list(plain, display)}"
    sentence += f"; {display.amount_text(max(0.0, one.hay_left_kg_dm))} of hay (dry matter) left."
    if one.cash_short_usd >= TRIFLE_USD:
        sentence += f" It goes {money_text(one.cash_short_usd)} over the cash limit."
    if one.program.shortages:
        sentence += f" Something is short: {one.program.shortages[0].sentence}"
    return sentence


def _normal_only(programs: WinterPrograms) -> str:
    hardest = programs.winters[-1]
    if programs.normal_only_usd is None or hardest.normal_only_usd is None:
        return (
            f"Planned for a normal winter alone, a {hardest.winter.value} one cannot be fed by the "
            "fall part of that program."
        )
    more = hardest.normal_only_usd - hardest.cost_usd
    lacks = (hardest.normal_only_penalty_usd or 0.0) - hardest.penalty_usd
    opening = f"Planned for a normal winter alone, a {hardest.winter.value} one costs "
    paid = f"{opening}{money_text(hardest.normal_only_usd)}"
    if lacks > TRIFLE_USD:
        return f"{paid} and leaves needs unmet that this plan meets."
    if more > TRIFLE_USD:
        return f"{paid}, {money_text(more)} more."
    return f"{paid}, about the same: nothing is lost by waiting."
