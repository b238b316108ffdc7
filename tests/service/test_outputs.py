"""Files are looked at before work begins, and written whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from rickyard.service import check_outputs, write_file
from rickyard.service import files as writing
from rickyard.service.errors import CannotWrite
from support.farm_folders import good_folder

posix = pytest.mark.skipif(os.name != "posix", reason="modes, links and pipes as POSIX has them")


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return good_folder(tmp_path / "farm")


def refused(path: Path, folder: Path | None = None) -> str:
    with pytest.raises(CannotWrite) as found:
        check_outputs([None, path], folder)
    return str(found.value)


def test_what_cannot_be_written_is_refused_before_work_begins(tmp_path: Path) -> None:
    (tmp_path / "a-file").write_text("x", encoding="utf-8")
    assert "has no name" in refused(Path())
    assert "is a folder. Name a file in it." in refused(tmp_path)
    assert "there is no such folder" in refused(tmp_path / "no" / "such" / "plan.json")
    assert "is a file, not a folder" in refused(tmp_path / "a-file" / "plan.json")
    assert "cannot be written" in refused(tmp_path / ("n" * 300))
    assert "is no name of a file" in refused(tmp_path / "nul\0.json")
    assert "Only --json -" in refused(Path("-"))
    check_outputs([tmp_path / "plan.json", tmp_path / "plan.pdf"])


def test_no_file_of_the_farm_itself_is_written_over(farm: Path, tmp_path: Path) -> None:
    assert "is a file of the farm folder itself" in refused(farm / "lots.csv", farm)
    # A table that is not there yet would be read the next time.
    assert "is a file of the farm folder itself" in refused(farm / "fed.csv", farm)
    assert "farm folder" in refused(tmp_path / "farm" / ".." / "farm" / "farm.toml", farm)
    check_outputs([farm / "plan.json"], farm)


def test_one_file_is_not_asked_for_twice(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="is asked for twice"):
        check_outputs([tmp_path / "same", tmp_path / "." / "same"])


@posix
def test_devices_pipes_and_links_are_seen_for_what_they_are(farm: Path, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "is a device or a pipe" in refused(tmp_path / "pipe")
    assert "is a device or a pipe" in refused(Path(os.devnull))
    (tmp_path / "to-lots").symlink_to(farm / "lots.csv")
    assert "is a file of the farm folder itself" in refused(tmp_path / "to-lots", farm)
    (tmp_path / "round").symlink_to(tmp_path / "round")
    assert "cannot be written" in refused(tmp_path / "round")


@posix
def test_a_link_stays_a_link_and_a_file_keeps_its_mode(tmp_path: Path) -> None:
    there, link, new = (tmp_path / name for name in ("there.json", "link.json", "new.json"))
    there.write_bytes(b"old")
    there.chmod(0o600)
    link.symlink_to(there)
    write_file(link, b"new")
    assert link.is_symlink()
    assert there.read_bytes() == b"new"
    assert stat.S_IMODE(there.stat().st_mode) == 0o600
    before = os.umask(0o027)
    try:
        write_file(new, b"x")
    finally:
        os.umask(before)
    assert stat.S_IMODE(new.stat().st_mode) == 0o640


@posix
def test_a_planted_neighbour_is_never_written_through(tmp_path: Path) -> None:
    victim = tmp_path / "victim"
    victim.write_bytes(b"mine")
    (tmp_path / ".plan.json.partial").symlink_to(victim)
    write_file(tmp_path / "plan.json", b"new")
    assert victim.read_bytes() == b"mine"


def test_what_was_there_stays_when_the_writing_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "plan.json"
    target.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, "fdopen", full)
    with pytest.raises(CannotWrite, match="No space left on device"):
        write_file(target, b"new")
    assert target.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["plan.json"]
