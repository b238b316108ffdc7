"""Fields of a sample on a page: from labels with their values, and from lines of text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen
from rickyard.labs.vocabulary import field_of, is_aside, method_in, plain, printed_day

#: Fields that say which sample it is.
IDENTITY: Final = ("id", "lab_no", "number", "weak_id")
#: Fields that are about a sample; the others of a page are passed over.
OF_SAMPLE: Final = (*IDENTITY, "sampled_on", "received_on", "reported_on", "method", "forage")
_DAYS: Final = ("sampled_on", "received_on", "reported_on")
_NUMBERED: Final = re.compile(
    r"^(?:lab(?:oratory)? )?(?:sample|specimen|results? for|report for)\s*"
    r"(?:no\.?|number|#|id)?\s*[:.]?\s*"
    r"([a-z]{0,4}[-/]?\d[\w/.-]*)$",
    re.IGNORECASE,
)
_DATE: Final = re.compile(
    r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|[A-Za-z]{3,9}\.? \d{1,2}(?:st|nd|rd|th)?,? \d{4}|"
    r"\d{1,2}(?:st|nd|rd|th|\.)?[ -](?:of )?[^\W\d_]{3,10}\.?,?[ -]\d{4}|"
    r"\d{1,2}-[A-Za-z]{3}-\d\d\b"
)
#: "Replaces the report of Sep 15": the date of another report.
_REPLACED: Final = re.compile(
    r"\b(?:replac\w*|supersed\w*|amends|corrects|cancels|voids?|instead of|in place of|"
    r"previous\w*|prior|original\w*|earlier)\b[^.;]{0,50}$",
    re.IGNORECASE,
)
#: So many letters before a date may tell what it is the date of.
_BEFORE_DATE: Final = 30
_INLINE: Final = re.compile(r"^(?P<label>(?:[^\W\d_]|#)[^:=]{1,32}?)\s*[:=]\s*(?P<value>\S.*)$")
#: "Lab No. 4711": a label that ends in a word for a number, with the number behind it.
_LABEL_NUMBER: Final = re.compile(
    r"^(?P<label>lab|"
    r"[A-Za-z][A-Za-z ]{0,24}?(?:no\.?|number|nr\.?|#|id|code|ref\.?))\s+"
    r"(?P<value>[A-Za-z]{0,6}[-/]?\d[\w/.-]*)$",
    re.IGNORECASE,
)
#: "Ticket 812", "Dossier 7714": the word for another number, with the number behind it.
_OTHER: Final = re.compile(
    r"^(?P<label>order|ticket|po|dossier|invoice|job|batch|account|acct|commande|facture|pedido|"
    r"expediente|auftrag|quote|receipt|client|customer|member|kit)\.? "
    r"#?[A-Za-z]{0,4}[-/]?\d[\w/.-]*$",
    re.IGNORECASE,
)
#: A word without a digit, which is no number of a laboratory.
_WORD_ALONE: Final = re.compile(r"[^\W\d_]{3,}(?: [^\W\d_]+)*[.:]?")
_BARE_NUMBER: Final = re.compile(
    r"^(?:no\.?|nr\.?|number|#)\s*([A-Za-z]{0,6}[-/]?\d[\w/.-]*)$", re.IGNORECASE
)
_IN_SENTENCE: Final = re.compile(
    r"^(?:sample|lab no\.?)\s+(?P<number>[A-Za-z]{0,4}[-/]?\d[\w/-]*)\s*[,(]\s*"
    r"(?P<name>[^:;()]{2,40}?)\)?\s*:",
    re.IGNORECASE,
)
#: A longer text is a sentence, in which a method is not that of one sample.
_LONGEST_BESIDE: Final = 160
_METHODS: Final = frozenset(
    ("nir", "nirs", "by nir", "nir analysis", "nirs analysis", "wet chemistry", "wet chem",
     "by wet chemistry")
)  # fmt: skip
#: "North field (lab 4471)": a name with the laboratory's number behind it.
_NAME_LAB: Final = re.compile(
    r"^(?:\d{1,2}[.)]\s+)?(?P<name>[^():,]{1,40}?(?:, [^():,\d]{2,24})?(?: \([^()]{2,20}\))?)"
    r"\s*(?:[(,]|\s[-–—]\s)\s*(?:our\s+)?"
    r"(?:lab(?:oratory)?\s*(?:no\.?|number|#|id)?|(?<=our )(?:no\.?|number|ref\.?|#))\s*[:#]?\s*"
    r"(?P<number>[A-Za-z]{0,4}[-/]?\d[\w/-]*)\s*\)?(?:(?:[:,;]|\s[-–]).*)?$",
    re.IGNORECASE,
)
#: "Lab 771 West 40", "Lab no. 771 - West 40": the number before the name.
_LAB_NAME: Final = re.compile(
    r"^lab(?:oratory)?\s*(?:no\.?|number|#|id|ref\.?)?\s*:?\s*"
    r"(?P<number>[A-Za-z]{0,4}[-/]?\d{2,}[\w/-]*)\s*[-–:,;]?\s+(?P<name>[A-Za-z][^:;()]{2,40}?)\s*:?$",
    re.IGNORECASE,
)
#: "Feed test result no. 771 for West 40".
_NUMBER_FOR: Final = re.compile(
    r"^[A-Za-z ]{0,24}\b(?:results?|report|test|sample|analysis)\s+(?:no\.?|number|nr\.?|#)\s*"
    r"(?P<number>[A-Za-z]{0,4}[-/]?\d{2,}[\w/-]*)\s+(?:for|of|on)\s+[\"“]?"
    r"(?P<name>[A-Z#][^:;()\"“”]{1,40}?)[\"”]?\s*:?$",
    re.IGNORECASE,
)
#: "Sample West 40": a name behind the word alone.
_CALLED: Final = re.compile(
    r"^(?i:sample|sample id|sample name|your sample)\s+"
    r"[\"“]?(?P<name>[A-Z#][\w#.,' ()-]{2,40}?)[\"”]?$"
)
_NOT_CALLED: Final = re.compile(
    r"\b(?:results?|types?|reports?|informations?|analys[ei]s|descriptions?|dates?|received|ids?|"
    r"numbers?|no|names?|data|summary|details?|identification|weights?|depth|condition|tested|"
    r"method|preparation|submitted|collected|taken|by)\b|\bi\.?\s?d\b",
    re.IGNORECASE,
)
_SAMPLE_BEFORE: Final = re.compile(
    r"^(?:(?:your |the |our |this )?(?:sample|specimen|(?:test |lab )?results? (?:for|of|on)|"
    r"(?:test |lab )?(?:report|analysis) (?:for|on|of))|re)\b"
    r"(?: (?:id|name))?\s*[:.-]?\s*",
    re.IGNORECASE,
)
#: "771/1", "K-118", "#44": a number and no name.
NUMBER_ALONE: Final = re.compile(
    r"#?(?:[A-Z]{1,4} \d{3}|[A-Za-z]{0,4}[-/.]?\d)[\d./-]*[A-Za-z]?(?:[-/]\d+)*"
)
_BRACKET: Final = re.compile(r"\s*[(\[][^()\[\]]*[)\]]\s*$")
_LONGEST_NAMED: Final = 45
#: An ordinal such as "Sample 2" is no number of a laboratory.
_LEAST_NUMBER: Final = 3


def fields_of_row(row: Sequence[Seen], gridded: bool) -> list[tuple[str, list[Cell]]]:
    """Return the fields that a row names, each with the cells that hold it.

    Parameters
    ----------
    row : sequence of Seen
        The cells of the row.
    gridded : bool
        Whether they stand in columns of their own.

    Returns
    -------
    list of tuple of str and list of Cell
        The name of each field and its cells, in order.
    """
    return _together(_each_of_row(row))


def _together(found: list[tuple[str, list[Cell]]]) -> list[tuple[str, list[Cell]]]:
    """Return fields with those that stand side by side in one row as one: "lab 26A  lab 26B"."""
    alone = [name for name, cells in found if len(cells) == 1]
    made: list[tuple[str, list[Cell]]] = []
    for name, cells in found:
        before = next((one for one in made if one[0] == name), None)
        apart = before is not None and len(cells) == 1 and alone.count(name) > 1
        if before is not None and apart and name in (*IDENTITY, *_DAYS):
            before[1].extend(cells)
        else:
            made.append((name, list(cells)))
    return made


def _each_of_row(row: Sequence[Seen]) -> list[tuple[str, list[Cell]]]:
    """Return the fields that each cell of a row names."""
    found: list[tuple[str, list[Cell]]] = []
    place = 0
    while place < len(row):
        one = row[place]
        numbered = _number_led(one.text.strip())
        if one.field and not one.is_value:
            cells: list[Cell] = []
            place += 1
            if one.field in IDENTITY and not one.text.rstrip().endswith(":"):
                place = _behind_heads(row, place)
            while place < len(row) and not (
                _is_next_label(row, place) or (cells and _ends_field(one.field, row[place].cell))
            ):
                if one.field not in IDENTITY or not _is_day(row[place].cell):
                    cells.append(row[place].cell)
                place += 1
            told_by = "weak_id" if _names_bales(one.text, cells) else one.field
            if told_by in IDENTITY and len(cells) == 1 and _without_day(cells[0]) is not cells[0]:
                found.extend(each for each in in_text(cells[0]) if each[0] in _DAYS)
                cells = [_without_day(cells[0])]
            found.append((told_by, cells))
            continue
        if numbered and not one.is_value:
            named = [one for one in row[place + 1 : place + 2] if not _names_too(one)]
            named = [] if named and _is_label(row, place + 1) else named
            found.extend(_numbered(numbered, one.cell, named))
            place += 1 + len(named)
            continue
        bare = _BARE_NUMBER.match(one.text.strip())
        if bare and not one.is_value:
            named = [one for one in row[place + 1 : place + 2] if not (one.field or one.label)]
            found.extend(_numbered(bare[1], one.cell, named))
            place += 1 + len(named)
            continue
        told = in_text(one.cell)
        found.extend(told)
        place += 1
        if [name for name, _ in told] == ["lab_no"] and _may_name(row[place : place + 1]):
            found.append(("id", [_renamed(row[place].cell)]))
            place += 1
    return found


#: What heads columns between the labels of lines and the samples beside them.
_BETWEEN: Final = ("unit", "basis", "method")


def _behind_heads(row: Sequence[Seen], place: int) -> int:
    """Return where the names begin behind "Lab no.   Unit   Basis   771   772"."""
    at = place
    while at < len(row) and row[at].field in _BETWEEN and not row[at].text.endswith(":"):
        at += 1
    return at if at < len(row) and not row[at].field else place


#: "Bales: Bale 1-20" names them; "Bales: 120", "Bales: small squares" do not.
_BALES: Final = re.compile(r"bales?\s*:?", re.IGNORECASE)
_KIND_OF_BALE: Final = re.compile(
    r"\b(?:squares?|rounds?|large|small|big|net|twine|wrap(?:ped)?|tons?|lbs?|kg|weight|cores?|"
    r"string|wire|bales)\b|^\W*\d",
    re.IGNORECASE,
)


def _names_bales(label: str, cells: Sequence[Cell]) -> bool:
    """Return whether what stands behind "Bales" is the name of what was sampled."""
    return (
        len(cells) == 1
        and bool(_BALES.fullmatch(label.strip()))
        and any(map(str.isalpha, cells[0].text))
        and not _KIND_OF_BALE.search(cells[0].text)
    )


def _is_label(row: Sequence[Seen], place: int) -> bool:
    """Return whether a cell names a field and another cell behind it tells it: "ID:  West 40"."""
    return bool(row[place].field) and (
        row[place].text.rstrip().endswith(":") or place + 1 < len(row)
    )


def _ends_field(name: str, cell: Cell) -> bool:
    """Return whether a cell behind the first of a field holds another thing.

    It names its own field, as "Lab no. 771" behind "Sample:  West 40" or "Ticket 812"; or it is
    a word behind a number of the laboratory, which may be a label that is not known.
    """
    short = _LABEL_NUMBER.match(cell.text) or _INLINE.match(cell.text) or _OTHER.match(cell.text)
    if short is not None and field_of(short["label"]):
        return True
    word = cell.text.strip()
    words = any(map(str.isalpha, word)) and not is_aside(word)
    if name in _DAYS and words and not _is_day(cell):
        return True  # "Sampled:  2025-08-25   Fee   35.00"
    # "NIR" beside a number may be a box that is not ticked
    other = bool(method_in(word)) or is_aside(word)
    return name == "lab_no" and bool(_WORD_ALONE.fullmatch(word)) and not other


def _may_name(after: Sequence[Seen]) -> bool:
    """Return whether the cell behind "Lab 771" can be the name of the sample."""
    return any(
        not (one.field or one.label or one.is_value or one.only_unit or in_text(one.cell))
        and not _ends_field("", one.cell)
        and one.cell.day is None
        and len(re.findall("[A-Za-z]", one.text)) > 1
        and ":" not in one.text
        and len(one.text) <= _LONGEST_NAMED
        for one in after
    )


def _names_too(one: Seen) -> bool:
    """Return whether a cell names a sample by its number itself: "Sample 2" behind "Sample 1"."""
    text = one.text.strip().rstrip(":")
    if ":" in text and in_text(one.cell):
        return True  # "Lab no.: 771" behind "Sample ID: G7"
    return bool(_NUMBERED.match(text) or _BARE_NUMBER.match(text))


def _is_day(cell: Cell) -> bool:
    """Return whether a cell holds a date, which names no sample."""
    return cell.day is not None or bool(_DATE.fullmatch(cell.text.strip()))


def _is_next_label(row: Sequence[Seen], place: int) -> bool:
    """Return whether a cell is the label of another field and not the value of the one before."""
    one = row[place]
    if one.text.rstrip().endswith(":"):
        return True
    told = [name for name, _ in in_text(one.cell)]
    begins = bool(told) and told[0] in _DAYS and bool(_day_field(one.text.split()[:1]))
    return begins or (bool(one.field) and not (len(row) == 2 and one.field != row[0].field))


def is_heading(row: Sequence[Seen]) -> bool:
    """Return whether a row heads the columns of a table.

    Parameters
    ----------
    row : sequence of Seen
        The cells of the row.

    Returns
    -------
    bool
        Whether it does.
    """
    names = [one.field for one in row if one.field]
    return names_asides(row) or (
        len(row) > 1
        and (
            names[:1] == ["analyte"] or (("unit" in names or "result" in names) and len(names) > 1)
        )
    )


#: "Your hay": over the column of results, where a column of what is usual stands beside it.
_OURS: Final = re.compile(r"(?:your|this)\b", re.IGNORECASE)


def names_asides(row: Sequence[Seen]) -> bool:
    """Return whether a row heads columns of which some hold no results of this report.

    "Your hay   Typical   Last year" names no field of a sample.

    Parameters
    ----------
    row : sequence of Seen
        The cells of the row.

    Returns
    -------
    bool
        Whether it does.
    """
    if len(row) < 2 or any(":" in one.text or one.is_value for one in row):
        return False
    return bool(_OURS.match(row[0].text)) and any(is_aside(one.text) for one in row[1:])


def _numbered(number: str, cell: Cell, after: Sequence[Seen]) -> list[tuple[str, list[Cell]]]:
    found: list[tuple[str, list[Cell]]] = []
    telling = len(number) >= _LEAST_NUMBER
    if after:
        named = _renamed(after[0].cell)
        found.append(("id", [replace(named, text=_bare_name(named.text))]))
        found.extend(in_text(after[0].cell))
        if telling:
            found.append(("lab_no", [replace(cell, text=number)]))
    else:
        found.append(("number" if telling else "ordinal", [replace(cell, text=number)]))
    return found


#: "West 40, drawn 22 Aug 2025": a name with the day on which it was sampled.
_DRAWN: Final = re.compile(
    r"\s*[,;]\s*(?:sampled|drawn|taken|collected|cored|probed|received|cut)\b(?: on| the)?\s*:?\s*"
    r"(?P<day>.*\d.*)$",
    re.IGNORECASE,
)


def _renamed(cell: Cell) -> Cell:
    """Return a name without the bracket behind it that tells dates and methods."""
    inner = _BRACKET.search(cell.text)
    if inner and (printed_day(inner[0]) or method_in(inner[0])):
        return replace(cell, text=cell.text[: inner.start()].strip())
    return _without_day(cell)


def _without_day(cell: Cell) -> Cell:
    """Return a name without the day of sampling behind it."""
    behind = _DRAWN.search(cell.text)
    if behind and behind.start() and printed_day(behind["day"]):
        return replace(cell, text=cell.text[: behind.start()].strip())
    return cell


def in_text(cell: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the fields that stand inside one text: "sampled Aug 28, 2025; NIR".

    Parameters
    ----------
    cell : Cell
        The cell.

    Returns
    -------
    list of tuple of str and list of Cell
        The name of each field and the part of the text that holds it.

    Examples
    --------
    >>> cell = Cell("East field (sampled Aug 28, 2025; NIR; reported Sep 5, 2025)", 0, 0, 1, "")
    >>> [(name, cells[0].text) for name, cells in in_text(cell)]
    [('sampled_on', 'Aug 28, 2025'), ('reported_on', 'Sep 5, 2025'), ('method', 'NIR')]
    """
    if cell.number is not None or cell.day is not None:
        return []
    return [(name, [replace(cell, text=text)]) for name, text in _told_in(cell.text)]


