"""Sheets of many houses, each as one office prints its results, with what else stands on them.

Laboratories' run lists, bench sheets, exports of portals, show tables, theses, mills' ledgers and
cards: what is beside the results (own checks, prices, goals, limits, earlier years, scores) is
drawn by chance and is none of the truth.
"""

from __future__ import annotations

from collections.abc import Callable

from .cards import bench, card, pairs_across, sections, years
from .chance import WRITERS, Sheet
from .house import SUMS, House
from .offices import (
    basis_rows,
    cut_heads,
    fill_down,
    full_cells,
    guide_below,
    headless,
    headless_across,
    limits_below,
    runs,
    screen,
    under_names,
    with_bill,
    with_words,
)
from .rooms import ROOMS
from .strange import _with_comma


def run_list(house: House) -> None:
    """Samples and the laboratory's own runs in one table, in the order of the instrument."""
    house.one_basis()
    held, random = house.content, house.random
    pos, typed = random.random() < 0.5, random.random() < 0.3
    order: list[int | str] = [*range(len(held.bags))]
    for name in house.own_runs():
        order.insert(random.randint(0, len(order)), name)
    heads = (["Pos"] if pos else []) + [house.head("lab"), house.head("id")]
    heads += ["Type"] if typed else []
    house.grid.line(*heads, *(house.label(one, held.bases[0]) for one in held.analytes))
    for place, one in enumerate(order, 1):
        bag = held.bags[one] if isinstance(one, int) else None
        lead = [str(place)] if pos else []
        ids = [bag.number, bag.name] if bag else random.choice((["", one], [one, ""], [one, one]))
        lead += [*ids, *([("S" if bag else "QC")] if typed else [])]
        row = house.grid.line(*lead)
        for column, analyte in enumerate(held.analytes, len(lead)):
            if bag:
                house.grid.value(row, column, held, int(one), analyte, held.bases[0])
            else:
                blank = "blank" in str(one).lower()
                house.grid.put(row, column, "0.0" if blank else house.other(analyte))


def export(house: House) -> None:
    """An export of a portal: names of machines over its columns, and much that is no result."""
    held, random = house.content, house.random
    short = {
        "dm": "DM",
        "moisture": "Moisture",
        "cp": "CP",
        "adf": "ADF",
        "ndf": "NDF",
        "lignin": "Lignin",
        "tdn": "TDN",
        "nem": "NEm",
        "neg": "NEg",
        "nel": "NEl",
        "ash": "Ash",
        "ee": "Fat",
        "starch": "Starch",
        "ca": "Ca",
        "p": "P",
        "mg": "Mg",
        "k": "K",
        "zn": "Zn",
        "cu": "Cu",
        "fe": "Fe",
        "nitrate_no3n": "NO3N",
        "nitrate_no3": "NO3",
        "rfv": "RFV",
    }
    units = {
        "pct": "pct",
        "g_per_kg": "g_kg",
        "ppm": "ppm",
        "mcal_per_lb": "Mcal_lb",
        "mcal_per_kg": "Mcal_kg",
        "mj_per_kg": "MJ_kg",
        "": "",
    }
    form = random.choice(
        ("{a}_{b}_{u}", "{a}_{u}_{b}", "{a} {u} {b}", "{a}.{b}.{u}", "{a}_{b} ({u})", "{b}_{a}_{u}")
    )
    spelled = random.choice((str, str.lower, str.upper))
    junk = random.sample(
        (
            "client_id",
            "order_no",
            "price_usd",
            "weight_g",
            "bale_temp_f",
            "GH",
            "NH",
            "latitude",
            "bales",
            "batch",
            "invoice",
            "tons",
            "zip",
            "pieces",
            "core_depth_in",
            "score",
        ),
        random.randint(1, 5),
    )
    ids = ["sample_id", "lab_no", "date_sampled"]
    columns: list[object] = [*ids, *junk, *house.printed()]
    if random.random() < 0.3:
        tail = columns[len(ids) :]
        random.shuffle(tail)
        columns = [*ids, *tail]
    if house.tongue != "en":
        house.content.bases = house.content.bases[:1]
    heads = []
    for one in columns:
        if isinstance(one, str):
            heads.append(one)
            continue
        analyte, basis = one
        b = held.basis_of(analyte, basis)
        text = form.format(
            a=short[analyte.key],
            b=b.upper() if b and analyte.key not in ("dm", "moisture") else "",
            u=units[analyte.unit],
        )
        heads.append(
            spelled(
                text.replace("__", "_")
                .replace("..", ".")
                .replace("  ", " ")
                .replace(" ()", "")
                .strip("_. ")
            )
        )
    house.grid.line(*heads)
    for number, bag in enumerate(held.bags):
        row = house.grid.height
        for column, one in enumerate(columns):
            if isinstance(one, str):
                fields = {
                    "sample_id": bag.name,
                    "lab_no": bag.number,
                    "date_sampled": bag.day.isoformat(),
                }
                junked = {
                    "latitude": "44.1",
                    "GH": "1.8",
                    "NH": "0.6",
                    "bale_temp_f": "81",
                    "score": "7.5",
                }
                house.grid.put(
                    row, column, fields.get(one) or junked.get(one) or str(random.randint(2, 900))
                )
            else:
                house.grid.value(row, column, held, number, one[0], one[1])


