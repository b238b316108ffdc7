"""Tests of other things than forage, which share some of its analytes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page, Sample
from rickyard.labs.vocabulary import label_of, plain, unaccented

#: What only a test of forage or feed has.
_OF_FORAGE: Final = frozenset(
    ("cp", "adf", "ndf", "tdn", "nem", "neg", "nel", "rfv", "rfq", "lignin", "wsc", "esc", "starch")
)
_OTHERS: Final[tuple[tuple[str, re.Pattern[str]], ...]] = tuple(
    (what, re.compile(pattern, re.IGNORECASE))
    for what, pattern in (
        ("soil", r"\bsoil\b|\bbuffer ph\b|\bcec\b|cation exchange|base saturation|\bmehlich|"
         r"\bbray[- ]p|\bolsen\b|\blime (?:req|need|index|t)"),
        ("water", r"\bwater (?:test|sample|analysis|quality)|\bhardness\b|total dissolved solids|"
         r"\bwell water\b|\bturbidity\b"),
        ("manure", r"\bmanure\b|\bslurry\b|\bcompost\b|\bdigestate\b|\blitter\b"),
        ("plant tissue", r"\btissue (?:test|analysis|sample)|\bpetiole|\bleaf (?:test|analysis)"),
        ("blood or milk", r"\bblood (?:test|sample|panel)|\bserum\b|\bsomatic cell|"
         r"\bmilk (?:test|urea)"),
    )
)  # fmt: skip


#: A sheet that is named by what it tests, where that is not forage.
_SHEET: Final = re.compile(
    r"(?:soil|water|manure|slurry|tissue|invoice)s?(?: (?:tests?|results?|samples?|report))?"
)
#: A sheet of what hay usually holds.
_SHEET_OF_GUIDES: Final = re.compile(
    r"(?:guide|reference|typical|book|table|target|normal|standard) ?(?:values?|ranges?|levels?)|"
    r"(?:richt|ziel|soll|orientierungs|referenz|norm|vergleichs)werte?|"
    r"valeurs? (?:reperes?|de reference|cibles?|guides?)|valores (?:de referencia|guia|normales)|"
    r"valori (?:di riferimento|guida)|(?:richt|streef|referentie)waarden?|riktvarden|vejledende tal"
)
#: Heads of columns that say what each sample is.
_KINDS: Final = frozenset(
    ("matrix", "material", "type", "sample type", "kind", "class", "sample class", "medium")
)
#: What stands in such a column where the row is not of forage.
_NOT_FORAGE: Final = re.compile(
    r"(?:stock |well |drinking |ground )?water|soil|manure|slurry|compost|tissue|"
    r"(?:lab(?:oratory)? |quality )?(?:control|qc|blank|check|duplicate check)(?: sample)?"
)


#: What stands there where the laboratory's own runs are told from samples, and how samples are.
_OWN_RUN: Final = re.compile(
    r"(?:method |reagent |field )?blanks?|blk|mb|rb|cc[vb]|ic[vb]|lcs|lcsd|ms|msd|s[rc]m|crm|"
    r"dup(?:licate)?s?|rep(?:licate)?s?|(?:matrix )?spikes?|spk|ref(?:erence)?s?|st(?:d|andard)s?|"
    r"cal(?:ibration|ibrator)?s?|qcs?|qa|ctrl|controls?|checks?|wash|rinse|drift|blindprobe|leerwert|"
    r"kontrolle|kalibrierung|doppelbestimmung|referenz|blanc|temoin|etalon|doublon|ajout|blanco|"
    r"patron|duplicado|control|bianco|controllo|standaard|duplo|controle|blind|kontroll|dubbel"
)
_OWN_SAMPLE: Final = re.compile(
    r"(?:(?:client|customer|routine|regular|field|unknown) ?)?(?:samples?|smpl?|spl|sam)|"
    r"unk(?:nown)?|client|customer|routine|hay|forage|proben?|muster|echantillons?|muestras?|campion[ei]|"
    r"monsters?|prov(?:e|er)?"
)


#: A name of water or soil: "House well water", and not the label of moisture.
_NAMED_OTHER: Final = re.compile(
    r"(?:\w+ )?(?:stock|well|drinking|ground|house|tap|pond|creek|spring|tank|trough|ditch|river|"
    r"canal|barn|rain|lake|reservoir)s? water(?: sample)?|"
    r"water,? (?:well|pond|creek|spring|tank|trough)|"
    r"(?:top|field|garden|pasture)[ -]?soil(?: sample)?"
)
#: A title over rows of other things, and one over rows of forage again.
_SECTION: Final = re.compile(
    r"(?:(?:drinking|stock|well) )?(?:soil|water|manure|slurry|compost|(?:plant )?tissue)s?"
    r"(?: (?:tests?|results?|samples?|analys[ei]s|section))?"
)
_SECTION_OF_FORAGE: Final = re.compile(
    r"\b(?:forages?|hays?|feeds?|silages?|haylages?|baleages?)\b"
)
_WATER: Final = frozenset(("dm", "moisture"))
_VALUE: Final = re.compile(r"[<>]?\s?\d[\d.,]*\s?%?")
_LEAST_CELLS: Final = 3
_LEAST_VALUES: Final = 2


def forage_alone(document: Document) -> Document:
    """Return a document without the sheets and the rows that say they are of other things.

    What is left out is told in the notes. A sheet goes only where another stays: a file that holds
    nothing but soil is refused as such.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    out = [page for page in document.pages if _of_other(page)]
    if len(out) == len(document.pages):
        out = []
    notes = [f'"{page.name}" {_why(page)}, and was passed over.' for page in out]
    pages = []
    for page in document.pages:
        if page not in out:
            rows, others = _of_forage(page) if page.gridded else (page.rows, Counter[str]())
            rows = _without_sections(_without_named(rows, others, gridded=page.gridded), others)
            notes += [f"Rows of {what} were passed over: {n}." for what, n in others.items()]
            pages.append(replace(page, rows=rows))
    return replace(document, pages=pages, notes=[*document.notes, *notes])


