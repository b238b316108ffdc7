"""What ``import rickyard`` offers: loaded when used, typed, and described with units."""

import ast
import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import rickyard
from support.rows import each_row

INIT = Path(rickyard.__file__)
HEAVY = ("numpy", "highspy", "typst", "vl_convert", "rich", "holidays", "icalendar")

FUNCTIONS = [name for name in rickyard.__all__ if inspect.isfunction(getattr(rickyard, name))]


def loaded_after(code: str) -> set[str]:
    """Return which heavy packages a fresh Python has loaded after some code."""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sys.modules)"],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    return set(HEAVY) & set(done.stdout.splitlines()[-1].split())


def test_the_import_loads_nothing_heavy() -> None:
    assert loaded_after("import rickyard; dir(rickyard); rickyard.__version__") == set()


def test_help_loads_nothing_heavy() -> None:
    code = (
        "from rickyard.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass"
    )
    assert loaded_after(code) == set()


def test_the_look_for_heavy_packages_can_find_one() -> None:
    assert loaded_after("import rickyard, numpy") == {"numpy"}


def test_what_is_loaded_late_is_what_a_type_checker_sees() -> None:
    tree = ast.parse(INIT.read_text(encoding="utf-8"))
    block = next(node for node in tree.body if isinstance(node, ast.If))
    typed = {
        (alias.asname or alias.name): (node.module, alias.name)
        for node in block.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert typed == rickyard._PLACES
    assert {*typed, "__version__"} == set(rickyard.__all__)


@each_row("name", rickyard.__all__)
def test_every_name_is_there_and_listed(name: str) -> None:
    assert getattr(rickyard, name) is not None
    assert name in dir(rickyard)


def test_a_name_that_is_not_there_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'haystack'"):
        rickyard.haystack  # noqa: B018


@each_row("name", FUNCTIONS)
def test_every_call_says_what_goes_in_and_comes_out(name: str) -> None:
    call = getattr(rickyard, name)
    described = inspect.getdoc(call) or ""
    if inspect.signature(call).parameters:
        assert "Parameters\n----------" in described
    if inspect.signature(call).return_annotation not in (None, "None"):
        assert "Returns\n-------" in described
