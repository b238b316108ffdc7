"""What several winters come to together, and what is said of them, in figures laid down by hand."""

from __future__ import annotations

from datetime import date
from typing import Any

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import Winter
from rickyard.program.result import Bought
from rickyard.program.solver import SolveError
from rickyard.program.winters import winters
from rickyard.program.winters.winter_farms import sunk_usd
from rickyard.program.winters.winter_words import _hold_back, _normal_only, _winter
from rickyard.program.winters.winters import (
    _bought_in_autumn,
    _bought_later,
    _hay_after,
    _together,
)
from support.by_hand import one
from support.rows import each_row

US = Display("us")


#: One lot and four feeds, of which the second and the fourth are bought in autumn.
GIVEN: Any = one(
    farm=one(
        lots=[one()],
        feeds=[
            one(feed_id=name, name=name.title(), price_usd_per_kg=usd)
            for name, usd in (("w", 9.0), ("x", 0.2), ("y", 9.0), ("z", 0.4))
        ],
    ),
    split=one(autumn=np.array([2, 4]), end_worth=0.6, early=2),
    dm_frac=np.array([0.9, 9.0, 0.8, 9.0, 0.5]),
    known_on="a day",
)


def autumn(*kg_dm: float) -> Any:
    return one(bought_kg_dm=np.array(kg_dm), bound=77.0)


def test_what_autumn_bought_costs_and_loses() -> None:
    # 500 kg at 0.2 and 160 kg at 0.4, of which four tenths are lost by the end.
    assert sunk_usd(GIVEN, autumn(400.0, 80.0)) == pytest.approx(0.4 * (100.0 + 64.0))
    assert _bought_in_autumn(GIVEN, autumn(400.0, 80.0)) == (
        Bought("x", "X", pytest.approx(500.0), pytest.approx(100.0)),  # type: ignore[arg-type]
        Bought("z", "Z", pytest.approx(160.0), pytest.approx(64.0)),  # type: ignore[arg-type]
    )
    # Half a kilogram is nothing.
    assert _bought_in_autumn(GIVEN, autumn(0.4, 0.25)) == ()
    assert len(_bought_in_autumn(GIVEN, autumn(0.42, 0.25))) == 1


def test_what_is_bought_later_is_told_from_half_a_kilogram() -> None:
    rows = [("x_later", 0.5), ("y_later", 0.54), ("x", 99.0)]
    purchases = [one(feed_id=name, name=name, as_fed_kg=kg, cost_usd=kg) for name, kg in rows]
    found = _bought_later(one(purchases=purchases))  # type: ignore[arg-type]
    assert found == (Bought("y_later", "y_later", 0.54, 0.54),)


def test_hay_after_autumn_is_what_was_there_already() -> None:
    values = [("lot", True), ("x", True), ("x_later", True), ("corn", False)]
    sources = [one(source_id=name, dm_pct=80.0, is_hay=hay) for name, hay in values]
    rows = [(1, "lot"), (2, "lot"), (3, "x"), (2, "x_later"), (2, "corn")]
    feeding = [one(period=t, source_id=name, offered_kg=100.0) for t, name in rows]
    assert _hay_after(one(sources=sources, feeding=feeding), 2) == 160.0  # type: ignore[arg-type]


def winter(kind: Winter = Winter.SEVERE, **what: Any) -> Any:
    usual = {
        "winter": kind,
        "chance_pct": 50.0,
        "cost_usd": 1000.0,
        "penalty_usd": 10.0,
        "normal_only_usd": 1100.0,
        "normal_only_penalty_usd": 20.0,
        "bought_later": (),
        "hay_after_kg_dm": 4000.0,
        "hay_left_kg_dm": 0.0,
        "cash_short_usd": 0.0,
        "program": one(shortages=(), assumptions=()),
    }
    return one(**{**usual, **what})


def together(*found: Any, here: bool = True) -> Any:
    season = one(winter_known_on=None, carry_over_value_pct=50.0)
    needs = one(
        here=np.array([[True, here], [True, False]]),
        head=np.full((2, 2), 10.0),
        full_weight_kg=np.full((2, 2), 500.0),
    )
    farm: Any = one(season=season)
    return _together(farm, GIVEN, autumn(400.0, 80.0), found, one(needs=needs))  # type: ignore[arg-type]


