"""Record books for tests: on a file, and on a database server of their own where there is one."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

import psycopg
import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher

from rickyard.farm import Farm
from rickyard.folder import FolderFaults, write_folder
from rickyard.folder.tables import TABLES, header_of

#: Where systems put what starts a server, beside the search path.
SERVER_PLACES = ("/usr/lib/postgresql/*/bin",)

NO_SERVER = "no PostgreSQL here: the record book is tested on SQLite alone (needs initdb, pg_ctl)"


def server_programs() -> Path | None:
    """Return the folder of ``initdb`` and ``pg_ctl``, or ``None``."""
    found = shutil.which("pg_ctl")
    if found:
        return Path(found).resolve().parent
    for pattern in SERVER_PLACES:
        for folder in sorted(Path("/").glob(pattern.lstrip("/")), reverse=True):
            if (folder / "pg_ctl").exists():
                return folder
    return None


@dataclass(frozen=True)
class Server:
    """A database server in a folder of its own, reached through a socket in it."""

    folder: Path

    def url(self, name: str) -> str:
        """Return the address of a database."""
        return f"postgresql://keeper@/{name}?host={self.folder}"

    def make(self, name: str, template: str = "template1") -> str:
        """Make a database, return its address."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as one:
            one.execute(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
        return self.url(name)

    def drop(self, name: str) -> None:
        """Throw a database away."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as one:
            one.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


@contextmanager
def running_server(programs: Path) -> Iterator[Server]:
    """Start a server for the length of a block."""
    folder = Path(tempfile.mkdtemp(prefix="book-"))
    # A server refuses to run with all rights.
    other: dict[str, Any] = {"user": "nobody", "group": "nogroup"} if os.geteuid() == 0 else {}
    data = folder / "data"
    if other:
        shutil.chown(folder, **other)

    def run(*words: str) -> None:
        subprocess.run(words, check=True, cwd=folder, stdout=subprocess.DEVNULL, **other)

    try:
        run(str(programs / "initdb"), "-N", "-A", "trust", "-E", "UTF8", "-U", "keeper", str(data))
        settings = f"-c listen_addresses='' -c unix_socket_directories='{folder}' -c fsync=off"
        control = (str(programs / "pg_ctl"), "-D", str(data), "-w", "-l", str(folder / "log"))
        run(*control, "-o", settings, "start")
        try:
            yield Server(folder)
        finally:
            run(*control, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def exactly(farm: Farm) -> dict[str, str]:
    """Return all that a farm holds, each number to its last digit."""
    return {one.name: repr(getattr(farm, one.name)) for one in fields(farm)}


def without_faults(farm: Farm) -> Farm:
    """Leave out of a farm drawn at random whatever no folder takes, until one takes it."""
    reports = tuple(
        replace(
            report,
            analytes=tuple(
                one for one in report.analytes if header_of(one.name, one.unit, one.basis)
            ),
        )
        for report in farm.reports
    )
    farm = replace(farm, reports=tuple(one for one in reports if one.analytes))
    while True:
        try:
            with tempfile.TemporaryDirectory() as place:
                write_folder(farm, Path(place) / "farm")
            return farm
        except FolderFaults as faults:
            for table in TABLES:
                at = {(one.row or 0) - 2 for one in faults.faults if one.file == table.file}
                kept = [row for i, row in enumerate(getattr(farm, table.part)) if i not in at]
                farm = replace(farm, **{table.part: tuple(kept)})


def quick_passwords(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hash passwords with little memory: a test looks at who may come in, not at what it costs."""
    for name, value in (("time_cost", 1), ("memory_cost", 8), ("parallelism", 1)):
        monkeypatch.setattr(Argon2PasswordHasher, name, value)
