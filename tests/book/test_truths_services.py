"""Truths 2, 4, 5, 6, 7 and 9: what a service does, for whom, and what it never does."""

import ast
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.apps import apps

from rickyard.book import noting, records
from rickyard.book.acting import (
    NOT_THERE,
    PERMISSIONS,
    ChangedMeanwhile,
    NotAllowed,
    NotTaken,
    NotThere,
    Role,
    allow,
    day_at,
)
from rickyard.book.base import BookPlace, BookProblem
from rickyard.book.coring import (
    begin_anew,
    sample_begun,
    samples_sent,
    send_sample,
    take_core,
    undo_core,
)
from rickyard.book.folders import farm_of, take_in
from rickyard.book.keeping import delete_farm, write_seasons
from rickyard.book.looking import give_back_intake, look_back, take_intake, taken_intake
from rickyard.book.looking.weights import written_before_tickets
from rickyard.book.noting import fed_on, note_fed, place_stack, stack_back, undo_fed
from rickyard.book.pricing import FeedSeen, write_package, write_price
from rickyard.book.services import (
    accept_invitation,
    add_line,
    adopt,
    ask_plan,
    begin_season,
    count_lot,
    end_invitation,
    end_membership,
    export_farm,
    invitation_of,
    invite,
    keep_report,
    let_in,
    list_farms,
    next_season,
    plan_work,
    probe_lot,
    read_counts,
    read_farm,
    read_group_facts,
    read_invitations,
    read_lines,
    read_people,
    read_program,
    read_program_before,
    read_report,
    read_things,
    read_trail,
    reading_kept,
    reports_kept,
    somebody,
    stop_plan,
    take_out,
    undo_line,
    use_report,
    weigh_lot,
    write_farm,
    write_season,
    write_thing,
)
from rickyard.book.sharing import end_share, share_lot, share_season, shares_of, shown_by_link
from rickyard.book.taking import Taken, fact_of, give_back, seen_of, take_what_if
from rickyard.book.trails import read_trail_page
from rickyard.book.years import years_of
from rickyard.farm import FedRow, LabPackage, MoveRow, StackRow, StatedNeed, WeatherRow, WishRow
from rickyard.folder import FolderFaults, read_folder
from rickyard.hay.sampling import Sent
from rickyard.kinds import MoveKind, Wanted
from rickyard.program.planning import SeasonEnd
from rickyard.service import Asked, yard_on
from rickyard.service.sections import coring_sheet, drawn_for
from support.farm_folders import GOOD, write_texts

DAY = date(2025, 12, 4)
FED = FedRow(DAY, "A1", "COWS", bales=2.0)


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def counts() -> dict[str, int]:
    return {
        model.__name__: model.objects.count() for model in apps.get_app_config("book").get_models()
    }


def lot(season: Any) -> tuple[Any, int, Any]:
    return read_things(None, season.id, "lot")[0]


def test_truth_2_a_service_writes_its_fact_and_its_line(season: Any) -> None:
    done = add_line(None, season.id, "fed", FED)
    assert done.is_new
    assert farm_of(season).fed[-1] == FED
    told = read_trail(None, season.farm_id)[-1]
    assert (told.number, told.service, told.about) == (2, "add fed", "A1")
    assert records.Feeding.objects.get(id=done.fact).written_by.number == 2


def test_truth_2_the_rules_and_sentences_are_those_of_the_folder(
    season: Any, tmp_path: Path
) -> None:
    wrong = GOOD["fed.csv"].replace("2025-11-16,cubes,HEIF", "2025-11-16,cubed,HEIF")
    with pytest.raises(FolderFaults) as in_folder:
        read_folder(write_texts(tmp_path / "wrong", {**GOOD, "fed.csv": wrong}))
    with pytest.raises(NotTaken) as in_book:
        add_line(None, season.id, "fed", FedRow(DAY, "cubed", "HEIF", mass_kg=50.0))
    said = str(in_folder.value.faults[0]).partition(": ")[2].splitlines()[0]
    assert said in str(in_book.value)


