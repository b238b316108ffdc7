"""What is said of hay to buy is so when it is bought; what hay cannot give is not promised."""

from __future__ import annotations

from rickyard.display import Display
from rickyard.program.planning import plan_season
from rickyard.sheets.wording import answer_of
from support.season_farms import cows, farm_of, hay, report_on, steers
from support.weekly import WEEKLY


def headline(farm_hay_t: float, *, growing: bool) -> tuple[str, bool]:
    lot = hay("lot", 55.0, 11.0, farm_hay_t, 100.0)
    group = steers(gain=1.3) if growing else cows()
    farm = farm_of([(lot, report_on(lot, 55.0, 11.0))], [group], [], weeks=8)
    program = plan_season(farm, options=WEEKLY)
    assert program.hay_to_buy is not None
    assert program.hay_to_buy.checked
    return answer_of(program, farm, Display("us")).sentence, program.hay_to_buy.gives_all


def test_first_use_10_hay_that_is_enough_is_told_as_enough() -> None:
    sentence, gives_all = headline(8.0, growing=False)
    assert gives_all
    assert "to last to" in sentence
    assert "Even with it" not in sentence


def test_first_use_10_hay_that_cannot_give_the_gain_is_told_so() -> None:
    sentence, gives_all = headline(2.0, growing=True)
    assert not gives_all
    assert sentence.endswith("Even with it they are short: hay alone is not enough.")