def show(house: House) -> None:
    """The table of a hay show: places, classes, scores, and the winner of last year."""
    house.one_basis()
    held, random = house.content, house.random
    heads = (
        ["Place", "Exhibitor", house.head("id")]
        if random.random() < 0.5
        else ["Entry", house.head("id"), "Class"]
    )
    tail = random.sample(
        ("Score", "Points", "$/ton", "Rank", "Judge", "Premium $"), random.randint(0, 2)
    )
    house.grid.line(*heads, *(house.label(one, held.bases[0]) for one in held.analytes), *tail)
    at = heads.index(
        next(one for one in heads if one not in ("Place", "Exhibitor", "Entry", "Class"))
    )
    for number, bag in enumerate(held.bags):
        if number in (0, 2) and random.random() < 0.4:
            house.grid.line(
                random.choice(
                    ("Class 1: Alfalfa", "Grass hay", "Division B", "Open class", "Youth")
                )
            )
        lead = [
            str(number + 1),
            "J. Doe" if at == 2 else bag.name,
            bag.name if at == 2 else "alfalfa",
        ]
        row = house.grid.line(*lead)
        for column, one in enumerate(held.analytes, 3):
            house.grid.value(row, column, held, number, one, held.bases[0])
        for column in range(len(tail)):
            house.grid.put(row, 3 + len(held.analytes) + column, str(random.randint(60, 98)))
    for name in random.sample(SUMS, random.randint(1, 3)):
        row = house.grid.line(
            *(name if n == random.choice((0, at)) or n == at else "" for n in range(3))
        )
        for column, one in enumerate(held.analytes, 3):
            house.grid.put(row, column, house.other(one))


def plus_minus(house: House) -> None:
    """Means with the error behind them in the cell."""
    house.one_basis()
    held, random = house.content, house.random
    sign = random.choice((" ± ", "±", " +/- "))
    house.grid.line(
        random.choice(("Results ± expanded uncertainty (k = 2)", "Mean ± standard error of 3 runs"))
    )
    house.grid.line(
        house.head("id"),
        house.head("lab"),
        *(house.label(one, held.bases[0]) for one in held.analytes),
    )
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.name, bag.number)
        for column, one in enumerate(held.analytes, 2):
            error = abs(float(house.other(one, number))) * 0.03
            house.grid.value(row, column, held, number, one, held.bases[0])
            text = house.grid.rows[row][column]
            house.grid.put(row, column, f"{text}{sign}{error:.{one.places}f}")


def ledger(house: House) -> None:
    """A mill's list of loads with weights and prices, and its totals."""
    house.one_basis()
    held, random = house.content, house.random
    before = random.sample(
        ("Grower", "Bales", "Tons", "$/ton", "Truck", "Ticket", "Bale lb", "Probe temp"),
        random.randint(1, 4),
    )
    house.grid.line(
        house.head("sampled"),
        house.head("id"),
        house.head("lab"),
        *before,
        *(house.label(one, held.bases[0]) for one in held.analytes),
        "Paid $",
    )
    for number, bag in enumerate(held.bags):
        row = house.grid.line(
            bag.day.isoformat(),
            bag.name,
            bag.number,
            *(
                {"Grower": "Doe", "Tons": "24.6", "$/ton": "165"}.get(
                    one, str(random.randint(30, 120))
                )
                for one in before
            ),
        )
        for column, one in enumerate(held.analytes, 3 + len(before)):
            house.grid.value(row, column, held, number, one, held.bases[0])
        house.grid.put(row, 3 + len(before) + len(held.analytes), str(random.randint(2000, 6000)))
    for name in random.sample(SUMS, random.randint(1, 2)):
        row = house.grid.line(
            *random.choice(((name, "", ""), ("", name, ""))), *("" for _ in before)
        )
        for column, one in enumerate(held.analytes, 3 + len(before)):
            house.grid.put(row, column, house.other(one))


