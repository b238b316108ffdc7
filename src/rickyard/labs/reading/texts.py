"""Text files as pages: by their delimiter, and by where words stand in the line."""

from __future__ import annotations

import csv
import io
import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page, Refused
from rickyard.labs.parsing import MOST_ACROSS, MOST_CELLS, MOST_COLUMNS, MOST_TEXT
from rickyard.labs.reading.codepages import in_old_letters
from rickyard.labs.reading.gutters import cuts_of
from rickyard.labs.reading.keyed import sections_told
from rickyard.labs.reading.markup import is_mail, is_markup, mail_text, markup_document
from rickyard.labs.reading.one_column import one_column_document
from rickyard.labs.reading.records import record_document
from rickyard.labs.reading.segments import segment_document
from rickyard.labs.reading.spaced import spaced_rows
from rickyard.labs.reading.wrapped import unwrapped
from rickyard.labs.vocabulary import field_of, label_of

_DELIMITERS: Final = ("\t", ";", ",", "|", "^", "~", "!", "§", "¦", "#", "&", "*", "@", "+")
#: A table of more lines than these is not looked at as running text too.
MOST_LINES_TWICE: Final = 3000
_MOST_JOINED: Final = 6
#: Lines of a row of headings, each of which may be broken, if it has as many cells as the rows.
_MOST_IN_HEADS: Final = 60
#: In so many lines the cells are counted, to know how many a row has.
_LINES_COUNTED: Final = 400
#: A table parted by single spaces has so many of them in a line at least.
_LEAST_SPACED: Final = 4
_MOSTLY: Final = 0.8
#: What stands between a label and its value: dots, underscores, wide space, bars.
_BETWEEN: Final = re.compile(
    r"\s*(?:\.{3,}|…+|_{3,}|(?:\. ){3,}\.?|-{4,}|={3,})\s*|\t+|\s{2,}|\s*[|│┃]\s*"
)
_COLON: Final = re.compile(r":(?:\s+|$)|\s=\s|:(?=[<>]?\d+[.,]\d)")


#: A line that is drawn and says nothing; and drawn bars, which part cells.
_RULE = re.compile(
    r"(?=.*[-=_─━═┄┈~])[\s|+:*=_─━═┄┈~│┃║┌┐└┘├┤┬┴┼╔╗╚╝╠╣╦╩╬╭╮╰╯╟╢╞╡╤╧╪╫╥╨╓╖╙╜╒╕╘╛-]{3,}"
)
#: A quote in the midst of a quoted text that is not doubled: the quotes tell no cells.
_BROKEN = re.compile(r'(?:^|[\t;,|])"(?:[^"\t;,|]|"")*"(?=[^"\t;,|\s])')
#: "**Lab no.** 771": words that a mail sets in bold.
_BOLD = re.compile(r"\*\*([A-Za-z][^*\n]{1,60})\*\*")
_BARS = str.maketrans("│┃║¦", "||||")


