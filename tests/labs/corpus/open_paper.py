"""Open set: PDFs with text."""

from __future__ import annotations

from random import Random

from . import cast
from .forage import WORDS
from .paper import LETTER, Paper
from .truth import Made, Sample, made


def two_panels(rng: Random, variant: int) -> Made:
    lab = "Bell Meadow Analytical"
    found = cast.samples(
        rng, variant, "BM-{}", received=True, reported=True, method="wet chemistry"
    )
    paper = Paper()
    left = [("cp", "Crude protein", "%"), ("adf", "Acid det. fiber", "%"),
            ("ndf", "Neutral det. fiber", "%"), ("lignin", "Lignin", "%"), ("ee", "Crude fat", "%"),
            ("ash", "Ash", "%"), ("nfc", "NFC", "%"), ("tdn", "TDN", "%")]  # fmt: skip
    right = [("ca", "Calcium", "%"), ("p", "Phosphorus", "%"), ("mg", "Magnesium", "%"),
             ("k", "Potassium", "%"), ("fe", "Iron", "ppm"), ("mn", "Manganese", "ppm"),
             ("zn", "Zinc", "ppm"), ("cu", "Copper", "ppm")]  # fmt: skip
    for place, one in enumerate(found):
        if place:
            paper.next_page()
        paper.text(60, 60, lab, 15, "Helvetica-Bold")
        facts = [("Sample", one.id), ("Lab number", one.lab_no), ("Forage", WORDS[one.forage.kind]),
                 ("Sampled", cast.us(one.sampled_on)), ("Received", cast.us(one.received_on)),
                 ("Reported", cast.us(one.reported_on)), ("Method", "wet chemistry")]  # fmt: skip
        for row, (word, fact) in enumerate(facts):
            paper.text(60, 90 + 14 * row, f"{word}:", 9, "Helvetica-Bold")
            paper.text(130, 90 + 14 * row, fact)
        paper.text(330, 90, f"Moisture as received: {one.put('moisture')} %")
        paper.text(330, 104, f"Dry matter: {one.put('dm')} %")
        rows = [[word, unit, one.put(name)] for name, word, unit in left]
        if variant == 2:
            rows[3] = ["Lignin", "% NDF", _of_ndf(one)]
        paper.table(60, 220, (120, 40, 70), [["Component", "Unit", "Dry basis"], *rows], lines=True)
        rows = [[word, unit, one.put(name)] for name, word, unit in right]
        paper.table(330, 220, (110, 40, 70), [["Mineral", "Unit", "Dry basis"], *rows], lines=True)
        rfv = one.put("rfv", times=1.3 if place else 1)
        if place:
            one.plant("index", ("rfv",), "RFV does not follow from ADF and NDF", "adf ndf")
        paper.text(60, 380, f"Relative feed value (RFV): {rfv}", 11, "Helvetica-Bold")
        paper.text(60, 740, "Results are for the sample submitted.", 7)
    return made(
        f"two-panels-{variant}.pdf", paper.content(), "PDF; two tables side by side", lab, found
    )


def _of_ndf(one: Sample) -> str:
    """Print lignin again as a share of the fiber, in place of that of the dry matter."""
    one.values = [value for value in one.values if value["analyte"] != "lignin"]
    return one.put("lignin", "pct", "ndf")


def across_pages(rng: Random, variant: int) -> Made:
    lab = "Quarry Street Forage Lab"
    found = cast.samples(rng, 7, "Q{}", received=True, reported=True)
    order = [("cp", "Protein", "%"), ("adf", "ADF", "%"), ("ndf", "NDF", "%"),
             ("ndfd30", "NDFD30", "% of NDF"), ("tdn", "TDN", "%"), ("nem", "NEm", "Mcal/cwt"),
             ("neg", "NEg", "Mcal/cwt"), ("ca", "Ca", "%"), ("p", "P", "%"), ("s", "S", "%"),
             ("rfv", "RFV", "")]  # fmt: skip
    paper = Paper()
    step = 4 if variant == 1 else 3
    pages = [found[at : at + step] for at in range(0, len(found), step)]
    for number, page in enumerate(pages, 1):
        if number > 1:
            paper.next_page()
        paper.text(50, 50, lab, 13, "Helvetica-Bold")
        paper.text(480, 50, f"page {number} of {len(pages)}", 8)
        paper.text(50, 68, "Values of dry matter, except dry matter itself (as received).", 8)
        rows = [["Sample", "", *(one.id for one in page)],
                ["Lab no.", "", *(one.lab_no for one in page)],
                ["Sampled", "", *(cast.dashed(one.sampled_on) for one in page)],
                ["Received", "", *(cast.dashed(one.received_on) for one in page)],
                ["Reported", "", *(cast.dashed(one.reported_on) for one in page)],
                ["Dry matter", "%", *(one.put("dm") for one in page)]]  # fmt: skip
        for name, word, unit in order:
            at = "mcal_per_cwt" if "cwt" in unit else "usual"
            rows.append([word, unit, *(one.put(name, at) for one in page)])
        paper.table(50, 95, (80, 60, *[122] * len(page)) if step == 3 else
                    (66, 50, *[104] * len(page)), rows, step=16, size=7)  # fmt: skip
    return made(
        f"across-pages-{variant}.pdf",
        paper.content(),
        "PDF; samples across, next samples "
        "on next pages under the same heading, energy per hundredweight",
        lab,
        found,
    )