def test_truth_2_a_rule_between_lines_holds_for_what_is_added(season: Any) -> None:
    with pytest.raises(NotTaken, match="stands in row"):
        add_line(None, season.id, "weather", farm_of(season).weather[1])


def test_truth_2_what_is_written_is_what_a_folder_gives_back(season: Any, tmp_path: Path) -> None:
    add_line(None, season.id, "fed", replace(FED, note="  by hand "))
    write_thing(None, season.id, "lot", replace(lot(season)[2], lot_id="Z1", name=" Top barn "))
    farm = read_farm(None, season.id)
    assert (farm.fed[-1].note, farm.lots[-1].name) == ("by hand", "Top barn")
    export_farm(None, season.id, tmp_path / "out")
    assert read_folder(tmp_path / "out").farm == farm


def test_truth_2_what_is_refused_leaves_nothing(season: Any) -> None:
    before = counts()
    thing, seen, first = lot(season)
    with pytest.raises(NotTaken):
        write_thing(None, season.id, "lot", replace(first, bales=-1.0), thing=thing, seen=seen)
    with pytest.raises(NotTaken, match="A1"):
        take_out(None, season.id, "lot", thing, seen)
    with pytest.raises(NotTaken):
        write_farm(None, season.farm_id, {"units": "stone"}, 1)
    assert counts() == before


def test_truth_4_the_second_is_shown_what_the_first_did(season: Any) -> None:
    thing, seen, first = lot(season)
    write_thing(
        None, season.id, "lot", replace(first, bales=110.0), thing=thing, seen=seen, day=DAY
    )
    with pytest.raises(ChangedMeanwhile, match=r"bales is now 110\.0, yours 100\.0") as told:
        write_thing(None, season.id, "lot", replace(first, bales=100.0), thing=thing, seen=seen)
    assert (told.value.revision, told.value.now.bales) == (2, 110.0)
    assert farm_of(season).lots[0].bales == 110.0
    write_thing(None, season.id, "lot", replace(first, bales=100.0), thing=thing, seen=2)
    assert farm_of(season).lots[0].bales == 100.0
    # The counts of both days stand.
    held = records.LotState.objects.filter(thing_id=thing).order_by("revision")
    assert [row.bales for row in held] == [120.0, 110.0, 100.0]


def test_truth_4_of_farm_and_season_too(season: Any) -> None:
    write_farm(None, season.farm_id, {"name": "Dale farm"}, 1)
    with pytest.raises(ChangedMeanwhile, match="Dale farm"):
        write_farm(None, season.farm_id, {"name": "Moor farm"}, 1)
    plain = farm_of(season).season
    write_season(None, season.id, replace(plain, period_days=14), 1)
    with pytest.raises(ChangedMeanwhile, match="period_days"):
        write_season(None, season.id, plain, 1)
    assert (farm_of(season).name, farm_of(season).season.period_days) == ("Dale farm", 14)


def test_truth_5_a_line_that_comes_twice_counts_once(season: Any) -> None:
    fact = uuid4()
    assert add_line(None, season.id, "fed", FED, fact=fact).is_new
    before = counts()
    assert not add_line(None, season.id, "fed", FED, fact=fact).is_new
    with pytest.raises(NotTaken, match="says something else"):
        add_line(None, season.id, "fed", replace(FED, bales=3.0), fact=fact)
    undo = uuid4()
    undo_line(None, season.id, "fed", fact, fact=undo)
    assert not undo_line(None, season.id, "fed", fact, fact=undo).is_new
    with pytest.raises(NotTaken, match="says something else"):
        undo_line(None, season.id, "fed", fact, instead=FED, fact=undo)
    assert counts()["Feeding"] == before["Feeding"] + 1


def test_truth_5_an_id_of_another_line_undoes_nothing(season: Any, tmp_path: Path) -> None:
    moor = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Moor farm")}
    other = take_in(write_texts(tmp_path / "moor", moor)).season
    fact, there = uuid4(), uuid4()
    add_line(None, season.id, "fed", FED, fact=fact)
    add_line(None, other.id, "fed", FED, fact=there)
    before, first = counts(), records.Feeding.objects.get(season=season, place=0).id
    with pytest.raises(NotTaken, match="says something else"):
        undo_line(None, season.id, "fed", first, fact=fact)
    with pytest.raises(NotThere):
        undo_line(None, season.id, "fed", fact, fact=there)
    assert counts() == before


