"""Arrows between the parts of the program point down only, and the rule can fail."""

import logging
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from importlinter.cli import EXIT_STATUS_ERROR, EXIT_STATUS_SUCCESS, lint_imports

ROOT = Path(__file__).resolve().parents[1]
CONTRACT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
    "importlinter"
]["contracts"][0]
ROWS = [[part.strip() for part in row.split("|")] for row in CONTRACT["layers"]]
PARTS = [part.removeprefix("rickyard.") for row in ROWS for part in row]


@pytest.fixture(autouse=True)
def _others_journals() -> Iterator[None]:
    """Let the journals of other tests speak again: the linter's own setting silences them."""
    yield
    for one in logging.root.manager.loggerDict.values():
        if isinstance(one, logging.Logger):
            one.disabled = False


def test_the_package_keeps_the_direction(capsys: pytest.CaptureFixture[str]) -> None:
    config = str(ROOT / "pyproject.toml")
    status = lint_imports(config_filename=config, cache_dir=None, no_cache=True)
    assert status == EXIT_STATUS_SUCCESS, capsys.readouterr().out


def test_every_part_of_the_package_stands_in_a_row() -> None:
    """A part that no row names could import anything unseen."""
    package = ROOT / "src" / "rickyard"
    found = {path.stem for path in package.glob("*.py")} | {
        path.parent.name for path in package.glob("*/__init__.py")
    }
    assert found - {"__init__", "__main__"} == set(PARTS)


@pytest.mark.parametrize(
    ("importer", "imported", "expected"),
    [
        ("cli", "quantities", EXIT_STATUS_SUCCESS),
        ("verify", "program", EXIT_STATUS_SUCCESS),
        ("forage", "farm", EXIT_STATUS_SUCCESS),
        ("quantities", "farm", EXIT_STATUS_ERROR),
        ("farm", "folder", EXIT_STATUS_ERROR),
        ("program", "verify", EXIT_STATUS_ERROR),
        ("forage", "stock", EXIT_STATUS_ERROR),
        ("forage", "hay", EXIT_STATUS_ERROR),
        ("folder", "forage", EXIT_STATUS_ERROR),
    ],
)
def test_the_rule_tells_a_wrong_arrow_from_a_right_one(
    importer: str,
    imported: str,
    expected: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A tiny package under the very same rows, with one import in it."""
    # A name of its own for each case: a module stays imported until the run ends.
    package = f"tiny_{importer}_{imported}_{expected}"
    for part in PARTS:
        folder = tmp_path / package / part
        folder.mkdir(parents=True)
        (folder / "__init__.py").touch()
    (tmp_path / package / "__init__.py").touch()
    (tmp_path / package / importer / "inner.py").write_text(
        f"import {package}.{imported}\n", encoding="utf-8"
    )
    layers = [" | ".join(f"{package}.{part[9:]}" for part in row) for row in ROWS]
    config = tmp_path / ".importlinter"
    config.write_text(
        f"[importlinter]\nroot_package = {package}\n"
        "[importlinter:contract:rows]\n"
        f"name = {CONTRACT['name']}\ntype = {CONTRACT['type']}\n"
        "layers =\n" + "".join(f"    {layer}\n" for layer in layers),
        encoding="utf-8",
    )
    monkeypatch.syspath_prepend(tmp_path)
    status = lint_imports(config_filename=str(config), cache_dir=None, no_cache=True)
    said = capsys.readouterr().out
    assert status == expected, said
    assert ("BROKEN" in said) == (expected == EXIT_STATUS_ERROR)
