"""The pages of laboratories: what they sell across the farms, and one package to be written."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_safe

from rickyard.book.acting import NotTaken, NotThere
from rickyard.book.pricing import LabsTold, read_labs, write_package
from rickyard.book.services import read_farm
from rickyard.farm import LabPackage
from rickyard.folder.tables import LABS
from rickyard.web.asked import fact_or_new, page
from rickyard.web.sections import labs_shown, package_page
from rickyard.web.typed import faults_told, texts_of, typed

_FIELDS: Final = ("lab", "package", "price_usd", "tests", "chemistry", "working_days", "note")
_LACKING: Final = {
    "lab": "Write what the laboratory is called.",
    "package": "Write what the package is called on its list.",
    "price_usd": "Write what one sample costs.",
    "tests": "Write its tests, as dm cp adf ndf.",
}


@require_safe
def labs(request: Any) -> HttpResponse:
    """Show what laboratories sell, at what price, and how long their results take.

    Parameters
    ----------
    request : HttpRequest
        What was asked.

    Returns
    -------
    HttpResponse
        The page.
    """
    return page(
        request,
        "labs.html",
        shown=labs_shown(read_labs(request.person)),
        district=True,
        here="labs",
    )


@require_http_methods(["GET", "HEAD", "POST"])
def package(request: Any) -> HttpResponse:
    """Show a package of tests on every farm's list, and write it to those that are ticked.

    Parameters
    ----------
    request : HttpRequest
        Names the laboratory and the package; a form holds what is to be written.

    Returns
    -------
    HttpResponse
        The page.
    """
    told = read_labs(request.person)
    faults: Mapping[str, str] = {}
    elsewhere: tuple[str, ...] = ()
    if request.method == "POST":
        try:
            faults = _write(request, told)
        except NotTaken as problem:
            faults, elsewhere = faults_told(problem, LABS)
        if not faults and not elsewhere:
            return redirect("labs")
    lab, name = request.GET.get("lab", "").strip(), request.GET.get("package", "").strip()
    shown = package_page(told, lab, name)
    if name and shown.package is None:
        raise NotThere
    return page(
        request,
        "package.html",
        422 if faults or elsewhere else 200,
        shown=shown,
        said=request.POST,
        ticked=request.POST.getlist("farm"),
        faults=faults,
        elsewhere=elsewhere,
        district=True,
        here="labs",
    )


def _write(request: Any, told: LabsTold) -> Mapping[str, str]:
    """Write what was typed of a package to the farms that are ticked; return what is at fault."""
    farm = read_farm(request.person, told.farms[0].season)
    said = typed(LABS, texts_of(request.POST, _FIELDS), farm, _LACKING)
    seen = dict(_seen(one) for one in request.POST.getlist("farm"))
    if not seen:
        said.faults["farm"] = "Tick the farms whose list it goes into."
    if said.faults:
        return said.faults
    write_package(request.person, LabPackage(**said.values), seen, fact_or_new(request))
    return {}


def _seen(said: str) -> tuple[UUID, UUID | None]:
    """Return a season and its line as the form holds them."""
    season, _, line = said.partition(".")
    try:
        return UUID(season), UUID(line) if line else None
    except ValueError as error:
        raise NotThere from error
