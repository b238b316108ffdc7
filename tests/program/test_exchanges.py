"""The search for rations one step at a time: things left out, exchanged, chosen and carried over.

The rations stand-ins hold a few amounts; what a solver would answer is laid down by hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from rickyard.program.rations import other_things
from rickyard.program.rations.few_things import Yard, _possible
from rickyard.program.rations.held import Limits
from rickyard.program.rations.other_things import Exchange, Reopening, _at_most, _begun, looked_at
from rickyard.program.rations.practical import Measured
from rickyard.program.rations.search import Best, RationSearch, _carried, _rations
from rickyard.program.runs.spans import Spans
from rickyard.program.solver import SolveError, SparseRows
from support.by_hand import one
from support.rows import each_row

practical = import_module("rickyard.program.rations.practical")
searching = import_module("rickyard.program.rations.search")
few = import_module("rickyard.program.rations.few_things")
INF = np.inf


def bools(text: str) -> Any:
    return np.array([letter == "x" for letter in text])


def marks(found: Any) -> str:
    return "".join("x" if one else "." for one in found)


# --- leaving things out --------------------------------------------------------------------------


class Held:
    """Rations of one group whose solver gives the answers that it was told, one after another."""

    def __init__(
        self, *answers: Any, things: int = 2, must: str = "...", least: float = 1.0
    ) -> None:
        self.answers, self.asked = list(answers), list[Any]()
        count = len(must)
        self.counts, self.must = np.ones(count, dtype=bool), bools(must)
        self.least, self.at = np.ones(count), np.arange(count)
        self.group = self.span = np.zeros(count, dtype=int)
        self.source = np.arange(count)
        self.limits = one(is_hay=np.zeros(count, dtype=bool), hays=[9], things=[things])

    def hold(self, used: Any, free: Any = None) -> None:
        self.asked.append(marks(used) + (" " + marks(free) if free is not None else ""))

    def tied_answer(self, moving: int = 3, rough: bool = False) -> Any:
        self.asked[-1] += f" {moving}{' rough' if rough else ''}"
        answer = self.answers.pop(0)
        if answer is None:
            raise SolveError("none")
        return one(x=np.array(answer))


def few_of(held: Any, monkeypatch: pytest.MonkeyPatch) -> str:
    count = len(held.must)
    yard = Yard(np.full(count, -1), np.zeros(count), np.zeros(0))
    monkeypatch.setattr(few, "_yard_of", lambda held: yard)
    monkeypatch.setattr(few, "_possible", lambda held, used: used)
    monkeypatch.setattr(few, "_within", lambda held, used: used)
    return marks(few.few_things(held))


class Costs:
    """A solver that is told costs, and answers one amount after another."""

    def __init__(self, *answers: Any) -> None:
        self.answers, self.told = list(answers), list[Any]()

    def costs(self) -> Any:
        return np.full(3, 7.0)

    def set_cost(self, usd: Any) -> None:
        self.told.append((usd - 7.0).tolist())

    def minimise(self) -> Any:
        return one(x=np.array(self.answers.pop(0)))


def test_things_are_made_dear_until_a_ration_holds_few() -> None:
    # Three things in a ration of two, at a cost of 2,000: each costs a dollar, by what there is.
    inner = Costs([5.0, 2.0, 1e-7], [9.0, 9.0, 9.0])
    held: Any = Held(must="...")
    held.session = one(inner=inner)
    held.tied_answer = lambda moving: one(x=np.array([5.0, 2.0, 0.1]), objective=2000.0)
    assert marks(few.dear_things(held)) == "xx."
    # What is hardly there counts as three tenths of its least.
    assert inner.told[0] == pytest.approx([1.0 / 5.0, 1.0 / 2.0, 1.0 / 0.3])
    assert inner.told[1] == [0.0, 0.0, 0.0], "in the end everything costs what it did"
    assert inner.answers == [[9.0, 9.0, 9.0]]
    # Who is still in too many costs a fifth more; what is gone keeps its price or a greater one.
    held.session = one(inner=Costs([5.0, 2.0, 0.5], [5.0, 0.0, 2.0]))
    assert marks(few.dear_things(held)) == "x.x"
    assert held.session.inner.told[1] == pytest.approx([1.2 / 5.0, 1.2 / 2.0, 1.2 / 0.5])


@pytest.mark.parametrize(
    ("held", "kept", "asked"),
    [
        # The least of three goes, and two are left.
        (lambda: Held([5, 3, 2], [5, 5, 0]), "xx.", ["... xxx 8", "... xx. 8 rough"]),
        # Seven tenths of a least are raised to it.
        (
            lambda: Held([5, 3, 0.7], [5, 2.7, 1.0], things=3),
            "xxx",
            ["... xxx 8", "..x xx. 8 rough"],
        ),
        # Three tenths are left out, and what is next to a least is one.
        (lambda: Held([5, 3, 0.3], [5, 3.3, 0], things=3), "xx.", ["... xxx 8", "... xx. 8 rough"]),
        (lambda: Held([5, 3, 1.0 - 0.9e-6], things=3), "xxx", ["... xxx 8"]),
        (
            lambda: Held([5, 3, 1.0 - 1.1e-6], [5, 3, 1], things=3),
            "xxx",
            ["... xxx 8", "..x xx. 8 rough"],
        ),
        (lambda: Held([5, 3, 1.0 * (1.0 - 1e-6)], things=3), "xxx", ["... xxx 8"]),
        (lambda: Held([5, 3, 1e-6], things=3), "xx.", ["... xxx 8"]),
        # What must be fed stays, whatever it is.
        (lambda: Held([2, 3, 5], [3, 0, 5], must="x.."), "x.x", ["x.. .xx 8", "x.. ..x 8 rough"]),
        # Without what was left out there is no answer: it is needed after all, and another goes.
        (
            lambda: Held([5, 3, 2], None, [5, 3, 2], [5, 0, 2]),
            "x.x",
            ["... xxx 8", "... xx. 8 rough", "... xxx 8 rough", "... x.x 8 rough"],
        ),
        # There is not enough to raise it: then it is left out.
        (
            lambda: Held([5, 3, 0.7], None, [5, 4, 0], things=3),
            "xx.",
            ["... xxx 8", "..x xx. 8 rough", "... xx. 8 rough"],
        ),
    ],
)
def test_the_least_of_too_many_is_left_out_until_all_have_their_least(
    held: Any, kept: str, asked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    held = held()
    assert few_of(held, monkeypatch) == kept
    assert held.asked == asked


def test_the_least_is_the_smallest_part_of_what_it_should_be(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held = Held([5, 6, 2], [5, 0, 2])
    held.least = np.array([1.0, 4.0, 1.0])
    assert few_of(held, monkeypatch) == "x.x"


def test_the_yard_is_what_rows_of_stock_and_of_purchases_by_weight_allow() -> None:
    # Two amounts of a lot, one that comes in loads, one that is sold by weight.
    entries = [(0, 0, 2.0), (0, 1, 0.05), (1, 2, 1.0), (1, 5, -1.0), (2, 3, 4.0), (2, 4, 0.0)]
    row, column, value = (np.array(part) for part in zip(*[*entries, (3, 0, 9.0)], strict=True))
    upper = np.array([10.0, 20.0, 8.0, 1.0])
    rows = one(row=row, column=column, value=value, lower=np.zeros(4), upper=upper)
    inner = one(all_rows=lambda: rows)
    held: Any = one(
        session=one(inner=inner, inner_rows=lambda of: of[of >= 0]),
        model=one(stock_row=np.array([0]), buy_row=np.array([1, 2, -1])),
        ties=one(count=6),
        at=np.arange(4),
    )
    yard = few._yard_of(held)
    assert yard.lot.tolist() == [0, 0, -1, 2]
    assert yard.takes.tolist() == [2.0, 0.05, 0.0, 4.0]
    assert yard.there is upper


def test_without_an_answer_at_all_there_are_no_rations(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(SolveError):
        few_of(Held(None), monkeypatch)


def test_what_gets_the_smallest_part_of_its_least_stands_in_the_way() -> None:
    held: Any = Held(None, [0.5, 1.5, 3.0], [1, 1, 1], must="..x")
    held.least = np.array([1.0, 5.0, 9.0])
    assert marks(_possible(held, bools("xxx"))) == "x.x"
    assert held.asked == ["xxx 3 rough", "..x xx. 3 rough", "x.x 3 rough"]
    with pytest.raises(SolveError):
        _possible(Held(None, must="xxx"), bools("xxx"))  # type: ignore[arg-type]
    assert marks(_possible(Held([1, 1, 1]), bools("x.x"))) == "x.x"  # type: ignore[arg-type]


def test_a_ration_that_holds_too_many_goes_without_the_least_that_it_can() -> None:
    # Without the second there is no answer, without the third there is; two are not too many.
    held: Any = Held([5, 2, 3], None, [5, 2, 3], [5, 2, 0])
    assert marks(few._within(held, bools("xxx"))) == "xx."
    assert held.asked == [f"{used} 3 rough" for used in ("xxx", "x.x", "xx.", "xx.")] + ["xx."]
    # Where none can be left out all are kept.
    held = Held([5, 2, 3], None, None, None)
    assert marks(few._within(held, bools("xxx"))) == "xxx"
    held = Held([5, 2, 3], must="xxx")
    assert marks(few._within(held, bools("xxx"))) == "xxx"
    # The least is the smallest part of what it must be.
    held = Held([5, 2, 3], [0, 2, 3], [0, 2, 3])
    held.least = np.array([10.0, 1.0, 1.0])
    assert marks(few._within(held, bools("xxx"))) == ".xx"


# --- one thing for another -----------------------------------------------------------------------


def test_the_cheapest_hays_and_all_that_is_in_use_are_looked_at() -> None:
    # Nine hays and one of the last ration, a feed, one of the next, of others, one that cannot be.
    count = 14
    span, group = np.zeros(count, dtype=int), np.zeros(count, dtype=int)
    span[9], span[11], group[12] = 2, 1, 1
    least, most = np.full(count, 1.0), np.full(count, 1.0)
    most[13] = 0.9
    held: Any = one(
        at=np.arange(count),
        group=group,
        span=span,
        source=np.arange(count),
        counts=np.ones(count, dtype=bool),
        least=least,
        most=most,
        must=np.zeros(count, dtype=bool),
        limits=one(is_hay=np.arange(count) != 10),
    )
    cost, x = np.arange(float(count))[::-1], np.zeros(count)
    prices: Any = one(reduced_cost=cost, x=x)
    none = np.zeros(count, dtype=bool)
    assert marks(looked_at(held, 0, none, prices)) == "..xxxxxxxxxx.."
    held.must[0], x[1] = True, 1e-6
    assert marks(looked_at(held, 0, none, prices)) == "x.xxxxxxxxxx.."
    x[1] = 2e-6
    assert marks(looked_at(held, 0, none, prices)) == "xxxxxxxxxxxx.."
    x[1], none[1] = 0.0, True
    assert marks(looked_at(held, 0, none, prices)) == "xxxxxxxxxxxx.."
    held.counts[10] = False
    assert marks(looked_at(held, 0, none, prices)) == "xxxxxxxxxx.x.."


def read(rows: SparseRows) -> list[tuple[float, dict[int, float]]]:
    found: list[tuple[float, dict[int, float]]] = [(high, {}) for high in rows.upper.tolist()]
    for row, column, value in zip(rows.row, rows.column, rows.value, strict=True):
        found[row][1][int(column)] = float(value)
    assert rows.lower.tolist() == [-INF] * len(found)
    return found


def test_no_more_are_in_use_than_may_be_or_have_to_be() -> None:
    noted: list[Any] = []
    session: Any = one(add_rows=noted.append)
    y, span = np.array([10, 11, 12, 13]), np.array([0, 0, 1, 1])
    most = np.array([1, 1, 1, 1])
    _at_most(session, y, span, bools("xxx."), most, bools("xx.."))
    (rows,) = noted
    assert read(rows) == [(2.0, {10: 1.0, 11: 1.0}), (1.0, {12: 1.0})]
    _at_most(session, y, span, bools("...."), most, bools("xx.."))
    assert len(noted) == 1
    _at_most(session, y, span, bools("xxxx"), np.array([1, 1, 3, 3]), bools("...."))
    assert read(noted[1]) == [(1.0, {10: 1.0, 11: 1.0}), (3.0, {12: 1.0, 13: 1.0})]


def test_things_are_chosen_by_whole_numbers_within_their_leasts_and_mosts() -> None:
    noted: list[Any] = []
    whole: list[Any] = []
    x = np.zeros(60)
    x[[50, 51, 52]], x[[7, 9]] = (0.9, 0.5, 0.51), (2.0001, 4.0)
    session: Any = one(
        add_columns=lambda *what: noted.append(what) or np.array([50, 51, 52]),
        add_rows=noted.append,
        require_whole=whole.append,
        minimise_whole=lambda limits: one(x=x),
    )
    columns = np.array([10, 11, 12, 7, -1])
    held: Any = one(
        opened=lambda others, candidates: (session, columns),
        at=np.arange(3),
        must=bools(".x."),
        most=np.array([5.0, 6.0, 7.0]),
        least=np.array([1.0, 0.0, 2.0]),
        span=np.zeros(3, dtype=int),
        source=np.arange(3),
        group=np.zeros(3, dtype=int),
        loads=np.array([3, 4]),
        limits=one(is_hay=bools("x.."), things=np.array([2]), hays=np.array([1]), change_usd=0.0),
    )
    choose = other_things.choose_things
    found = choose(held, bools("xxx"), one(), bools("..."))  # type: ignore[arg-type]
    (cost, low, high), at_most, at_least, things, hays = noted
    assert [cost.tolist(), low.tolist(), high.tolist()] == [[0.0] * 3, [0.0, 1.0, 0.0], [1.0] * 3]
    assert read(at_most) == [
        (0.0, {column: 1.0, y: -most})
        for column, y, most in ((10, 50, 5.0), (11, 51, 6.0), (12, 52, 7.0))
    ]
    assert (at_least.lower.tolist(), at_least.upper.tolist()) == ([0.0] * 3, [INF] * 3)
    assert at_least.value.tolist() == [1.0, 1.0, 1.0, -1.0, -0.0, -2.0]
    assert read(things) == [(2.0, {50: 1.0, 51: 1.0, 52: 1.0})]
    assert read(hays) == [(1.0, {50: 1.0})]
    assert whole[0].tolist() == [50, 51, 52, 7]
    assert found is not None
    assert (marks(found.used), found.loads.tolist()) == ("x.x", [2.0, 0.0])
    session.minimise_whole = lambda limits: one(x=None)
    assert choose(held, bools("xxx"), one(), bools("...")) is None  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("price", "others", "begun"),
    [
        (12.0, "....", [{21: 1.0, 30: -1.0, 20: -1.0}, {22: 1.0, 31: -1.0}]),
        (12.0, "....x", [{21: 1.0, 30: -1.0, 20: -1.0}]),
        (0.0, "....", []),
    ],
)
def test_a_hay_begins_where_it_was_not_in_the_ration_before(
    price: float, others: str, begun: Any
) -> None:
    # Hay 0 in both rations, hay 1 and a feed in the second; hay 1 of the first stands last.
    held: Any = one(
        source=np.array([0, 0, 1, 2, 1]),
        span=np.array([0, 1, 1, 1, 0]),
        group=np.zeros(5, dtype=int),
        limits=one(change_usd=price, is_hay=np.array([True, True, False])),
    )
    noted: list[Any] = []
    session: Any = one(
        add_columns=lambda *what: noted.append(what) or np.arange(30, 30 + len(what[0])),
        add_rows=noted.append,
    )
    _begun(session, held, np.arange(4), np.arange(20, 24), bools(others.ljust(5, ".")))
    if not begun:
        assert noted == []
        return
    (cost, low, high), rows = noted
    assert read(rows) == [(0.0, each) for each in begun]
    count = len(begun)
    assert [cost.tolist(), low.tolist(), high.tolist()] == [
        [12.0] * count,
        [0.0] * count,
        [1.0] * count,
    ]


def exchange(**what: Any) -> Any:
    """Return four things of a ration, two of them in use, and two of another."""
    held = one(
        group=np.array([0, 0, 0, 0, 1, 1]),
        span=np.array([0, 0, 0, 0, 0, 1]),
        source=np.array([0, 1, 2, 3, 0, 1]),
        at=np.arange(6),
        counts=np.ones(6, dtype=bool),
        must=np.zeros(6, dtype=bool),
        least=np.array([1.0, 1.0, 2.0, 0.0, 1.0, 1.0]),
        most=np.full(6, 5.0),
        limits=one(
            is_hay=np.array([True, False, True, False]),
            hays=np.array([1, 1]),
            things=np.array([2, 2]),
        ),
    )
    made = Exchange(held, bools("xx...."), np.zeros(0), 9)
    made.now = one(reduced_cost=np.array([0.0, 0.0, -3.0, -9e6, -4.0, 0.0]), objective=0.0)  # type: ignore[assignment]
    made.usd = 100.0
    for name, value in what.items():
        setattr(made, name, value)
    return made


def test_rations_are_looked_at_by_what_something_would_save_there() -> None:
    made = exchange()
    assert made.ration.tolist() == [0, 0, 0, 0, 2, 3]
    assert made._worth(made.now).tolist() == pytest.approx([0.0, 0.0, 6.0, 9.0, 4.0, 0.0])
    assert made._in_order() == [0, 2, 3]
    made.held.most[3] = 0.0
    assert made._worth(made.now)[3] == 9.0, "its least is its most"
    made.held.most[3] = -1.0
    made.held.counts[5] = False
    assert made._worth(made.now)[3] == -INF
    made.held.least[2] = 1.0
    assert made._in_order() == [2, 0]
    made.now.reduced_cost[2:5] = 0.0, 0.0, -0.05
    assert made._in_order() == [2, 0], "what is in use saves nothing"


@each_row(
    ("mine", "new", "out", "room"),
    [
        ([0, 1], 2, -1, False),
        ([0, 1], 2, 0, True),
        ([0, 1], 2, 1, False),
        ([0, 1], 3, -1, False),
        ([0, 1], 3, 1, True),
        ([0], 3, -1, True),
        # Who has too many keeps as many.
        ([0, 2, 1], 3, 1, True),
        ([0, 2], 1, 0, True),
        ([0, 2], 4, 0, True),
    ],
)
def test_there_is_room_for_few_hays_and_few_things(
    mine: list[int], new: int, out: int, room: bool
) -> None:
    assert exchange()._room(np.array(mine), new, out) == room


@each_row(
    ("usd", "objective", "found", "taken"),
    [
        (100.0, 99.9, 99.9, True),
        (100.0, 99.9991, 99.9, False),
        (100.0, 99.9, 99.9991, False),
        (100.0, 99.9989, 99.9989, True),
        (0.5, 0.5 - 1.05e-5, 0.5 - 1.05e-5, True),
        (0.5, 0.5 - 0.95e-5, 0.5 - 0.95e-5, False),
    ],
)
def test_a_program_must_be_cheaper_by_a_share_of_its_cost(
    usd: float, objective: float, found: float, taken: bool
) -> None:
    tried: list[str] = []
    made = exchange(usd=usd, _usd=lambda at, used: found)
    made._solved = lambda used: tried.append(marks(used)) or one(objective=objective)
    assert made._take(0, 2) == taken
    assert (tried, made.left) == ([".xx..."], 8)
    assert marks(made.used) == (".xx..." if taken else "xx....")
    assert made.usd == (found if taken else usd)
    for out, new, used in ((-1, 2, "xxx..."), (1, -1, "x....."), (0, -1, ".x....")):
        made = exchange(usd=usd, _solved=lambda used: tried.append(marks(used)))
        assert not made._take(out, new)
        assert tried[-1] == used
    tried.clear()
    assert not exchange(left=0, _solved=lambda used: tried.append("x"))._take(0, 2)
    assert tried == []


def test_what_costs_is_taken_out_first_and_what_saves_most_put_in() -> None:
    tried: list[tuple[int, int]] = []
    made = exchange(_take=lambda out, new: bool(tried.append((out, new))))
    here = np.arange(4)
    made.now.reduced_cost[:2] = 1.0, 2.0
    made.held.must[0] = True
    made._room = lambda mine, new, out: out != -1 or new == 3
    assert not made._once(here)
    assert tried == [(1, -1), (-1, 3), (1, 3), (1, 2)]
    # No more than four are tried.
    tried.clear()
    made = exchange(_take=lambda out, new: bool(tried.append((out, new))), used=bools("......"))
    made.now.reduced_cost[:] = [-1.0, -2.0, -3.0, 0.0, -5.0, -6.0]
    made.held.least[:] = 1.0
    made.held.counts[3] = True
    made._room = lambda mine, new, out: True
    made._once(np.arange(6))
    assert tried == [(-1, 5), (-1, 4), (-1, 2), (-1, 1)]


def test_exchanges_go_on_while_they_help() -> None:
    helps = iter([True, False, False, False])
    looked: list[list[int]] = []
    made = exchange(_once=lambda here: looked.append(here.tolist()) or next(helps))
    assert made._change(0)
    assert looked == [[0, 1, 2, 3]] * 2
    assert not made._change(0)
    rounds = iter([True, False, False, False])
    made = exchange(_change=lambda one: next(rounds), _in_order=lambda: [0, 2], _usd=lambda *_: 5.0)
    made._solved = lambda used: one()
    assert marks(made.run()) == "xx...."
    assert next(rounds, "none left") == "none left"
    assert marks(exchange(_solved=lambda used: None).run()) == "xx...."


@pytest.mark.parametrize(
    ("second", "asked", "kept"),
    [
        (0.4, ["....x. xxxx..", "....x. x..x..", "....x. ...x..", "...xx. "], "...xx."),
        (0.6, ["....x. xxxx..", "....x. x..x..", "x...x. ...x..", "x..xx. "], "x..xx."),
    ],
)
def test_a_ration_opened_to_anything_goes_without_the_least_until_it_holds_few_things(
    second: float, asked: list[str], kept: str
) -> None:
    noted: list[str] = []
    then = (float(second > 0.5), 0, 0, 3, 1, 0)
    amounts = [(2, 0.5, 1.9, 3, 1, 0), (second, 0, 0, 3, 1, 0), then, then]
    found = iter([one(objective=80.0 + at, x=np.array(x)) for at, x in enumerate(amounts)])

    def solved(used: Any, free: Any = None) -> Any:
        noted.append(f"{marks(used)} {'' if free is None else marks(free)}")
        return next(found)

    made: Any = Reopening(exchange().held, bools("xx..x."), np.zeros(0), 1)
    made.usd, made._solved, made._usd = 100.0, solved, lambda at, used: at.objective
    assert made._again(bools("xxxx.."))
    assert (noted, marks(made.used), made.usd) == (asked, kept, 83.0)
    made._solved = lambda used, free=None: one(objective=83.0)
    assert not made._again(bools("xxxx..")), "opened to anything it is no cheaper"
    made._solved = lambda used, free=None: None
    assert not made._again(bools("xxxx.."))


def test_what_must_be_fed_takes_a_place_in_an_opened_ration_though_there_is_none_of_it() -> None:
    # A wish that could not be kept stood at nothing beside two things, and was fed when rounded.
    made: Any = Reopening(exchange().held, bools("xx..x."), np.zeros(0), 1)
    made.held.must[0] = True
    found = iter([one(objective=80.0, x=np.array([0.0, 3.0, at, 0.0, 1.0, 0.0])) for at in (2, 0)])
    made.usd, made._usd = 100.0, lambda at, used: at.objective
    made._solved = lambda used, free=None: next(found, one(objective=80.0, x=np.zeros(6)))
    assert made._again(bools("xxxx.."))
    assert marks(made.used) == "xx..x."


def test_rations_are_opened_in_turn_with_one_beside_them_until_two_rounds_gain_nothing() -> None:
    made: Any = Reopening(exchange().held, bools("xx..x."), np.zeros(0), 1)
    made.held.week = np.array([0, 0, 0, 0, 0, 4])
    made._begun = lambda: True
    opened: list[str] = []
    made._again = lambda some: bool(opened.append(marks(some))) or len(opened) == 2
    assert marks(made.run(lambda: False)) == "xx..x."
    # Three rations in each round: the second opening gained, so that there are three rounds.
    assert len(opened) == 9
    assert all(0 < one.count("x") < 6 for one in opened)
    over = iter([False, True])
    made.run(lambda: next(over))
    assert len(opened) == 10
    made._begun = lambda: False
    made.run(lambda: False)
    assert len(opened) == 10


# --- whole steps ---------------------------------------------------------------------------------


def stepped(
    shorts: Sequence[Sequence[float]],
    of_farm: float = 0.0,
    *,
    monkeypatch: pytest.MonkeyPatch,
) -> tuple[list[tuple[int, int, int]], Any]:
    """Round two rations that are then short by so much after each pass; return what was rounded."""
    noted: list[tuple[int, int, int]] = []
    passes = {0: (3.0, 3.0)} | {at + 1: (3 + a, 3 + b) for at, (a, b) in enumerate(shorts)}

    class Stepping:
        def __init__(self, *what: Any) -> None:
            pass

        def together(self, rations: Any) -> Any:
            return rations

        def round_rations(self, ration: tuple[int, int], finer: int) -> Any:
            noted.append((*ration, finer))
            parts = [one[2] for one in noted]
            return 1 + sum(one != other for one, other in pairwise(parts))

        def anew(self, weekly: Any, program: Any, rations: Any) -> Any:
            return weekly

    def by_ration(x: Any) -> dict[tuple[int, int], float]:
        return {(0, 0): passes[x][0], (0, 1): passes[x][1]}

    @dataclass(frozen=True)
    class Of:
        x: Any
        used: Any = None
        cost: float = 0.0

    monkeypatch.setattr(practical, "_Stepping", Stepping)
    monkeypatch.setattr(practical, "eaters", lambda problem: [0])
    held: Any = one(
        model=one(problem=None),
        spans=one(starts=[(0, 3)]),
        short_by_ration=by_ration,
        short_usd=lambda x: sum(by_ration(x).values()) + (of_farm if x else 0.0),
        cost_of=lambda x, used: 10.0 * x,
    )
    found = practical.practical(held, Of(0), Measured(np.zeros(0)))  # type: ignore[arg-type]
    return noted, found


BOTH = [(0, 0), (0, 1)]
LAST = [(25, BOTH), (0, BOTH)]


@pytest.mark.parametrize(
    ("shorts", "of_farm", "passes", "kept"),
    [
        ([(0.0, 0.01)], 1.0, [(1, BOTH)], 1),
        ([(0.0, 0.03), (0.0, 0.0)], 0.0, [(1, BOTH), (5, BOTH[1:])], 2),
        ([(2.0, 1.1), (0.0, 9.0), (0.0, 0.0)], 0.0, [(1, BOTH), (5, BOTH), (0, BOTH[1:])], 3),
        # Others took the hay that the second lacks: all take finer steps. The least short is kept.
        (
            [(0.0, 9.0), (0.0, 9.0), (0.0, 1.1), (0.0, 9.0), (0.0, 1.1), (0.0, 9.0), (0.0, 9.0)],
            0.0,
            [(1, BOTH), *((at, BOTH[1:]) for at in (5, 0)), (5, BOTH), (0, BOTH[1:]), *LAST],
            3,
        ),
        ([(0.0, 0.0)] * 7, 1.1, [*((at, BOTH) for at in (1, 5, 0, 5, 0)), *LAST], 1),
    ],
)
def test_finer_steps_are_taken_where_coarse_ones_leave_something_short(
    shorts: Any, of_farm: float, passes: Any, kept: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    noted, found = stepped(shorts, of_farm, monkeypatch=monkeypatch)
    assert noted == [(*ration, finer) for finer, rations in passes for ration in rations]
    assert (found.x, found.cost) == (kept, 10.0 * kept)


# --- the search ----------------------------------------------------------------------------------


def search(**what: Any) -> Any:
    made: Any = object.__new__(RationSearch)
    made._meter, made._first_work, made._least_short = one(work=0.0), 10.0, 5.0
    made._options = one(effort=100.0, stop=None)
    made._seconds = lambda: 1.0
    made._weekly = one(problem=one(fixed_usd=0.0))
    made._say = lambda what: None
    for name, value in what.items():
        setattr(made, name, value)
    return made


@each_row(
    ("work", "short", "seconds", "over"),
    [
        (109.9, 6.0, 1.0, False),
        (110.0, 6.0, 1.0, True),
        (110.0, 6.1, 1.0, False),
        (114.9, 6.1, 1.0, False),
        (115.0, 6.1, 1.0, True),
        (0.0, 0.0, 0.0, True),
        (0.0, 0.0, -1.0, True),
        (0.0, 0.0, 0.05, False),
    ],
)
def test_more_effort_is_spent_while_something_is_short_and_not_without_end(
    work: float, short: float, seconds: float, over: bool
) -> None:
    made = search(_meter=one(work=work), _seconds=lambda: seconds)
    best: Any = one(program=one(x=None), held=one(short_usd=lambda x: short))
    assert made._over(best) == over
    # A two hundredth of that effort: ten times of it are less than five units beyond it.
    little = search(_options=one(effort=0.5, stop=None), _seconds=lambda: seconds)
    for spent, enough in ((4.9, seconds <= 0.0), (5.0, True)):
        little._meter = one(work=10.0 + spent)
        assert little._over(best) == (enough or (short <= 6.0 and spent >= 0.5))


def program(cost: float, *starts: tuple[int, ...]) -> Any:
    return one(spans=one(starts=starts), cost=cost)


@each_row(
    ("now", "other", "better"),
    [
        (program(100.0, (0,)), program(99.9, (0,)), True),
        (program(100.0, (0,)), program(99.99995, (0,)), False),
        (program(100.0, (0,)), program(100.0 - 1.1e-4, (0,)), True),
        (program(0.5, (0,)), program(0.5 - 1.05e-6, (0,)), True),
        (program(0.5, (0,)), program(0.5 - 0.95e-6, (0,)), False),
        # A further ration has to save ten dollars, and one less may cost them.
        (program(100.0, (0,), ()), program(90.1, (0, 5), ()), False),
        (program(100.0, (0,), ()), program(89.9, (0, 5), ()), True),
        (program(100.0, (0, 5)), program(109.9, (0,)), True),
        (program(100.0, (0, 5)), program(110.1, (0,)), False),
    ],
)
def test_a_better_program_is_kept(now: Any, other: Any, better: bool) -> None:
    best: Any = Best(now, one())
    held: Any = one(program=lambda used, loads: other)
    assert search()._take(best, held, None, None) == better
    assert best.program is (other if better else now)
    assert (best.held is held) == better


def test_rations_are_counted_over_all_groups() -> None:
    assert _rations(Spans(((0, 3), (1,), ()), (5, 5, -1))) == 3


def test_what_is_short_is_given_other_things_the_worst_first() -> None:
    tried: list[tuple[int, int]] = []
    made = search(
        _other_things=lambda best, *ration: tried.append(ration), _over=lambda best: False
    )
    short = {(0, 0): 3.0, (0, 1): 9.0, (1, 0): 4.0, (1, 1): 2.1}
    best: Any = one(program=one(x=None), held=one(short_by_ration=lambda x: short))
    made._mend(best, {(0, 0): 2.0, (0, 1): 1.0, (1, 0): 3.1, (1, 1): 0.0})
    assert tried == [(0, 1), (1, 1)]
    tried.clear()
    made._over = lambda best: True
    made._mend(best, dict.fromkeys(short, 0.0))
    assert tried == []


def held_rations(used: str = "x.x.", **what: Any) -> Any:
    """Return two amounts of a ration, one of the next, and one of another group."""
    usual = {
        "group": np.array([0, 0, 0, 1]),
        "span": np.array([0, 0, 1, 0]),
        "counts": bools("xxxx"),
        "used_of": lambda weekly: bools(used),
        "program": lambda used, loads: None,
        "session": one(last="prices"),
    }
    return one(**{**usual, **what})


@pytest.mark.parametrize(
    ("chosen", "loads", "taken"),
    [(".x..", 1.0, ".xx."), ("x...", 1.0, None), ("x...", 2.0, "x.x."), (None, 1.0, None)],
)
def test_the_things_of_one_ration_are_chosen_beside_those_of_the_others(
    chosen: str | None, loads: float, taken: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried: list[Any] = []

    def choose(held: Any, candidates: Any, limits: Any, others: Any) -> Any:
        assert (marks(candidates), marks(others)) == ("xx..", "..x.")
        return chosen and one(used=bools(chosen), loads=np.array([loads]))

    monkeypatch.setattr(searching, "choose_things", choose)
    monkeypatch.setattr(searching, "looked_at", lambda *what: bools("xxxx"))
    made = search(_choice_limits=lambda: None)
    made._take = lambda best, held, used, loads: tried.append((marks(used), loads.tolist())) or True
    best: Any = one(held=held_rations(), program=one(used=None, loads=np.array([1.0])))
    assert made._other_things(best, 0, 0) == bool(taken)
    assert tried == ([(taken, [loads])] if taken else [])


def test_borders_are_moved_while_that_helps(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(searching, "other_cuts", lambda rules, spans, group: [(0, 3), (0, 4)])
    monkeypatch.setattr(searching, "_carried", lambda program, spans, group: ["middle", "first"])
    tried: list[Any] = []
    answers = iter([False, True, False, False, False, False])

    def take(best: Any, held: Any, used: Any, loads: Any) -> bool:
        tried.append(held.starts)
        return next(answers)

    def held(spans: Any, x: Any) -> Any:
        return held_rations(starts=spans)

    made = search(_take=take, _held=held, _rules=None, _over=lambda best: False)
    spans = one(with_group=lambda group, starts: starts)
    best: Any = one(program=one(spans=spans, x=None, loads=None))
    assert made._other_borders(best, 0)
    # The second way with the first cut helps, and then no other does.
    assert tried == [(0, 3)] * 2 + [(0, 3)] * 2 + [(0, 4)] * 2
    tried.clear()
    made._over = lambda best: True
    assert not made._other_borders(best, 0)
    assert tried == []


@pytest.mark.parametrize(
    ("other", "short", "taken", "most"), [("x.x.", 6.0, 0, 200), ("xx..", 6.1, 1, 60)]
)
def test_what_exchanges_find_is_taken_where_it_is_other(
    other: str, short: float, taken: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def exchange(held: Any, used: Any, loads: Any, most: int) -> Any:
        asked.append(most)
        return one(run=lambda: bools(other))

    monkeypatch.setattr(searching, "Exchange", exchange)
    tried: list[str] = []
    made = search(_take=lambda best, held, used, loads: tried.append(marks(used)))
    held = held_rations(short_usd=lambda x: short)
    made._exchange(one(held=held, program=one(used=None, loads=None, x=None)))
    assert (tried, asked) == ([other] * taken, [most])


def test_sweeps_go_on_until_none_helps_and_the_last_program_keeps_nothing_free(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    margins: list[float] = []

    def held(weekly: Any, uses: Any, limits: Any, *what: Any) -> Any:
        margins.append(limits.margin)
        return held_rations(program=lambda used: marks(used))

    monkeypatch.setattr(searching, "HeldRations", held)
    sweeps = iter([True, True, False])
    together: list[Any] = []
    made = search(_over=lambda best: False, _sweep=lambda best: next(sweeps), _uses=None)
    made._together, made._reopen = together.append, lambda best: None
    made._limits = Limits(0.03, *(np.zeros(1) for _ in range(3)), 0.0, *[np.zeros(1)] * 2, 0.005)  # type: ignore[arg-type]
    best: Any = one(program=one(spans=None, x=None, used=None))
    assert made._searched(best)[0] == "x.x."
    assert together == [best]
    assert (margins, next(sweeps, "none left")) == ([0.0], "none left")
    made._over = lambda best: True
    made._sweep = lambda best: 1 / 0
    made._searched(best)
    assert together == [best]


@pytest.mark.parametrize(
    ("chosen", "most", "taken"),
    [("xx..", 3, "xx.."), ("xx..", 2, None), (None, 3, None)],
)
def test_all_rations_choose_together_where_there_is_not_too_much_to_choose_from(
    chosen: str | None, most: int, taken: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried: list[Any] = []

    def choose(held: Any, candidates: Any, limits: Any, others: Any, *, changes: bool) -> Any:
        assert (marks(candidates), marks(others), changes) == ("xxx.", "....", False)
        assert (limits.gap, limits.nodes, limits.steps) == (3.5e-3, 50, 50)
        assert limits.as_given
        return chosen and one(used=bools(chosen), loads=np.array([2.0]))

    monkeypatch.setattr(searching, "choose_things", choose)
    monkeypatch.setattr(searching, "TOGETHER", most)
    made = search()
    made._take = lambda best, held, used, loads: tried.append((marks(used), loads.tolist()))
    inner = one(steps_for=lambda work: int(work))
    held: Any = held_rations(session=one(inner=inner), most=np.ones(4), least=np.ones(4))
    held.least[3] = 2.0
    made._together(one(held=held, program=None))
    assert tried == ([(taken, [2.0])] if taken else [])


def test_time_is_counted_from_the_beginning() -> None:
    options: Any = one(seconds=1000.0, stop=None, effort=1.0)
    made = RationSearch(*[one()] * 4, options, str)  # type: ignore[arg-type]
    assert 900.0 < made._seconds() <= 1000.0
    assert (made._first_work, made._least_short) == (0.0, 0.0)
    options.stop = lambda: False
    assert made._seconds() > 0.0
    options.stop = lambda: True
    assert made._seconds() == 0.0


def test_each_ration_keeps_the_things_of_its_middle_its_first_or_its_last_week() -> None:
    # Weeks 1 to 5, of which the first, the middle and the last have other things.
    used = np.zeros((1, 2, 7), dtype=bool)
    used[0, 0, 1] = used[0, 1, 3] = True
    old: Any = one(used=used)
    spans = Spans(((1,),), (5,))
    found = ["/".join(marks(each) for each in one[0]) for one in _carried(old, spans, 0)]
    assert found == ["......./.xxxxx.", ".xxxxx./.......", "......./......."]
    # Where all are alike there is one way.
    same: Any = one(used=np.ones((1, 2, 7), dtype=bool))
    assert len(_carried(same, spans, 0)) == 1
    assert old.used is used
