"""``farm.toml``: the farm's name and place, the season and the choices that hold for all of it."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any, Final

from rickyard.farm import Farm, Season
from rickyard.folder import tables
from rickyard.folder.hints import trade_word
from rickyard.folder.rules import season_faults, season_questions

SETTINGS_FILE: Final = "farm.toml"
LONGEST_SETTINGS_LINE: Final = 8_000  # characters
MOST_POINTS: Final = 200  # in one line: between the parts of its keys

_SYNTAX_PLACE: Final = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), .*|end of document)\)")
_LOOKS_LIKE_DATE: Final = re.compile(r"\w+\s*=\s*(\d+[-/.]\d+[-/.]\d+)")
_SYNTAX_HELP: Final = (
    'Text stands in quotation marks, name = "Hill farm"; a date as 2026-01-31; '
    "yes and no as true and false."
)


def read_settings(source: tables.FileText, faults: list[tables.Fault]) -> dict[str, Any] | None:
    """Read ``farm.toml``: the attributes of ``Farm`` that stand in it, ``season`` among them.

    Faults are added to ``faults``; with any of them there is nothing to return.
    """
    before = len(faults)
    if long := _too_long_line(source.text):
        faults.append(long)
        return None
    try:
        document = tomllib.loads(source.text)
    except (ValueError, RecursionError) as error:  # also absurd figures and nesting
        faults.append(_syntax_fault(source.text, str(error)))
        return None
    section = document.pop(tables.SEASON, None)
    values = _read_keys(source.text, "", document, tables.FARM_KEYS, faults)
    if not isinstance(section, dict):
        faults.append(
            tables.fault_at(
                SETTINGS_FILE,
                "the section [season] is missing."
                if section is None
                else "season is a value, and a section is expected.",
                "Write a line [season], and under it start and end.",
                expected="[season]",
            )
        )
        return None
    american = is_american(values.get("units"), values.get("country"))
    season = _read_keys(source.text, tables.SEASON, section, tables.SEASON_KEYS, faults, american)
    _check_format(source.text, values, faults)
    _check_season(source.text, season, faults)
    if len(faults) > before:
        return None
    del values["format"]
    values["units"] = str(values["units"])
    return {**values, "season": Season(**season)}


def is_american(units: object, country: object) -> bool:
    """Say whether days may stand month first: US units, and no other country named.

    Parameters
    ----------
    units : object
        The farm's units, as ``us``.
    country : object
        Its country, with its state where that is known; blank is not known.

    Returns
    -------
    bool
        Whether they may.

    Examples
    --------
    >>> is_american("us", ""), is_american("us", "CA-AB"), is_american("metric", "US")
    (True, False, False)
    """
    named = str(country or "").strip().upper()
    return str(units) == tables.Units.US and (not named or named.split("-")[0] == "US")


def _too_long_line(text: str) -> tables.Fault | None:
    # The library that reads the file takes time by the square of the parts of a dotted key.
    for row, line in enumerate(text.split("\n"), start=1):
        for count, most, what in (
            (len(line), LONGEST_SETTINGS_LINE, "characters"),
            (line.count("."), MOST_POINTS, "points"),
        ):
            if count > most:
                return tables.fault_at(
                    SETTINGS_FILE,
                    f"the line has {count:,} {what}, and {most:,} is the most.",
                    "Check that it is the right file.",
                    row=row,
                    row_word="line",
                    ends=True,
                )
    return None


def _syntax_fault(text: str, message: str) -> tables.Fault:
    match = _SYNTAX_PLACE.fullmatch(message)
    lines = text.split("\n")
    row = int(match["line"]) if match and match["line"] else len(lines)
    row = min(row, len(lines))
    found = lines[row - 1].strip()
    problem, suggestion = f'"{found}" cannot be read.', _SYNTAX_HELP
    if written := _LOOKS_LIKE_DATE.fullmatch(found):
        try:
            tables.parse_date(written[1])
        except tables.CellError as error:
            problem, suggestion = error.problem, error.suggestion
    return tables.fault_at(
        SETTINGS_FILE,
        problem,
        suggestion,
        row=row,
        row_word="line",
        found=found,
        expected="key = value",
    )


def _read_keys(
    text: str,
    section: str,
    written: dict[str, Any],
    columns: tuple[tables.Column, ...],
    faults: list[tables.Fault],
    american: bool = False,
) -> dict[str, Any]:
    values = {column.field: column.blank for column in columns if not column.required}
    headers = tables.headers_of(columns)
    used: dict[str, str] = {}
    before = len(faults)
    for key, value in written.items():
        if len(faults) - before >= tables.MOST_OF_A_FILE:
            faults.append(_end_of_reading(text, section, key))
            break
        match = headers.get(key)
        if match is None:
            faults.append(_unknown_key(text, section, key, columns))
            continue
        column, unit = match
        if column.field in used:
            both = f"{used[column.field]} and {key} are both written."
            faults.append(_at_key(text, section, key, both, "Leave one of the two out."))
            continue
        used[column.field] = key
        values.pop(column.field, None)
        try:
            values[column.field] = _value(column, unit, value, american)
        except tables.CellError as error:
            faults.append(
                _at_key(text, section, key, error.problem, _for_key(error), error.expected)
            )
    else:
        faults.extend(
            _missing_key(section, column)
            for column in columns
            if column.required and column.field not in used
        )
    return values


def _end_of_reading(text: str, section: str, key: str) -> tables.Fault:
    return tables.fault_at(
        SETTINGS_FILE,
        f"{tables.MOST_OF_A_FILE} faults stand before this key, and the file was read no further.",
        "Mend those, then read it again.",
        row=_line_of(text, section, key),
        row_word="line",
        column=_dotted(section, key),
        column_word="key",
        ends=True,
    )


def _value(column: tables.Column, unit: str, value: Any, american: bool) -> Any:
    """Return a value of TOML as the field's, through the cell that a person would write."""
    if column.kind == "text":
        if not isinstance(value, str):
            raise tables.CellError(
                f'"{_shown(value)}" is not text.', "Put it in quotation marks.", "text"
            )
        if column.required and not value.strip():
            raise tables.CellError("the text is empty.", f"Write here: {column.means}.", "text")
        return value.strip()
    if isinstance(value, datetime) or not isinstance(value, str | bool | int | float | date):
        raise _not_held(column, value)
    if isinstance(value, bool) != (column.kind == "flag") and not isinstance(value, str):
        raise _not_held(column, value)
    if isinstance(value, date) and column.kind != "date":
        raise _not_held(column, value)
    return tables.parse_cell(column, unit, _shown(value), american=american)