def decoded(data: bytes) -> tuple[str, str]:
    """Return the text of a file, whatever encoding it is in, and a note where two fit alike.

    Examples
    --------
    >>> decoded("Süd".encode("cp1252"))[0], decoded("Süd".encode("utf-16"))[0]
    ('Süd', 'Süd')
    """
    for mark, name in (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if data.startswith(mark):
            return data.decode(name, errors="replace"), ""
    half = max(len(data) // 2, 1)
    if data[1::2].count(0) > half * 0.4:
        return data.decode("utf-16-le", errors="replace"), ""
    if data[0::2].count(0) > half * 0.4:
        return data.decode("utf-16-be", errors="replace"), ""
    try:
        return data.decode("utf-8"), ""
    except UnicodeDecodeError:
        return in_old_letters(data)


def text_documents(data: bytes) -> list[Document]:
    """Return the ways in which a text may be read, the likeliest first.

    Raises
    ------
    Refused
        If it holds more cells than any report.
    """
    text, note = decoded(data)
    documents = _documents(data, text.replace("\x00", ""))
    for document in documents:
        document.notes.extend([note] if note else [])
    return documents


def _documents(data: bytes, text: str) -> list[Document]:
    if is_mail(text):
        text = mail_text(data) or text
    if is_markup(text):
        return [markup_document(text)]
    records = record_document(text)
    if records is not None:
        return [records]
    if text.count("=") > 1:
        text = sections_told(text)
    text = _BOLD.sub(r"\1  ", text.replace("&nbsp;", "  "))
    lines = [
        "" if _RULE.fullmatch(line) else line.translate(_BARS)
        for line in text.replace("\r\n", "\n").replace("\r", "\n").replace("\f", "").split("\n")
    ]
    found = []
    for delimiter, _ in _likely(lines):
        rows = _rows(lines, delimiter)
        if max(len(texts) for _, texts in rows) > MOST_COLUMNS:
            continue  # what parts words so often is no mark between columns
        found.append(Document("table", [_grid(rows)], mark=delimiter))
    width = _single_spaced(lines)
    if width:
        words = [
            (n, line.split() if line.strip().count(" ") == width else [line])
            for n, line in enumerate(lines)
        ]
        found.insert(0, Document("table", [_grid(words)]))
    found[:0] = _told_apart(lines)
    if not found or (len(lines) < MOST_LINES_TWICE and not _is_scattered(lines)):
        found.append(Document("text", [_by_place(lines)]))
        found.extend(_unwrapped(lines))
    return found


def _unwrapped(lines: list[str]) -> list[Document]:
    """Return a printout with two lines for each sample as one with one line, if it is such."""
    whole = unwrapped(lines)
    page = _by_place([line for _, line in whole])
    for (place, _), row in zip(whole, page.rows, strict=True):
        for cell in row:
            cell.place = re.sub(r"^line \d+", f"line {place + 1}", cell.place)
    return [Document("text", [page])] if whole else []


#: Marks between columns that no sentence has, how many a line of a table has, and how far apart
#: the columns of two lines stand that are none by their place, in signs.
_NO_SENTENCE: Final = "\t;"
_LEAST_MARKS: Final = 3
_APART: Final = 4
_LEAST_PAIRS: Final = 2


def _is_scattered(lines: list[str]) -> bool:
    """Return whether the columns of a table parted by a mark stand one under another nowhere.

    What stands over a value by its place is then no heading of it.
    """
    for mark in _NO_SENTENCE:
        starts = [[n for n, sign in enumerate(line) if sign == mark] for line in lines[:_LOOKED_AT]]
        tables = [one for one in starts if len(one) >= _LEAST_MARKS]
        if _are_pairs(
            [line for line in lines[:_LOOKED_AT] if line.count(mark) >= _LEAST_MARKS], mark
        ):
            continue
        pairs = [(a, b) for a, b in itertools.pairwise(tables) if len(a) == len(b)]
        apart = sum(any(abs(x - y) > _APART for x, y in zip(a, b, strict=True)) for a, b in pairs)
        if len(pairs) >= _LEAST_PAIRS and 2 * apart > len(pairs):
            return True
    return False


#: "Calcium 2.5 g/kg": a label with its value in one cell.
_PAIR: Final = re.compile(r"[^\W\d_].*\s[<>]?\d[\d.,]*\s*\S{0,12}\s*")


def _are_pairs(lines: Sequence[str], mark: str) -> bool:
    """Return whether most of what a mark parts are labels with their values, as in a list."""
    cells = [cell.strip() for line in lines for cell in line.split(mark)]
    return 2 * sum(bool(_PAIR.fullmatch(cell)) for cell in cells) > len(cells) > 0


def _told_apart(lines: list[str]) -> list[Document]:
    """Return a text as a transfer of a program or a table parted by single spaces, if it is one."""
    transfer = segment_document(lines)
    spaced = spaced_rows(lines) if len(lines) < MOST_LINES_TWICE else []
    tables = [Document("table", [_grid(spaced)])] if spaced else []
    pasted = one_column_document(lines) if len(lines) < MOST_LINES_TWICE else None
    tables[:0] = [pasted] if pasted is not None else []
    return [transfer, *tables] if transfer is not None else tables


def _single_spaced(lines: list[str]) -> int:
    """Return how many single spaces part each line of a table that has no other mark; else 0."""
    rows = [
        line.strip()
        for line in lines
        if sum(any(s.isdigit() for s in word) for word in line.split()) * 2 > len(line.split())
    ]
    widths = Counter(line.count(" ") for line in rows if "  " not in line)
    width, often = max(widths.items(), key=lambda one: one[0] * one[1], default=(0, 0))
    enough = width >= _LEAST_SPACED and often > 1 and often >= _MOSTLY * len(rows)
    return width if enough and any(line.strip().count(" ") == width for line in lines) else 0


#: So many lines are looked at for how the columns stand.
_LOOKED_AT: Final = 200
#: "Calcium = 12,3 g/kg": a comma within a number that has its unit behind it.
_DECIMAL: Final = re.compile(
    r"\d,\d{1,3}\s*(?:%|[^\W\d_]+\s?/\s?[^\W\d_]+|pp[mb]\b)|"
    r"(?:(?<=[:=…])|(?<=\.\.)) *[<>]? ?\d+,\d{1,3}\s*[^\W\d_]{0,4}\s*$"
)
#: "90,9 % Trockenmasse", "5,9 mg/kg Kupfer": a value before its label.
_VALUE_FIRST: Final = re.compile(
    r"[\s>*•-]*\d+,\d{1,3}\s*(?:%|[^\W\d_]+/[^\W\d_]+|pp[mb])?\s+[^\W\d_]{2}"
)
#: "Harvest, spring", "1 June, 3 June": a comma of a sentence.
_OF_SENTENCE: Final = re.compile(r",(?= )")


def _are_decimal(lines: list[str]) -> bool:
    """Return whether the commas of lines with one each stand within numbers, and part nothing."""
    single = [line for line in lines if line.count(",") == 1]
    found = [(line, _DECIMAL.search(line)) for line in single]
    decimal = [
        line
        for line, one in found
        if (one and any(map(str.isalpha, line[: one.start()]))) or _VALUE_FIRST.match(line)
    ]
    return 2 * len(decimal) > len(single)


def _are_spoken(lines: list[str]) -> bool:
    """Return whether all commas are those of sentences, beside rows parted by spaces."""
    commas = sum(line.count(",") for line in lines)
    rows = [
        line
        for line in lines
        if "," not in line and len(_SPACED.findall(line)) > 1 and any(map(str.isdigit, line))
    ]
    return len(rows) >= _LEAST_PAIRS and commas == sum(
        len(_OF_SENTENCE.findall(line)) for line in lines
    )


#: "85,1 % de matière sèche, 4,8 g/kg": a comma within a number that has its unit behind it.
_BEFORE_UNIT: Final = re.compile(
    r"\d,\d{1,3}\s*(?:%|m?g\s?/\s?kg|MJ\b|Mcal\b|ppm\b|p\.?c\.? |pour ?cent|Prozent|por ciento)",
    re.IGNORECASE,
)


def _stand_before_units(lines: list[str]) -> bool:
    """Return whether nearly all commas between digits are within numbers before a unit."""
    told = sum(len(_BEFORE_UNIT.findall(line)) for line in lines)
    within = sum(len(_COMMA_IN_NUMBER.findall(line)) for line in lines)
    return told > _LEAST_PAIRS and told >= _MOSTLY * within


def _likely(lines: list[str]) -> list[tuple[str, float]]:
    filled = [line for line in lines if line.strip()][:400]
    scores = []
    for delimiter in _DELIMITERS:
        widths = Counter(line.count(delimiter) for line in filled if delimiter in line)
        if not widths:
            continue
        width, often = max(widths.items(), key=lambda one: one[0] * one[1])
        if delimiter == "," and width == 1 and (_are_decimal(filled) or _are_spoken(filled)):
            continue
        if delimiter == "," and _stand_before_units(filled):
            continue
        near = sum(n for w, n in widths.items() if abs(w - width) <= 1)
        if (often >= 2 and near >= 0.3 * len(filled)) or width >= 4:
            scores.append((delimiter, width * near / max(len(filled), 1)))
    others = [one for one, _ in scores if one in _NO_DECIMALS]
    if _stand_in_numbers(filled, others):
        scores = [one for one in scores if one[0] != ","]
    scores.sort(key=lambda one: -one[1])
    return scores[:2]


#: Marks beside which a comma between digits is a decimal sign.
_NO_DECIMALS: Final = (";", "\t", "|")
_SPACED: Final = re.compile(r"\S {2,}\S")
_COMMA_IN_NUMBER: Final = re.compile(r"(?<=\d),(?=\d)")


def _stand_in_numbers(lines: Sequence[str], marks: Sequence[str]) -> bool:
    """Return whether commas in lines that another mark parts mostly stand between digits."""
    parted = [
        line
        for line in lines
        if any(line.count(mark) > 1 for mark in marks) or _SPACED.search(line)
    ]
    commas = sum(line.count(",") for line in parted)
    within = sum(len(_COMMA_IN_NUMBER.findall(line)) for line in parted)
    return len(parted) >= _LEAST_PAIRS and bool(commas) and within > _MOSTLY * commas


def _rows(lines: list[str], delimiter: str) -> list[tuple[int, list[str]]]:
    """Return the rows of a table, each with the number of its first line."""
    whole = [line for line in lines if delimiter in line and line.count('"') % 2 == 0]
    counts = Counter(len(_split(line, delimiter)) for line in whole[:_LINES_COUNTED])
    usual = max(counts, key=lambda one: (one - 1) * counts[one], default=1)
    rows: list[tuple[int, list[str]]] = []
    place = cells = 0
    while place < len(lines):
        line, taken = _record(lines, place, delimiter, usual)
        texts = _split(line, delimiter)
        spoken = delimiter in ",;" and _is_spoken(line, texts, usual) and not _is_coded(texts)
        rows.append((place, [line.strip(" ,;")] if spoken else texts))
        place += taken
        cells += len(rows[-1][1])
        if cells > MOST_CELLS:
            raise Refused("The text holds more cells than any report. Send the rows with results.")
    return rows


def _record(lines: list[str], place: int, delimiter: str, usual: int) -> tuple[str, int]:
    """Return the lines that a quoted text joins to one record, unless its quotes are broken."""
    odd = lines[place].count('"') % 2
    if not odd:
        return lines[place], 1
    for more in range(1, min(_MOST_IN_HEADS, len(lines) - place)):
        odd ^= lines[place + more].count('"') % 2
        if not odd:
            whole = "\n".join(lines[place : place + more + 1])
            count = len(_split(whole, delimiter))
            fits = count <= usual + 1 if more < _MOST_JOINED else count == usual
            return (whole, more + 1) if fits else (lines[place], 1)
    return lines[place], 1


#: A line with so many words fewer cells than the rows of its table have is a sentence.
_WORDS_SPOKEN: Final = 6


def _is_spoken(line: str, texts: Sequence[str], usual: int) -> bool:
    """Return whether a line over a table is a sentence with commas, and no row of cells."""
    line, parts = line.rstrip(" ,;"), sum(bool(text.strip()) for text in texts)
    few = parts > 1 and 2 * parts <= usual and '"' not in line
    words = len(re.findall(r"[^\W\d_]{2,}", line))
    told = few and any(line.count(mark) == line.count(f"{mark} ") == parts - 1 for mark in ",;")
    return told and words >= _WORDS_SPOKEN * (parts - 1)


#: "PRN" in a line of a key: short, and all in capital letters and figures.
_CODE: Final = re.compile(r"[A-Z][A-Z0-9_.-]{1,9}")


def _is_coded(texts: Sequence[str]) -> bool:
    """Return whether a line is a code and what it stands for: "PRN;crude protein, % dry"."""
    filled = [text.strip() for text in texts if text.strip()]
    return len(filled) == _LEAST_PAIRS and bool(_CODE.fullmatch(filled[0]))


#: A sentence with a bracket has so few parts.
_MOST_SPOKEN: Final = 3


def _split(line: str, delimiter: str) -> list[str]:
    if line.count('"') % 2 == 0 and '"' in line and not _BROKEN.search(line):
        try:
            rows = list(csv.reader(io.StringIO(line), delimiter=delimiter))
        except csv.Error:
            rows = []
        if len(rows) == 1 and rows[0]:
            return [one.replace("\n", " ") for one in rows[0]]
        if rows:
            try:
                return [
                    one.replace("\n", " ") for one in next(csv.reader([line], delimiter=delimiter))
                ]
            except (csv.Error, StopIteration):
                pass
    parts = line.replace("\n", " ").split(delimiter)
    if 1 < len(parts) <= _MOST_SPOKEN and parts[0].count("(") > parts[0].count(")"):
        return [_unquoted(line.strip())]  # "(% of dry matter; moisture as received)" is one saying
    return [_unquoted(part.strip()) for part in parts]


def _unquoted(part: str) -> str:
    """Return a text without the quotes around it; those inside it belong to it.

    Examples
    --------
    >>> _unquoted('"Garden "old" rick"'), _unquoted('12" bales')
    ('Garden "old" rick', '12" bales')
    """
    if len(part) > 1 and part[0] == part[-1] == '"':
        part = part[1:-1]
    elif part.count('"') == 1:
        part = part.strip('"')
    return part.replace('""', '"')


def _grid(rows: list[tuple[int, list[str]]]) -> Page:
    made = []
    for row, (line, texts) in enumerate(rows):
        made.append(
            [
                Cell(
                    text.strip()[:MOST_TEXT],
                    row,
                    column,
                    column + 0.9,
                    f"line {line + 1}, column {column + 1}",
                )
                for column, text in enumerate(texts)
                if text.strip()
            ]
        )
    return Page("text", made, True)


def _by_place(lines: list[str]) -> Page:
    made = []
    plain_lines = [line.expandtabs(8) if "\t" not in line.strip() else line for line in lines]
    cuts = cuts_of(plain_lines) if len(lines) < MOST_LINES_TWICE else {}
    for row, line in enumerate(plain_lines):
        made.append(_line_cells(line, row, cuts.get(row, ())))
    return Page("text", made, False)


def _line_cells(line: str, row: int, cuts: Sequence[int] = ()) -> list[Cell]:
    line = line[: 20 * MOST_TEXT]
    cells: list[Cell] = []
    at = 0
    gaps = list(_BETWEEN.finditer(line))
    if len(gaps) > MOST_ACROSS:
        return [Cell(line.strip()[:MOST_TEXT], row, 0, MOST_TEXT, f"line {row + 1}")]
    for found in [*gaps, None]:
        end = found.start() if found else len(line)
        borders = [at, *(cut for cut in cuts if at < cut < end), end]
        for start, stop in itertools.pairwise(borders):
            cells.extend(_pieces(line, start, stop, row))
        at = found.end() if found else end
    cells = _without_colons(cells)
    return _drawn_out(line, cells) if "--" in line or "==" in line else cells


#: "Crude protein     : 9.0 %": the colon of a label that stands before its value.
_COLON_BEFORE: Final = re.compile(r":\s+(?=\S)")


def _without_colons(cells: list[Cell]) -> list[Cell]:
    """Give the colon before a value to the label before it, as where it stands behind the label."""
    made: list[Cell] = []
    for cell in cells:
        told = _COLON_BEFORE.match(cell.text)
        if told and made and not made[-1].text.endswith(":"):
            made[-1] = replace(made[-1], text=f"{made[-1].text}:")
            cell = replace(cell, text=cell.text[told.end() :], x0=cell.x0 + told.end())
        made.append(cell)
    return made


#: "------ PERCENT OF DRY MATTER ------": a text with lines drawn to the columns that it is over.
_DRAWN: Final = re.compile(r"<?[-=_]{2,}[ >]*(?P<text>[A-Za-z%(][^-=_|\d]*?)[ <]*[-=_]{2,}>?")


def _drawn_out(line: str, cells: list[Cell]) -> list[Cell]:
    """Return the cells of a line, a text between drawn lines as wide as those reach."""
    spans = [(one.span("text"), one.span()) for one in _DRAWN.finditer(line)]
    made = []
    for cell in cells:
        wide = next((whole for own, whole in spans if own[0] <= cell.x0 < own[1]), None)
        made.append(replace(cell, x0=wide[0], x1=wide[1] - 0.1) if wide else cell)
    return made


def _equals(text: str) -> re.Match[str] | None:
    """Return the sign in "CP=12.2 %" that stands between a label or a field and its value."""
    cut = re.search(r"(?<=\S)=(?=\S)", text)
    if cut is None or text.count("=") > 1:
        return None
    before = text[: cut.start()].strip()
    return cut if field_of(before) or label_of(before) is not None else None


def _pieces(line: str, start: int, end: int, row: int) -> list[Cell]:
    """Return the cells of one stretch of a line, parted after the colon of a short label."""
    text = line[start:end]
    explains = text.count("=") > 1  # "af = as fed, dm = dry matter"
    cut = _COLON.search(text) or _equals(text)
    cut = None if cut and explains and "=" in cut[0] else cut
    parts = [(start, end)]
    if cut and 0 < cut.start() <= 48 and cut.end() < len(text):
        mark = 1 if text[cut.start()] == ":" else 0  # an equals sign is dropped
        parts = [(start, start + cut.start() + mark), (start + cut.end(), end)]
    cells = []
    for x0, x1 in parts:
        piece = line[x0:x1]
        if piece.strip():
            left = x0 + len(piece) - len(piece.lstrip())
            cells.append(
                Cell(
                    piece.strip()[:MOST_TEXT],
                    row,
                    left,
                    left + len(piece.strip()) - 0.1,
                    f"line {row + 1}, sign {left + 1}",
                )
            )
    return cells
