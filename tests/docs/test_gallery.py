"""Every example of the gallery runs as it stands and prints something small."""

import ast
import runpy
from pathlib import Path

import pytest

from support.rows import each_row

GALLERY = Path(__file__).resolve().parents[2] / "docs" / "gallery"
EXAMPLES = sorted(GALLERY.glob("*.py"))


def test_there_are_enough_of_them() -> None:
    assert len(EXAMPLES) >= 8


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_runs_and_prints_a_small_result(
    example: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.syspath_prepend(str(GALLERY))
    runpy.run_path(str(example), run_name="__main__")
    printed = capsys.readouterr()
    assert 1 <= len(printed.out.splitlines()) <= 12
    assert printed.err == ""


@each_row("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_says_what_it_shows_and_uses_the_public_calls_alone(example: Path) -> None:
    tree = ast.parse(example.read_text(encoding="utf-8"))
    title, _, rest = (ast.get_docstring(tree) or "").partition("\n")
    assert title.endswith(".")
    assert len(rest) > 40
    modules = {
        node.module if isinstance(node, ast.ImportFrom) else node.names[0].name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
    }
    assert modules <= {"rickyard", "small_farm", "datetime"}
