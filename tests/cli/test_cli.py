"""The commands as a person types them: exit codes, files, and nothing but the answer."""

from __future__ import annotations

import json
import os
import pickle
import shutil
import subprocess
import sys
from dataclasses import replace
from importlib import import_module
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from rickyard.book.base import BOOK_FILE, BookPlace, opened_book
from rickyard.book.services import list_farms
from rickyard.cli.main import COMMANDS, main
from rickyard.farm import Farm
from rickyard.program import planning
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SCHEMA_VERSION, SeasonProgram
from rickyard.sheets.data_files.plan_schema import plan_schema
from rickyard.web import serving
from support.farm_folders import in_text
from support.rows import each_row, few


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    """Return the demonstration farm with all its rules, planned by three weeks."""
    folder = tmp_path / "farm"
    with as_file(files("rickyard") / "demo_farm") as shipped:
        shutil.copytree(shipped, folder)
    in_text(folder / "farm.toml", "period_days = 7", "period_days = 21")
    return folder


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_help_names_every_command_and_the_exit_codes() -> None:
    result = run("--help")
    assert result.exit_code == 0
    for name, (_, sentence) in COMMANDS.items():
        assert name in result.output
        assert sentence.split(",")[0].split(".")[0][:30] in result.output
    assert "3 the farm folder has errors" in " ".join(result.output.split())


@each_row("name", list(COMMANDS))
def test_every_command_explains_itself(name: str) -> None:
    result = run(name, "--help")
    assert result.exit_code == 0
    assert result.output.startswith("Usage:")


def test_an_unknown_command_is_refused() -> None:
    result = run("plane")
    assert result.exit_code == 2
    assert "plane" in result.output


def test_plan_writes_json_and_pdf_beside_the_answer(farm: Path, tmp_path: Path) -> None:
    document, sheet = tmp_path / "plan.json", tmp_path / "plan.pdf"
    result = run("plan", farm, "--weekly", "--effort", 0, "--json", document, "--pdf", sheet)
    assert result.exit_code == 0
    assert "Enough hay" in result.stdout
    assert f"JSON: {document}" in result.stderr
    assert sheet.read_bytes().startswith(b"%PDF-")
    jsonschema.validate(json.loads(document.read_text(encoding="utf-8")), plan_schema())
    assert sorted(one.name for one in tmp_path.iterdir()) == ["farm", "plan.json", "plan.pdf"]


def in_a_process(*arguments: object, encoding: str) -> tuple[str, str]:
    """Run a command in a process of its own, as a machine would call it."""
    done = subprocess.run(
        [sys.executable, "-m", "rickyard", *map(str, arguments)],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"},
    )
    aside = done.stderr.decode("utf-8", errors="replace")
    assert done.returncode == 0, aside
    assert "Traceback" not in aside
    return done.stdout.decode("utf-8", errors="replace"), aside


def test_json_on_standard_output_is_json_and_nothing_else(farm: Path) -> None:
    """The solver prints nothing, and names stand as they are whatever the terminal can show."""
    edit(farm / "lots.csv", "Tarp orchardgrass", "Tarp Łąka ½")
    said, aside = in_a_process(
        "plan", farm, "--weekly", "--seconds", 0, "--json", "-", encoding="ascii"
    )
    document = json.loads(said)
    assert document["schema_version"] == SCHEMA_VERSION
    assert "Tarp Łąka ½" in {one["name"] for one in document["sources"]}
    assert aside == ""


def test_a_short_farm_is_still_an_answer(farm: Path, tmp_path: Path) -> None:
    header = (farm / "lots.csv").read_text(encoding="utf-8").splitlines()[0]
    (farm / "lots.csv").write_text(header + "\n", encoding="utf-8")
    reports = (farm / "reports.csv").read_text(encoding="utf-8").splitlines()[0]
    (farm / "reports.csv").write_text(reports + "\n", encoding="utf-8")
    (farm / "wishes.csv").unlink()
    (farm / "stacks.csv").unlink()
    document = tmp_path / "plan.json"
    result = run("plan", farm, "--seconds", 0, "--json", document)
    assert result.exit_code == 0
    assert json.loads(document.read_text(encoding="utf-8"))["status"] == "short"


@pytest.mark.parametrize("command", ["plan", "read", "needs"])
def test_faults_of_the_folder_are_named_and_leave_with_three(command: str, farm: Path) -> None:
    edit(farm / "lots.csv", "128,1150", "-128,1150")
    edit(farm / "groups.csv", "cow,62", "cow,many")
    result = run(command, farm)
    assert result.exit_code == 3
    assert 'lots.csv, row 2, column bales: "-128"' in result.stderr
    assert 'groups.csv, row 2, column head: "many"' in result.stderr
    assert "nothing was loaded" in result.stderr
    assert "Traceback" not in result.stderr
    assert result.stdout == ""


def test_a_feed_that_is_not_in_the_table_is_a_fault(farm: Path) -> None:
    edit(farm / "feeds.csv", "soybean_hulls", "soybean_huls")
    result = run("plan", farm, "--weekly", "--seconds", 0)
    assert result.exit_code == 3
    assert "Did you mean soybean_hulls?" in result.stderr


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    result = run("plan", tmp_path / "nowhere")
    assert result.exit_code == 3
    assert "nowhere" in result.stderr


