"""``rickyard people``: accounts of a shared record book, and who may do what on a farm."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at, season_named

#: What stands in an address whose server nobody named.
_NO_HOST = "HOST"

_ROLE = click.Choice(("producer", "specialist", "helper"))


@click.group()
def people() -> None:
    """Let people in on a shared record book, and end that.

    Whoever may use this computer and the book's folder may do this. A producer may do everything on
    a farm of theirs, a specialist everything but let people in, and a helper reads, feeds, moves
    bales and notes the weather.
    """


@people.command("list")
@data_option
@shared.answering
def list_(data: Path | None) -> None:
    """List accounts, and who is in on each farm."""
    from rickyard.book.accounts import every_account
    from rickyard.book.services import list_farms, read_invitations, read_people

    with open_at(data):
        accounts = every_account()
        shared.say("\n".join(f"{one.email}  {one.told}" for one in accounts) or "No accounts yet.")
        for farm in list_farms(None):
            shared.say(farm.name)
            for member in read_people(None, farm.farm):
                shared.say(f"  {member.name}, {member.role}")
            for one in read_invitations(None, farm.farm):
                shared.say(f"  {one.name}, invited as {one.role} until {one.until:%Y-%m-%d %H:%M}Z")


@people.command()
@click.argument("name")
@click.argument("email")
@click.option("--farm", metavar="FARM", help="Let them in on this farm too.")
@click.option("--role", type=_ROLE, help="As what they are let in.")
@click.password_option(help="Their password; asked for if left out.")
@data_option
@shared.answering
def add(
    name: str, email: str, farm: str | None, role: str | None, password: str, data: Path | None
) -> None:
    """Make an account for NAME, who signs in with EMAIL.

    With --farm the person is let in on that farm, or given another role there; somebody who has an
    account is let in on more farms by rickyard people invite.
    """
    from rickyard.book.accounts import account_of, add_account
    from rickyard.book.acting import Role
    from rickyard.book.services import let_in

    if (farm is None) != (role is None):
        shared.fail("Name both --farm and --role, or neither.", shared.EXIT_USAGE)
    with open_at(data, create=True):
        season = None if farm is None else season_named(farm)[0]
        there = account_of(email)
        if there is not None:
            shared.fail(
                f"{there.email} has an account already, of {there.person.name}. To let them in on "
                f'another farm: rickyard people invite FARM "{there.person.name}" --role ROLE.',
                shared.EXIT_USAGE,
            )
        person = add_account(name, email, password)
        if season is not None and role is not None:
            let_in(None, season.farm_id, person, Role(role))
    shared.say(f"{person.name} can sign in as {person.email}.")


@people.command()
@click.argument("farm")
@click.argument("name")
@click.option("--role", type=_ROLE, required=True, help="As what they are let in.")
@click.option(
    "--host",
    metavar="NAME",
    default=_NO_HOST,
    help="The name of the server, for the whole address.",
)
@data_option
@shared.answering
def invite(farm: str, name: str, role: str, host: str, data: Path | None) -> None:
    """Make a link that lets NAME in on FARM, once, within a day.

    Give it to nobody else: whoever opens it first is let in.
    """
    from rickyard.book.acting import Role
    from rickyard.book.services import invite as invite_to

    with open_at(data):
        season, called = season_named(farm)
        made = invite_to(None, season.farm_id, name, Role(role))
    shared.say(f"https://{host}/invitation/{made.code}")
    if host == _NO_HOST:
        shared.aside("Write the name of your server in the place of HOST, or name it by --host.")
    shared.aside(
        f"Lets {made.name} in on {called} as {role}, once, until {made.until:%Y-%m-%d %H:%M}Z."
    )


@people.command()
@click.argument("email")
@click.option("--farm", metavar="FARM", help="End only what they may do on this farm.")
@data_option
@shared.answering
def end(email: str, farm: str | None, data: Path | None) -> None:
    """Close the account of EMAIL, or end what it may do on one farm.

    What the person wrote stays, with their name.
    """
    from rickyard.book.accounts import close_account
    from rickyard.book.services import end_membership, read_people

    with open_at(data):
        account = _account(email)
        if farm is None:
            close_account(account)
            shared.say(f"{account.email}: closed, and signed out everywhere.")
            return
        season, called = season_named(farm)
        if account.person.id not in {one.person for one in read_people(None, season.farm_id)}:
            shared.fail(
                f"{account.person.name} is not in on {called}, so nothing was ended. rickyard "
                "people list says who is in.",
                shared.EXIT_USAGE,
            )
        end_membership(None, season.farm_id, account.person)
    shared.say(f"{account.person.name} is in on {called} no more.")


@people.command("password")
@click.argument("email")
@click.password_option(help="The new password; asked for if left out.")
@data_option
@shared.answering
def password_(email: str, password: str, data: Path | None) -> None:
    """Give the account of EMAIL another password, without codes, and sign it out everywhere."""
    from rickyard.book.accounts import set_password

    with open_at(data):
        account = _account(email)
        set_password(account, password, without_codes=True)
    shared.say(f"{account.email} has a new password and is signed out everywhere.")


@people.command("sign-out")
@click.argument("email")
@data_option
@shared.answering
def sign_out_(email: str, data: Path | None) -> None:
    """Sign EMAIL out in every browser."""
    from rickyard.book.accounts import sign_out

    with open_at(data):
        often = sign_out(_account(email))
    shared.say(f"Signed out in {often} browser{'s' if often != 1 else ''}.")


def _account(email: str) -> Any:
    """Return the account of an email address; leave with a sentence where there is none."""
    from rickyard.book.accounts import account_of

    found = account_of(email)
    if found is None:
        shared.fail(
            f'No account has the email "{email}". rickyard people list shows them.',
            shared.EXIT_USAGE,
        )
    return found
