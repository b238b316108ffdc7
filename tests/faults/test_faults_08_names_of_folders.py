"""Names of folders and files that once ended in a traceback when a farm was read."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.folder import FolderFaults, read_folder


def test_a_name_of_300_characters_is_a_sentence(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["read", str(tmp_path / ("n" * 300))])
    assert done.exit_code == 3
    assert "the folder cannot be opened: File name too long." in done.output


@pytest.mark.parametrize("name", ["zero\0byte", "n" * 5_000])
def test_no_name_of_a_folder_ends_in_a_traceback(name: str, tmp_path: Path) -> None:
    with pytest.raises(FolderFaults) as caught:
        read_folder(tmp_path / name)
    assert "\0" not in str(caught.value)


def test_a_folder_in_one_that_may_not_be_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "is_dir", refuse)
    with pytest.raises(FolderFaults, match=r"the folder cannot be opened: Permission denied\."):
        read_folder(tmp_path / "closed" / "farm")
