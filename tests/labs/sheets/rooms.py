"""Sheets of houses that take several pages, turn their tables or part what belongs together."""

from __future__ import annotations

from .content import Analyte
from .house import GOALS, House


def _heads(house: House, basis: str, analytes: list[Analyte] | None = None) -> None:
    labels = (house.label(one, basis) for one in analytes or house.content.analytes)
    house.grid.line(house.head("lab"), house.head("id"), *labels)


def parts_by_number(house: House) -> None:
    """The tests of the wet bench and those of the scanner in two tables, joined by the number."""
    house.one_basis()
    held = house.content
    half = max(len(held.analytes) // 2, 1)
    for part in (held.analytes[:half], held.analytes[half:]):
        names = house.random.random() < 0.6
        labels = (house.label(one, held.bases[0]) for one in part)
        house.grid.line(
            house.head("lab"),
            *([house.head("id")] if names or part[0] is held.analytes[0] else []),
            *labels,
        )
        lead = 2 if names or part[0] is held.analytes[0] else 1
        for number, bag in enumerate(held.bags):
            row = house.grid.line(*(bag.number, bag.name)[:lead])
            for column, one in enumerate(part, lead):
                house.grid.value(row, column, held, number, one, held.bases[0])
        house.grid.line()


def both_in_cell(house: House) -> None:
    """Both bases in one cell: "10.1 / 11.4" under "as received / dry"."""
    held, random = house.content, house.random
    held.bases = random.choice((["ar", "dm"], ["dm", "ar"]))
    sign = random.choice((" / ", "/"))
    shown = sign.strip().join(held.shown_bases[b] for b in held.bases)
    house.grid.line(f"Each value: {shown}")
    house.grid.line(
        house.head("lab"), house.head("id"), *(house.label_plain(one) for one in held.analytes)
    )
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            texts = []
            for basis in held.bases:
                if held.basis_of(one, basis) == basis:
                    house.grid.value(row, column, held, number, one, basis)
                    texts.append(house.grid.rows[row][column])
            if not texts:
                house.grid.value(row, column, held, number, one, held.bases[0])
                texts.append(house.grid.rows[row][column])
            house.grid.put(row, column, sign.join(texts))


def numbered_columns(house: House) -> None:
    """Columns headed by numbers, with a key under the table."""
    house.one_basis(("told",))
    held = house.content
    sign = house.random.choice((" = ", ": ", ". "))
    house.grid.line(
        house.head("lab"), house.head("id"), *(f"({n})" for n in range(1, len(held.analytes) + 1))
    )
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0])
    house.grid.line()
    for n, one in enumerate(held.analytes, 1):
        house.grid.line(f"({n}){sign}{house.label_plain(one)}")


def flagged(house: House) -> None:
    """Values with marks, "<" and flags behind them, explained under the table."""
    house.one_basis(("told",))
    held, random = house.content, house.random
    _heads(house, held.bases[0])
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0])
            mark = random.choice(("", "", "", " H", " L", "*", " a", " †"))
            house.grid.put(row, column, house.grid.rows[row][column] + mark)
    house.grid.line()
    house.grid.line(
        "H high, L low for this kind of hay. * repeated. a mean of two runs. † near the limit."
    )


def with_remarks(house: House) -> None:
    """A column of remarks with numbers in them, and rows of remarks between the samples."""
    house.one_basis()
    held, random = house.content, house.random
    labels = (house.label(one, held.bases[0]) for one in held.analytes)
    house.grid.line(house.head("lab"), house.head("id"), *labels, "Remarks")
    said = ("last year 11.2", "wet bag", "see no. 2", "30 % weeds", "", "2 cores only", "CP low")
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0])
        house.grid.put(row, 2 + len(held.analytes), random.choice(said))
        if random.random() < 0.3:
            house.grid.line(
                random.choice(
                    ("Sample arrived open.", f"{bag.number}: some dust", "Note: re-check in spring")
                )
            )


def farm_blocks(house: House) -> None:
    """Samples of several farms, each farm under its name, with means of each."""
    house.one_basis()
    held, random = house.content, house.random
    _heads(house, held.bases[0])
    for number, bag in enumerate(held.bags):
        if number in (0, 2, 4):
            house.grid.line(
                random.choice(("Doe Ranch", "Farm: North place", "Client 118 (Doe)", "J. Doe"))
            )
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0])
        if number in (1, 3) and random.random() < 0.7:
            mean = random.choice(
                (("Mean", ""), ("", "Farm average"), ("Doe mean", ""), ("", "Mean of 2"))
            )
            house.grid.line(*mean, *(house.other(one) for one in held.analytes))


def sides_of_goals(house: House) -> None:
    """Each analyte between its lowest and highest goal, a block for each sample."""
    held, random = house.content, house.random
    held.bases = held.bases[:1]
    for number, bag in enumerate(held.bags):
        house.told = False
        house.grid.line(f"{house.head('id')}: {bag.name}")
        house.grid.line(f"{house.head('lab')}: {bag.number}")
        house.tell()
        heads = random.choice(
            (("Low", "Yours", "High"), ("Min.", "Result", "Max."), ("from", "found", "to"))
        )
        house.grid.line("Test", "Unit", *heads, *random.sample(GOALS, 1))
        for one in held.analytes:
            row = house.grid.line(one.words, one.shown_unit, house.other(one, number))
            house.grid.value(row, 3, held, number, one, held.bases[0])
            house.grid.put(row, 4, house.other(one, number))
            house.grid.put(row, 5, house.other(one, number))
        house.grid.line()


def per_pound(house: House) -> None:
    """What a bale or a ton holds in columns beside the results."""
    house.one_basis()
    held = house.content
    labels = (house.label(one, held.bases[0]) for one in held.analytes)
    house.grid.line(
        house.head("lab"),
        house.head("id"),
        *labels,
        "CP lb/bale",
        "TDN lb/ton",
        "$ per lb protein",
        "Bales",
    )
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, held.bases[0])
        for column, text in enumerate(("118", "1100", "0.62", "44"), 2 + len(held.analytes)):
            house.grid.put(row, column, text)


def empty_cells(house: House) -> None:
    """Values that were not asked for stand as dashes, blanks and words."""
    house.one_basis()
    held, random = house.content, house.random
    _heads(house, held.bases[0])
    word = random.choice(("-", "", "n/a", "--", "not tested", "NT", "."))
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            if random.random() < 0.25:
                house.grid.put(row, column, word)
            else:
                house.grid.value(row, column, held, number, one, held.bases[0])


ROOMS = (
    parts_by_number,
    both_in_cell,
    numbered_columns,
    flagged,
    with_remarks,
    farm_blocks,
    sides_of_goals,
    per_pound,
    empty_cells,
)
