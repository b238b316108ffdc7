"""What must hold so that the program does the same on Windows, macOS and Linux."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

from support.rows import each_row

ROOT = Path(__file__).resolve().parents[1]
OURS = [
    *sorted((ROOT / "src").rglob("*.py")),
    *sorted((ROOT / "tools").glob("*.py")),
    *sorted((ROOT / "docs" / "gallery").glob("*.py")),
    ROOT / "start.py",
]
#: Where the encoding stands when it is not named, and how many come before it.
ENCODING_AT = {"read_text": 0, "write_text": 1, "open": 2}
SUBPROCESS = ("run", "Popen", "check_output")
#: A file in which none of them is called need not be looked at closer.
OPENING = re.compile(rf"\b({'|'.join((*ENCODING_AT, *SUBPROCESS))})\(")


def without_encoding(text: str) -> Iterator[int]:
    """Yield the lines on which a text file is opened in whatever the machine speaks."""
    if not OPENING.search(text):
        return
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call) or "encoding" in {one.arg for one in node.keywords}:
            continue
        function = node.func
        is_method = isinstance(function, ast.Attribute)
        name = getattr(function, "attr", "") or getattr(function, "id", "")
        if is_method and getattr(function.value, "id", "") in ("archive", "browser", "webbrowser"):
            continue  # a member of an archive is bytes, and a browser opens an address
        as_text = {"text", "universal_newlines"} & {one.arg for one in node.keywords}
        if name in SUBPROCESS and as_text:
            yield node.lineno
        if name in ENCODING_AT and not is_binary(node):
            # A method has no file as its first argument.
            place = ENCODING_AT[name] + (name == "open" and not is_method)
            if len(node.args) <= place:
                yield node.lineno


def is_binary(call: ast.Call) -> bool:
    words = [*call.args, *(one.value for one in call.keywords)]
    said = [one.value for one in words if isinstance(one, ast.Constant)]
    return any(isinstance(one, str) and re.fullmatch(r"[rwxa]b\+?", one) for one in said)


def test_every_text_file_is_opened_as_utf8() -> None:
    assert len(OURS) > 300
    wrong = [
        f"{path.relative_to(ROOT).as_posix()}, line {line}"
        for path in OURS
        for line in without_encoding(path.read_text(encoding="utf-8"))
    ]
    assert wrong == []


@each_row(
    ("code", "found"),
    [
        ("path.read_text()", True),
        ("path.write_text(text)", True),
        ("open('a')", True),
        ("path.open()", True),
        ("subprocess.run(a, text=True)", True),
        ("path.read_text('utf-8')", False),
        ("path.write_text(text, encoding='utf-8')", False),
        ("path.open('rb')", False),
        ("subprocess.run(a, text=True, encoding='utf-8')", False),
    ],
)
def test_an_encoding_that_is_left_out_is_seen(code: str, found: bool) -> None:
    assert bool(list(without_encoding(code))) == found


def test_no_two_files_differ_in_capitals_alone() -> None:
    """Windows and macOS could keep only one of them."""
    kept = [
        path.relative_to(ROOT).as_posix()
        for folder in ("src", "tests", "docs", "tools", "requirements", ".github")
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    ]
    small = [name.casefold() for name in kept]
    assert len(small) == len(set(small))
    # Names that Windows keeps for devices, signs that it does not take, and paths it cuts off.
    for name in kept:
        assert not re.search(r'[<>:"\\|?*]', name), name
        for part in name.split("/"):
            assert part.split(".")[0].upper() not in {"CON", "PRN", "AUX", "NUL"}, name
            assert not part.endswith((" ", ".")), name
        assert len(name) < 150, name


def test_no_date_is_written_in_a_way_that_only_some_systems_know() -> None:
    """``%-d`` fails on Windows, ``%#d`` everywhere else."""
    for path in OURS:
        assert not re.search(r"%[-#][dmHIj]", path.read_text(encoding="utf-8")), path.name


def test_signals_that_windows_does_not_have_are_not_named() -> None:
    known = {"SIGINT", "SIGTERM", "SIG_IGN", "SIG_DFL"}
    for path in (ROOT / "src").rglob("*.py"):
        named = set(re.findall(r"\bSIG[A-Z_]+\b", path.read_text(encoding="utf-8")))
        assert named <= known, path.name


def test_no_shipped_table_mixes_line_ends() -> None:
    """Each is read alike on every system, and git changes none (``.gitattributes``)."""
    for path in (ROOT / "src").rglob("*.csv"):
        data = path.read_bytes()
        assert data.count(b"\r") in (0, data.count(b"\n")), path.name
    assert (ROOT / ".gitattributes").read_text(encoding="utf-8").split() == ["*", "-text"]


WORKFLOW = ROOT / ".github" / "workflows" / "check.yml"


def test_the_workflow_runs_what_the_readme_says_on_every_system_and_python() -> None:
    text = WORKFLOW.read_text(encoding="utf-8")
    for system in ("ubuntu-latest", "windows-latest", "macos-latest"):
        assert system in text
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert settings["project"]["requires-python"] == ">=3.11"
    for version in ("3.11", "3.12", "3.13", "3.14"):
        assert f'"{version}"' in text
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for command in ("start.py demo", "start.py test"):
        assert f"python3 {command}" in readme
        assert f"python {command}" in text
    assert "://" not in text


def test_this_python_is_one_that_is_promised() -> None:
    assert sys.version_info >= (3, 11)
