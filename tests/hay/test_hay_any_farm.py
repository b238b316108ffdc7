"""The sampling pages and the yard of any farm, on any day, in print, as JSON and as a calendar."""

import io
import json
import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import icalendar
import pytest
from rich.console import Console

from rickyard.cli.show.sampling import print_sampling
from rickyard.cli.show.yard import print_yard
from rickyard.farm import Farm, Lot, MoveKind, MoveRow
from rickyard.hay.sampling.sampling_plan import farm_sample_plans
from rickyard.hay.yard.yard_page import yard_page
from rickyard.service.pages import dry_matter_of
from rickyard.sheets.data_files.plain_json import document
from rickyard.sheets.paper import calendar
from support.farms import random_farm
from support.rows import few

DAYS = (
    date(2020, 1, 1),
    date(2026, 7, 1),
    date(2026, 10, 26),
    date(2026, 12, 31),
    date(2028, 2, 29),
)
KINDS = [kind for kind in MoveKind if kind is not MoveKind.MOVED]


def any_farm(seed: int) -> Farm:
    chance = random.Random(seed)
    farm = random_farm(seed, lots=6)
    moves = []
    for _ in range(20):
        kind = chance.choice(KINDS)
        sign = -1 if kind is MoveKind.CORRECTION and chance.random() < 0.5 else 1
        moves.append(
            MoveRow(
                date(2026, 5, 1) + timedelta(days=chance.randrange(400)),
                chance.choice(farm.lots).lot_id,
                kind,
                bales=float(sign * chance.randrange(30)),
                named="J. Hand",
            )
        )

    def befallen(lot: Lot) -> Lot:
        bales = chance.choice([lot.bales, 0.0, 1.0, 3.5, 9.0])
        return replace(
            lot,
            bales=bales,
            drought=chance.random() < 0.3,
            weedy=chance.random() < 0.2,
            flooded=chance.random() < 0.2,
            highest_temperature_c=chance.choice([None, 60.0, 75.0]),
            baled_moisture_pct=chance.choice([None, 15.0, 25.0]),
            bales_reachable=chance.choice([None, bales // 2]),
        )

    return replace(
        farm,
        lots=tuple(befallen(lot) for lot in farm.lots),
        moves=tuple(moves),
        country=chance.choice(["", "US", "AU-NSW", "CA-ON", "DE"]),
        units=chance.choice(["us", "metric"]),
    )


@pytest.mark.parametrize("seed", few(range(4), [2, 3]))
def test_any_farm_is_told_on_any_day(seed: int) -> None:
    farm = any_farm(seed)
    dry = dry_matter_of(farm)
    for day in DAYS:
        out = io.StringIO()
        console = Console(file=out, width=80)
        plans, page = farm_sample_plans(farm, day, dry), yard_page(farm, day, dry)
        print_sampling(plans, farm, day, console)
        print_yard(page, farm, console, with_book=True)
        assert max(map(len, out.getvalue().splitlines())) <= 80
        assert json.loads(document("both", plans=plans, page=page))["rickyard"] == "both"
        assert all(line.standing.bales >= 0.0 for line in page.lines)
        events = (*calendar.sampling_events(plans), *calendar.heat_events(farm, day))
        data = calendar.calendar_bytes([(farm.name, events)], datetime.now(UTC))
        assert len(icalendar.Calendar.from_ical(data).walk("VEVENT")) == len(events)