def test_winters_are_weighed_by_their_chances() -> None:
    mild = winter(Winter.MILD, chance_pct=20.0, cost_usd=500.0, hay_after_kg_dm=1000.0)
    usual = winter(Winter.NORMAL, chance_pct=50.0, hay_after_kg_dm=3000.0)
    hard = winter(chance_pct=30.0, cost_usd=2000.0, penalty_usd=100.0)
    found = together(mild, usual, hard)
    assert found.expected_usd == pytest.approx(100.0 + 500.0 + 600.0)
    assert found.expected_penalty_usd == pytest.approx(2.0 + 5.0 + 30.0)
    assert found.normal_only_usd == pytest.approx(1120.0)
    assert (found.bound_usd, found.hold_back_kg_dm) == (77.0, 1000.0)
    # Ten head of 500 kg are there at the end, and eat 2.5 % of weight.
    assert found.reserve_days == pytest.approx(1000.0 / 125.0)
    assert not found.known_on_stated
    assert [each.sentence for each in found.assumptions][1].endswith("keeps 50% of its price.")
    # Without a normal winter the mildest stands for it.
    assert together(mild, hard).hold_back_kg_dm == 3000.0
    assert together(usual, winter(hay_after_kg_dm=2999.0)).hold_back_kg_dm == 0.0
    assert together(usual, hard, here=False).reserve_days == 0.0
    for nothing in ({"normal_only_usd": None}, {"normal_only_penalty_usd": None}):
        found = together(winter(Winter.NORMAL, **nothing), winter())
        wanted = None if "normal_only_usd" in nothing else pytest.approx(550.0 + 560.0)
        assert found.normal_only_usd == wanted


def test_a_winter_costs_what_it_pays_and_what_autumn_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(winters, "with_stock", lambda *what: "farm")
    problem = one(fixed_usd=30.0)
    monkeypatch.setattr(winters, "winter_problem", lambda *what: problem)
    columns = one(first_shortage=2)
    model = one(columns=columns, cost=np.array([1.0, 2.0, 10.0]))
    at = one(x=np.array([3.0, 4.0, 5.0]))
    best = one(model=model, optimum=at, prices=0, cash_short_usd=6.0, cash_penalty_usd=12.0)
    monkeypatch.setattr(winters, "later", lambda *what: best)
    hay = [one(left_t=0.5), one(left_t=0.25)]
    program = one(cost=100.0, penalty=7.0, purchases=(), lots=hay, sources=(), feeding=())
    monkeypatch.setattr(winters, "explain", lambda *what: program)
    plans: Any = (autumn(400.0, 80.0), autumn(400.0, 0.0))
    found = winters._winter(GIVEN, Winter.MILD, 0.3, plans, str)
    assert (found.chance_pct, found.cash_short_usd) == (30.0, 6.0)
    assert found.cost_usd == pytest.approx(100.0 + 65.6)
    assert found.penalty_usd == 19.0
    # Three and eight, what no decision changes, and what the other autumn lost.
    assert found.normal_only_usd == pytest.approx(11.0 + 30.0 + 40.0)
    assert found.normal_only_penalty_usd == 62.0
    assert found.hay_left_kg_dm == 750.0

    def fails(*what: Any) -> Any:
        raise SolveError("no")

    monkeypatch.setattr(winters, "later", fails)
    assert winters._normal_only(GIVEN, Winter.MILD, plans[1], str) is None


@pytest.mark.parametrize(
    ("kind", "kg", "days", "said"),
    [
        (Winter.NORMAL, 9000.0, 9.0, "A severe winter is given no chance"),
        (Winter.SEVERE, 49.9, 9.0, "No hay is held back"),
        (Winter.SEVERE, 9000.0, 0.49, "No hay is held back"),
        (Winter.SEVERE, 50.0, 0.5, "Hold back"),
    ],
)
def test_a_trifle_of_hay_is_not_held_back(kind: Winter, kg: float, days: float, said: str) -> None:
    programs: Any = one(
        winters=[winter(kind)], hold_back_kg_dm=kg, reserve_days=days, known_on=date(2027, 1, 4)
    )
    assert _hold_back(programs, US).startswith(said)


def test_what_a_winter_costs_buys_and_lacks_is_told() -> None:
    plain = _winter(winter(hay_left_kg_dm=-1.0), US)
    assert plain == (
        "A severe winter (50% chance) costs $1,000; "
        f"{US.amount_text(0.0)} of hay (dry matter) left."
    )
    over = "It goes $1.00 over the cash limit."
    assert over in _winter(winter(cash_short_usd=1.0), US)
    assert over not in _winter(winter(cash_short_usd=0.95), US)
    later = _winter(winter(bought_later=(Bought("x", "Hay, X, bought later", 900.0, 1.0),)), US)
    assert f" and buys later {US.amount_text(900.0)} of Hay, X;" in later
    short = one(shortages=[one(sentence="First."), one(sentence="Second.")])
    assert _winter(winter(program=short), US).endswith("Something is short: First.")


@each_row(
    ("usd", "penalty", "said"),
    [
        (1000.0, 10.0, "costs $1,000, about the same"),
        (1001.0, 11.0, "costs $1,001, about the same"),
        (1001.1, 10.0, ", $1.10 more."),
        (900.0, 11.1, "and leaves needs unmet"),
        (1100.0, None, "costs $1,100, $100 more."),
        (None, None, "a severe one cannot be fed"),
    ],
)
def test_what_planning_for_a_normal_winter_alone_costs_is_told(
    usd: float | None, penalty: float | None, said: str
) -> None:
    hard = winter(normal_only_usd=usd, normal_only_penalty_usd=penalty)
    programs: Any = one(winters=[winter(Winter.NORMAL), hard], normal_only_usd=1.0)
    assert said in _normal_only(programs)
    programs.normal_only_usd = None
    assert "cannot be fed" in _normal_only(programs)