def test_a_file_that_cannot_be_written_is_named(farm: Path, tmp_path: Path) -> None:
    result = run(
        "plan", farm, "--seconds", 0, "--pdf", tmp_path / "no" / "such" / "folder" / "plan.pdf"
    )
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr


def test_a_program_that_fails_its_re_check_is_not_shown(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest = planning.plan_season
    monkeypatch.setattr(
        planning, "plan_season", lambda *one, **how: replace(honest(*one, **how), cost=1.0)
    )
    result = run("plan", farm, "--weekly", "--seconds", 0)
    assert result.exit_code == 4
    assert "does not pass its own re-check" in result.stderr
    assert result.stdout == ""


def test_demo_keeps_what_a_person_changed(
    tmp_path: Path, empty_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest, known = planning.plan_season, dict[bytes, SeasonProgram]()

    def first_program(farm: Farm, *more: Any, options: PlanOptions) -> SeasonProgram:
        # The same farm asked for with the same options is planned once: both are compared.
        options = replace(options, weekly=True, effort=0.0, stop=None)
        key = pickle.dumps((farm, options))
        if key not in known:
            known[key] = honest(farm, *more, options=options)
        return known[key]

    demo = import_module("rickyard.cli.commands.demo")
    copied = demo._copy_farm

    def copied_for_a_quick_plan(folder: Path) -> None:
        copied(folder)
        in_text(folder / "farm.toml", "period_days = 7", "period_days = 21")

    # What is told of the program is tested, not how long it was bettered.
    monkeypatch.setattr(planning, "plan_season", first_program)
    monkeypatch.setattr(demo, "_copy_farm", copied_for_a_quick_plan)
    out = tmp_path / "out"
    first = run("demo", "--out", out)
    assert first.exit_code == 0
    assert "The sheet to print:" in first.output
    assert first.output.rstrip().endswith("then rickyard serve.")
    # Who plans the copied folder with the same options next is told the same.
    again = run("plan", out / "larkmoor")
    assert again.output.splitlines()[2] == first.output.splitlines()[2]
    assert len(known) == 1
    # A folder that is as it was is not planned again: the program that was written is shown.
    known.clear()
    standing = run("demo", "--out", out)
    assert standing.exit_code == 0
    assert "is as it was: this is the program of" in standing.output
    assert first.output.splitlines()[2] in standing.output
    assert not known
    names = {"larkmoor", "season-program.json", "season-program.pdf"}
    assert {one.name for one in out.iterdir()} == names
    edit(out / "larkmoor" / "groups.csv", "cow,62", "cow,70")
    (out / "book").mkdir()
    shutil.copy(empty_file, out / "book" / BOOK_FILE)
    served: list[Any] = []
    monkeypatch.setattr(serving, "serve", lambda place, *_: served.append(place))
    second = run("demo", "--out", out, "--serve")
    assert second.exit_code == 0
    assert [place.folder for place in served] == [out / "book"]
    with opened_book(BookPlace(out / "book"), create=False):
        assert len(list_farms(None)) == 1
    assert "then rickyard serve" not in second.output
    assert "Spring cows, 70 head" in second.output


def test_read_puts_dangers_first(farm: Path) -> None:
    result = run("read", farm)
    assert result.exit_code == 0
    for lot in ("Tarp orchardgrass", "Bought grass hay", "Drought sorghum-sudan"):
        assert lot in result.output
    assert "2,508 ppm" in result.output


def test_needs_shows_every_group(farm: Path) -> None:
    result = run("needs", farm)
    assert result.exit_code == 0
    for group in ("Spring cows", "Stocker steers", "Bulls"):
        assert group in result.output


def test_help_comes_without_the_heavy_libraries() -> None:
    """Help and errors come at once: nothing large is imported for them."""
    code = (
        "import sys; from click.testing import CliRunner; from rickyard.cli.main import main;"
        "CliRunner().invoke(main, ['--help']);"
        "print([one for one in ('highspy', 'numpy', 'vl_convert', 'typst', 'rich') "
        "if one in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("encoding", "said"),
    few(
        [
            ("ascii", ["read"]),
            ("ascii", ["plan", "--weekly", "--seconds", "0"]),
            ("cp1252", ["read"]),
        ],
        1,
    ),
)
def test_a_terminal_that_cannot_show_a_sign_gets_no_traceback(
    encoding: str, said: list[str], farm: Path
) -> None:
    edit(farm / "lots.csv", "Tarp orchardgrass", "Tarp Łąka ½")
    told, _ = in_a_process(*said, farm, encoding=encoding)
    assert "Tarp" in told


def test_a_value_an_equation_was_not_made_for_is_told(farm: Path) -> None:
    """Steers of 2,200 lb that are to gain 3 lb a day outgrow the equations by spring."""
    edit(farm / "groups.csv", "stocker,32,590,,1250", "stocker,32,2200,,2350")
    edit(farm / "groups.csv", "steer,8,,,,,1.6", "steer,8,,,,,3.0")
    for command in ("plan", "needs"):
        result = run(command, farm)
        assert result.exit_code == 3, result.output
        assert "Stocker steers" in result.stderr
        assert "Traceback" not in result.stderr


def test_what_is_left_at_the_end_goes_with_the_process_without_being_looked_over() -> None:
    told = "import atexit, gc; atexit.register(lambda: print(gc.get_freeze_count() > 0));"
    command = [sys.executable, "-c", f"{told} import rickyard.cli.main"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["True"]
