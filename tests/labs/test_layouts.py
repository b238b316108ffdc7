"""Answers kept with a layout: asked once, applied by headings, said each time."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import layout_of, read_file, take_in
from rickyard.labs.layouts import (
    Answer,
    LayoutFileError,
    layout_text,
    read_answers,
    read_layout,
)

FIRST = b"Sample,Lab No,Sampled,DM %,CP %,ADF %,NDF %\nEast,1,9/4/2026,88.0,11.2,36.0,58.0\n"
SECOND = b"Sample,Lab No,Sampled,DM %,CP %,ADF %,NDF %\nWest,2,8/3/2026,87.0,9.9,38.0,61.0\n"
ANSWERS = {"basis": Answer("dm"), "order of dates": Answer("month first")}


def test_a_question_says_what_each_answer_would_mean():
    reading = read_file("a.csv", FIRST)
    [basis] = [one for one in reading.questions if one.key == "basis"]
    assert "11.2 % protein: dry or as received?" in basis.text
    assert "12.7 dry" in basis.text
    assert basis.choices == ("dm", "ar")


def test_an_answer_is_asked_once_for_a_layout_and_said_each_time():
    assert len(read_file("a.csv", FIRST).open_questions()) == 2
    layout = layout_of(take_in("a.csv", FIRST, ANSWERS), "seven columns", ANSWERS)
    kept = read_layout(layout_text(layout), "seven.toml")
    assert kept == layout
    reading = read_file("b.csv", SECOND, layouts=[kept])
    assert reading.open_questions() == []
    assert reading.samples[0].of("cp", "dm").value == 9.9
    assert reading.samples[0].sampled_on.isoformat() == "2026-08-03"
    assert any('Layout "seven columns" was applied' in note for note in reading.notes)


def test_a_layout_is_not_applied_to_other_headings():
    layout = layout_of(take_in("a.csv", FIRST, ANSWERS), "seven columns", ANSWERS)
    other = b"Bag,Crude protein %,Ash %,Fat %\nWest,9.9,8.1,2.2\n"
    assert read_file("b.csv", other, layouts=[layout]).open_questions()


def test_only_answers_that_last_are_kept():
    answers = {**ANSWERS, "number line 4": Answer("12.1"), "lot East": Answer("A1")}
    layout = layout_of(take_in("a.csv", FIRST, answers), "x", answers)
    assert set(layout.answers) == {"basis", "order of dates"}


def test_answers_may_say_who_when_and_why():
    text = '[answers]\n"number line 4" = {answer = "12.1", who = "M. F.", when = 2026-10-30}\n'
    assert read_answers(text, "a.toml")["number line 4"] == Answer("12.1", "M. F.", "2026-10-30")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("version = 9\nheadings = []", "version 1"),
        ("version = 1\nheadings = 3", "list of texts"),
        ("not toml at all", "no TOML"),
    ],
)
def test_a_wrong_layout_file_is_named_with_what_to_do(text, words):
    with pytest.raises(LayoutFileError, match=words):
        read_layout(text, "a.toml")
