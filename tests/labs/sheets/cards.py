"""Sheets of houses with a line for each analyte: benches, cards, years, sections, pairs."""

from __future__ import annotations

from .content import Analyte
from .house import GOALS, House


def bench(house: House) -> None:
    """One sample a block, a line for each analyte with method, limits, errors and prices."""
    held, random = house.content, house.random
    two = len(held.bases) > 1
    more = random.sample(
        (
            "Method",
            "LOQ",
            "LOD",
            "U (k=2)",
            "Spec.",
            "Price",
            "Date run",
            "RSD %",
            "Min",
            "Max",
            "Rating",
            "n",
            "Analyst",
        ),
        random.randint(1, 5),
    )
    columns = [
        "analyte",
        *random.sample([*held.bases, "unit", *more], len(held.bases) + 1 + len(more)),
    ]
    for number, bag in enumerate(held.bags):
        for name, text in (("id", bag.name), ("lab", bag.number), ("sampled", bag.day.isoformat())):
            house.grid.line(f"{house.head(name)}:", text)
        if random.random() < 0.4:
            house.grid.line(
                "Invoice no.:", str(random.randint(2000, 9000)), "", "Amount due:", "$48.50"
            )
        words = {
            "analyte": house.head("analyte") if house.tongue != "en" else "Test",
            "unit": "Unit",
        }
        result = random.choice(("Result", "Found", "Value"))
        words |= {
            b: held.shown_bases[b] if two else f"{result} ({held.shown_bases[b]})"
            for b in held.bases
        }
        house.grid.line(*(words.get(one, one) for one in columns))
        for one in held.analytes:
            row = house.grid.height
            for column, kind in enumerate(columns):
                own = held.basis_of(one, kind) if kind in held.bases else ""
                if kind in held.bases and (
                    own == kind or not two or (own == "" and kind == held.bases[0])
                ):
                    house.grid.value(row, column, held, number, one, kind)
                elif kind not in held.bases:
                    house.grid.put(row, column, _bench_other(house, kind, one, number))
        house.grid.line()


def _bench_other(house: House, kind: str, one: Analyte, bag: int) -> str:
    random = house.random
    near = float(house.other(one, bag))
    return {
        "analyte": one.words,
        "unit": one.shown_unit,
        "n": "2",
        "Rating": random.choice(("low", "ok", "")),
        "Method": random.choice(("NIR", "ISO 5983", "AOAC 990.03", "wet chem", "M-114")),
        "LOQ": f"{near / 20:.2g}",
        "LOD": f"{near / 60:.2g}",
        "U (k=2)": f"{near * 0.04:.{one.places}f}",
        "Spec.": f"{near * 0.8:.{one.places}f}-{near * 1.2:.{one.places}f}",
        "Price": f"{random.randint(3, 20)}.00",
        "Date run": "2025-09-18",
        "RSD %": f"{random.uniform(0.5, 3):.1f}",
        "Analyst": "KM",
        "Min": f"{near * 0.7:.{one.places}f}",
        "Max": f"{near * 1.3:.{one.places}f}",
    }[kind]


def pairs_across(house: House) -> None:
    """A pair of columns for each sample, one for each basis, its name over the first of them."""
    held, random = house.content, house.random
    held.bases = random.choice((["dm", "ar"], ["ar", "dm"]))
    unit_column = random.random() < 0.5
    lead = 1 + unit_column
    goals = random.sample(GOALS, random.choice((0, 0, 1, 2)))
    for name, texts in (
        ("id", [b.name for b in held.bags]),
        ("lab", [b.number for b in held.bags]),
    ):
        house.grid.line(
            house.head(name),
            *([""] * unit_column),
            *(text for one in texts for text in random.choice(((one, ""),))),
        )
    house.grid.line(
        "",
        *(["Unit"] * unit_column),
        *(held.shown_bases[b] for _ in held.bags for b in held.bases),
        *goals,
    )
    for one in held.analytes:
        words = one.words if unit_column or not one.shown_unit else f"{one.words}, {one.shown_unit}"
        row = house.grid.line(words, *([one.shown_unit] * unit_column))
        for bag in range(len(held.bags)):
            for place, basis in enumerate(held.bases):
                if held.basis_of(one, basis) in (basis, "") and (
                    held.basis_of(one, basis) or not place
                ):
                    house.grid.value(row, lead + 2 * bag + place, held, bag, one, basis)
        for place in range(len(goals)):
            house.grid.put(row, lead + 2 * len(held.bags) + place, house.other(one))