@lru_cache(maxsize=65536)
def _told_in(text: str) -> tuple[tuple[str, str], ...]:
    """Return the fields that stand inside a text, each with the text of it."""
    cell = Cell(text, 0, 0.0, 0.0, "")
    parts = _NEXT_LABEL.split(text)
    found = [one for part in parts for one in _named_in(replace(cell, text=part))]
    for one in _DATE.finditer(cell.text):
        if _REPLACED.search(cell.text[: one.start()]):
            continue
        before = re.findall(
            r"[A-Za-z']+", cell.text[max(0, one.start() - _BEFORE_DATE) : one.start()]
        )
        name = _day_field(before[-3:])
        if name and not any(other == name for other, _ in found):
            found.append((name, [replace(cell, text=one[0])]))
    if not any(name == "method" for name, _ in found) and len(cell.text) < _LONGEST_BESIDE:
        parts = [part.strip() for part in re.split(r"[;()\[\]]|, ", cell.text)]
        method = next((part for part in parts if plain(part) in _METHODS), "")
        if method:
            found.append(("method", [replace(cell, text=method)]))
    return tuple((name, one.text) for name, cells in found for one in cells)


#: "Lab no: 4525   Sample: North terrace": where the label of the next field begins.
_NEXT_LABEL: Final = re.compile(r"\s{2,}(?=[^\W\d_][\w .#'/]{1,24}:\s)")


