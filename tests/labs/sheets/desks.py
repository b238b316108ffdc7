"""Sheets of desks: what one person lays out alone, with a key, a letter or a habit of one's own."""

from __future__ import annotations

from collections.abc import Callable

from corpus.writers import Workbook

from .chance import WRITERS, Sheet
from .content import Analyte
from .house import House

#: Ways to say that all is on a basis and water as it came, each with what it is said with.
SAID = {
    "dm": (
        "Shares are of dry matter; moisture is of the bag as it came.",
        "The table gives dry matter figures; only moisture refers to the hay as we received it.",
        "All numbers on dry matter. Moisture and DM as received.",
        "dry basis except DM (as received)",
        "Results per unit of dry matter, water of the fresh sample",
        "Everything is dry basis but the moisture.",
        "We report on a dry matter basis. Dry matter itself is as received.",
        "Basis: dry matter (moisture, DM: as is)",
        "Figures are corrected to zero moisture, except moisture.",
        "Values on 100 % dry matter.",
    ),
    "ar": (
        "All figures are of the hay as it came to us.",
        "as received basis throughout",
        "Results as fed.",
        "Everything as sampled, nothing dried.",
        "Values refer to the sample as received",
        "Basis of all results: as received",
    ),
}
CODES = {
    "dm": "DMO", "moisture": "H2O", "cp": "PRN", "adf": "ADFN", "ndf": "NDFA", "lignin": "LIG",
    "tdn": "TDX", "nem": "NEMX", "neg": "NEGX", "nel": "NELX", "ash": "ASHD", "ee": "FATE",
    "starch": "STA", "ca": "CAL", "p": "PHO", "mg": "MGN", "k": "POT", "zn": "ZNC", "cu": "COP",
    "fe": "FER", "nitrate_no3n": "N3N", "nitrate_no3": "N3I", "rfv": "RFVX",
}  # fmt: skip
MEANS = {
    "dm": "dry matter", "moisture": "moisture", "cp": "crude protein",
    "adf": "acid detergent fibre", "ndf": "neutral detergent fibre with amylase",
    "lignin": "acid detergent lignin", "tdn": "total digestible nutrients",
    "nem": "net energy for maintenance", "neg": "net energy for gain",
    "nel": "net energy for lactation", "ash": "ash", "ee": "ether extract", "starch": "starch",
    "ca": "calcium", "p": "phosphorus", "mg": "magnesium", "k": "potassium", "zn": "zinc",
    "cu": "copper", "fe": "iron", "nitrate_no3n": "nitrate as nitrogen (NO3-N)",
    "nitrate_no3": "nitrate (NO3)", "rfv": "relative feed value",
}  # fmt: skip
UNIT_WORDS = {
    "pct": "%", "g_per_kg": "g/kg", "ppm": "mg/kg", "mcal_per_lb": "Mcal/lb",
    "mcal_per_kg": "Mcal/kg", "mj_per_kg": "MJ/kg", "": "",
}  # fmt: skip
BASIS_WORDS = {"dm": "dry matter", "ar": "as received", "": ""}


