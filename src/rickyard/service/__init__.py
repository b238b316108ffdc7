"""What a person does with a farm, without a terminal: read, plan, explain, ask, list, write.

The command line is one caller, pages another. A service returns plain results and raises a
``ServiceError`` with a sentence that says what to do; it never prints and never leaves. Files that
come in from a laboratory are taken in here too, once a room below can read them.
"""

# fmt: off
from typing import TYPE_CHECKING

from rickyard.doors import at_first_use

if TYPE_CHECKING:
    from rickyard.service import files
    from rickyard.service.adopted import adopted_plan, request_of, week_start
    from rickyard.service.ask import (
        assurance, beside_earlier, earlier_plans, explain, fed_until, side_by_side, what_if,
    )
    from rickyard.service.changes import Asked, changes_of, prices_asked
    from rickyard.service.errors import (
        CannotWorkOut, FolderFaulty, NoProgram, NotUnderstood, ServiceError, understood, worked_out,
    )
    from rickyard.service.estimate import is_long, long_work_question, work_of
    from rickyard.service.farms import FarmPlace, file_of, find_farms
    from rickyard.service.files import check_outputs, write_file
    from rickyard.service.held import Held, forget_all, held_by_object, still
    from rickyard.service.office import (
        BY_YARD, DangerLine, FarmLine, OfficePage, OfficeRequest, ROUGH_NOTE, office_json,
        office_page,
    )
    from rickyard.service.opened import FARM_FILES, OpenedFarm, open_farm
    from rickyard.service.pages import (
        ReadLots, appetite, groups_named, in_winter, lot_sheets, lot_split, read_lots,
        sampling_plan, stated_prices, stock_words, yard_on,
    )
    from rickyard.service.plan import (
        ALL_WINTERS, PlanRequest, Planned, farm_asked_for, plan_all_winters, plan_farm,
    )
    from rickyard.service.results import ResultLine, gravest_first, result_lines

__getattr__ = at_first_use(__name__, {
    "": "files",
    "adopted": "adopted_plan request_of week_start",
    "ask": "assurance beside_earlier earlier_plans explain fed_until side_by_side what_if",
    "changes": "Asked changes_of prices_asked",
    "errors": "CannotWorkOut FolderFaulty NoProgram NotUnderstood ServiceError understood"
    " worked_out",
    "estimate": "is_long long_work_question work_of",
    "farms": "FarmPlace file_of find_farms",
    "files": "check_outputs write_file",
    "held": "Held forget_all held_by_object still",
    "office": "BY_YARD DangerLine FarmLine OfficePage OfficeRequest ROUGH_NOTE office_json"
    " office_page",
    "opened": "FARM_FILES OpenedFarm open_farm",
    "pages": "ReadLots appetite groups_named in_winter lot_sheets lot_split read_lots"
    " sampling_plan stated_prices stock_words yard_on",
    "plan": "ALL_WINTERS PlanRequest Planned farm_asked_for plan_all_winters plan_farm",
    "results": "ResultLine gravest_first result_lines",
})

__all__ = [
    "ALL_WINTERS", "Asked", "BY_YARD", "CannotWorkOut", "DangerLine", "FARM_FILES", "FarmLine",
    "FarmPlace", "FolderFaulty", "Held", "NoProgram", "NotUnderstood", "OfficePage",
    "OfficeRequest", "OpenedFarm", "PlanRequest", "Planned", "ROUGH_NOTE", "ReadLots", "ResultLine",
    "ServiceError", "adopted_plan", "appetite", "assurance", "beside_earlier", "changes_of",
    "check_outputs", "earlier_plans", "explain", "farm_asked_for", "fed_until", "file_of", "files",
    "find_farms", "forget_all", "gravest_first", "groups_named", "held_by_object", "in_winter",
    "is_long", "long_work_question", "lot_sheets", "lot_split", "office_json", "office_page",
    "open_farm", "plan_all_winters", "plan_farm", "prices_asked", "read_lots", "request_of",
    "result_lines",
    "sampling_plan", "side_by_side", "stated_prices", "still", "stock_words",
    "understood", "week_start",
    "what_if", "work_of", "worked_out", "write_file", "yard_on",
]