def card(house: House) -> None:
    """A card for each sample: labels and values two or three to a line, and what it cost."""
    house.one_basis(("told",))
    held, random = house.content, house.random
    across, apart = random.choice((2, 3)), random.random() < 0.5
    for number, bag in enumerate(held.bags):
        house.grid.line()
        house.grid.line(house.head("id"), bag.name, house.head("lab"), bag.number)
        house.grid.line(
            house.head("sampled"),
            bag.day.isoformat(),
            *random.choice(((), ("Fee", "35.00"), ("Bales", "114"))),
        )
        for first in range(0, len(held.analytes), across):
            row, column = house.grid.height, 0
            for one in held.analytes[first : first + across]:
                house.grid.put(row, column, one.words)
                house.grid.value(
                    row,
                    column + 1,
                    held,
                    number,
                    one,
                    held.bases[0],
                    "" if apart else one.shown_unit,
                )
                column += 2
                if apart:
                    house.grid.put(row, column, one.shown_unit)
                    column += 1


def years(house: House) -> None:
    """One sample a block: this year beside the years before, and goals."""
    held, random = house.content, house.random
    held.bases = held.bases[:1]
    for number, bag in enumerate(held.bags):
        house.told = False
        house.grid.line()
        house.grid.line(f"{house.head('id')}: {bag.name}", f"{house.head('lab')}: {bag.number}")
        house.tell()
        old = random.sample(
            ("2022", "2023", "2024", "Last year", "Prev. test", *GOALS[:6]), random.randint(1, 3)
        )
        now = random.choice(("This sample", "2025", "Your sample", "Result"))
        columns = random.choice(([now, *old], [*old, now]))
        house.grid.line("Item", "Unit", *columns)
        for one in held.analytes:
            row = house.grid.line(one.words, one.shown_unit)
            for column, kind in enumerate(columns, 2):
                if kind == now:
                    house.grid.value(row, column, held, number, one, held.bases[0])
                else:
                    house.grid.put(row, column, house.other(one, number))


def sections(house: House) -> None:
    """A line for each analyte under titles of sections that tell the unit, a column each sample."""
    house.one_basis(("told",))
    held, random = house.content, house.random
    goals = random.sample(GOALS, random.choice((0, 1, 2)))
    house.grid.line(house.head("id"), *(bag.name for bag in held.bags), *goals)
    house.grid.line(house.head("lab"), *(bag.number for bag in held.bags))
    by: dict[str, list[Analyte]] = {}
    for one in held.analytes:
        by.setdefault(one.unit, []).append(one)
    for unit, analytes in by.items():
        shown = analytes[0].shown_unit
        title = {
            "pct": "Proximates",
            "g_per_kg": "Nutrients",
            "ppm": "Trace minerals",
            "": "Index",
        }.get(unit, "Energy")
        house.grid.line(
            f"{title}{random.choice((' ({})', ', {}', ' in {}')).format(shown) if shown else ''}"
        )
        for one in analytes:
            row = house.grid.line(one.words)
            for bag in range(len(held.bags)):
                house.grid.value(row, 1 + bag, held, bag, one, held.bases[0])
            for place in range(len(goals)):
                house.grid.put(row, 1 + len(held.bags) + place, house.other(one))