def _not_held(column: tables.Column, value: Any) -> tables.CellError:
    return tables.CellError(
        f'"{_shown(value)}" is not what this key holds.', f"Write here: {column.means}."
    )


def _for_key(error: tables.CellError) -> str:
    return error.suggestion.replace("leave the cell empty", "leave the key out")


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return tables.plain_number(value)
    return str(value)


def _unknown_key(
    text: str, section: str, key: str, columns: tuple[tables.Column, ...]
) -> tables.Fault:
    other, there = (
        (tables.FARM_KEYS, "above [season]")
        if section
        else (tables.SEASON_KEYS, "under the line [season]")
    )
    known = list(tables.headers_of(columns))
    if key in tables.headers_of(other):
        return _at_key(
            text, section, key, "this key stands in the wrong part.", f"Write it {there}."
        )
    meant = trade_word(SETTINGS_FILE, key)
    near = tables.did_you_mean(key, known) if meant is None else meant.sentence
    suggestion = near.strip() or f"The keys here are {', '.join(known)}."
    return _at_key(text, section, key, "this key is not known.", suggestion)


def _missing_key(section: str, column: tables.Column) -> tables.Fault:
    example = "2025-11-15" if column.kind == "date" else '"..."'
    return tables.fault_at(
        SETTINGS_FILE,
        "the key is missing.",
        f"Write {column.name} = {example}{' under [season]' if section else ''}: {column.means}.",
        column=_dotted(section, column.name),
        column_word="key",
    )


def _dotted(section: str, key: str) -> str:
    return f"{section}.{key}" if section else key


def _at_key(
    text: str, section: str, key: str, problem: str, suggestion: str, expected: str = ""
) -> tables.Fault:
    row = _line_of(text, section, key)
    return tables.fault_at(
        SETTINGS_FILE,
        problem,
        suggestion,
        row=row,
        column=_dotted(section, key),
        found=text.split("\n")[row - 1].strip() if row else "",
        expected=expected,
        row_word="line",
        column_word="key",
    )


