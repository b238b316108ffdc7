"""Open set: what is no report, what cannot be read, and what has the wrong name."""

from __future__ import annotations

from random import Random

from . import cast
from .paper import Paper
from .truth import Made, made
from .writers import Workbook, delimited, zipped


def _refused(name: str, content: bytes, layout: str) -> Made:
    return made(name, content, layout, "none (invented)", [], "refuse")


def scanned(rng: Random, variant: int) -> Made:
    paper = Paper()
    lines = ["Larkspur Forage Lab", "", "Sample: barn 2", "Crude protein 10.4 % of dry matter"]
    for page in range(variant):
        if page:
            paper.next_page()
        paper.picture([*lines, f"page {page + 1}"])
    return _refused(f"scanned-{variant}.pdf", paper.content(), "PDF; a picture without text")


def invoice(rng: Random, variant: int) -> Made:
    if variant == 1:
        rows = [
            ["Invoice 20418", "", "", ""],
            ["Item", "Quantity", "Unit price", "Amount"],
            ["Twine, 9600 ft", "12", "31.50", "378.00"],
            ["Net wrap, roll", "4", "268.00", "1072.00"],
            ["Delivery", "1", "45.00", "45.00"],
            ["Total", "", "", "1495.00"],
        ]
        return _refused("invoice.csv", delimited(rows).encode(), "CSV; an invoice for twine")
    text = (
        "Hello,\n\nthe baler parts are in. We are open until noon on Saturday, so come by\n"
        "when it suits you. The bill is $412.60 and includes the knotter.\n\nThanks\n"
    )
    return _refused("parts-letter.txt", text.encode(), "mail about parts, no results")


def empty(rng: Random, variant: int) -> Made:
    if variant == 1:
        return _refused("empty.csv", b"", "a file without content")
    return _refused("blank.txt", b"\r\n \r\n\t\r\n", "a file of blank lines")


def bomb(rng: Random, variant: int) -> Made:
    sheet = b"<worksheet><sheetData>" + b"<row/>" * 20_000_000 + b"</sheetData></worksheet>"
    kind = b"application/vnd.openxmlformats-officedocument.spreadsheetml."
    files = {
        "[Content_Types].xml": b'<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats'
        b'.org/package/2006/content-types"><Default Extension="rels" ContentType="application/'
        b'vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" '
        b'ContentType="' + kind + b'sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1'
        b'.xml" ContentType="' + kind + b'worksheet+xml"/></Types>',
        "_rels/.rels": b'<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats'
        b'.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxml'
        b'formats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"'
        b"/></Relationships>",
        "xl/workbook.xml": b'<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats'
        b'.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/office'
        b'Document/2006/relationships"><sheets><sheet name="Results" sheetId="1" r:id="rId1"/>'
        b"</sheets></workbook>",
        "xl/_rels/workbook.xml.rels": b'<?xml version="1.0"?><Relationships xmlns="http://schemas'
        b'.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://'
        b'schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="work'
        b'sheets/sheet1.xml"/></Relationships>',
        "xl/worksheets/sheet1.xml": sheet,
    }
    return _refused("swollen.xlsx", zipped(files), "XLSX; a small file that swells when unpacked")


def wrong_name(rng: Random, variant: int) -> Made:
    lab = "Pigeon Loft Laboratory"
    found = cast.samples(rng, 4, "PL{}", reported=True)
    order = ["dm", "cp", "adf", "ndf", "tdn", "rfv"]
    rows: list[list[object]] = [
        [
            "Lab no.",
            "Sample",
            "Sampled",
            "Reported",
            "DM % (as received)",
            "CP % (DM)",
            "ADF % (DM)",
            "NDF % (DM)",
            "TDN % (DM)",
            "RFV",
        ]
    ]
    for one in found:
        cells = [one.put(name) for name in order]
        rows.append([one.lab_no, one.id, one.sampled_on, one.reported_on, *cells])
    if variant == 1:
        book = Workbook()
        book.rows(book.sheet("Results"), rows)
        return made("wrong-name-1.csv", book.content(), "a workbook named as CSV", lab, found)
    text = delimited([[str(cell) for cell in row] for row in rows], "\t")
    return made("wrong-name-2.xls", text.encode(), "tabs named as a workbook", lab, found)


LAYOUTS = (scanned, invoice, empty, wrong_name)
SINGLE = (bomb,)