class Desk(House):
    """A house in English whose samples are laid out by one hand."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        if self.tongue != "en":
            for one in self.content.analytes:
                one.words = MEANS[one.key].capitalize()
                one.shown_unit = UNIT_WORDS[one.unit]
            self.tongue, self.comma = "en", False
        self.content.shown_bases = {"dm": "dry matter", "ar": "as received"}

    def value(self, bag: int, one: Analyte, basis: str) -> str:
        return self.content.take(bag, one, basis)

    def said(self) -> str:
        self.content.bases = self.content.bases[:1]
        return self.random.choice(SAID[self.content.bases[0]])

    def unit_basis(self, one: Analyte, basis: str) -> str:
        own = self.content.basis_of(one, basis)
        unit = UNIT_WORDS[one.unit]
        return f"{unit} {'of ' if unit == '%' else ''}{BASIS_WORDS[own]}".strip()

    def sheet(self, kind: str, form: str, text: str | bytes) -> Sheet:
        data = text.encode() if isinstance(text, str) else text
        return Sheet(f"{kind}-{form}", data, self.content, {})

    def gridded(self, kind: str, *forms: str) -> Sheet:
        form = self.random.choice(forms or ("csv", "tab", "xlsx", "fixed", "paper", "pipes"))
        return Sheet(f"{kind}-{form}", WRITERS[form](self.grid)[0], self.content, {})


def coded_runs(desk: Desk) -> Sheet:
    """A row for each value under a code, with its run and its state, and a key of the codes."""
    held, random = desk.content, desk.random
    held.bases = held.bases[:1]
    basis = held.bases[0]
    mark = random.choice((";", "\t", "|"))
    word = random.choice(("superseded", "replaced", "void", "withdrawn"))
    rows = [mark.join(("lab_ref", "bag", "test_code", "run", "status", "result"))]
    for bag, sample in enumerate(held.bags):
        for one in held.analytes:
            lead = (sample.number, sample.name, CODES[one.key])
            again = random.random() < 0.2
            if again:
                rows.append(mark.join((*lead, "1", word, desk.other(one, bag))))
            rows.append(mark.join((*lead, "2" if again else "1", "final",
                                   desk.value(bag, one, basis))))  # fmt: skip
    form = random.choice(("{c}{m}{w}, {u}", "{c} = {w}, {u}", "{c}: {w} ({u})", "{c}{m}{w}{m}{u}"))
    key = [form.format(c=CODES[one.key], m=mark, w=MEANS[one.key], u=desk.unit_basis(one, basis))
           for one in held.analytes]  # fmt: skip
    return desk.sheet("coded_runs", "text", "\n".join([*rows, "", "codes", *key, ""]))


def column_keys(desk: Desk) -> Sheet:
    """Codes of units and bases in columns of their own, with a key on another sheet or below."""
    held, random = desk.content, desk.random
    held.bases = held.bases[:1]
    basis = held.bases[0]
    units = {"pct": "p", "g_per_kg": "g", "ppm": "m", "mcal_per_lb": "c", "mcal_per_kg": "k",
             "mj_per_kg": "j", "": "-"}  # fmt: skip
    bases = {"ar": "1", "dm": "2", "": "0"}
    heads = random.choice((("b", "u"), ("B", "U"), ("basis", "unit"), ("Bc", "Uc")))
    rows = [["sample", "lab id", "assay", "figure", *heads]]
    for bag, sample in enumerate(held.bags):
        rows += [
            [sample.name, sample.number, MEANS[one.key], desk.value(bag, one, basis),
             bases[held.basis_of(one, basis)], units[one.unit]]
            for one in held.analytes
        ]  # fmt: skip
    said = {"p": "per cent", "g": "g/kg", "m": "mg/kg", "c": "Mcal/lb", "k": "Mcal/kg",
            "j": "MJ/kg", "-": "no unit"}  # fmt: skip
    title = random.choice(("column {0}", "{0}", "Key to {0}", "{0} ="))
    key = [[title.format(heads[0])], ["0", "none"], ["1", "as received"], ["2", "dry matter"], []]
    key += [[title.format(heads[1])], *([code, means] for code, means in said.items())]
    if random.random() < 0.5:
        book = Workbook()
        book.rows(book.sheet("data"), rows)
        book.rows(book.sheet("key"), key)
        return desk.sheet("column_keys", "xlsx", book.content())
    for row in [*rows, [], *key]:
        desk.grid.line(*row)
    return desk.gridded("column_keys", "csv", "tab", "semicolon")


def lettered_rows(desk: Desk) -> Sheet:
    """Two rows for each sample under one name, with a letter for the basis in no column."""
    held, random = desk.content, desk.random
    held.bases = random.choice((["ar", "dm"], ["dm", "ar"]))
    held.analytes = [one for one in held.analytes if one.key != "rfv"]
    letters = random.choice(({"ar": "A", "dm": "D"}, {"ar": "AR", "dm": "DM"},
                             {"ar": "W", "dm": "D"}, {"ar": "1", "dm": "2"}))  # fmt: skip
    desk.grid.line("TAG", "REF", "", *(desk.label_plain(one) for one in held.analytes))
    for bag, sample in enumerate(held.bags):
        for place, basis in enumerate(held.bases):
            names = (sample.name, sample.number) if not place else ("", "")
            row = desk.grid.line(*names, letters[basis])
            for column, one in enumerate(held.analytes, 3):
                if held.basis_of(one, basis) == basis:
                    desk.grid.value(row, column, held, bag, one, basis)
    desk.grid.line()
    told = random.choice((
        "{a} = as received, {d} = dry matter", "{a}  AS RECEIVED    {d}  DRY MATTER",
        "{a}: as fed; {d}: dry basis",
    ))  # fmt: skip
    desk.grid.line(told.format(a=letters["ar"], d=letters["dm"]))
    return desk.gridded("lettered_rows", "fixed", "csv", "xlsx", "paper", "tab")


def three_heads(desk: Desk) -> Sheet:
    """Name, unit and basis in three rows of headings, the name once over both bases."""
    held, random = desk.content, desk.random
    held.bases = random.choice((["ar", "dm"], ["dm", "ar"], ["dm"]))
    shown = random.choice(({"ar": "AR", "dm": "DM"}, {"ar": "as fed", "dm": "dry"},
                           {"ar": "As received", "dm": "Dry matter"}))  # fmt: skip
    order = random.choice((("unit", "basis"), ("basis", "unit")))
    heads: dict[str, list[str]] = {"name": [], "unit": [], "basis": []}
    columns = []
    for one in held.analytes:
        own = held.bases if held.basis_of(one, "dm") == "dm" else held.bases[:1]
        for place, basis in enumerate(own):
            heads["name"].append(one.words if not place else "")
            heads["unit"].append(one.shown_unit)
            heads["basis"].append(shown.get(held.basis_of(one, basis), ""))
            columns.append((one, basis))
    desk.grid.line(desk.head("id"), desk.head("lab"), *heads["name"])
    for kind in order:
        desk.grid.line("", "", *heads[kind])
    for bag, sample in enumerate(held.bags):
        row = desk.grid.line(sample.name, sample.number)
        for column, (one, basis) in enumerate(columns, 2):
            desk.grid.value(row, column, held, bag, one, basis)
    return desk.gridded("three_heads", "csv", "xlsx", "tab")


def colon_blocks(desk: Desk) -> Sheet:
    """A block of lines for each sample, with the second basis in brackets behind the first."""
    held, random = desk.content, desk.random
    both = random.random() < 0.5
    lines = []
    rule = random.choice(("== {0} ==", "--- Sample {0} ---", "Laboratory number: {0}", "[{0}]"))
    for bag, sample in enumerate(held.bags):
        lines += [rule.format(sample.number), f"Client reference: {sample.name}",
                  f"Date sampled: {sample.day.isoformat()}", "Method: wet chemistry"]  # fmt: skip
        for one in held.analytes:
            own = held.basis_of(one, "dm")
            if own == "dm" and both and one.key not in ("rfv",):
                first, second = desk.value(bag, one, "ar"), desk.value(bag, one, "dm")
                unit = one.shown_unit
                lines.append(f"{one.words}: {first} {unit} as received ({second} {unit} of DM)")
            elif own == "dm":
                of = "of" if one.unit == "pct" else "in"
                lines.append(f"{one.words}: {desk.value(bag, one, 'dm')} {one.shown_unit} {of} DM")
            else:
                tail = f"{one.shown_unit} as received" if own else ""
                lines.append(f"{one.words}: {desk.value(bag, one, 'ar')} {tail}".rstrip())
        lines += [random.choice(("Prussic acid: not tested", "Mould: none seen", "")), ""]
    return desk.sheet("colon_blocks", "text", "\n".join(lines))


def bracket_pairs(desk: Desk) -> Sheet:
    """Lines with both bases in one cell, and how to tell them in one sentence."""
    held, random = desk.content, desk.random
    held.analytes = [one for one in held.analytes if one.key != "rfv"]
    first, second = random.choice((("ar", "dm"), ("dm", "ar")))
    form = random.choice(("{a} [{b}]", "{a} ({b})", "{a} / {b}"))
    said = {"ar": "as received", "dm": "dry matter"}
    if form == "{a} / {b}":
        desk.grid.line(f"first figure {said[first]}, second figure {said[second]}")
    else:
        desk.grid.line(f"first figure: {said[first]}; in brackets: {said[second]}")
    for bag, sample in enumerate(held.bags):
        desk.grid.line()
        desk.grid.line(f"Sample {sample.number}", sample.name)
        for one in held.analytes:
            if held.basis_of(one, "dm") == "ar":
                desk.grid.line(one.words, f"{desk.value(bag, one, 'ar')} {one.shown_unit}")
                continue
            pair = form.format(a=desk.value(bag, one, first), b=desk.value(bag, one, second))
            desk.grid.line(one.words, f"{pair} {one.shown_unit}")
    return desk.gridded("bracket_pairs", "paper", "fixed", "csv", "xlsx")


def letter_table(desk: Desk) -> Sheet:
    """A letter that says the basis in its sentences, and a table of samples side by side."""
    held, random = desk.content, desk.random
    said = desk.said()
    basis = held.bases[0]
    desk.grid.line("Dear customer,")
    desk.grid.line(f"your hays are done. {said}")
    desk.grid.line(random.choice(("Sugar is not part of this order.", "We keep the rest 30 days.",
                                  "Two bags were torn; we could use them.")))  # fmt: skip
    desk.grid.line()
    desk.grid.line(random.choice(("Your sample", "Hay", "Sample")), *(b.name for b in held.bags))
    desk.grid.line("Our number", *(b.number for b in held.bags))
    for one in held.analytes:
        row = desk.grid.line(desk.label_plain(one))
        for bag in range(len(held.bags)):
            desk.grid.value(row, bag + 1, held, bag, one, basis)
    desk.grid.line()
    desk.grid.line("With greetings from the laboratory. Telephone 555-0119, weekdays 8 to 4")
    return desk.gridded("letter_table", "paper", "fixed", "xlsx", "csv")


def cards_across(desk: Desk) -> Sheet:
    """Two cards side by side, each label again before each value."""
    held = desk.content
    said = desk.said()
    basis = held.bases[0]
    desk.grid.line(said)
    for first in range(0, len(held.bags), 2):
        pair = range(first, min(first + 2, len(held.bags)))
        desk.grid.line()
        for label, of in (("Hay", "name"), ("Number", "number")):
            texts = [text for n in pair for text in (label, getattr(held.bags[n], of))]
            desk.grid.line(*texts)
        for one in held.analytes:
            row = desk.grid.height
            for place, bag in enumerate(pair):
                desk.grid.put(row, 2 * place, desk.label_plain(one))
                desk.grid.value(row, 2 * place + 1, held, bag, one, basis)
    return desk.gridded("cards_across", "xlsx", "csv", "tab", "paper")


def mail(desk: Desk) -> Sheet:
    """A mail that tells the values of each sample in sentences."""
    held, random = desk.content, desk.random
    held.bases = ["dm"]
    water = [one for one in held.analytes if one.key in ("dm", "moisture")][:1]
    rest = [one for one in held.analytes if one.key not in ("dm", "moisture", "rfv")][:6]
    for one in (*water, *rest):
        one.words = MEANS[one.key]
        one.shown_unit = UNIT_WORDS[one.unit]
    lines = ["Hello,", "", "the bags are through.", ""]
    tail = random.choice((" on dry matter", ", all on dry matter", ", dry basis"))
    for bag, sample in enumerate(held.bags):
        lead = f'No. {sample.number} ("{sample.name}") '
        if water:
            text = desk.value(bag, water[0], "ar")
            what = "moisture" if water[0].key == "moisture" else "dry matter"
            lead += f"came in at {text} percent {what}. It has "
        else:
            lead += "has "
        told = [f"{desk.value(bag, one, 'dm')} {one.shown_unit} {one.words}" for one in rest]
        lines += [lead + ", ".join(told[:-1]) + f" and {told[-1]}{tail}.", ""]
    lines += ["For comparison, grass hay here usually runs 8 to 12 % protein.", "", "Regards"]
    held.analytes = [*water, *rest]
    return desk.sheet("mail", "text", "\n".join(lines))


def two_houses(desk: Desk) -> Sheet:
    """The same hays at two laboratories, in two tables one under the other."""
    held, random = desk.content, desk.random
    held.bases = ["dm"]
    half = max(2, len(held.analytes) // 2)
    parts = (held.analytes[:half], held.analytes[half:])
    desk.grid.line(
        f"Wet bench, {random.choice(('all dry matter basis', 'dry basis'))}; DM as received"
    )
    for place, part in enumerate(parts):
        if not part:
            continue
        if place:
            desk.grid.line()
            desk.grid.line("Scanner (NIR), dry matter basis")
        desk.grid.line("no.", "hay", *(desk.label_plain(one) for one in part))
        for bag, sample in enumerate(held.bags):
            row = desk.grid.line(sample.number, sample.name)
            for column, one in enumerate(part, 2):
                desk.grid.value(row, column, held, bag, one, "dm")
    return desk.gridded("two_houses", "xlsx", "csv", "tab", "fixed")


def thesis(desk: Desk) -> Sheet:
    """Means with letters of difference behind them, the error, the number and a test below."""
    held, random = desk.content, desk.random
    desk.one_basis()
    held.bags = held.bags[:4]
    desk.grid.line("Table 3. Composition of the hays (means of three samples)")
    desk.grid.line("", *(bag.name for bag in held.bags), "SEM", "P value")
    for one in held.analytes:
        row = desk.grid.line(desk.label(one, held.bases[0]))
        for bag in range(len(held.bags)):
            desk.grid.value(row, bag + 1, held, bag, one, held.bases[0])
            text = desk.grid.rows[row][bag + 1]
            desk.grid.put(row, bag + 1, text + random.choice(("", "a", "b", "ab", " a")))
        desk.grid.put(row, len(held.bags) + 1, "0.4")
        desk.grid.put(row, len(held.bags) + 2, random.choice(("0.03", "<0.01", "NS")))
    desk.grid.line("Means in a row without a common letter differ (P < 0.05).")
    return desk.gridded("thesis", "xlsx", "csv", "tab", "paper")


def footnoted(desk: Desk) -> Sheet:
    """Marks behind headings, and what they mean at the foot."""
    held, random = desk.content, desk.random
    held.bases = held.bases[:1]
    basis = held.bases[0]
    marks = random.choice((("*", "**"), ("a", "b"), ("1", "2"), ("†", "‡")))
    shape = "{0} ({1})" if marks[0].isalnum() else "{0}{1}"
    heads = []
    for one in held.analytes:
        own = held.basis_of(one, basis)
        head = desk.label_plain(one)
        heads.append(shape.format(head, marks[own == "ar"]) if own else head)
    desk.grid.line(desk.head("lab"), desk.head("id"), *heads)
    for bag, sample in enumerate(held.bags):
        row = desk.grid.line(sample.number, sample.name)
        for column, one in enumerate(held.analytes, 2):
            desk.grid.value(row, column, held, bag, one, basis)
    desk.grid.line()
    front = "({0})" if marks[0].isalnum() else "{0}"
    desk.grid.line(f"{front.format(marks[0])} dry matter basis")
    desk.grid.line(f"{front.format(marks[1])} as received")
    return desk.gridded("footnoted", "csv", "xlsx", "fixed", "tab")


def earlier_rows(desk: Desk) -> Sheet:
    """Under each sample its last year, its goal or its second reading, and means at the foot."""
    held, random = desk.content, desk.random
    desk.one_basis()
    basis = held.bases[0]
    below = random.choice(("last year", "Last yr", "2024 result", "goal", "previous", "target"))
    heads = [desk.label(one, basis) for one in held.analytes]
    desk.grid.line(desk.head("lab"), desk.head("id"), *heads)
    for bag, sample in enumerate(held.bags):
        row = desk.grid.line(sample.number, sample.name)
        again = desk.grid.line("", below)
        for column, one in enumerate(held.analytes, 2):
            desk.grid.value(row, column, held, bag, one, basis)
            desk.grid.put(again, column, desk.other(one, bag))
    return desk.gridded("earlier_rows", "csv", "xlsx", "tab", "fixed", "paper")


def side_units(desk: Desk) -> Sheet:
    """Samples side by side on both bases, with unit, method and limit of each line."""
    held, random = desk.content, desk.random
    held.bases = random.choice((["ar", "dm"], ["dm", "ar"], ["dm"]))
    more = random.sample(("Method", "LOD", "U (k=2)", "Code"), random.randint(0, 3))
    junk = {"Method": "NIR", "LOD": "0.05", "U (k=2)": "0.4", "Code": "F12"}
    shown = {"ar": "As received", "dm": "Dry matter"}
    columns = [(bag, basis) for bag in range(len(held.bags)) for basis in held.bases]
    names = [held.bags[bag].name if basis == held.bases[0] else "" for bag, basis in columns]
    numbers = [held.bags[bag].number if basis == held.bases[0] else "" for bag, basis in columns]
    desk.grid.line("Sample", "", *("" for _ in more), *names)
    desk.grid.line("Lab no.", "", *("" for _ in more), *numbers)
    desk.grid.line("Analyte", "Unit", *more, *(shown[basis] for _, basis in columns))
    for one in held.analytes:
        row = desk.grid.line(one.words, one.shown_unit, *(junk[name] for name in more))
        for place, (bag, basis) in enumerate(columns, 2 + len(more)):
            own = held.basis_of(one, basis)
            if own == basis or (not own and basis == held.bases[0]):
                desk.grid.value(row, place, held, bag, one, basis)
    return desk.gridded("side_units", "csv", "xlsx", "tab")


def half_units(desk: Desk) -> Sheet:
    """A sentence with the unit of all, and labels that tell the rest."""
    held, random = desk.content, desk.random
    held.bases = ["dm"]
    held.analytes = [one for one in held.analytes if one.unit in ("pct", "g_per_kg", "ppm")]
    desk.grid.line(random.choice((
        "Nutrients as % of dry matter, trace elements and nitrate as mg/kg of dry matter",
        "Units: % of dry matter; Zn, Cu, Fe, nitrate in ppm; moisture and DM % as received",
        "All in percent of dry matter unless a unit is given. DM and moisture as received.",
    )))  # fmt: skip
    given = "unless" in desk.grid.rows[-1][0]
    for one in held.analytes:
        if one.unit == "g_per_kg":
            one.unit, one.shown_unit, one.places = "pct", "%", one.places + 1
    heads = [
        f"{one.words} ppm" if given and one.unit == "ppm" else one.words for one in held.analytes
    ]
    desk.grid.line("Bag", "No.", *heads)
    for bag, sample in enumerate(held.bags):
        row = desk.grid.line(sample.name, sample.number)
        for column, one in enumerate(held.analytes, 2):
            desk.grid.value(row, column, held, bag, one, "dm")
    return desk.gridded("half_units", "csv", "tab", "xlsx", "fixed")


DESKS: tuple[Callable[[Desk], Sheet], ...] = (
    coded_runs, column_keys, lettered_rows, three_heads, colon_blocks, bracket_pairs, letter_table,
    cards_across, mail, two_houses, thesis, footnoted, earlier_rows, side_units, half_units,
)  # fmt: skip


def desk_sheet(number: int) -> Sheet:
    """Return the sheet of that number; the same each time."""
    sheet = DESKS[number % len(DESKS)](Desk(number))
    return Sheet(f"{number}-{sheet.name}", sheet.data, sheet.content, {})
