"""The texts of a first farm folder from the answers, assumptions marked in each row's note."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from rickyard.draft.interview import Answers
from rickyard.draft.told import Told
from rickyard.folder.tables import FORMAT, join_rows

#: Headers that stand in every such folder, so that the next row can be written without a manual.
_ALWAYS = {
    "lots.csv": ("lot", "name", "forage", "package", "storage", "bales", "baled_on", "counted_on"),
    "reports.csv": ("report", "lot", "sampled_on", "reported_on", "lab", "cp_pct_dm"),
    "groups.csv": ("group", "name", "class", "head"),
    "feeds.csv": ("feed", "name", "kind"),
}
_IN_US = {"groups.csv": ("weight_lb",), "feeds.csv": ("price_usd_per_ton", "table_id")}
_IN_METRIC = {"groups.csv": ("weight_kg",), "feeds.csv": ("price_usd_per_t", "table_id")}


def texts_of(answers: Answers) -> dict[str, str]:
    """Return the files of a folder by name.

    Parameters
    ----------
    answers : Answers
        What was told.

    Returns
    -------
    dict of str to str
        The texts; what was assumed stands as a comment in ``farm.toml`` and in each row's note.
    """
    rows = {
        "lots.csv": answers.lots,
        "reports.csv": answers.reports,
        "groups.csv": answers.groups,
        "feeds.csv": answers.feeds,
    }
    tables = {file: _table(file, told, answers.units) for file, told in rows.items()}
    return {"farm.toml": _settings(answers), **tables}


def _settings(answers: Answers) -> str:
    lines = [
        f"# Started by asking on {answers.today.isoformat()}. Lines marked assumed hold usual",
        "# values: put your own there. docs/farm-folder.md says what else can be written.",
        f"format = {FORMAT}",
    ]
    for key, told in answers.farm.items():
        if told.text:
            lines.append(f"{key} = {json.dumps(told.text, ensure_ascii=False)}{_mark(told)}")
    lines += ["", "[season]"]
    for key, told in answers.season.items():
        lines.append(f"{key} = {_value(told.text)}{_mark(told)}")
    return "\n".join(lines) + "\n"


def _value(text: str) -> str:
    """Return a day or a number bare, and a number with its unit in quotation marks."""
    bare = text.replace("-", "").replace(".", "")
    plain = bare.isascii() and bare.isdigit() and not text.startswith((".", "-"))
    return text if plain and not text.endswith(".") else json.dumps(text, ensure_ascii=False)


def _mark(told: Told) -> str:
    return "  # assumed" if told.assumed else ""


def _table(file: str, rows: Sequence[Mapping[str, Told]], units: str) -> str:
    more = (_IN_US if units == "us" else _IN_METRIC).get(file, ())
    named = dict.fromkeys([*_ALWAYS[file], *more, *(key for row in rows for key in row)])
    headers = [*named] if file == "reports.csv" else [*named, "note"]
    lines = [headers]
    for row in rows:
        assumed = [told.assumed for told in row.values() if told.assumed]
        note = {"note": Told("assumed: " + "; ".join(assumed) if assumed else "")}
        cells = {**note, **row}
        lines.append([cells[name].text if name in cells else "" for name in headers])
    return join_rows(lines, "\n")