def _why(page: Page) -> str:
    guides = _SHEET_OF_GUIDES.fullmatch(unaccented(page.name))
    return "tells what hay usually holds" if guides else "is not of forage"


def _of_other(page: Page) -> bool:
    texts = [cell.text for cell in page.cells()]
    if _SHEET.fullmatch(plain(page.name)) or _SHEET_OF_GUIDES.fullmatch(unaccented(page.name)):
        return True
    if not any(_OTHERS[0][1].search(text) for text in texts):
        return False
    labels = [label for text in texts if len(text) < 60 and (label := label_of(text))]
    return not any(one in _OF_FORAGE for label in labels for one in label.candidates)


def _of_forage(page: Page) -> tuple[list[list[Cell]], Counter[str]]:
    """Return the rows without those of other things, and how many there are of each thing."""
    kinds: set[float] = set()
    rows, others = [], Counter[str]()
    told = {
        cell.x0 for row in page.rows for cell in row if _OWN_SAMPLE.fullmatch(unaccented(cell.text))
    }
    for row in page.rows:
        heads = {cell.x0 for cell in row if plain(cell.text) in _KINDS} if len(row) > 2 else set()
        kinds = heads or kinds
        said = [cell.text for cell in row if cell.x0 in kinds]
        other = next((text for text in said if _NOT_FORAGE.fullmatch(plain(text))), "")
        if told & kinds and not other:
            other = next((text for text in said if _OWN_RUN.fullmatch(unaccented(text))), "")
        if other:
            others[plain(other)] += 1
        else:
            rows.append(row)
    return rows, others


def _without_sections(rows: list[list[Cell]], others: Counter[str]) -> list[list[Cell]]:
    """Return the rows without those under a title such as "SOIL"; they are counted by it."""
    kept: list[list[Cell]] = []
    title = ""
    for place, row in enumerate(rows):
        alone = plain(row[0].text).strip(" :=-*") if len(row) == 1 else ""
        if _SECTION.fullmatch(alone) and _heads_others(rows[place + 1 :]):
            title = alone
        elif alone and _SECTION_OF_FORAGE.search(alone):
            title = ""
        if not title:
            kept.append(row)
        elif any(_VALUE.fullmatch(cell.text.strip()) for cell in row):
            others[title] += 1
    return kept


def _heads_others(below: Sequence[Sequence[Cell]]) -> bool:
    """Return whether the next row heads a table, and none of its columns is one of forage."""
    heads: Sequence[Cell] = next((row for row in below if row), [])
    labels = [label for cell in heads if (label := label_of(cell.text)) is not None]
    known = {one for label in labels for one in label.candidates}
    return len(heads) >= _LEAST_CELLS and not known & (_OF_FORAGE | _WATER)


def _without_named(
    rows: list[list[Cell]], others: Counter[str], *, gridded: bool
) -> list[list[Cell]]:
    """Return the rows without a row or a column that is named "Well water"; each is counted."""
    kept: list[list[Cell]] = []
    columns: set[float] = set()
    for row in rows:
        named = [cell for cell in row if _NAMED_OTHER.fullmatch(plain(cell.text))]
        values = sum(bool(_VALUE.fullmatch(cell.text.strip())) for cell in row) if named else 0
        if named and values >= _LEAST_VALUES:
            others[plain(named[0].text)] += 1
            continue
        if named and gridded and len(row) >= _LEAST_CELLS and not values:
            columns |= {cell.x0 for cell in named}
            others.update(plain(cell.text) for cell in named)
        kept.append([cell for cell in row if cell.x0 not in columns] if columns else row)
    return kept


#: What stands over the guarantee on the tag of a bought feed.
_GUARANTEE: Final = re.compile(r"^\W*guaranteed (?:analysis|nutrients?|levels?)\b", re.IGNORECASE)


def is_feed_tag(documents: Sequence[Document]) -> bool:
    """Return whether a file is the tag of a bought feed, which tells no result of a sample.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which the file may be read.
    """
    return any(_GUARANTEE.match(cell.text) for page in documents[0].pages for cell in page.cells())


#: Organic matter, which a test of soil has beside the acidity and the minerals.
_OF_SOIL: Final = re.compile(
    r"o\.?m\.?(?:[ ,(]*%\)?)?|organic matter(?:[ ,(]*%\)?)?|humus(?:[ ,(]*%\)?)?", re.IGNORECASE
)


def _is_of_soil(texts: Sequence[str], samples: Sequence[Sample]) -> bool:
    """Return whether a file tells acidity and organic matter, and nothing that hay alone has."""
    analytes = {value.analyte for sample in samples for value in sample.values}
    told = any(_OF_SOIL.fullmatch(text.strip()) for text in texts)
    return told and "ph" in analytes and not analytes & (_WATER | {"ash", "ee", "n"})


def other_test(documents: Sequence[Document], samples: Sequence[Sample]) -> str:
    """Return what a report is about, where it is not about forage; else an empty string.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which the file may be read.
    samples : sequence of Sample
        What was read of it.
    """
    if any(value.analyte in _OF_FORAGE for sample in samples for value in sample.values):
        return ""
    texts = [cell.text for page in documents[0].pages for cell in page.cells()]
    if _is_of_soil(texts, samples):
        return "soil"
    return next(
        (what for what, pattern in _OTHERS if any(pattern.search(text) for text in texts)), ""
    )
