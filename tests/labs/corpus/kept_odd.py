"""Kept set: what is no report, what cannot be read, and what has the wrong name."""

from __future__ import annotations

from random import Random

from . import cast
from .paper import Paper
from .truth import Made, made
from .writers import delimited, noise, ods, zipped


def _refused(name: str, content: bytes, layout: str) -> Made:
    return made(name, content, layout, "none (invented)", [], "refuse")


def locked(rng: Random, variant: int) -> Made:
    paper = Paper(password="not-told" if variant == 1 else "0000")
    paper.text(60, 60, "Sample: creek hay")
    paper.text(60, 80, "Crude protein 10.1 % dry matter")
    return _refused(f"locked-{variant}.pdf", paper.content(), "PDF; needs a password")


def other_list(rng: Random, variant: int) -> Made:
    if variant == 1:
        rows = [
            [
                "Soil sample",
                "Field",
                "pH",
                "Buffer pH",
                "Organic matter %",
                "Bray P ppm",
                "K ppm",
                "Lime t/ac",
            ]
        ]
        rows += [
            [f"S{n}", f"Field {n}", f"6.{n}", f"6.{n + 2}", f"2.{n}", f"2{n}", f"14{n}", "1.5"]
            for n in range(1, 5)
        ]
        return _refused("soil-list.csv", delimited(rows).encode(), "CSV; a soil test, no forage")
    rows = [
        ["Animal", "Weight lb", "Sold on", "Price per cwt"],
        ["steer 14", "1180", "2025-09-03", "178.50"],
        ["heifer 2", "1044", "2025-09-03", "171.25"],
    ]
    return _refused("sale-list.csv", delimited(rows).encode(), "CSV; a list of cattle sold")


def bytes_only(rng: Random, variant: int) -> Made:
    if variant == 1:
        return _refused("no-book.xlsx", noise(7, 4096), "bytes of no kind named as a workbook")
    files = {"readme.txt": b"pictures of the barn", "barn.txt": b"nothing else"}
    return _refused("archive.xlsx", zipped(files), "a ZIP archive named as a workbook")


def wrong_end(rng: Random, variant: int) -> Made:
    lab = "Kestrel Point Laboratory"
    found = cast.samples(rng, 3, "KP{}")
    order = ["moisture", "cp", "adf", "ndf", "ca"]
    head = [
        "Lab no.",
        "Sample",
        "Sampled",
        "Moisture % as received",
        "Protein % dry",
        "ADF % dry",
        "NDF % dry",
        "Calcium % dry",
    ]
    rows = [head]
    for one in found:
        cells = [one.put(name) for name in order]
        rows.append([one.lab_no, one.id, one.sampled_on.isoformat(), *cells])
    if variant == 2:
        return made("wrong-end-2.xlsx", ods({"Tab": rows}), "ODS named as XLSX", lab, found)
    paper = Paper()
    paper.text(40, 50, lab, 12, "Helvetica-Bold")
    paper.table(
        40,
        80,
        (60, 140, 60, 70, 60, 50, 50, 60),
        [
            ["Lab no.", "Sample", "Sampled", "Moisture", "Protein", "ADF", "NDF", "Calcium"],
            ["", "", "", "% as rec.", "% dry", "% dry", "% dry", "% dry"],
            *rows[1:],
        ],
        16,
        8,
        bold=2,
    )
    return made("wrong-end-1.txt", paper.content(), "PDF named as text", lab, found)


def web_table(rng: Random, variant: int) -> Made:
    lab = "Meadowlark Spring Laboratory"
    found = cast.samples(rng, 3, "MS{}", reported=True)
    order = ["dm", "cp", "adf", "ndf", "tdn"]
    head = [
        "Lab no.",
        "Sample",
        "Sampled",
        "Reported",
        "DM % (as received)",
        "CP % (DM)",
        "ADF % (DM)",
        "NDF % (DM)",
        "TDN % (DM)",
    ]
    lines = ["<html><body><table border=1>", "<tr>" + "".join(f"<th>{w}</th>" for w in head)]
    for one in found:
        cells = [one.put(name) for name in order]
        row = [one.lab_no, one.id, one.sampled_on.isoformat(), one.reported_on.isoformat(), *cells]
        lines.append("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>")
    lines.append("</table></body></html>")
    return made(
        "web-table.xls",
        "\n".join(lines).encode(),
        "a web page named as a workbook",
        lab,
        found,
        "either",
    )


LAYOUTS = (locked, other_list, bytes_only, wrong_end)
SINGLE = (web_table,)