def turned_page(rng: Random, variant: int) -> Made:
    lab = "Millrace Hay Laboratory"
    found = cast.samples(rng, 9, "{}", first=rng.randrange(20100, 20900), reported=True)
    paper = Paper((LETTER[1], LETTER[0]), turned=True)
    order = ["dm", "cp", "adf", "ndf", "tdn", "nel", "nitrate_no3n", "rfv"]
    paper.text(40, 40, lab, 13, "Helvetica-Bold")
    unit = "NO3-N, ppm" if variant == 1 else "NO3-N, %"
    head = ["Sample", "Lab no.", "Sampled", "Reported", "DM, %", "CP, %", "ADF, %", "NDF, %",
            "TDN, %", "NEl, Mcal/lb", unit, "RFV"]  # fmt: skip
    rows = []
    for one in found:
        cells = [
            one.put(name, "pct") if name.startswith("nitrate") and variant == 2 else one.put(name)
            for name in order
        ]
        rows.append([one.id, one.lab_no, one.sampled_on.isoformat(), one.reported_on.isoformat(),
                     *cells])  # fmt: skip
    widths = (125, 50, 60, 60, 42, 42, 46, 46, 46, 70, 64, 36)
    below = paper.table(40, 80, widths, [head, *rows], 18, 8, lines=True)
    paper.text(
        40, below + 12, "DM: dry matter as received. All other columns: dry matter basis.", 8
    )
    return made(
        f"turned-page-{variant}.pdf",
        paper.content(),
        "PDF; page turned a quarter, a row a sample, basis below the table",
        lab,
        found,
    )


def odd_order(rng: Random, variant: int) -> Made:
    lab = "Foxglove Bench Tests"
    found = cast.samples(rng, 2, "FG{}", reported=True, method="NIR")
    paper = Paper()
    font = paper.ligatures()
    order = [("cp", "Crude protein"), ("adf", "Acid detergent \ufb01ber"),
             ("ndf", "Neutral detergent \ufb01ber"), ("tdn", "TDN"), ("ca", "Calcium"),
             ("p", "Phosphorus")]  # fmt: skip
    for place, one in enumerate(found):
        if place:
            paper.next_page()
        left = [word for _, word in order]
        wet = [one.put(name, basis="ar") for name, _ in order]
        dry = [one.put(name) for name, _ in order]
        down = range(len(order) - 1, -1, -1) if variant == 1 else range(len(order))
        for words, x in ((dry, 480), (wet, 380)):
            for row in down:
                paper.text(x, 260 + 18 * row, words[row], 10, font, "right")
        paper.text(60, 348 + 40, f"Moisture, as received: {one.put('moisture')} %", 10, font)
        paper.text(60, 348 + 58, f"Relative feed value: {one.put('rfv')}", 10, font)
        for row in down:
            paper.text(60, 260 + 18 * row, left[row], 10, font)
            paper.text(290, 260 + 18 * row, "%", 10, font)
        paper.text(480, 238, "Dry matter", 10, font, "right")
        paper.text(380, 238, "As received", 10, font, "right")
        paper.text(60, 238, "Analysis", 10, font)
        paper.text(290, 238, "Unit", 10, font)
        paper.text(60, 190, f"Analyzed by NIR. Reported {cast.worded(one.reported_on)}", 9, font)
        paper.text(60, 160, f"Sampled {cast.worded(one.sampled_on)}", 9, font)
        paper.text(60, 144, f"Lab no. {one.lab_no}", 9, font)
        paper.text(60, 128, f"Sample: {one.id}", 9, font)
        paper.text(60, 90, lab, 16, font)
    return made(
        f"odd-order-{variant}.pdf",
        paper.content(),
        "PDF; text drawn column by column from the bottom up, joined letters",
        lab,
        found,
    )


LAYOUTS = (two_panels, across_pages, turned_page, odd_order)
