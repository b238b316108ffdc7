"""What the repository promises about itself, beyond what the linters see."""

import ast
import io
import re
import tokenize
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import rickyard
from support.slow_tests import BEGUN_FIRST
from tools.doors import tree_of

ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted((ROOT / "src" / "rickyard").rglob("*.py"))
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))

#: Lines of code: docstrings, comments and blank lines explain, and are not counted.
MOST_CODE_LINES = 400
PIN = re.compile(r"(?P<name>[a-z0-9][a-z0-9-]*)==(?P<version>[0-9][0-9a-z.]*)( ; [a-z_]+ [^/@]+)?")
#: Put together here so that this file does not contain them.
UNFINISHED_WORDS = re.compile(r"\b(" + "|".join(["TO" + "DO", "FIX" + "ME", "XX" + "X"]) + r")\b")


#: Documents that do not ship, and places that only the writer of a line can see. A publication's
#: own part is cited as "ch. 2".
UNSHIPPED = re.compile(
    "|".join(["hand" + "book", "chap" + "ter", "share" + "d/", "this mach" + "ine"]), re.IGNORECASE
)


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def pins(path: Path) -> dict[str, str]:
    lines = path.read_text(encoding="utf-8").splitlines()
    matches = [PIN.fullmatch(line) for line in lines]
    wrong = [line for line, match in zip(lines, matches, strict=True) if match is None]
    assert not wrong, f"{name_of(path)}: not a plain pin: {wrong}"
    return {match["name"]: match["version"] for match in matches if match is not None}


@pytest.mark.parametrize("path", LOCKS, ids=name_of)
def test_a_lock_holds_plain_pins_and_no_address(path: Path) -> None:
    assert pins(path)


def test_the_pattern_for_pins_refuses_addresses_and_paths() -> None:
    for line in (
        "numpy @ https://example.org/numpy.whl",
        "--find-links /somewhere",
        "-e .",
        "numpy>=2",
        "numpy==2.4.6 ; sys_platform == 'win32' @ file:///x",
    ):
        assert PIN.fullmatch(line) is None, line


@pytest.mark.parametrize(
    ("lock", "extras"), [("run", []), ("docs", ["docs"]), ("test", ["test", "docs"])]
)
def test_a_lock_pins_what_the_package_asks_for(lock: str, extras: list[str]) -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        settings = tomllib.load(file)
    asked = list(settings["project"]["dependencies"]) + settings["build-system"]["requires"]
    for extra in extras:
        asked += settings["project"]["optional-dependencies"][extra]
    pinned = pins(ROOT / "requirements" / f"{lock}.txt")
    for requirement in map(Requirement, asked):
        name = canonicalize_name(requirement.name)
        assert name in pinned, f"{name} is not in {lock}.txt: run python3 start.py lock"
        assert requirement.specifier.contains(pinned[name]), f"{name} {pinned[name]}"


def test_the_build_backend_is_locked_as_it_is_required() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        settings = tomllib.load(file)
    assert settings["dependency-groups"]["build"] == settings["build-system"]["requires"]


@pytest.mark.parametrize("slow", BEGUN_FIRST)
def test_what_is_begun_first_is_there(slow: str) -> None:
    file, _, test = slow.partition("::")
    assert f"def {test.partition('[')[0]}(" in (ROOT / file).read_text("utf-8") or not test


def test_each_lock_contains_the_smaller_ones() -> None:
    """``start.py`` relies on it: a folder set up for the tests can show the demonstration."""
    run, docs, test = (
        pins(ROOT / "requirements" / f"{lock}.txt") for lock in ("run", "docs", "test")
    )
    assert run.items() <= docs.items()
    assert docs.items() <= test.items()


def code_lines(text: str) -> int:
    """Return how many lines hold code: no docstrings, comments or blanks."""
    prose = {
        line
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        for line in range(node.lineno, (node.end_lineno or node.lineno) + 1)
    }
    idle = (tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT)
    found: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in (*idle, tokenize.ENDMARKER):
            found.update(range(token.start[0], token.end[0] + 1))
    return len(found - prose)


def too_long(text: str) -> bool:
    """Return whether a file holds too much code: counted only where there are lines enough."""
    written = sum(bool(line.strip()) for line in text.splitlines())
    return written > MOST_CODE_LINES and code_lines(text) > MOST_CODE_LINES


def test_a_source_file_stays_readable_in_one_sitting() -> None:
    assert len(SOURCES) > 300
    long = [name_of(path) for path in SOURCES if too_long(path.read_text(encoding="utf-8"))]
    assert long == []


def test_lines_of_code_are_counted_without_what_explains_them() -> None:
    assert not too_long("x = 1\n\n" * MOST_CODE_LINES)
    assert too_long("x = 1\n" * (MOST_CODE_LINES + 1))
    assert not too_long("# x\n" * (MOST_CODE_LINES + 1))
    assert code_lines('"""A.\n\nB.\n"""\n\n# c\nx = 1\n\n\ndef f():\n    """D."""\n') == 2