def test_truth_5_a_form_that_comes_twice_counts_once(season: Any) -> None:
    thing, seen, first = lot(season)
    sent = {"thing": thing, "seen": seen, "fact": uuid4()}
    assert write_thing(None, season.id, "lot", first, **sent).is_new
    assert not write_thing(None, season.id, "lot", first, **sent).is_new


def test_a_line_is_undone_once_and_its_place_is_kept(season: Any) -> None:
    old = records.Feeding.objects.get(season=season, place=0)
    right = FedRow(old.day, "A1", "COWS", bales=3.0)
    undo_line(None, season.id, "fed", old.id, instead=right)
    assert farm_of(season).fed[0] == right
    with pytest.raises(NotTaken, match="already"):
        undo_line(None, season.id, "fed", old.id)
    undo_line(None, season.id, "fed", records.Feeding.objects.get(undoes=old).id)
    assert [row.source_id for row in farm_of(season).fed] == ["cubes"]


def test_truth_6_stock_comes_from_the_ledger_alone(season: Any) -> None:
    """No balance is stored: what stands is computed by the engine from lines that count."""
    before = yard_on(farm_of(season), DAY).dry_kg
    done = add_line(None, season.id, "moves", MoveRow(DAY, "A1", MoveKind.SOLD, bales=10.0))
    less = yard_on(farm_of(season), DAY).dry_kg
    assert less < before
    undo_line(None, season.id, "moves", done.fact)
    assert yard_on(farm_of(season), DAY).dry_kg == before
    stored = {
        field.name
        for model in apps.get_app_config("book").get_models()
        for field in model._meta.concrete_fields
    }
    assert not stored & {"balance", "stock", "left", "on_hand", "total"}


def people(season: Any) -> dict[str, Any]:
    found = {}
    for role in Role:
        found[role.value] = records.Person.objects.create(name=f"A {role}")
        let_in(None, season.farm_id, found[role.value], role)
    found["stranger"] = records.Person.objects.create(name="A stranger")
    return found


def standing(season_id: UUID) -> list[UUID]:
    """Return the lines of feedings that stand in the book."""
    return [line for line, _ in read_lines(None, season_id, "fed")]


