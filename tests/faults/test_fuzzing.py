"""Thousands of folders changed at random: a farm or a list of faults, within a bound of work."""

from __future__ import annotations

import random
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import pytest

from rickyard.folder import FolderFaults, read_folder
from rickyard.folder.tables import rows as rows_module
from support.farm_folders import GOOD, write_texts

FEED_TABLE = ["corn_grain_dry_rolled"]
SHORT, LONG = 100, 10_000
SLICES = 20
WEIGHED_EACH = 10  # of how many folders one has its memory weighed, which takes time
MOST_BYTES = 40_000_000  # far below what is promised, for files of some hundred kilobytes
#: Faults that are told of one folder at the most, each file read until it is clear.
MOST_FAULTS = 3_500

#: What is put in at random: what people type by mistake, and what they do on purpose.
ODD = (
    "", " ", "0", "-1", "1e300", "nan", "inf", "-0", "1,5", "99999999999999999999", "=cmd|x", "@a",
    "#REF!", "2-Jan", "2026-13-40", "0000-00-00", "9999-12-31", "yes", "\u0391", "\ufeff", "\u202e",
    "\x1b[31m", "\x00", '"', '""', ",", ";", "\t", "\n", "\r", "\r\n", "[", "]", "{", "}", "'", "#",
    "a.b.c.d = 1", "[[x]]", "x" * 5_000, "." * 300, ",".join("abcdefgh" * 200), "\n" * 20_000,
    ",\n" * 20_000, "q,q,q\n" * 5_000, "A1", "COWS", "season", "end", "2025-11-15", "kg", "12 lb",
    "\U0001f404", "\u00e9", "e\u0301", "%", "100 %", "$5", "1 - 2", "--", "None", "true",
)  # fmt: skip


def changed(text: str, dice: random.Random) -> str:
    """Return a text with one to four random changes."""
    for _ in range(dice.randint(1, 4)):
        spot = dice.randint(0, len(text))
        end = min(len(text), spot + dice.choice((0, 0, 1, 3, 10, 80)))
        lines = text.split("\n")
        row = dice.randrange(len(lines))
        match dice.randrange(6):
            case 0:
                text = text[:spot] + dice.choice(ODD) + text[end:]
            case 1:
                cells = lines[row].split(",")
                cells[dice.randrange(len(cells))] = dice.choice(ODD)
                text = "\n".join([*lines[:row], ",".join(cells), *lines[row + 1 :]])
            case 2:
                text = "\n".join(
                    [*lines[:row], *[lines[row]] * dice.choice((0, 2, 300)), *lines[row + 1 :]]
                )
            case 3:
                text = text[:spot] + chr(dice.randrange(1, 0xD7FF)) + text[end:]
            case 4:
                text = text[:spot]
            case _:
                dice.shuffle(lines)
                text = "\n".join(lines)
    return text


def faults_of(folder: Path) -> FolderFaults | None:
    try:
        read_folder(folder, FEED_TABLE)
    except FolderFaults as faults:
        return faults
    return None


def write_over(folder: Path, texts: dict[str, str]) -> None:
    for file, text in texts.items():
        (folder / file).write_text(text, encoding="utf-8", newline="")


def held_to_the_bounds(count: int, seed: int, tmp_path: Path, patch: pytest.MonkeyPatch) -> None:
    handled = [0]
    whole: Callable[..., object] = rows_module.parse_cell

    def counted(*given: object, **how: object) -> object:
        handled[0] += 1
        return whole(*given, **how)

    patch.setattr(rows_module, "parse_cell", counted)
    outcomes = {"farm": 0, "faults": 0}
    folder = write_texts(tmp_path / "farm", GOOD)
    for number in range(count):
        dice = random.Random(seed * 1_000_003 + number)
        some = dice.sample(sorted(GOOD), dice.choice((1, 1, 2, 4)))
        texts = {file: changed(GOOD[file], dice) for file in some}
        write_over(folder, texts)
        handled[0] = 0
        weighed = number % WEIGHED_EACH == 0
        if weighed:
            tracemalloc.start()
        told = faults_of(folder)
        if weighed:
            peak = tracemalloc.get_traced_memory()[1]
            tracemalloc.stop()
            assert peak < MOST_BYTES, number
        outcomes["farm" if told is None else "faults"] += 1
        if told is not None:
            assert 0 < len(told.faults) <= MOST_FAULTS, number
            assert str(told).count("\n  ") <= 70, number
        written = "".join({**GOOD, **texts}.values())
        assert handled[0] <= written.count(",") + written.count("\n") + 100, number
        write_over(folder, {file: GOOD[file] for file in some})
    assert min(outcomes.values()) > count // 50, outcomes


def test_changed_folders_are_a_farm_or_faults(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    held_to_the_bounds(SHORT, 1, tmp_path, monkeypatch)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(2, 2 + SLICES))
def test_ten_thousand_changed_folders_are_a_farm_or_faults(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    held_to_the_bounds(LONG // SLICES, seed, tmp_path, monkeypatch)