LAB_DATA = ROOT / "tests" / "labs" / "data"


def text_files() -> Iterator[Path]:
    for folder, kinds in (
        ("src", ("*.py", "*.typ", "*.toml", "*.csv", "*.json")),
        ("tests", ("*.py", "*.csv", "*.toml")),
        ("docs", ("*.md",)),
        ("benchmarks", ("*.py", "*.md")),
        ("tools", ("*.py", "*.csv")),
        (".", ("*.md", "*.py", "*.toml")),
    ):
        for kind in kinds:
            found = (ROOT / folder).glob(kind) if folder == "." else (ROOT / folder).rglob(kind)
            # Reports of laboratories are kept as they come, in whatever code page.
            yield from (path for path in found if LAB_DATA not in path.parents)


def test_nothing_is_left_marked_as_unfinished() -> None:
    marked = [
        f"{name_of(path)}:{number}"
        for path in text_files()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if UNFINISHED_WORDS.search(line)
    ]
    assert not marked


def test_no_source_is_a_document_that_does_not_ship() -> None:
    named = [
        f"{name_of(path)}:{number}"
        for path in text_files()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if UNSHIPPED.search(line)
    ]
    assert not named


def test_a_document_that_does_not_ship_is_noticed() -> None:
    for line in ("Hand" + "book, section 3", "beef chap" + "ter 14", "share" + "d/a.csv"):
        assert UNSHIPPED.search(line), line
    assert not UNSHIPPED.search("NRC (2001), ch. 2; handling, shared by all")


def test_mold_is_spelled_one_way() -> None:
    """The display alone knows how international English writes it."""
    for path in (ROOT / "src").rglob("*.py"):
        if path.name == "display.py":
            continue
        if "mould" not in path.read_text(encoding="utf-8").casefold():
            continue
        said = [
            node.value
            for node in ast.walk(tree_of(path))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        ]
        assert not [one for one in said if "mould" in one.casefold()], path.name


def undocumented(body: list[ast.stmt], prefix: str) -> Iterator[str]:
    for node in body:
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            continue
        typed_only = any(ast.unparse(one) == "overload" for one in node.decorator_list)
        if node.name.startswith("_") or typed_only:
            continue
        if not ast.get_docstring(node):
            yield f"{prefix}{node.name}"
        if isinstance(node, ast.ClassDef):
            yield from undocumented(node.body, f"{prefix}{node.name}.")


def test_everything_public_says_what_it_is_for() -> None:
    missing = [
        name for path in SOURCES for name in undocumented(tree_of(path).body, f"{name_of(path)}: ")
    ]
    assert not missing


def test_a_missing_docstring_is_noticed() -> None:
    code = "class A:\n    '''A.'''\n    def b(self): ...\n    def _c(self): ...\ndef d(): ...\n"
    assert list(undocumented(ast.parse(code).body, "")) == ["A.b", "d"]


def test_the_changelog_begins_with_the_version_of_the_package() -> None:
    text = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## \[([0-9][^\]]*)\]", text, flags=re.MULTILINE)
    assert versions[0] == rickyard.__version__


def test_decisions_are_numbered_without_gaps_and_built_alike() -> None:
    paths = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert [int(path.name[:4]) for path in paths] == list(range(1, len(paths) + 1))
    for path in paths:
        lines = path.read_text(encoding="utf-8").splitlines()
        assert lines[0].startswith(f"# {int(path.name[:4])}. "), name_of(path)
        headings = [line for line in lines if line.startswith("## ")]
        assert headings == ["## Context", "## Decision", "## Consequences"], name_of(path)


def commands_in(markdown: str) -> list[str]:
    """Return the command lines of the fenced blocks, in order, without their prompts."""
    blocks = re.findall(r"^```[a-z]*\n(.*?)^```", markdown, flags=re.MULTILINE | re.DOTALL)
    lines = [line.strip().removeprefix("$ ") for block in blocks for line in block.splitlines()]
    return [line for line in lines if re.match(r"(python|py|pip|uv|rickyard)[0-9.]* ", line)]


def test_the_readme_begins_with_the_two_commands_that_need_nothing_else() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    if not text.strip():
        pytest.skip("the README is not written yet")
    first = commands_in(text)[:2]
    assert first[0].startswith("python3 start.py demo")
    assert first[1].startswith("python3 start.py test")


#: Pages that exist only in the built documentation, which looks at its own links.
MADE_PAGE = re.compile(r"(^|/)(api/\w+|gallery/\w+|rooms)\.md$")


def test_local_links_in_the_documents_lead_somewhere() -> None:
    broken = [
        f"{name_of(path)}: {target}"
        for path in [*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")]
        for target in re.findall(r"\]\(([^)#\s]+)", path.read_text(encoding="utf-8"))
        if "://" not in target and not target.startswith("mailto:")
        if not (path.parent / target).exists() and not MADE_PAGE.search(target)
    ]
    assert not broken
