"""Accepted samples into a farm folder: reports, the laboratory's own file, corrections.

Nothing that a laboratory printed is overwritten. A sample is written when nothing about it is
open; the others wait.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from rickyard.farm import Analyte, Basis, Farm, LabPackage, Report
from rickyard.folder import FarmFolder, write_folder
from rickyard.folder.tables import header_of
from rickyard.labs.common import FileReading, Sample, Value
from rickyard.labs.matching import Match
from rickyard.labs.science import read_farm_folder

SOURCES: Final = "sources"
CORRECTIONS: Final = "corrections.csv"
_CORRECTION_COLUMNS: Final = (
    "source",
    "sample",
    "analyte",
    "printed",
    "corrected",
    "who",
    "when",
    "why",
    "place",
)
_FORMULA_SIGNS: Final = ("=", "+", "-", "@", "\t", "\r")
#: As many signs of a SHA-256 tell files apart in a name.
_SHORT_HASH: Final = 12
LONGEST_ID: Final = 40


def as_text(text: str) -> str:
    """Return a text so that no spreadsheet takes it for a formula.

    Examples
    --------
    >>> as_text("=1+1"), as_text("North 40")
    ("'=1+1", 'North 40')
    """
    return "'" + text if text.startswith(_FORMULA_SIGNS) else text


def is_open(reading: FileReading, match: Match) -> bool:
    """Return whether something about a sample must be said before it is written.

    Parameters
    ----------
    reading : FileReading
        The file that it is in.
    match : Match
        The sample with its lot.

    Returns
    -------
    bool
        Whether a question about it or its file is open, a value in doubt, or its lot not known.
    """
    sample = match.sample
    return (
        match.lot is None
        or match.how == "waits"
        or any(one.level == "open" for one in (*reading.questions, *sample.questions))
        or bool(match.questions)
        or bool(sample.asked)
        or any(value.status != "sure" for value in sample.values)
    )


def report_from(reading: FileReading, match: Match, farm: Farm) -> Report:
    """Return the report of a matched sample.

    Parameters
    ----------
    reading : FileReading
        The file that it is in.
    match : Match
        The sample with its lot.
    farm : Farm
        The farm; no name of its reports is taken again.

    Returns
    -------
    Report
        The report, each value with the text that the laboratory printed.
    """
    sample, lot = match.sample, match.lot
    assert lot is not None
    taken = {one.report_id for one in farm.reports}
    return Report(
        _report_id(sample, lot.lot_id, taken),
        lot.lot_id,
        tuple(filter(None, (_analyte(value, sample) for value in sample.values))),
        sample.sampled_on,
        sample.reported_on,
        as_text(reading.lab),
        as_text(sample.lab_no),
        source=f"{SOURCES}/{source_name(reading)} sha256:{reading.sha256}",
    )


def _report_id(sample: Sample, lot_id: str, taken: set[str]) -> str:
    bare = re.sub(r"[^\w.-]+", "-", sample.lab_no or f"{lot_id}-{sample.reported_on or 'report'}")
    base = f"R-{bare.strip('-.')}"[: LONGEST_ID - 3]
    name, number = base, 2
    while name in taken:
        name, number = f"{base}-{number}", number + 1
    return name


def _analyte(value: Value, sample: Sample) -> Analyte | None:
    basis = Basis(value.basis) if value.basis in ("dm", "ar") else Basis.NONE
    words = {"nd": "ND", "tntc": "TNTC"}
    unread = value.value is None and value.op not in words
    if unread or header_of(value.analyte, value.unit, basis) is None:
        return None
    censored = value.op if value.op in ("<", ">") else ""
    number = None if value.op in words else value.value
    text = words.get(value.op) or _text(value, censored)
    return Analyte(
        value.analyte, number, value.unit, basis, value.method or sample.method, text, censored
    )


def _text(value: Value, censored: str) -> str:
    """Return the printed text where it reads as the number, else the number in its unit."""
    assert value.value is not None
    plain = value.printed.lstrip("<> =").replace(" ", "")
    try:
        same = float(plain) == value.value
    except ValueError:
        same = False
    return censored + (plain if same else f"{value.value:.10g}")


def source_name(reading: FileReading) -> str:
    """Return the name under which a laboratory's file is kept.

    Examples
    --------
    >>> source_name(FileReading("hay report (2).csv", "ab" * 32))
    'abababababab-hay-report-2-.csv'
    """
    safe = re.sub(r"[^\w.-]+", "-", reading.file)[-80:]
    return f"{reading.sha256[:_SHORT_HASH]}-{safe}"


def seen_before(folder: Path, sha256: str) -> str:
    """Return the name under which a file with that SHA-256 is kept already, or nothing."""
    kept = folder / SOURCES
    if not kept.is_dir():
        return ""
    return next((one.name for one in sorted(kept.glob(f"{sha256[:_SHORT_HASH]}-*"))), "")


def accept(
    folder: Path, data: bytes, reading: FileReading, matches: Sequence[Match]
) -> tuple[list[Report], list[Match]]:
    """Write what is not open into a farm folder.

    Parameters
    ----------
    folder : Path
        The farm folder.
    data : bytes
        The laboratory's file, kept in ``sources`` as it came.
    reading : FileReading
        What was read from it.
    matches : sequence of Match
        Its samples with their lots.

    Returns
    -------
    reports : list of Report
        The reports that were written.
    waiting : list of Match
        The samples that wait.
    """
    before = read_farm_folder(folder)
    farm = before.farm
    written: list[Report] = []
    waiting = []
    for match in matches:
        if is_open(reading, match):
            waiting.append(match)
            continue
        report = report_from(reading, match, farm)
        farm = replace(farm, reports=(*farm.reports, report))
        written.append(report)
    if written:
        _keep_source(folder, data, reading)
        write_folder(farm, folder, before.layout, replace=True)
    return written, waiting


def _keep_source(folder: Path, data: bytes, reading: FileReading) -> None:
    kept = folder / SOURCES
    kept.mkdir(exist_ok=True)
    place = kept / source_name(reading)
    if not place.exists():
        partial = place.with_name(f".{place.name}.partial")
        partial.write_bytes(data)
        partial.replace(place)
    if reading.corrections:
        keep_corrections(kept / CORRECTIONS, reading)


def keep_corrections(place: Path, reading: FileReading) -> None:
    """Write below what stands in a file what was corrected: who, when and why.

    Parameters
    ----------
    place : Path
        The file of corrections; it is begun where there is none.
    reading : FileReading
        What was read, with its corrections.
    """
    source, corrections = source_name(reading), reading.corrections
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    if not place.exists():
        writer.writerow(_CORRECTION_COLUMNS)
    for one in corrections:
        row = (one.sample, one.analyte, one.printed, one.corrected, one.who, one.when, one.why)
        writer.writerow([as_text(cell) for cell in (source, *row, one.place)])
    with place.open("a", encoding="utf-8", newline="") as file:
        file.write(out.getvalue())


def accept_prices(folder: Path, packages: Sequence[LabPackage]) -> list[LabPackage]:
    """Write packages of a price list into ``labs.csv``; a package of that name is replaced."""
    before: FarmFolder = read_farm_folder(folder)
    names = {(one.lab, one.package) for one in packages}
    kept = tuple(one for one in before.farm.labs if (one.lab, one.package) not in names)
    farm = replace(before.farm, labs=(*kept, *packages))
    write_folder(farm, folder, before.layout, replace=True)
    return list(packages)