def _named_in(cell: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the names and numbers that a text holds with their labels."""
    text = cell.text
    told = _IN_SENTENCE.match(text)
    if told:
        found = [("id", [replace(cell, text=told["name"])])]
        if len(told["number"]) >= _LEAST_NUMBER:
            found.append(("lab_no", [replace(cell, text=told["number"])]))
        return found
    both = _NAME_LAB.match(text)
    if both:
        of_lab = replace(cell, text=both["number"])
        return [("id", [replace(cell, text=_bare_name(both["name"]))]), ("lab_no", [of_lab])]
    inline = _INLINE.match(text)
    if inline and field_of(inline["label"]):
        value = replace(cell, text=inline["value"].split("  ")[0].strip())
        return [(field_of(inline["label"]), [_renamed(value)])]
    led = _LAB_NAME.match(text) or _NUMBER_FOR.match(text)
    if led:
        of_lab = replace(cell, text=led["number"])
        return [("lab_no", [of_lab]), ("id", [replace(cell, text=led["name"])])]
    short = _LABEL_NUMBER.match(text)
    if short and field_of(short["label"]):
        return [(field_of(short["label"]), [replace(cell, text=short["value"])])]
    called = _CALLED.match(text)
    if called and not _NOT_CALLED.search(called["name"]) and not field_of(text):
        return [("weak_id", [replace(cell, text=called["name"].strip())])]
    parts = re.match(r"^(.{4,40}?)\s*[:–-]\s+(\S.*)$", text)
    number = _number_behind(parts[1]) if parts else ""
    if parts is None or not number:
        return []
    name = re.split(r":\s+(?=.*\d)", parts[2])[0]
    found = [("id", [_renamed(replace(cell, text=name))])]
    if len(number) >= _LEAST_NUMBER:
        found.append(("lab_no", [replace(cell, text=number)]))
    return found


#: "Muestra n.º 3-77": what a word for a sample has behind it.
_NUMBER_LAST: Final = re.compile(
    r"(?P<label>[^\W\d_][^\d:=]{1,24}?)\s*#?(?P<number>[A-Za-z]{0,4}[-/]?\d[\w/.-]*)"
)


def _number_led(text: str) -> str:
    """Return the number of a sample in a cell before its name: "Sample 771", "Muestra 3-77:"."""
    known = _NUMBERED.match(text.rstrip(":"))
    if known:
        return known[1]
    return _number_behind(text[:-1]) if text.endswith(":") else ""


def _number_behind(text: str) -> str:
    """Return the number of a sample that stands behind the word for it; empty where none does.

    Examples
    --------
    >>> _number_behind("Sample no. 771"), _number_behind("Probe Nr. 3-77"), _number_behind("Barn 2")
    ('771', '3-77', '')
    """
    known = _NUMBERED.match(text)
    if known:
        return known[1]
    told = _NUMBER_LAST.fullmatch(text.strip())
    named = field_of(told["label"]) if told else ""
    return told["number"] if told and named in ("id", "number", "lab_no") else ""


#: "Your bags are done. The first, Pond meadow": what a sentence says before it comes to a name.
_TOLD_BEFORE: Final = re.compile(
    r"^.*[a-z]{2}[.!?]\s+(?=[A-Z])|"
    r"^(?:and |but )?(?:the |your |our )?(?:first|second|third|fourth|fifth|sixth|last|next|other|"
    r"finally|lastly|then)(?: (?:one|bag|sample|lot|is|was|comes))*,\s+",
    re.IGNORECASE,
)
_COUNTED_NAME: Final = re.compile(r"sample \d{1,2} [^\W\d_]", re.IGNORECASE)


def _bare_name(name: str) -> str:
    """Return a name without the word "Sample" before it; "Sample 4" keeps it.

    Examples
    --------
    >>> _bare_name("Sample Willow bench"), _bare_name("Sample 4")
    ('Willow bench', 'Sample 4')
    >>> _bare_name("your bags are done. The first, Pond meadow")
    'Pond meadow'
    """
    bare = name.strip()
    while (cut := _TOLD_BEFORE.match(bare)) and bare[cut.end() :]:
        bare = bare[cut.end() :]
    if _COUNTED_NAME.match(bare):
        return bare  # "Sample 9 oats" may be what stands on the bag
    while (shorter := _SAMPLE_BEFORE.sub("", bare).strip().strip('"“”')) != bare:
        bare = shorter
    return bare if sum(sign.isalpha() for sign in bare) >= _LEAST_NUMBER else name.strip()


def _day_field(words: Sequence[str]) -> str:
    """Return the day that the words before a date name, with or without a small word at the end."""
    for last in range(len(words), max(len(words) - 2, 0), -1):
        for first in range(last):
            name = field_of(" ".join(words[first:last]))
            if name in _DAYS:
                return name
        if words[last - 1].casefold() not in ("on", "the", "of", "was", "is"):
            break
    return ""
