"""Every public function of the forage science shows an example, which runs as a test."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import rickyard

FOLDER = Path(rickyard.__file__).with_name("forage")


def without_example(path: Path) -> Iterator[str]:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        inside = node.body if isinstance(node, ast.ClassDef) else [node]
        if isinstance(node, ast.ClassDef) and node.name.startswith("_"):
            continue
        for one in inside:
            if not isinstance(one, ast.FunctionDef) or one.name.startswith("_"):
                continue
            if ">>>" not in (ast.get_docstring(one) or ""):
                yield one.name


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.name)
def test_every_public_function_shows_an_example(path: Path) -> None:
    assert list(without_example(path)) == []


def test_a_missing_example_is_noticed(tmp_path: Path) -> None:
    path = tmp_path / "one.py"
    path.write_text("def a():\n    '''A.'''\nclass B:\n    def c(self): ...\n", "utf-8")
    assert list(without_example(path)) == ["a", "c"]
