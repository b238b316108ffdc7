"""The doctor: looks at everything in a record book and says what is not as it should be."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from django.db import connection
from django.db.models import Count, Max

from rickyard.book import records
from rickyard.book.acting import NotTaken
from rickyard.book.folders import farm_of, seasons_of
from rickyard.book.keeping.rows import tables
from rickyard.book.services import look_at


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at; ``is_good`` says how it is."""

    is_good: bool
    sentence: str


def examine() -> Iterator[Finding]:
    """Look at the open book.

    Yields
    ------
    Finding
        What was looked at: the database itself, its guards, the trail, files, and every season.
    """
    yield _database()
    yield _guards()
    yield _trail()
    yield _files()
    yield from _seasons()


def _database() -> Finding:
    if connection.vendor != "sqlite":
        return Finding(True, "The database server keeps its own integrity.")
    with connection.cursor() as cursor:
        said = [row[0] for row in cursor.execute("PRAGMA integrity_check").fetchall()]
        loose = cursor.execute("PRAGMA foreign_key_check").fetchall()
    if said == ["ok"] and not loose:
        return Finding(True, "The file of the database is whole.")
    return Finding(
        False,
        f"The file of the database is damaged ({said[0]}; {len(loose)} rows name rows that are not "
        "there). Restore the last backup into a new folder.",
    )


#: A person's name is put right, a password is changed, and work says how far it is; everything else
#: is guarded.
_NOT_GUARDED = {"book_account", "book_person", "book_work"}


def _guards() -> Finding:
    query = (
        "SELECT tbl_name FROM sqlite_master WHERE type = 'trigger'"
        if connection.vendor == "sqlite"
        else "SELECT tgrelid::regclass::text FROM pg_trigger WHERE NOT tgisinternal "
        "AND tgenabled <> 'D'"
    )
    with connection.cursor() as cursor:
        cursor.execute(query)
        guards = [row[0] for row in cursor.fetchall()]
    if records.Leaving.objects.exists():
        return Finding(
            False,
            "Every guard stands open, as while a farm is deleted: somebody could take rows away. "
            "Restore a backup into a new folder.",
        )
    wanted = {table._meta.db_table for table in tables()} - _NOT_GUARDED
    bare = sorted(name for name in wanted if guards.count(name) < 2)
    if not bare:
        return Finding(True, "Every table is guarded against changes.")
    return Finding(
        False,
        f"The guards are gone from {', '.join(bare)}: somebody could change what stands there. "
        "Restore a backup into a new folder, where they are made anew.",
    )


def _trail() -> Finding:
    counted = records.TrailLine.objects.values("farm_id").annotate(n=Count("id"), top=Max("number"))
    broken = [one for one in counted if one["n"] != one["top"]]
    if not broken:
        return Finding(True, "No line of the trail is missing.")
    return Finding(
        False,
        f"Lines of the trail are missing on {len(broken)} farms. Restore the last backup into a "
        "new folder.",
    )


def _files() -> Finding:
    wrong = [
        name
        for name, sha256, content in records.SourceFile.objects.values_list(
            "name", "sha256", "content"
        ).iterator(chunk_size=50)
        if hashlib.sha256(bytes(content)).hexdigest() != sha256
    ]
    if not wrong:
        return Finding(True, "Every file is as it came.")
    return Finding(
        False,
        f"{', '.join(wrong)}: not as it came. Restore the last backup into a new folder.",
    )


def _seasons() -> Iterator[Finding]:
    for season, name in seasons_of(""):
        farm = farm_of(season)
        called = f"{name}, season from {farm.season.start}"
        try:
            look_at(farm, "weather")
        except NotTaken as problem:
            yield Finding(False, f"{called}: breaks a rule.\n{problem}")
        else:
            yield Finding(True, f"{called}: keeps all rules.")