def services(season: Any, tmp_path: Path) -> Iterator[tuple[str, Callable[[Any], object]]]:
    """Yield every service with a call that is right but for the person."""
    sid, fid = season.id, season.farm_id
    farm = farm_of(season)
    for kind, item in (("lot", farm.lots), ("group", farm.groups), ("feed", farm.feeds)):
        thing = read_things(None, sid, kind)[0][0]
        new = replace(item[0], **{f"{kind}_id": f"NEW-{kind}"})
        yield f"write {kind}", lambda who, k=kind, n=new: write_thing(who, sid, k, n)
        yield f"take out {kind}", lambda who, k=kind, t=thing: take_out(who, sid, k, t, 99)
    yield "count lot", lambda who: count_lot(who, sid, "A1", 7.0, DAY)
    yield "weigh lot", lambda who: weigh_lot(who, sid, "A1", (520.0, 530.0), DAY)
    yield "probe lot", lambda who: probe_lot(who, sid, "A1", 35.0, DAY)
    yield "write farm", lambda who: write_farm(who, fid, {"note": "x"}, 1)
    yield "write season", lambda who: write_season(who, sid, farm.season, 1)
    yield "take intake", lambda who: take_intake(who, sid, DAY, 100.0)
    yield "give back intake", lambda who: give_back_intake(who, sid)
    yield "read farm", lambda who: taken_intake(who, sid)
    days = (date(2027, 11, 1), date(2028, 4, 1), date(2027, 10, 1))
    yield "begin season", lambda who: begin_season(who, sid, *days, {})
    lines = {
        "fed": FED,
        "moves": MoveRow(DAY, "A1", MoveKind.SOLD, bales=1.0),
        "weather": WeatherRow(DAY, False, 1.0),
        "needs": StatedNeed("HEIF", DAY, date(2025, 12, 9), cp_kg=1.0),
        "labs": LabPackage("Hill lab", "All", 20.0, "cp adf"),
        "wishes": WishRow(Wanted.KEEP_OFF, "B2", "STOCK"),
        "stacks": StackRow("A1", 20.0, 30.0, 0.0, 3, 2),
    }
    for part, line in lines.items():
        yield f"add {part}", lambda who, p=part, one=line: add_line(who, sid, p, one)
        yield f"undo {part}", lambda who, p=part: undo_line(who, sid, p, uuid4())
    feed, seen, _ = read_things(None, sid, "feed")[0]
    at = [FeedSeen(sid, feed, seen)]
    yield "write prices", lambda who: write_price(who, at, 0.4, DAY, uuid4())
    yield "write labs", lambda who: write_package(who, lines["labs"], {sid: None}, uuid4())
    stack = lines["stacks"]
    yield "add stacks", lambda who: place_stack(who, sid, stack)
    yield "undo stacks", lambda who: stack_back(who, sid, uuid4())
    bale = drawn_for(coring_sheet(farm, "C3", DAY))[0][0]
    yield "take core", lambda who: take_core(who, sid, "C3", bale, DAY)
    yield "undo core", lambda who: undo_core(who, sid, uuid4())
    yield "undo core", lambda who: begin_anew(who, sid, "C3", "none")
    sent = Sent("S", "Hill lab", "protein", DAY, None)
    yield "send sample", lambda who: send_sample(who, sid, "C3", sent)
    yield "read farm", lambda who: sample_begun(who, sid, "C3", "none")
    yield "read farm", lambda who: samples_sent(who, sid)
    ends = SeasonEnd(date(2026, 5, 1))
    fact = fact_of(farm, [ends])
    assert fact is not None
    yield "plan", lambda who: take_what_if(who, sid, Asked(until=(ends.end,)), 99, DAY)
    yield "plan", lambda who: give_back(who, sid, Taken("season", sid, 1), DAY)
    yield "read farm", lambda who: seen_of(who, sid, fact)
    guest = records.Person.objects.create(name="A guest")
    yield "let in", lambda who: let_in(who, fid, guest, Role.HELPER)
    yield "end membership", lambda who: end_membership(who, fid, guest)
    invited = invite(None, fid, "Kim", Role.HELPER).id
    yield "invite", lambda who: invite(who, fid, "Lee", Role.HELPER)
    yield "invite", lambda who: read_invitations(who, fid)
    yield "end invitation", lambda who: end_invitation(who, fid, invited)
    yield "share lot", lambda who: share_lot(who, sid, "A1", date.today())
    yield "share lot", lambda who: shares_of(who, sid, "A1")
    yield "share season", lambda who: share_season(who, sid, date.today())
    yield "share season", lambda who: shares_of(who, sid)
    yield "end share", lambda who: end_share(who, sid, uuid4())
    yield "read people", lambda who: read_people(who, fid)
    let_in(None, fid, guest, Role.HELPER)
    yield "read people", lambda who: somebody(who, fid, guest.id)
    yield "plan", lambda who: ask_plan(who, sid)
    yield "stop plan", lambda who: stop_plan(who, sid)
    yield "adopt", lambda who: adopt(who, sid, uuid4())
    yield "read farm", lambda who: read_farm(who, sid)
    yield "read farm", lambda who: read_counts(who, sid)
    yield "read farm", lambda who: read_group_facts(who, sid, uuid4())
    yield "read farm", lambda who: read_lines(who, sid, "wishes")
    yield "read costs", lambda who: read_lines(who, sid, "labs")
    yield "begin season", lambda who: next_season(who, sid, *days)
    yield "read farm", lambda who: plan_work(who, sid)
    yield "read farm", lambda who: read_program(who, sid)
    yield "read farm", lambda who: read_program_before(who, sid)
    yield "read costs", lambda who: allow("read costs", who, fid)
    yield "read trail", lambda who: read_trail(who, fid)
    yield "bring in report", lambda who: keep_report(who, sid, "a.csv", b"Sample,CP % DM\nA1,11")
    yield "use report", lambda who: use_report(who, sid, uuid4(), {})
    yield "read farm", lambda who: reports_kept(who, sid)
    yield "read farm", lambda who: read_report(who, sid, uuid4(), {})
    yield "read farm", lambda who: reading_kept(who, sid, uuid4())
    yield "export", lambda who: export_farm(who, sid, tmp_path / str(uuid4()))
    yield "export", lambda who: write_seasons(who, fid, tmp_path / f"{uuid4()}.zip")
    yield "delete farm", lambda who: delete_farm(who, fid, "another name")
    yield "read farm", lambda who: look_back(who, sid, DAY)
    understood = noting.look(None, sid, "Dec 6 cows 2 hill", DAY)
    yield "read farm", lambda who: noting.look(who, sid, "Dec 6 cows 2 hill", DAY)
    yield "read farm", lambda who: noting.doubts(who, sid, understood)
    yield "add fed", lambda who: noting.note(who, sid, understood)
    yield "read farm", lambda who: fed_on(who, sid, DAY)
    yield "read farm", lambda who: written_before_tickets(who, sid)
    yield "read farm", lambda who: years_of(who, fid, DAY)
    yield "read trail", lambda who: read_trail_page(who, fid)
    yield "add fed", lambda who: note_fed(who, sid, [FED], FED.day, seen=standing(sid))
    yield "undo fed", lambda who: undo_fed(who, sid, [uuid4()])