def long_qc(house: House) -> None:
    """A row for each value, also of the laboratory's own runs, with limits and days of the test."""
    held, random = house.content, house.random
    columns = [
        "lab",
        "id",
        "analyte",
        "result",
        "unit",
        "basis",
        *random.sample(
            ("LOQ", "Method", "Run date", "Batch", "Dil.", "RPD", "Flag", "Price"),
            random.randint(0, 4),
        ),
    ]
    if random.random() < 0.5:
        random.shuffle(columns)
    words = {
        "lab": "Lab no.",
        "id": "Sample",
        "analyte": "Analyte",
        "result": "Result",
        "unit": "Unit",
        "basis": "Basis",
    }
    house.grid.line(*(words.get(one, one) for one in columns))
    own = house.own_runs(2)
    order: list[int | str] = [*range(len(held.bags))]
    for name in own:
        order.insert(random.randint(0, len(order)), name)
    for which in order:
        bag = held.bags[which] if isinstance(which, int) else None
        for one, basis in house.printed():
            row = house.grid.height
            fields = {
                "lab": bag.number if bag else "",
                "id": bag.name if bag else str(which),
                "analyte": one.words,
                "unit": one.shown_unit,
                "basis": held.shown_bases.get(held.basis_of(one, basis), ""),
            }
            for column, kind in enumerate(columns):
                if kind == "result" and bag:
                    house.grid.value(row, column, held, int(which), one, basis)
                elif kind == "result":
                    house.grid.put(row, column, house.other(one))
                else:
                    junk = {
                        "LOQ": "0.05",
                        "Method": "NIR",
                        "Run date": "2025-09-12",
                        "Batch": "B44",
                        "Dil.": "10",
                        "RPD": "1.2",
                        "Flag": "",
                        "Price": "4.00",
                    }
                    house.grid.put(row, column, fields[kind] if kind in fields else junk[kind])


def in_cells(house: House) -> None:
    """A row for each sample, each value with its label in one cell."""
    house.one_basis(("told",))
    held, random = house.content, house.random
    sign = random.choice((" ", ": ", "=", " = "))
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0], one.shown_unit)
            house.grid.put(row, column, f"{one.words}{sign}{house.grid.rows[row][column]}")


HOUSES: tuple[Callable[[House], None], ...] = (
    run_list,
    bench,
    pairs_across,
    export,
    show,
    plus_minus,
    card,
    years,
    ledger,
    sections,
    long_qc,
    in_cells,
    cut_heads,
    full_cells,
    basis_rows,
    headless,
    headless_across,
    fill_down,
    screen,
    under_names,
    runs,
    with_bill,
    guide_below,
    limits_below,
    with_words,
    *ROOMS,
)


def house_sheet(number: int) -> Sheet:
    """Return the sheet of that number; the same each time."""
    house = House(number)
    kind = HOUSES[number % len(HOUSES)]
    house.grid.line(house.words["title"])
    kind(house)
    if house.random.random() < 0.4:
        house.grid.line()
        house.grid.line(
            house.random.choice(
                ("Samples are kept 30 days.", "Page 1 of 1", "Thank you for your order.")
            )
        )
    if house.comma:
        house.grid.rows = [[_with_comma(text) for text in row] for row in house.grid.rows]
    form = house.random.choice(
        ("semicolon", "tab", "xlsx", "fixed", "paper")
        if house.comma
        else ("csv", "tab", "xlsx", "fixed", "paper", "pipes")
    )
    grid = house.grid
    if form in ("fixed", "paper") and not all(one.isascii() for row in grid.rows for one in row):
        form = "tab"
    data, _ = WRITERS[form](grid)
    return Sheet(f"{number}-{kind.__name__}-{house.tongue}-{form}", data, house.content, {})
