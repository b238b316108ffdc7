"""A file that was taken in, at the terminal: what is sure, what is asked, what was written."""

from __future__ import annotations

from typing import Final

import click

from rickyard.labs.common import FileReading, Question, Sample, Value
from rickyard.labs.intake import Intake

_OPS: Final = {"=": "", "<": "<", ">": ">", "nd": "not detected", "tntc": "too many to count"}
_UNITS: Final = {
    "pct": "%",
    "g_per_kg": "g/kg",
    "mcal_per_lb": "Mcal/lb",
    "mcal_per_kg": "Mcal/kg",
    "mj_per_kg": "MJ/kg",
    "cfu_per_g": "CFU/g",
}
_BASES: Final = {"dm": "dry", "ar": "as received"}
#: Of a file with more samples than these only what is open is shown.
_MOST_SHOWN: Final = 12


def print_intake(intake: Intake, accepting: bool) -> None:
    """Print what was read from a file, and what became of it."""
    reading = intake.reading
    if reading.refused:
        click.echo(f"{reading.file}: not read. {reading.refused}")
        return
    if intake.packages:
        _print_packages(intake)
        return
    values = [value for sample in reading.samples for value in sample.values]
    sure = sum(value.status == "sure" for value in values)
    click.echo(
        f"{reading.file}: {len(reading.samples)} samples, {sure} values sure, "
        f"{len(values) - sure} open" + (f", from {reading.lab}." if reading.lab else ".")
    )
    for note in reading.notes:
        click.echo(f"  {note}")
    for question in reading.questions:
        _print_question(question)
    _print_samples(intake)
    if accepting:
        for report in intake.written:
            click.echo(f"  written: report {report.report_id} on lot {report.lot_id}")
        for match in intake.waiting:
            click.echo(f"  waits: {match.sample.name}")


def _print_samples(intake: Intake) -> None:
    """Print every sample of a short file; of a long one those about which something is open."""
    lots = {id(match.sample): match for match in intake.matches}
    for sample in intake.reading.samples:
        match = lots.get(id(sample))
        asked = [*sample.questions, *(match.questions if match else ())]
        if len(intake.reading.samples) <= _MOST_SHOWN or asked:
            _print_sample(sample, intake.reading)
            if match is not None:
                told = f"lot {match.lot.lot_id}" if match.lot else "waits"
                click.echo(f"    {told}: {match.note}")
        for question in asked:
            _print_question(question)


def _print_question(question: Question) -> None:
    sign = "?" if question.level == "open" else "-"
    click.echo(f"  {sign} {question.text}")
    if question.level == "open":
        choices = " | ".join(question.choices)
        default = f"; likely {question.default}" if question.default else ""
        click.echo(f'      answer: "{question.key}" = {choices}{default}')


def _print_sample(sample: Sample, reading: FileReading) -> None:
    days = [
        f"{word} {day.isoformat()}"
        for word, day in (("sampled", sample.sampled_on), ("reported", sample.reported_on))
        if day
    ]
    beside = [f"no. {sample.lab_no}" if sample.lab_no else "", *days, sample.method]
    click.echo(f"  {sample.name}: " + ", ".join(one for one in beside if one))
    click.echo("    " + "; ".join(_value(value) for value in sample.values))


def _value(value: Value) -> str:
    number = "" if value.value is None else f"{value.value:.10g}"
    unit = _UNITS.get(value.unit, value.unit)
    basis = _BASES.get(value.basis, f"of {value.basis}" if value.basis else "")
    sign = "" if value.status == "sure" else "?"
    text = f"{value.analyte} {_OPS.get(value.op, '')}{number} {unit} {basis}{sign}"
    return " ".join(text.split())


def _print_packages(intake: Intake) -> None:
    reading = intake.reading
    click.echo(f"{reading.file}: a price list of {reading.lab or 'a laboratory not named'}.")
    for one in intake.packages:
        days = f", {one.working_days} working days" if one.working_days else ""
        click.echo(f"  {one.package}: ${one.price_usd:g}, {one.chemistry or 'method open'}{days}")
        click.echo(f"    {one.tests}")
    for question in reading.questions:
        _print_question(question)
