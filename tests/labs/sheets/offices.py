"""More sheets of houses: headings cut into lines, bases in rows, runs, bills and guides."""

from __future__ import annotations

from .content import Analyte
from .house import GOALS, House

GUIDES = (
    "Typical values for grass hay",
    "What to look for",
    "Guide for dry cows",
    "Book values",
    "Last year",
    "For comparison: county average",
    "Reference hay (not yours)",
    "Limits",
)
BILLS = (
    "Basic package",
    "NIR scan",
    "Nitrate test",
    "Mineral panel",
    "Postage",
    "Rush fee",
    "Total",
)


def _start(house: House, at: tuple[str, ...] = ("told", "label")) -> tuple[list[Analyte], str]:
    house.one_basis(at)
    return house.content.analytes, house.content.bases[0]


def _heads(house: House, basis: str, *more: str) -> None:
    labels = (house.label(one, basis) for one in house.content.analytes)
    house.grid.line(house.head("lab"), house.head("id"), *labels, *more)


def _rows(house: House, basis: str, lead: int, behind: str = "") -> None:
    held = house.content
    for number, bag in enumerate(held.bags):
        row = house.grid.line(*(bag.number, bag.name)[:lead] if lead > 1 else (bag.name,))
        for column, one in enumerate(held.analytes, lead):
            house.grid.value(row, column, held, number, one, basis, behind)


def cut_heads(house: House) -> None:
    """Headings of one word to a line: "Crude" over "protein" over "% DM"."""
    analytes, basis = _start(house)
    labels = [[*one.words.split(" "), one.shown_unit] for one in analytes]
    if not house.told:
        own = [house.content.basis_of(one, basis) for one in analytes]
        for one, words, b in zip(analytes, labels, own, strict=True):
            if b and one.key not in ("dm", "moisture"):
                words.append(house.content.shown_bases[b])
    deep = max(map(len, labels))
    top = house.random.random() < 0.5
    padded = [w + [""] * (deep - len(w)) if top else [""] * (deep - len(w)) + w for w in labels]
    for at in range(deep):
        names = (
            (house.head("lab"), house.head("id")) if at == (0 if top else deep - 1) else ("", "")
        )
        house.grid.line(*names, *(words[at] for words in padded))
    _rows(house, basis, 2)


def full_cells(house: House) -> None:
    """Each cell with its unit and its basis: "11.2 % DM", "112 g/kg DM"."""
    held = house.content
    held.bases = held.bases[:1]
    basis = held.bases[0]
    form = house.random.choice(("{n} {u} {b}", "{n}{u} {b}", "{n} {u} ({b})", "{n} {u}, {b}"))
    house.grid.line(house.head("lab"), house.head("id"), *(one.words for one in held.analytes))
    for number, bag in enumerate(held.bags):
        row = house.grid.line(bag.number, bag.name)
        for column, one in enumerate(held.analytes, 2):
            house.grid.value(row, column, held, number, one, basis)
            own = held.basis_of(one, basis)
            shown = held.shown_bases[own] if own and one.key not in ("dm", "moisture") else ""
            text = form.format(n=house.grid.rows[row][column], u=one.shown_unit, b=shown)
            house.grid.put(row, column, text.replace(" ()", "").strip(" ,"))


def basis_rows(house: House) -> None:
    """Two rows for each sample, one on each basis; its name stands in both or in the first."""
    held, random = house.content, house.random
    held.bases = random.choice((["dm", "ar"], ["ar", "dm"]))
    again = random.random() < 0.5
    house.grid.line(
        house.head("lab"),
        house.head("id"),
        "Basis",
        *(house.label_plain(one) for one in held.analytes),
    )
    for number, bag in enumerate(held.bags):
        for place, basis in enumerate(held.bases):
            names = (bag.number, bag.name) if again or not place else ("", "")
            row = house.grid.line(*names, held.shown_bases[basis])
            for column, one in enumerate(held.analytes, 3):
                own = held.basis_of(one, basis)
                if own == basis or (not own and not place):
                    house.grid.value(row, column, held, number, one, basis)


def headless(house: House) -> None:
    """Names in a column without a heading."""
    analytes, basis = _start(house)
    house.grid.line("", *(house.label(one, basis) for one in analytes))
    _rows(house, basis, 1)


def headless_across(house: House) -> None:
    """Samples side by side under their names alone, and goals beside them."""
    analytes, basis = _start(house)
    held = house.content
    goals = house.random.sample(GOALS, house.random.choice((0, 0, 1)))
    house.grid.line("", *(bag.name for bag in held.bags), *goals)
    for one in analytes:
        row = house.grid.line(house.label(one, basis))
        for bag in range(len(held.bags)):
            house.grid.value(row, 1 + bag, held, bag, one, basis)
        for place in range(len(goals)):
            house.grid.put(row, 1 + len(held.bags) + place, house.other(one))


def fill_down(house: House) -> None:
    """A row for each value; name and number stand in the first row of each sample alone."""
    held = house.content
    house.grid.line("Lab no.", "Sample", "Test", "Result", "Unit", "Basis")
    for number, bag in enumerate(held.bags):
        for place, (one, basis) in enumerate(house.printed()):
            names = ("", "") if place else (bag.number, bag.name)
            own = held.shown_bases.get(held.basis_of(one, basis), "")
            row = house.grid.line(*names, one.words, "", one.shown_unit, own)
            house.grid.value(row, 3, held, number, one, basis)