def _line_of(text: str, section: str, key: str) -> int | None:
    here = ""
    for number, line in enumerate(text.split("\n"), start=1):
        bare = line.strip()
        if bare.startswith("["):
            here = bare.split("]")[0].strip("[ ")
        elif here == section and bare.split("=")[0].strip() in (key, f'"{key}"'):
            return number
    return None


def _check_format(text: str, values: dict[str, Any], faults: list[tables.Fault]) -> None:
    version = values.get("format")
    if version is not None and version > tables.FORMAT:
        faults.append(
            _at_key(
                text,
                "",
                "format",
                f'"{version}" is newer than the {tables.FORMAT} this program reads.',
                "Install the newer program that wrote the folder.",
                str(tables.FORMAT),
            )
        )


def _check_season(text: str, season: dict[str, Any], faults: list[tables.Fault]) -> None:
    faults.extend(
        _at_key(text, tables.SEASON, told.key, told.problem, told.suggestion, told.expected)
        for told in season_faults(season)
    )


def settings_questions(
    source: tables.FileText, season: Season, has_weather: bool
) -> Iterator[tables.Fault]:
    """Yield what is possible in ``farm.toml`` but worth a second look."""
    for told in season_questions(season, has_weather):
        yield _at_key(source.text, tables.SEASON, told.key, told.problem, told.suggestion)


def write_settings(farm: Farm, before: tables.FileText | None = None) -> str:
    """Write the text of ``farm.toml``.

    ``before``: the file as it was read. Its lines, comments among them, are kept as far as they say
    the same.
    """
    wanted = _attributes(farm)
    if before is not None:
        kept = _edited(before, wanted)
        if kept is not None:
            return kept
    lines = [f"format = {tables.FORMAT}"]
    lines += [
        _line(column, wanted[column.field])
        for column in tables.FARM_KEYS
        if column.name != "format"
    ]
    lines += ["", f"[{tables.SEASON}]"]
    season = wanted["season"]
    lines += [
        _line(column, getattr(season, column.field))
        for column in tables.SEASON_KEYS
        if getattr(season, column.field) is not None
    ]
    return "\n".join(lines) + "\n"


def _attributes(farm: Farm) -> dict[str, Any]:
    names = [column.field for column in tables.FARM_KEYS if column.name != "format"]
    return {**{name: getattr(farm, name) for name in names}, "season": farm.season}


def _line(column: tables.Column, value: Any) -> str:
    header = column.canonical_header
    if isinstance(value, bool):
        return f"{header} = {str(value).lower()}"
    if isinstance(value, str):
        return f"{header} = {_toml_text(value)}"
    return f"{header} = {tables.format_cell(column, column.field_unit, value)}"


def _toml_text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _edited(before: tables.FileText, wanted: dict[str, Any]) -> str | None:
    """Change only the lines that must change; ``None`` if that does not give what is wanted."""
    current = read_settings(before, [])
    if current is None:
        return None
    text = before.text
    changed = [("", c, wanted[c.field]) for c in tables.FARM_KEYS if c.name != "format"]
    changed = [item for item in changed if item[2] != current[item[1].field]]
    changed += [
        (tables.SEASON, column, getattr(wanted["season"], column.field))
        for column in tables.SEASON_KEYS
        if getattr(wanted["season"], column.field) != getattr(current["season"], column.field)
    ]
    for section, column, value in changed:
        edited = _with_line(text, section, column, value)
        if edited is None:
            return None
        text = edited
    again = read_settings(tables.FileText(SETTINGS_FILE, text, before.marked), [])
    return text if again == wanted else None


def _with_line(text: str, section: str, column: tables.Column, value: Any) -> str | None:
    lines = text.split("\n")
    newline = "\r" if "\r\n" in text else ""
    at = next(
        (line for key in tables.headers_of((column,)) if (line := _line_of(text, section, key))),
        None,
    )
    new = [] if value is None else [_line(column, value) + newline]
    if at is not None:
        return "\n".join([*lines[: at - 1], *new, *lines[at:]])
    head = next((n for n, line in enumerate(lines) if line.strip() == f"[{tables.SEASON}]"), None)
    if head is None:
        return None
    spot = head + 1 if section else 0
    return "\n".join([*lines[:spot], *new, *lines[spot:]])
