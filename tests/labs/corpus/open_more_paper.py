"""Open set: more ways in which pages of PDF are laid out, each in a few lines."""

from __future__ import annotations

from random import Random

from . import cast
from .open_more_text import MAIN, WORDS
from .paper import Paper
from .truth import Made, made


def labels_over_values(rng: Random, variant: int) -> Made:
    """Boxes with a label in small print over its value."""
    one = cast.samples(rng, 1, "LV{}", reported=True)[0]
    page = Paper()
    page.text(50, 40, "Meadow End Analysis", 14)
    heads = [("Sample", one.id), ("Lab number", one.lab_no),
             ("Sampled", cast.worded(one.sampled_on)),
             ("Reported", cast.worded(one.reported_on))]  # fmt: skip
    for place, (label, value) in enumerate(heads):
        page.text(50 + 130 * place, 70, label, 7)
        page.text(50 + 130 * place, 82, value, 10)
    page.text(50, 110, "Percent of dry matter; moisture percent as received", 9)
    for place, name in enumerate(("moisture", *MAIN, "k", "rfv")):
        x, y = 50 + 130 * (place % 4), 140 + 45 * (place // 4)
        page.text(x, y, WORDS[name], 7)
        page.text(x, y + 14, one.put(name), 12)
        for dx in (-4, 122):
            page.line(x + dx, y - 10, x + dx, y + 20)
        for dy in (-10, 20):
            page.line(x - 4, y + dy, x + 122, y + dy)
    return made(f"labels-over-values-{variant}.pdf", page.content(), "PDF; labels over values", "",
                [one])  # fmt: skip


def columns_of_samples(rng: Random, variant: int) -> Made:
    """Samples side by side, over two pages, with a column of units."""
    found = cast.samples(rng, 4, "CS{}")
    page = Paper()
    for part in (MAIN[:3], MAIN[3:]):
        rows = [["Lab no.", "", *(one.lab_no for one in found)],
                ["Sample", "", *(one.id.split(",")[0] for one in found)]]  # fmt: skip
        if part is not MAIN[3:] and part[0] == "cp":
            rows.append(["Moisture", "% as fed", *(one.put("moisture") for one in found)])
        rows += [[WORDS[name], "% DM", *(one.put(name) for one in found)] for name in part]
        page.text(40, 40, "Comparison of samples", 12)
        page.table(40, 80, [70, 60, 105, 105, 105, 105], rows, size=8)
        page.next_page()
    for one in found:
        one.more["id_also"] = [one.id.split(",")[0]]
        one.sampled_on = None
    return made(f"columns-of-samples-{variant}.pdf", page.content(),
                "PDF; samples side by side over two pages", "", found)  # fmt: skip


def dots_in_columns(rng: Random, variant: int) -> Made:
    """Two columns of labels with leaders to their values."""
    one = cast.samples(rng, 1, "DC{}")[0]
    page = Paper()
    page.text(50, 50, "Hay analysis (100% dry matter basis)", 12)
    page.text(50, 70, f"Sample ID: {one.id}")
    page.text(320, 70, f"Lab ID: {one.lab_no}")
    page.text(50, 84, f"Date sampled: {cast.us(one.sampled_on)}")
    one.more["meta_any"] = ["sampled_on"]
    names = ("cp", "adf", "ndf", "tdn", "ca", "p", "k", "mg", "zn", "fe")
    for place, name in enumerate(names):
        x, y = 50 + 270 * (place // 5), 110 + 14 * (place % 5)
        value = one.put(name)
        unit = "ppm" if name in ("zn", "fe") else "%"
        page.text(x, y, f"{WORDS[name]} {'.' * (50 - len(WORDS[name]))} {value} {unit}")
    page.text(50, 200, f"Moisture as received {'.' * 30} {one.put('moisture')} %")
    return made(f"dots-in-columns-{variant}.pdf", page.content(), "PDF; two columns with leaders",
                "", [one])  # fmt: skip


def slanted_heads(rng: Random, variant: int) -> Made:
    """Headings that run upward at an angle."""
    found = cast.samples(rng, 5, "SH{}")
    page = Paper()
    names = ("dm", "cp", "adf", "ndf", "ca")
    words = ["Dry matter, % as received", *(f"{WORDS[name]}, % DM" for name in names[1:])]
    page.text(50, 200, "Lab no.")
    page.text(110, 200, "Sample")
    for place, word in enumerate(words):
        page.canvas.saveState()
        page.canvas.translate(285 + 50 * place, page.height - 200)
        page.canvas.rotate(45 if variant == 1 else 60)
        page.canvas.setFont("Helvetica", 8)
        page.canvas.drawString(0, 0, word)
        page.canvas.restoreState()
    for down, one in enumerate(found):
        y = 216 + 14 * down
        page.text(50, y, one.lab_no)
        page.text(110, y, one.id)
        for place, name in enumerate(names):
            page.text(300 + 50 * place, y, one.put(name), align="right")
        one.sampled_on = None
    return made(f"slanted-heads-{variant}.pdf", page.content(), "PDF; slanted headings", "", found)


def goals_and_bars(rng: Random, variant: int) -> Made:
    """A goal, last year's result and the words of a bar beside each value."""
    one = cast.samples(rng, 1, "GB{}")[0]
    page = Paper()
    page.text(40, 40, "Results for " + one.id + ", lab no. " + one.lab_no, 12)
    page.text(40, 56, f"Sampled {cast.worded(one.sampled_on)}")
    rows = [["", "As", "Dry", "", "Last", "Low", "Good", "High"],
            ["Test", "received", "matter", "Goal", "year", "", "", ""]]  # fmt: skip
    rows.append(["Moisture, %", one.put("moisture"), None, "< 15", "13.1", None, "===", None])
    for name in ("cp", "adf", "ndf", "ca", "p"):
        wet = one.put(name, basis="ar")
        dry = one.put(name)
        last = f"{float(dry) * 1.07:.2f}"
        rows.append([f"{WORDS[name]}, %", wet, dry, "10 - 14", last, "==", "====", None])
    page.table(40, 80, [110, 60, 60, 60, 60, 50, 50, 50], rows)
    return made(f"goals-and-bars-{variant}.pdf", page.content(), "PDF; goals, last year and bars",
                "", [one], not_samples=["Last year"])  # fmt: skip


def upside_page(rng: Random, variant: int) -> Made:
    """A turned page with a table of lines."""
    found = cast.samples(rng, 3, "UP{}")
    page = Paper(turned=True)
    rows = [["Lab", "Sample", "DM % AR", "CP % DM", "ADF % DM", "NDF % DM"]]
    for one in found:
        rows.append([one.lab_no, one.id, *(one.put(n) for n in ("dm", "cp", "adf", "ndf"))])
        one.sampled_on = None
    page.table(40, 60, [60, 170, 60, 60, 60, 60], rows)
    return made(f"upside-page-{variant}.pdf", page.content(), "PDF; turned page", "", found)


LAYOUTS = ()
SINGLE = (
    labels_over_values, columns_of_samples, dots_in_columns, slanted_heads, goals_and_bars,
    upside_page,
)  # fmt: skip