def under_names(house: House) -> None:
    """A row for each value under a row with the name of its sample."""
    analytes, basis = _start(house, ("told",))
    held = house.content
    form = house.random.choice(
        ("{id} ({no})", "Sample: {id}, lab no. {no}", "{no} - {id}", "{no} {id}")
    )
    house.grid.line("Test", "Result", "Unit")
    for number, bag in enumerate(held.bags):
        house.grid.line(form.format(id=bag.name, no=bag.number))
        for one in analytes:
            row = house.grid.line(one.words, "", one.shown_unit)
            house.grid.value(row, 1, held, number, one, basis)


def runs(house: House) -> None:
    """Two runs of each sample in columns, and their mean, which counts."""
    analytes, basis = _start(house, ("told",))
    held = house.content
    heads = house.random.choice(
        (("Rep 1", "Rep 2", "Mean"), ("Run A", "Run B", "Average"), ("1st", "2nd", "Result"))
    )
    for number, bag in enumerate(held.bags):
        house.grid.line(f"{house.head('id')}:", bag.name)
        house.grid.line(f"{house.head('lab')}:", bag.number)
        house.grid.line("Test", "Unit", *heads)
        for one in analytes:
            row = house.grid.line(
                one.words,
                one.shown_unit,
                house.other(one, number, 0.02),
                house.other(one, number, 0.02),
            )
            house.grid.value(row, 4, held, number, one, basis)
        house.grid.line()


def with_bill(house: House) -> None:
    """What the tests cost over or under the results."""
    analytes, basis = _start(house)
    bill = [
        [name, str(house.random.randint(1, 4)), f"{house.random.randint(4, 40)}.00"]
        for name in house.random.sample(BILLS, 4)
    ]
    over = house.random.random() < 0.5
    if over:
        _table(house, bill)
    house.grid.line(
        house.head("lab"), house.head("id"), *(house.label(one, basis) for one in analytes)
    )
    _rows(house, basis, 2)
    if not over:
        _table(house, bill)


def _table(house: House, bill: list[list[str]]) -> None:
    house.grid.line()
    house.grid.line("Item", "Qty", "Price $")
    for row in bill:
        house.grid.line(*row)
    house.grid.line()


def guide_below(house: House) -> None:
    """A table of the samples, and under it another of what hay usually holds."""
    analytes, basis = _start(house)
    house.grid.line(
        house.head("lab"), house.head("id"), *(house.label(one, basis) for one in analytes)
    )
    _rows(house, basis, 2)
    house.grid.line()
    house.grid.line(house.random.choice(GUIDES))
    down = house.random.random() < 0.6
    if down:
        for one in analytes:
            house.grid.line(
                house.label(one, basis),
                house.other(one),
                *([house.other(one)] * house.random.choice((0, 1))),
            )
    else:
        house.grid.line("Hay", "", *(house.label(one, basis) for one in analytes))
        for name in house.random.sample(
            ("Alfalfa, bud", "Grass, boot", "Oat hay", "Mature grass"), 2
        ):
            house.grid.line(name, "", *(house.other(one) for one in analytes))


def limits_below(house: House) -> None:
    """A table of the samples, and under it the methods and limits of the laboratory."""
    analytes, basis = _start(house)
    house.grid.line(
        house.head("lab"), house.head("id"), *(house.label(one, basis) for one in analytes)
    )
    _rows(house, basis, 2)
    house.grid.line()
    house.grid.line("Test", "Method", "Limit of quantification", "Uncertainty")
    for one in analytes:
        near = float(house.other(one))
        house.grid.line(one.words, "AOAC 990.03", f"{near / 20:.2g}", f"{near / 30:.2g}")


def with_words(house: House) -> None:
    """A block for each sample, and a sentence of what the laboratory thinks of it."""
    analytes, basis = _start(house, ("told",))
    held = house.content
    for number, bag in enumerate(held.bags):
        house.grid.line(f"{house.head('id')}: {bag.name}")
        house.grid.line(f"{house.head('lab')}: {bag.number}")
        for one in analytes:
            row = house.grid.line(one.words)
            house.grid.value(row, 1, held, number, one, basis, one.shown_unit)
        one = house.random.choice(analytes)
        house.grid.line(
            house.random.choice(
                (
                    f"Last year this field had {house.other(one)} {one.shown_unit} {one.words}.",
                    f"{one.words} of {house.other(one)} {one.shown_unit} is usual for this hay.",
                    f"Cows need about {house.other(one)} {one.shown_unit} {one.words}.",
                    "Feed with care.",
                )
            )
        )
        house.grid.line()


def screen(house: House) -> None:
    """Nitrate of each sample beside the levels at which it is fed."""
    held = house.content
    held.bases = ["dm"]
    few = ("dm", "nitrate_no3n", "nitrate_no3", "cp")
    kept = [one for one in held.analytes if one.key in few]
    held.analytes = kept if len(kept) > 1 else held.analytes
    _heads(house, "dm", "Safe below", "Do not feed above")
    _rows(house, "dm", 2)
    for row in house.grid.rows[-len(held.bags) :]:
        row.extend(("1000", "4000"))
