"""Pages to samples as found: tables by rows, by lines, by values, and lines of prose."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.letters import (
    is_tabular,
    numbered_by_name,
    prose_samples,
    sentences,
    values_beside,
    with_forms_told,
    with_means_alone,
    without_older,
)
from rickyard.labs.parting import (
    fields_in_lines,
    headings_apart,
    names_in_columns,
    numbers_apart,
    numbers_of_lab,
    parted_by_columns,
    reaching,
    tables_apart,
    tiles_in_lines,
    with_fields_apart,
    with_groups,
    with_items_apart,
    with_kilograms_told,
    with_labels_apart,
    with_lines_together,
    with_lists_apart,
    with_methods_told,
    with_names_whole,
    with_pairs_apart,
    with_units_parted,
)
from rickyard.labs.tables import (
    IDENTITY,
    Block,
    Draft,
    DraftSample,
    Seen,
    Table,
    blocks_of,
    fields_of_row,
    has_value,
    in_text,
    is_heading,
    leave_numbered,
    lines_of,
    listed_blocks,
    long_rows,
    long_table,
    looked_at,
    mark_bases,
    name_blocks,
    named_above,
    rows_of,
    samples_of,
    stacked_sample,
    table_at,
    take_line_over,
    unread,
    unread_lines,
)
from rickyard.labs.understanding.apart import STARTS, labels_and_values, without_letters
from rickyard.labs.understanding.codes import with_names
from rickyard.labs.understanding.whole import (
    joined,
    leave_titles,
    named_by_client,
    named_by_page,
    without_earlier,
)
from rickyard.labs.vocabulary import (
    Comma,
    comma_of,
    field_of,
    is_only_basis,
    label_of,
)

#: A file needs so many values before its prose is passed over.
LEAST_VALUES = 2
#: So many values in lines of their own count against a letter too.
_LEAST_IN_LETTER: Final = 4
#: With more values than these in tables and lines, the rest of the file is not prose.
MOST_BESIDE_PROSE: Final = 8
#: With more values than these no text is a letter.
MOST_OF_LETTERS: Final = 120
#: Signs of a text that is read as sentences; a hundred pages.
MOST_OF_LETTER: Final = 300_000
_LONGEST_NAME = 60
_WORDS_OF_SENTENCE: Final = 8
_LAB_WORDS = re.compile(
    r"\b(?:lab|labs|laborator\w*|analytical|testing|forage|feed bench|survey|test room)\b",
    re.IGNORECASE,
)


#: "Sample: 2 of 3" counts the samples and names none.
_COUNTED: Final = re.compile(r"\d+ of(?: \d+)?")


def _counts(row: list[Cell]) -> bool:
    return len(row) == 2 and bool(_COUNTED.fullmatch(row[1].text.strip()))


#: "1 OF 2", "Page 1 of 2": which page it is.
_PAGE_OF: Final = re.compile(r"(?:page|sheet|p\.)?\s*\d{1,3} of \d{1,3}", re.IGNORECASE)


def _told(row: list[Cell]) -> list[Cell]:
    """Return a row without the number of its page, which is no value of it."""
    return [cell for cell in row if not _PAGE_OF.fullmatch(cell.text.strip())]


def found_in(document: Document, comma: Comma | None = None, *, letters: bool = True) -> Draft:
    """Find the samples of a document.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    comma : Comma, optional
        How it writes decimals, where a person said so.
    letters : bool
        Whether it may be read as sentences.
    """
    document, older = without_older(document)
    document = spoken = with_means_alone(document)
    document = with_kilograms_told(with_names_whole(without_letters(document)))
    document = with_items_apart(with_lines_together(with_fields_apart(document)))
    document = with_lists_apart(with_names(with_forms_told(with_labels_apart(document))))
    document = with_pairs_apart(document)
    comma = comma or comma_of(_numbers(document))
    draft = Draft(passed=older)
    heads: list[list[list[Seen]]] = []
    carried: Table | None = None
    shared: dict[str, Cell] = {}
    pages = [one for n, one in enumerate(document.pages) if not (n and _is_of_prices(one))]
    for number, page in enumerate(pages):
        page = replace(page, rows=[reaching(_told(row)) for row in page.rows if not _counts(row)])
        whole = numbers_of_lab(page)
        looked = with_methods_told(looked_at(page, comma))
        whole |= names_in_columns(looked, page.gridded)
        rows = [labels_and_values(row, comma, page.gridded, whole) for row in looked]
        rows = with_groups(rows, comma)
        rows = fields_in_lines(tiles_in_lines(rows, page.gridded), page.gridded)
        if not page.gridded:
            rows = headings_apart(numbers_apart(with_units_parted(rows, comma), comma), comma)
            rows = parted_by_columns(rows, comma)
        mark_bases(rows)
        leave_numbered(rows)
        rows = tables_apart(rows)
        heads.append(rows)
        samples, carried, page_fields = _page(rows, page, carried, draft)
        if _goes_on(draft.samples, samples):
            draft.samples[-1].found.extend(samples.pop().found)
        for sample in samples:
            sample.page = number
            for name, cell in {**shared, **page_fields, **_of_sheet(page)}.items():
                known_as = f"{name} of the page" if name in ("unit", "basis") else name
                sample.fields.setdefault(known_as, cell)
        if not samples:
            shared.update({n: c for n, c in page_fields.items() if n not in IDENTITY})
        draft.samples.extend(samples)
        words = [[one.cell for one in row if not one.is_value] for row in rows]
        draft.texts.extend(sentences(words, page.gridded))
        draft.texts.extend(text for row in rows for text in _stated(row))
        draft.texts.extend(_at_foot(rows))
    there = sum(map(_told_apart, draft.samples))
    if len(draft.samples) == 1 and there >= LEAST_VALUES:
        known = [one.label.candidates for one in draft.samples[0].found]
        draft.samples[0].found.extend(values_beside(draft.texts, known, comma))
        there = sum(map(_told_apart, draft.samples))
    letters = letters and _may_be_letter(document)
    if letters and there < MOST_OF_LETTERS:
        _take_sentences(draft, (document, spoken), comma, there)
    named_by_client(draft.samples)
    named_by_page(draft.samples, heads)
    numbered_by_name(draft.samples, _title(document))
    leave_titles(draft)
    draft.samples, earlier = without_earlier(draft.samples, heads)
    draft.passed.extend(earlier)
    draft.samples = joined(draft.samples)
    draft.lab = _lab(document)
    return draft


def _take_sentences(
    draft: Draft, documents: tuple[Document, Document], comma: Comma, there: int
) -> None:
    """Take the samples that sentences tell of, where they tell more than ``there`` was found.

    They are read in the document whose lines were parted, and in the one as it was written.
    """
    document, spoken = documents
    listed = _are_lists(draft.samples)
    written, others = prose_samples(spoken, comma)
    whole = _told_whole(written, draft.samples) if listed else []
    if whole and sum(map(_told_apart, whole)) > there:
        draft.samples, draft.texts, draft.structure = whole, others, ["prose"]
        return
    letter = _is_letter(document)
    if not letter and there >= MOST_BESIDE_PROSE:
        return
    prose, texts = prose_samples(document, comma)
    told = sum(map(_told_apart, prose))
    in_lines = there >= LEAST_VALUES and not letter
    more = int(letter and there >= _LEAST_IN_LETTER)
    if told > (2 * there if in_lines else there + more):
        draft.samples, draft.texts, draft.structure = prose, texts, ["prose"]


def _are_lists(samples: Sequence[DraftSample]) -> bool:
    """Return whether several values stand in each line, as in sentences, and not one."""
    places = [one.cell.place.partition(",")[0] for each in samples for one in each.found]
    return len(places) >= _LEAST_IN_LINE * len({*places}) > 0


def _told_whole(prose: Sequence[DraftSample], lines: Sequence[DraftSample]) -> list[DraftSample]:
    """Return the samples of sentences that tell every value that was found in lines, else nothing.

    A sentence that goes on in a second line looks like a line of values there; the names are
    those that were told apart in the lines.
    """
    made: list[DraftSample] = []
    for sample in lines:
        own = [cell.text for name, cell in sample.fields.items() if name in IDENTITY]
        alike = [one for one in prose if own and all(_names(one, text) for text in own)]
        if len(alike) != 1 or len(lines) != len(prose):
            return []
        there = {(one.label.candidates, one.printed.value) for one in alike[0].found}
        if any((one.label.candidates, one.printed.value) not in there for one in sample.found):
            return []
        made.append(replace(alike[0], fields={**alike[0].fields, **sample.fields}))
    return made


def _names(sample: DraftSample, text: str) -> bool:
    """Return whether the name or the number of a sample holds a text."""
    return any(text in cell.text for name, cell in sample.fields.items() if name in IDENTITY)


_LEAST_IN_LINE: Final = 2
#: "(1) dry matter", "A = dry": a footnote, which is of what bears its mark alone.
_MARKED: Final = re.compile(r"\s*(?:[(\[]\w{1,2}[)\]]\s*\S|[*†‡§¶¹²³]|[\da-z]\)|.*=)")


#: A heading over prices, and the name of a sheet of them.
_PRICES: Final = re.compile(
    r"(?:price|fee|cost|charge|rate|tarif|preis|prix|precio|prezzo)s?(?:\s*[(\[]?[$€£][)\]]?)?|[$€£]|"
    r"(?:usd|eur)|price list|price per \w+",
    re.IGNORECASE,
)
_ROWS_OF_HEADS: Final = 4


def _is_of_prices(page: Page) -> bool:
    """Return whether a later sheet tells what tests cost, and no results."""
    heads = [cell.text.strip(" .:") for row in page.rows[:_ROWS_OF_HEADS] for cell in row]
    named = _PRICES.fullmatch(page.name.strip())
    headed = any(map(_PRICES.fullmatch, heads))
    return bool(named or (headed and not any(field_of(text) in IDENTITY for text in heads)))


def _at_foot(rows: list[list[Seen]]) -> list[Cell]:
    """Return a basis that stands alone under all values, said of every one: "Dry matter basis"."""
    last = max((n for n, row in enumerate(rows) if any(map(has_value, row))), default=len(rows))
    return [
        replace(row[0].cell, text=f"All results on {row[0].text}")
        for row in rows[last + 1 :]
        if len(row) == 1 and row[0].only_basis and not _MARKED.match(row[0].text)
    ]


#: "All other results", with their basis in the cell behind it.
_OF_RESULTS: Final = re.compile(
    r"(?:all |the )?(?:other |remaining )?(?:results|values|figures|analy[st]es)|everything else|"
    r"(?:all |the )?(?:others?|rest)",
    re.IGNORECASE,
)


def _stated(row: list[Seen]) -> list[Cell]:
    """Return what a label that is no field states in the cell behind it: "Basis of all: dry"."""
    return [
        replace(one.cell, text=f"{one.text} {after.text}")
        for one, after in itertools.pairwise(row)
        if one.text.endswith(":") or _OF_RESULTS.fullmatch(one.text)
        if not (one.field or one.label) and after.only_basis
    ]


def _told_apart(sample: DraftSample) -> int:
    """Return how many values of a sample are no second number of another on the same basis."""
    return len(
        {
            (one.label.candidates, next((hint.word for hint in one.bases if hint.word), ""))
            for one in sample.found
        }
    )


def _numbers(document: Document) -> list[str]:
    return [
        cell.text
        for page in document.pages
        for cell in page.cells()
        if cell.number is None and cell.day is None
    ]


def _page(
    rows: list[list[Seen]], page: Page, carried: Table | None, draft: Draft
) -> tuple[list[DraftSample], Table | None, dict[str, Cell]]:
    samples: list[DraftSample] = []
    taken: set[int] = set()
    last: Table | None = None
    stacked = stacked_sample(rows, taken, page.gridded)
    if stacked is not None:
        samples.append(stacked)
        labels = (_label_key(one.label_text) for one in stacked.found)
        draft.structure.append("stacked " + " ".join(labels))
    for place in range(len(rows)):
        if place in taken or not rows[place]:
            continue
        table = long_table(rows, place, page.gridded)
        if table is not None:
            found = long_rows(table, rows)
        else:
            if _is_line(rows[place], place):
                continue
            table = table_at(rows, place, page.gridded)
            if table is None:
                continue
            found = rows_of(table, rows)
            take_line_over(found, rows, table.top, taken)
            named_above(found, rows, table.top)
        if found:
            _take_method_over(found, rows, table.top)
            samples.extend(_of_table(found, table.top))
            taken.update(table.rows)
            taken.update(range(table.top, place) if not table.is_long else [place])
            last = table
            draft.unread.extend(unread(table, rows))
            draft.passed.extend(table.passed)
            draft.titles.extend([(table.title, table.told)] if table.title else ())
            draft.structure.append(_structure(table))
    listed = listed_blocks(rows, taken)
    blocks = [
        block
        for block in blocks_of(rows, taken, page.gridded)
        if len(block.lines) >= (2 if not samples else 4)
    ]
    if not samples and carried is not None and len(blocks) == 0:
        samples, last = _continued(carried, rows, page), carried
    name_blocks(blocks, rows)
    blocks = [*listed, *blocks]
    page_fields = _page_fields(rows, blocks, taken, page.gridded)
    for block in blocks:
        samples.extend(_of_block(block, rows, taken, page.gridded))
        draft.passed.extend(block.passed)
        draft.structure.append(
            "down " + " ".join(_label_key(line.seen.text) for line in block.lines)
        )
    return samples, last, page_fields


def _of_block(
    block: Block, rows: list[list[Seen]], taken: set[int], gridded: bool
) -> list[DraftSample]:
    """Return the samples of a block; one alone knows what of its lines was not understood."""
    here = samples_of(block, rows, taken, gridded)
    if len(here) == 1:
        here[0].unread = unread_lines(block, rows, taken)
    return _of_table(here, block.first) if len(here) > 1 else here


def _of_table(samples: list[DraftSample], top: int) -> list[DraftSample]:
    """Return samples that know that they stand side by side, in the table of that first row."""
    for sample in samples:
        sample.table = 1 + top
    return samples


def _may_be_letter(document: Document) -> bool:
    """Return whether a text is so short that somebody may have written it, and is no table."""
    if is_tabular(document):
        return False
    return sum(len(cell.text) for page in document.pages for cell in page.cells()) < MOST_OF_LETTER


def _is_letter(document: Document) -> bool:
    """Return whether most lines with numbers in them are sentences."""
    lines = [" ".join(cell.text for cell in row) for page in document.pages for row in page.rows]
    numbers = [line for line in lines if len(STARTS.findall(line)) > 1]
    long = sum(len(re.findall(r"[A-Za-z]{2,}", line)) >= _WORDS_OF_SENTENCE for line in numbers)
    return bool(numbers) and 2 * long > len(numbers)


def _goes_on(before: list[DraftSample], here: list[DraftSample]) -> bool:
    """Return whether a page without a name goes on with the sample of the page before."""
    if len(here) != 1 or not before or any(name in here[0].fields for name in IDENTITY):
        return False
    there = {one.label.candidates for one in before[-1].found if one.label.ours}
    return not any(one.label.candidates in there for one in here[0].found)


def _is_line(row: list[Seen], place: int) -> bool:
    lines = lines_of(row, place)
    return bool(lines) and lines[0].seen in row[:2]


def _continued(carried: Table, rows: list[list[Seen]], page: Page) -> list[DraftSample]:
    if carried.is_long:
        return long_rows(Table(carried.columns, 0, page.gridded, True), rows)
    first = next((n for n, row in enumerate(rows) if sum(one.is_value for one in row) >= 2), None)
    if first is None or _heads_itself(rows[:first]):
        return []
    return rows_of(Table(carried.columns, first, page.gridded), rows)


def _heads_itself(over: list[list[Seen]]) -> bool:
    """Return whether the row over the first values heads other columns: "Lot  Bales  Tons"."""
    row = next((row for row in reversed(over) if row), [])
    named = any(one.field in IDENTITY for one in row)
    return len(row) > 1 and named and not any(one.label or one.is_value for one in row)


def _structure(table: Table) -> str:
    kind = "long" if table.is_long else "wide"
    return kind + " " + " ".join(_label_key(one.shown) for one in table.columns)


def _label_key(text: str) -> str:
    return re.sub(r"[^a-z]+", "-", text.casefold()).strip("-")


def _page_fields(
    rows: list[list[Seen]], blocks: list[Block], taken: set[int], gridded: bool
) -> dict[str, Cell]:
    """Return fields of a page that hold for all its samples: dates, method; not identities."""
    lines = {n for n, row in enumerate(rows) if lines_of(row, n)} if len(blocks) > 1 else set()
    end = min([*taken, *lines], default=len(rows))
    found: dict[str, Cell] = {}
    several: set[str] = set()
    for place, row in enumerate(rows):
        below = bool(lines) and place > end  # that is of one sample, and at odds with the others
        if place in taken or (is_heading(row) and not below):
            continue
        for name, cells in fields_of_row(row, gridded):
            if len(cells) == 1 and (name in found if below else name not in IDENTITY):
                first = found.setdefault(name, cells[0])
                if name.endswith("_on") and first.text != cells[0].text:
                    several.add(name)  # the titles of two tables tell days of their own
    return {name: cell for name, cell in found.items() if name not in several}


#: "Dry" alone may be of the hay, "Dry matter" is of the values.
_SHEET_OF_BASIS: Final = re.compile(r"\b(?:matter|basis|received|fed|dm|sampled|submitted)\b", re.I)


def _of_sheet(page: Page) -> dict[str, Cell]:
    """Return the basis that the name of a sheet tells, where it tells nothing else."""
    if not (_SHEET_OF_BASIS.search(page.name) and is_only_basis(page.name)):
        return {}
    return {"basis": Cell(page.name, 0, 0.0, 0.0, "the name of the sheet")}


def _title(document: Document) -> str:
    """Return the first text of a file, which mostly is the name of the laboratory."""
    return next((cell.text for page in document.pages for cell in page.cells()), "")


def _take_method_over(samples: list[DraftSample], rows: list[list[Seen]], top: int) -> None:
    """Take method and days that the line right over a table tells, of this table alone."""
    place = top - 1
    if place >= 0 and not rows[place]:
        place -= 1
    row = rows[place] if place >= 0 else []
    told = dict(in_text(row[0].cell)) if len(row) == 1 else {}
    for name in ("method", "sampled_on", "received_on", "reported_on"):
        for sample in samples if name in told else ():
            sample.fields.setdefault(name, told[name][0])


def _lab(document: Document) -> str:
    """Return the name of the laboratory, where a line near the top of the file looks like one."""
    for page in document.pages[:1]:
        for row in page.rows[:6]:
            for cell in row:
                if _is_lab(cell):
                    return cell.text
    return ""


def _is_lab(cell: Cell) -> bool:
    text = cell.text
    if cell.number is not None or len(text) > _LONGEST_NAME or any(s.isdigit() for s in text):
        return False
    return bool(_LAB_WORDS.search(text)) and not (
        text.endswith(":") or field_of(text) or in_text(cell) or label_of(text)
    )
