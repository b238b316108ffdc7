"""People of a shared book: accounts, signing in, invitations that hold once and for a day."""

import shutil
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher, check_password

from rickyard.book import records
from rickyard.book.accounts import (
    Asking,
    NotSignedIn,
    TooOften,
    account_of,
    add_account,
    close_account,
    code_of,
    places_of,
    set_password,
    sign_in,
    sign_out,
    signed_in,
)
from rickyard.book.accounts.two_step import STEP, new_secret, step_of
from rickyard.book.acting import NotTaken, NotThere, Role, day_at, role_on
from rickyard.book.base import BOOK_FILE, BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.keeping import make_backup, restore_backup
from rickyard.book.services import (
    accept_invitation,
    end_invitation,
    end_membership,
    invitation_of,
    invite,
    let_in,
    read_invitations,
    read_people,
    read_trail,
)
from rickyard.book.sharing import share_lot, shown_by_link
from support.books import quick_passwords
from support.farm_folders import GOOD, write_texts
from support.rows import each_row

NOW = datetime(2026, 1, 2, 12, 0, tzinfo=UTC)
PASSWORD = "four dry bales of hay"
KIM = Asking("Kim@Example.org ", PASSWORD, address="10.0.0.1", browser="a phone")


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    quick_passwords(monkeypatch)


@pytest.fixture
def kim(book: BookPlace) -> Any:
    return add_account(" Kim  Lee ", "kim@example.org", PASSWORD)


