"""The tests of a farm: what to core, the coring sheet, and reports of laboratories brought in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, Final
from urllib.parse import urlencode
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotTaken, day_at, may
from rickyard.book.coring import samples_sent
from rickyard.book.services import (
    LARGEST_REPORT,
    ReadingKept,
    keep_report,
    read_farm,
    read_report,
    reading_kept,
    reports_kept,
    use_report,
)
from rickyard.display import clean, display_for
from rickyard.farm import Farm
from rickyard.labs.intake import is_open
from rickyard.labs.layouts import Answer
from rickyard.service.sections import as_shown, farm_tests
from rickyard.web.asked import day_asked, farm_asked, frame, page
from rickyard.web.sections import report_shown, tests_shown

#: Fields of a report's page: the answer that was chosen, and one that was written instead.
_CHOSEN: Final = "q:"
_WRITTEN: Final = "w:"


@require_safe
def tests(request: Any, address: str) -> HttpResponse:
    """Show what is to be cored, what is under way, what has come."""
    return _tests(request, address)


def _tests(request: Any, address: str, fault: str = "") -> HttpResponse:
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    farm = as_shown(read_farm(request.person, there.season)).farm
    sent = samples_sent(request.person, there.season)
    waiting = [one for one in reports_kept(request.person, there.season) if not one.is_used]
    return page(
        request,
        "tests.html",
        422 if fault else 200,
        tests=tests_shown(farm, farm_tests(farm, day, sent), waiting, day),
        fault=fault,
        may_use=may("use report", request.person, there.farm),
        may_send=may("send sample", request.person, there.farm),
        **frame(there, address, others, "tests"),
    )


@require_POST
def bring_in(request: Any, address: str) -> HttpResponse:
    """Keep the files that were dropped, or the text that was pasted, and show what they say."""
    there, _ = farm_asked(request, address)
    came = [(one.name, one) for one in request.FILES.getlist("files")]
    pasted = request.POST.get("pasted", "").strip()
    try:
        kept = [
            keep_report(request.person, there.season, name, one.read(LARGEST_REPORT + 1))
            for name, one in came
        ]
        if pasted:
            kept.append(
                keep_report(request.person, there.season, "pasted.txt", pasted.encode("utf-8"))
            )
    except NotTaken as problem:
        return _tests(request, address, str(problem))
    if not kept:
        return _tests(request, address, "Choose a file, or paste the text of the report.")
    return redirect("report", address, kept[0]) if len(kept) == 1 else redirect("tests", address)


@require_safe
def report(request: Any, address: str, file: UUID) -> HttpResponse:
    """Show what a file says: what is doubtful first, nothing chosen before a person chooses."""
    return _report(request, address, file, request.GET)


def _report(request: Any, address: str, file: UUID, said: Any, fault: str = "") -> HttpResponse:
    there, others = farm_asked(request, address)
    farm = as_shown(read_farm(request.person, there.season)).farm
    answers = _answers(request, said)
    used = reading_kept(request.person, there.season, file)
    if used is not None and not answers:
        answers = dict(used.answers)
    intake = read_report(request.person, there.season, file, answers)
    ready = [one for one in intake.matches if not is_open(intake.reading, one)]
    return page(
        request,
        "report.html",
        422 if fault else 200,
        report=report_shown(farm, intake, file, ready),
        answers=[(f"{_CHOSEN}{key}", one.text, key) for key, one in answers.items()],
        fault=fault,
        used="" if used is None else _used(used, there.time_zone, farm),
        may_use=may("use report", request.person, there.farm),
        **frame(there, address, others, "tests"),
    )


def _used(used: ReadingKept, time_zone: str, farm: Farm) -> str:
    """Return when a file was used, and by whom."""
    day = display_for(farm.units).day_year_text(day_at(time_zone, used.used_at))
    return f"Used on {day}{f' by {clean(used.used_by)}' if used.used_by else ''}."


@require_POST
def use(request: Any, address: str, file: UUID) -> HttpResponse:
    """Use a report: from now on its values are those of the lot."""
    there, _ = farm_asked(request, address)
    answers = _answers(request, request.POST)
    try:
        done = use_report(request.person, there.season, file, answers)
    except NotTaken as problem:
        return _report(request, address, file, request.POST, str(problem))
    if done.waiting:
        said = urlencode([(f"{_CHOSEN}{key}", one.text) for key, one in answers.items()])
        return redirect(f"{reverse('report', args=[address, file])}?{said}")
    lots = {one.lot_id for one in done.reports}
    return redirect("lot", address, lots.pop()) if len(lots) == 1 else redirect("tests", address)


def _answers(request: Any, said: Mapping[str, str]) -> dict[str, Answer]:
    """Return what was answered, by whom and when; what was written goes before a choice."""
    who = getattr(getattr(request, "person", None), "name", "") or "this computer"
    when = datetime.now(UTC).date().isoformat()
    found = {}
    for prefix in (_CHOSEN, _WRITTEN):
        for name, text in said.items():
            if name.startswith(prefix) and text.strip():
                found[name.removeprefix(prefix)] = Answer(text.strip()[:80], who, when)
    return found
