"""Truth 3: what is appended is never changed or taken away, whoever speaks to the database."""

from pathlib import Path

import pytest
from django.apps import apps
from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from rickyard.book import records
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.steps import SENTENCE
from support.books import Server
from support.farm_folders import GOOD, write_texts

#: What can change where it stands: that a farm is being deleted, a person's name, with a version
#: that counts, how far a piece of work has come, what was worked out and can be again, and how
#: somebody comes in.
EDITED = {"leaving", "person", "work", "summary", "share"}
EDITED |= {"account", "invitation", "signedin", "signintry"}


def full_book(tmp_path: Path) -> None:
    """Write a row into every table."""
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    person = records.Person.objects.create(name="A. Keeper")
    line = records.TrailLine.objects.create(
        farm=season.farm, number=2, person=person, service="invite", at=timezone.now()
    )
    office = records.Office.objects.create(name="Desk", written_by=line)
    records.Membership.objects.create(
        person=person, office=office, role="specialist", revision=1, written_by=line
    )
    program = records.Program.objects.create(
        season=season, inputs=b"", sha256="", result="", made_by_version="", written_by=line
    )
    records.Adoption.objects.create(season=season, program=program, revision=1, written_by=line)
    now = timezone.now()
    records.Work.objects.create(season=season, task="-", arguments={}, asked_at=now)
    records.Summary.objects.create(season=season, kind="yard", made_of="-", told="-")
    account = records.Account.objects.create(person=person, email="a@example.org", password="-")
    records.Invitation.objects.create(
        farm=season.farm, role="helper", name="Kim", code_sha256="-", until=now
    )
    lot = records.Lot.objects.filter(farm=season.farm).first()
    records.Share.objects.create(season=season, lot=lot, code_sha256="-", until=now)
    records.Stack.objects.create(
        season=season,
        lot=lot,
        place=0,
        written_by=line,
        east_m=3.0,
        north_m=3.0,
        turn_deg=0.0,
        wide=2,
        high=1,
    )
    ledger = {"season": season, "place": 0, "written_by": line}
    sample = records.Sample.objects.create(
        **ledger, lot=lot, code="S", day=now.date(), drawn="1", spares="", cores_a_bale=1
    )
    core = {"sample": sample, "bale": 1, "went_in": True, "day": now.date()}
    records.Core.objects.create(**ledger, **core)
    records.Shipment.objects.create(
        **ledger, lot=lot, code="S", lab="Hill lab", tests="protein", sent_on=now.date()
    )
    records.Reading.objects.create(
        season=season,
        source=records.SourceFile.objects.first(),
        made_by_version="-",
        answers="{}",
        told="{}",
        written_by=line,
    )
    records.SignedIn.objects.create(
        account=account, token_sha256="-", since=now, seen_at=now, until=now
    )
    records.SignInTry.objects.create(about_sha256="-", since=now, often=1)


def test_truth_3_no_row_is_changed_or_taken_away(book: BookPlace, tmp_path: Path) -> None:
    full_book(tmp_path)
    held = set()
    for model in apps.get_app_config("book").get_models():
        table = model._meta.db_table
        if model is not records.Leaving:
            assert model.objects.exists(), f"nothing stands in {table}"
        if model._meta.model_name in EDITED:
            continue
        held.add(model._meta.model_name)
        for deed in (f"UPDATE {table} SET id = id", f"DELETE FROM {table}"):
            with (
                pytest.raises(DatabaseError, match=SENTENCE),
                transaction.atomic(),
                connection.cursor() as cursor,
            ):
                cursor.execute(deed)
    assert len(held) > 20


def test_truth_3_a_server_refuses_to_empty_a_table(server: Server, tmp_path: Path) -> None:
    place = BookPlace(tmp_path, server.make("emptied", "empty"))
    with (
        opened_book(place),
        pytest.raises(DatabaseError, match=SENTENCE),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute("TRUNCATE book_feeding CASCADE")
    server.drop("emptied")


def test_a_line_takes_the_place_of_the_one_it_undoes(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    before = farm_of(season).fed
    old = records.Feeding.objects.get(season=season, place=0)
    line = records.TrailLine.objects.create(
        farm=season.farm, number=2, service="correct", at=timezone.now()
    )
    same = {"season": season, "place": 0, "day": old.day, "group": old.group, "lot": old.lot}
    records.Feeding.objects.create(bales=3.0, undoes=old, written_by=line, **same)
    after = farm_of(season).fed
    assert (before[0].bales, after[0].bales) == (2.0, 3.0)
    assert after[1:] == before[1:]
    with pytest.raises(DatabaseError), transaction.atomic():
        records.Feeding.objects.create(undoes=old, counts=False, written_by=line, **same)


def test_a_revision_is_written_once(book: BookPlace, tmp_path: Path) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    state = records.FarmState.objects.get(thing=season.farm)
    line = state.written_by
    again = {"thing": season.farm, "name": "Hill", "written_by": line}
    records.FarmState.objects.create(revision=2, **again)
    assert farm_of(season).name == "Hill"
    with pytest.raises(DatabaseError), transaction.atomic():
        records.FarmState.objects.create(revision=2, **again)