@pytest.fixture
def farm(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season.farm


def wrong(asking: Asking = KIM, **other: Any) -> Asking:
    return Asking(**{**{one: getattr(asking, one) for one in Asking.__slots__}, **other})


def test_a_password_is_kept_as_argon2id_of_at_least_19_mib(monkeypatch: pytest.MonkeyPatch) -> None:
    """OWASP Password Storage Cheat Sheet: 19 MiB of memory, 2 passes, 1 lane at least."""
    monkeypatch.undo()
    params = Argon2PasswordHasher().params()
    assert params.type.name == "ID"
    assert params.memory_cost >= 19 * 1024
    assert params.time_cost >= 2


def test_who_has_an_account_signs_in_and_out(kim: Any) -> None:
    account = account_of("KIM@example.org")
    assert account.password.startswith("argon2$argon2id$")
    assert kim.name == "Kim Lee"
    token = sign_in(KIM, NOW)
    there = signed_in(token, NOW)
    assert there.account.person == kim
    assert token not in str(vars(there))
    assert [one.browser for one in places_of(account, NOW)] == ["a phone"]
    assert signed_in(token + "x", NOW) is None
    sign_out(account, there.id)
    assert signed_in(token, NOW) is None
    with pytest.raises(NotThere):
        sign_out(account, there.id)


def test_signed_in_ends_by_itself(kim: Any) -> None:
    short, long = sign_in(KIM, NOW), sign_in(wrong(keep=True), NOW)
    later = NOW + timedelta(hours=13)
    assert (signed_in(short, later), signed_in(long, later) is None) == (None, False)
    assert signed_in(long, NOW + timedelta(days=31)) is None
    assert signed_in(long, NOW).seen_at == later


@pytest.mark.parametrize("asking", [wrong(password="no"), wrong(email="lee@example.org")])
def test_what_does_not_fit_is_told_the_same(kim: Any, asking: Asking) -> None:
    with pytest.raises(NotSignedIn) as told:
        sign_in(asking, NOW)
    assert "Email, password and code do not fit together." in str(told.value)
    assert not records.SignedIn.objects.exists()


def test_signing_in_is_limited_for_an_account(kim: Any) -> None:
    for number in range(5):
        with pytest.raises(NotSignedIn):
            sign_in(wrong(password="no", address=f"10.0.0.{number}"), NOW)
    with pytest.raises(TooOften, match="Try again in 15 minutes"):
        sign_in(KIM, NOW)
    assert sign_in(KIM, NOW + timedelta(minutes=16))


def test_signing_in_is_limited_for_an_address(book: BookPlace) -> None:
    for number in range(50):
        with pytest.raises(NotSignedIn):
            sign_in(wrong(email=f"{number}@example.org"), NOW)
    with pytest.raises(TooOften):
        sign_in(wrong(email="new@example.org"), NOW)
    with pytest.raises(NotSignedIn):
        sign_in(wrong(email="new@example.org", address="10.0.0.2"), NOW)


def test_who_is_right_is_not_counted(kim: Any) -> None:
    for _ in range(7):
        sign_in(KIM, NOW)
    assert len(places_of(account_of(KIM.email), NOW)) == 7


@pytest.mark.parametrize(
    "password",
    [
        "short",
        "kim@example.org",
        "1234567890123",
        "dry bales " * 13,
        "hay  " + " " * 20 + "bale",
        "haybalhaybalhaybal",
        "abcdefghijklmno",
        "hay hay yah yah ha",
    ],
)
def test_a_weak_password_is_refused(book: BookPlace, password: str) -> None:
    with pytest.raises(NotTaken):
        add_account("Kim", "kim@example.org", password)
    assert not records.Person.objects.exists()


@pytest.mark.parametrize(("name", "email"), [("", "a@example.org"), ("Kim", "kim"), ("Kim", "")])
def test_a_name_and_an_email_are_asked_for(book: BookPlace, name: str, email: str) -> None:
    with pytest.raises(NotTaken):
        add_account(name, email, PASSWORD)


def test_any_long_password_is_taken_and_none_is_cut(book: BookPlace) -> None:
    long = "четыре dry bales 🌾 " * 7
    said = long[:128]
    add_account("Lee", "lee@example.org", said)
    assert sign_in(Asking("lee@example.org", said), NOW)
    with pytest.raises(NotSignedIn):
        sign_in(Asking("lee@example.org", said + "x"), NOW)


def test_links_end_with_the_account_that_made_them(farm: Any, kim: Any) -> None:
    let_in(None, farm.id, kim, Role.PRODUCER)
    made = invite(kim, farm.id, "Lee", Role.PRODUCER, NOW)
    season = records.Season.objects.get(farm=farm).id
    shown = share_lot(kim, season, "A1", day_at("", NOW), NOW)
    close_account(account_of("kim@example.org"))
    with pytest.raises(NotThere):
        invitation_of(made.code, NOW)
    with pytest.raises(NotThere):
        shown_by_link(shown.code, "10.0.0.1", NOW)


@pytest.mark.skipif(sys.platform == "win32", reason="files have no such modes there")
def test_a_new_book_is_for_whoever_made_it_alone(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    with opened_book(BookPlace(tmp_path)):
        assert (tmp_path / BOOK_FILE).stat().st_mode & 0o077 == 0


def test_an_email_has_one_account(kim: Any) -> None:
    with pytest.raises(NotTaken, match="has an account"):
        add_account("Another", "KIM@example.org", PASSWORD)
    assert records.Person.objects.count() == 1


def test_a_new_password_signs_out_everywhere(kim: Any) -> None:
    token = sign_in(KIM, NOW)
    account = account_of(KIM.email)
    set_password(account, "another dry stack of hay")
    assert signed_in(token, NOW) is None
    assert check_password("another dry stack of hay", account_of(KIM.email).password)
    close_account(account)
    with pytest.raises(NotSignedIn):
        sign_in(wrong(password="another dry stack of hay"), NOW)
    assert records.Person.objects.filter(id=kim.id).exists()


@each_row(
    ("second", "code"),
    [
        (59, "94287082"),
        (1111111109, "07081804"),
        (1111111111, "14050471"),
        (1234567890, "89005924"),
        (2000000000, "69279037"),
        (20000000000, "65353130"),
    ],
)
def test_codes_are_those_of_rfc_6238(second: int, code: str) -> None:
    """RFC 6238, appendix B, SHA-1, whose secret is 1234567890 twice."""
    assert code_of("GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ", second // STEP, 8) == code


def test_a_code_is_asked_for_and_taken_once(kim: Any) -> None:
    secret = new_secret()
    records.Account.objects.update(secret=secret)
    step = int(NOW.timestamp()) // STEP
    with pytest.raises(NotSignedIn):
        sign_in(KIM, NOW)
    code = code_of(secret, step)
    right = wrong(code=f"{code[:3]} {code[3:]}")
    assert sign_in(right, NOW)
    with pytest.raises(NotSignedIn):
        sign_in(right, NOW)
    assert sign_in(wrong(code=code_of(secret, step + 1)), NOW)
    assert step_of(secret, code_of(secret, step + 2), None, NOW) is None
    assert step_of(secret, code_of(secret, step - 2), None, NOW) is None


def test_a_clock_that_is_set_back_shuts_nobody_out(kim: Any) -> None:
    """What was tried, and codes that were used, while it was ahead count no more."""
    secret, ahead = new_secret(), NOW + timedelta(days=400)
    for _ in range(5):
        with pytest.raises(NotSignedIn):
            sign_in(wrong(password="no"), ahead)
    records.Account.objects.update(secret=secret, step=int(ahead.timestamp()) // STEP)
    right = wrong(code=code_of(secret, int(NOW.timestamp()) // STEP))
    assert sign_in(right, NOW)
    with pytest.raises(NotSignedIn):
        sign_in(right, NOW)


def test_an_invitation_lets_in_once(farm: Any, kim: Any) -> None:
    made = invite(None, farm.id, " Kim ", Role.HELPER, NOW)
    assert invitation_of(made.code, NOW)[0] == "Hill farm"
    assert [one.name for one in read_invitations(None, farm.id, NOW)] == ["Kim"]
    assert not [one for one in records.Invitation.objects.all() if made.code in str(vars(one))]
    accept_invitation(made.code, kim, NOW)
    assert role_on(kim, farm.id) is Role.HELPER
    told = read_trail(kim, farm.id)[-1]
    assert (told.who, told.service, told.about) == (
        "Kim Lee",
        "accept invitation",
        "Kim as helper",
    )
    other = records.Person.objects.create(name="Other")
    with pytest.raises(NotThere):
        accept_invitation(made.code, other, NOW)
    assert [(one.name, one.is_me) for one in read_people(kim, farm.id)] == [("Kim Lee", True)]


def test_an_invitation_ends_after_a_day_or_when_it_is_taken_back(farm: Any, kim: Any) -> None:
    late = invite(None, farm.id, "Kim", Role.HELPER, NOW)
    with pytest.raises(NotThere):
        accept_invitation(late.code, kim, NOW + timedelta(hours=24))
    end_invitation(None, farm.id, late.id)
    with pytest.raises(NotThere):
        accept_invitation(late.code, kim, NOW)
    with pytest.raises(NotThere):
        end_invitation(None, farm.id, late.id)
    with pytest.raises(NotTaken, match="whom you invite"):
        invite(None, farm.id, " ", Role.HELPER, NOW)


def test_an_invitation_ends_with_the_role_of_whoever_made_it(farm: Any, kim: Any) -> None:
    owner, second = (records.Person.objects.create(name=one) for one in ("Owner", "Second"))
    let_in(None, farm.id, owner, Role.PRODUCER)
    let_in(None, farm.id, second, Role.PRODUCER)
    made = invite(second, farm.id, "Kim", Role.PRODUCER, NOW)
    end_membership(owner, farm.id, second)
    with pytest.raises(NotThere):
        accept_invitation(made.code, kim, NOW)


def test_an_invitation_takes_no_role_away(farm: Any, kim: Any) -> None:
    let_in(None, farm.id, kim, Role.PRODUCER)
    made = invite(None, farm.id, "Kim", Role.HELPER, NOW)
    with pytest.raises(NotTaken, match="already, as its producer"):
        accept_invitation(made.code, kim, NOW)
    assert role_on(kim, farm.id) is Role.PRODUCER


def test_a_backup_keeps_accounts_and_opens_nothing_that_was_closed(
    farm: Any, kim: Any, empty_file: Path, tmp_path: Path
) -> None:
    sign_in(KIM, NOW)
    invite(None, farm.id, "Lee", Role.HELPER)
    make_backup(tmp_path / "b")
    (tmp_path / "new").mkdir()
    shutil.copy(empty_file, tmp_path / "new" / BOOK_FILE)
    with opened_book(BookPlace(tmp_path / "new")):
        restore_backup(tmp_path / "b")
        assert account_of(KIM.email).person.name == "Kim Lee"
        assert not records.SignedIn.objects.exists()
        assert not records.Invitation.objects.exists()