def test_truth_7_a_helper_is_handed_no_price(season: Any) -> None:
    """Neither on a page nor by the service itself, but for what feeds of a whole farm cost."""
    who = people(season)
    for role in Role:
        farm, sees = read_farm(who[role], season.id), role in PERMISSIONS["read costs"]
        things = [
            tuple(one for _, _, one in read_things(who[role], season.id, kind))
            for kind in ("lot", "feed")
        ]
        assert bool(farm.labs) == sees
        for lots in (farm.lots, things[0]):
            assert any(one.value_usd_per_kg is not None for one in lots) == sees, role
        assert all(one.price_usd_per_kg > 0.0 for one in things[1]) == sees, role
        # What is no money is told to all.
        assert [one.name for one in farm.feeds] == [one.name for one in farm_of(season).feeds]


def test_truth_7_every_service_for_every_role_on_own_and_other_farms(
    season: Any, tmp_path: Path
) -> None:
    who = people(season)
    asked = set()
    for name, call in services(season, tmp_path):
        asked.add(name)
        for role in Role:
            answer: object = None
            try:
                call(who[role.value])
            except BookProblem as problem:
                answer = problem
            refused = isinstance(answer, NotAllowed)
            assert refused == (role not in PERMISSIONS[name]), f"{name} for a {role}: {answer}"
        with pytest.raises(NotThere, match=NOT_THERE[:30]):
            call(who["stranger"])
    assert asked == set(PERMISSIONS), "a service that is not in the matrix, or a row that is none"


def test_truth_7_a_guessed_id_answers_like_one_that_is_not_there(season: Any) -> None:
    stranger = people(season)["stranger"]
    answers = set()
    for call in (
        lambda: read_farm(stranger, season.id),
        lambda: look_back(stranger, season.id, date(2025, 12, 1)),
        lambda: read_counts(stranger, season.id),
        lambda: read_farm(stranger, uuid4()),
        lambda: read_farm(None, uuid4()),
        lambda: read_trail(stranger, season.farm_id),
        lambda: read_people(stranger, season.farm_id),
        lambda: invitation_of("guessed"),
        lambda: accept_invitation("guessed", stranger),
        lambda: shown_by_link("guessed", "192.0.2.1"),
        lambda: end_share(None, season.id, uuid4()),
        lambda: share_lot(None, season.id, "none", date.today()),
        lambda: end_invitation(None, season.farm_id, uuid4()),
        lambda: add_line(stranger, season.id, "fed", FED),
        lambda: add_line(stranger, uuid4(), "fed", FED),
        lambda: undo_line(None, season.id, "fed", uuid4()),
    ):
        with pytest.raises(NotThere) as told:
            call()
        answers.add(str(told.value))
    assert answers == {NOT_THERE}


