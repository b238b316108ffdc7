"""Winters planned together as JSON: the autumn, the reserve and each winter's own program."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from rickyard.program.result import WinterProgram, WinterPrograms
from rickyard.sheets.data_files.plain_json import document
from rickyard.sheets.data_files.plan_json import plan_to_dict


def winters_json(found: WinterPrograms) -> str:
    """Return what planning several winters together says, as JSON text.

    Parameters
    ----------
    found : WinterPrograms
        The winters planned together: masses in kg, money in US dollars.

    Returns
    -------
    str
        A document ``winters``. Its keys are the names in ``WinterPrograms`` and
        ``WinterProgram``; farms are left out, and ``program`` is a plan as ``plan_schema``
        describes it.
    """
    whole = {
        field.name: getattr(found, field.name)
        for field in fields(found)
        if field.name not in ("farm", "winters")
    }
    winters = [_winter(one) for one in found.winters]
    return document("winters", farm=found.farm.name, **whole, winters=winters)


def _winter(one: WinterProgram) -> dict[str, Any]:
    row = {field.name: getattr(one, field.name) for field in fields(one) if field.name != "farm"}
    return {**row, "program": plan_to_dict(one.program)}