def test_truth_7_a_list_holds_what_a_person_may_see(season: Any) -> None:
    who = people(season)
    assert [one.season for one in list_farms(None)] == [season.id]
    assert {role: len(list_farms(who[role])) for role in who} == {
        **{role.value: 1 for role in Role},
        "stranger": 0,
    }
    end_membership(None, season.farm_id, who["helper"])
    assert list_farms(who["helper"]) == ()


BOOK = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "book"

#: Rooms of which a person asks something.
ROOMS = ("services", "keeping", "looking", "noting", "trails", "years")

#: Looks only; the services that ask permission call it. Lists of farms, and of those that were
#: deleted, refuse nobody: they hold what the one who asks may see. Starting a farm refuses nobody
#: either: it is theirs from then on.
NO_SERVICE = {"season_there", "list_farms", "read_gone", "start_farm"}


def asked_by_a_person(text: str) -> set[str]:
    """Return the public functions of a file that take who asks."""
    return {
        node.name
        for node in ast.parse(text).body
        if isinstance(node, ast.FunctionDef)
        and not node.name.startswith("_")
        and [one.arg for one in node.args.args[:1]] == ["person"]
    }


def test_truth_7_a_service_that_is_not_in_the_matrix_is_noticed() -> None:
    found = {
        name
        for room in ROOMS
        for path in (BOOK / room).glob("*.py")
        for name in asked_by_a_person(path.read_text("utf-8")) - NO_SERVICE
    }
    called = set(services.__code__.co_names)
    for inner in services.__code__.co_consts:
        called |= set(getattr(inner, "co_names", ()))
    assert len(found) >= 30
    assert found <= called, f"not in the matrix: {sorted(found - called)}"
    # A service that somebody adds is seen, and is in no row of the matrix.
    new = asked_by_a_person("def sell(person, lot): ...")
    assert new == {"sell"}
    assert not new <= called


def test_the_last_producer_stays(season: Any) -> None:
    who = people(season)
    with pytest.raises(NotTaken, match="Nobody would be left"):
        end_membership(None, season.farm_id, who["producer"])
    end_membership(who["producer"], season.farm_id, who["helper"])
    with pytest.raises(NotThere):
        read_farm(who["helper"], season.id)


def test_who_begins_a_farm_is_its_producer(book: BookPlace, tmp_path: Path) -> None:
    person = records.Person.objects.create(name="A producer")
    mine = take_in(write_texts(tmp_path / "good", dict(GOOD)), person).season
    assert read_farm(person, mine.id).name == "Hill farm"
    other = records.Person.objects.create(name="Another")
    theirs = take_in(tmp_path / "good", other)
    assert theirs.is_new
    with pytest.raises(NotThere):
        read_farm(other, mine.id)


def test_truth_9_days_are_the_farms_days(season: Any) -> None:
    write_farm(None, season.farm_id, {"time_zone": "America/Denver"}, 1)
    state = records.FarmState.objects.get(thing=season.farm, revision=2)
    moment = datetime(2026, 1, 1, 5, 0, tzinfo=UTC)
    assert day_at(state.time_zone, moment) == date(2025, 12, 31)
    assert day_at("Asia/Tokyo", moment) == date(2026, 1, 1)
    with pytest.raises(BookProblem, match="no time zone"):
        write_farm(None, season.farm_id, {"time_zone": "Upper/Valley"}, 2)


def test_a_renamed_lot_is_renamed_wherever_it_is_named(season: Any) -> None:
    thing, seen, first = lot(season)
    write_thing(None, season.id, "lot", replace(first, lot_id="A9"), thing=thing, seen=seen)
    farm = farm_of(season)
    assert farm.lots[0].lot_id == "A9"
    assert farm.fed[0].source_id == "A9"
    assert [row.lot_id for row in farm.reports] == ["A9", "B2"]
