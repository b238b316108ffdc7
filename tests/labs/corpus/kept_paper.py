"""Kept set: PDFs with text."""

from __future__ import annotations

from random import Random

from . import cast
from .forage import WORDS
from .paper import LETTER, Paper
from .truth import Made, Sample, made, usual_places, usual_unit


def two_to_a_page(rng: Random, variant: int) -> Made:
    lab = "Chicory Brook Laboratory"
    found = cast.samples(rng, 4 if variant == 1 else 3, "CB/{}", reported=True)
    paper = Paper()
    for place, one in enumerate(found):
        if place and place % 2 == 0:
            paper.next_page()
        if place % 2 == 0:
            paper.text(306, 45, lab, 13, "Helvetica-Bold", "center")
        _half(paper, 40 + 285 * (place % 2), one)
    return made(
        f"two-to-a-page-{variant}.pdf",
        paper.content(),
        "PDF; two samples beside each other on a page",
        lab,
        found,
    )


def _half(paper: Paper, x: float, one: Sample) -> None:
    for row, (word, fact) in enumerate(
        (("Sample", one.id), ("Lab no.", one.lab_no), ("Sampled", cast.worded(one.sampled_on)),
         ("Reported", cast.worded(one.reported_on)))
    ):  # fmt: skip
        paper.text(x, 90 + 13 * row, word, 8, "Helvetica-Bold")
        paper.text(x + 55, 90 + 13 * row, fact or "", 8)
    rows = [["Item", "Unit", "Dry", "As rec."], ["Moisture", "%", "", one.put("moisture")]]
    for name, word, unit in (
        ("cp", "Protein", "%"), ("soluble_cp", "Soluble protein", "% CP"), ("adf", "ADF", "%"),
        ("ndf", "NDF", "%"), ("tdn", "TDN", "%"), ("nel", "NE lact.", "Mcal/lb"), ("ca", "Ca", "%"),
        ("p", "P", "%"),
    ):  # fmt: skip
        dry = one.put(name)
        wet = "" if name == "soluble_cp" else one.put(name, basis="ar")
        rows.append([word, unit, dry, wet])
    paper.table(x, 165, (85, 50, 55, 55), rows, lines=True)


def year_column(rng: Random, variant: int) -> Made:
    lab = "Elderberry Ridge Testing"
    found = cast.samples(rng, 1, "ER{}", received=True, reported=True, method="NIR")
    one = found[0]
    last = cast.draw(rng, one.forage.kind)
    paper = Paper()
    paper.text(50, 50, lab, 14, "Helvetica-Bold")
    facts = (f"Sample: {one.id}", f"Laboratory number: {one.lab_no}",
             f"Forage: {WORDS[one.forage.kind]}", f"Sampled {cast.dashed(one.sampled_on)}",
             f"Received {cast.dashed(one.received_on)}", f"Reported {cast.dashed(one.reported_on)}",
             "Method: NIR")  # fmt: skip
    for row, fact in enumerate(facts):
        paper.text(50 + 260 * (row % 2), 75 + 13 * (row // 2), fact)
    rows = [["", "Units", "Dry matter", "As received", "Your last", "Average of"],
            ["", "", "basis", "basis", "sample, dry", "region, dry"],
            ["Dry matter", "%", "", one.put("dm"), "", ""]]  # fmt: skip
    order = [("cp", "Crude protein", "%"), ("adf", "ADF", "%"), ("ndf", "NDF", "%"),
             ("starch", "Starch", "%"), ("esc", "Sugar (ESC)", "%"), ("ash", "Ash", "%"),
             ("mg", "Magnesium", "%"), ("nem", "NE maintenance", "Mcal/lb")]  # fmt: skip
    for name, word, unit in order:
        dry, wet = one.put(name), one.put(name, basis="ar")
        places = len(dry.partition(".")[2])
        was = last.dry[name] / (2.20462 if name == "nem" else 1)
        rows.append([word, unit, dry, wet, f"{was:.{places}f}", f"{was * 0.96:.{places}f}"])
    was = last.value("adicp", "cp")
    rows.append(["ADICP", "% of CP", one.put("adicp", "pct", "cp"), "", f"{was:.1f}", "8.4"])
    rows.append(["RFV", "", one.put("rfv"), "", f"{last.dry['rfv']:.0f}", "108"])
    if variant == 1:
        paper.table(50, 160, (110, 55, 85, 85, 85, 85), rows, 16, bold=2, lines=True)
    else:
        order_of = [0, 1, 3, 4, 5, 2]
        turned = [[row[place] for place in order_of] for row in rows]
        paper.table(50, 160, (110, 55, 85, 85, 85, 85), turned, 16, bold=2, lines=True)
    return made(
        f"year-column-{variant}.pdf",
        paper.content(),
        "PDF; last sample and a regional average beside both bases, heading on two lines",
        lab,
        found,
        not_samples=["Your last sample", "Average of region"],
    )


def joined_letter(rng: Random, variant: int) -> Made:
    lab = "Loganberry Farm Laboratory (invented)"
    found = cast.samples(rng, 1, "LF-{}")
    one = found[0]
    paper = Paper()
    font = paper.ligatures()
    nitrate = one.put("nitrate_no3n") if variant == 1 else one.put("nitrate_no3")
    form = "nitrate-nitrogen" if variant == 1 else "nitrate (NO3)"
    lines = [lab, "", f"Re: sample {one.id}, laboratory number {one.lab_no}",
             f"Taken on {cast.worded(one.sampled_on)}", "",
             f"We found {one.put('moisture')} percent moisture in the sample as received.",
             f"On a dry matter basis, crude protein is {one.put('cp')} percent, acid",
             f"detergent \ufb01ber {one.put('adf')} percent and neutral detergent \ufb01ber",
             f"{one.put('ndf')} percent.",
             f"The dry matter holds {nitrate} ppm {form}.", "",
             "Levels that are dif\ufb01cult for stock depend on the diet: ask your extension",
             "of\ufb01ce before you feed forage with nitrate."]  # fmt: skip
    for row, line in enumerate(lines):
        paper.text(70, 90 + 16 * row, line, 10, font)
    return made(
        f"joined-letter-{variant}.pdf",
        paper.content(),
        "PDF; a letter in sentences with joined letters",
        lab,
        found,
    )


def upright_heads(rng: Random, variant: int) -> Made:
    lab = "Tamarack Swale Survey"
    found = cast.samples(rng, 12, "{}", first=rng.randrange(801, 860))
    paper = Paper((LETTER[1], LETTER[0]))
    order = ["moisture", "cp", "adf", "ndf", "ca", "p", "k", "zn"]
    words = ["Moisture, % as received", "Crude protein, % DM", "ADF, % DM", "NDF, % DM",
             "Calcium, % DM", "Phosphorus, % DM", "Potassium, % DM", "Zinc, ppm DM"]  # fmt: skip
    paper.text(40, 40, lab, 13, "Helvetica-Bold")
    paper.text(40, 200, "Lab no.", 8)
    paper.text(90, 200, "Sample", 8)
    paper.text(240, 200, "Sampled", 8)
    step = 45
    for place, word in enumerate(words):
        paper.upright(322 + step * place, 200, word)
    sums = [0.0] * len(order)
    for row, one in enumerate(found):
        y = 222 + 20 * row
        paper.text(40, y, one.lab_no or "", 8)
        paper.text(90, y, one.id or "", 8)
        paper.text(240, y, one.sampled_on.isoformat() if one.sampled_on else "", 8)
        for place, name in enumerate(order):
            if name == "zn" and row == 4 and variant == 2:
                text = one.below("zn", "15")
            else:
                text = one.put(name)
            sums[place] += one.forage.value(name, "dm")
            paper.text(330 + step * place, y, text, 8, align="right")
        paper.line(40, y + 5, 740, y + 5)
    y += 26
    paper.text(90, y, "Mean of 12", 8, "Helvetica-Bold")
    for place, name in enumerate(order):
        places = usual_places(name, usual_unit(name))
        paper.text(330 + step * place, y, f"{sums[place] / 12:.{places}f}", 8, align="right")
    return made(
        f"upright-heads-{variant}.pdf",
        paper.content(),
        "PDF; headings that run upward, a row a sample, means below",
        lab,
        found,
        not_samples=["Mean of 12"],
    )


def dotted_leaders(rng: Random, variant: int) -> Made:
    lab = "Hawthorn & Quill Laboratory"
    kinds = ("legume_grass", "alfalfa")
    found = cast.samples(rng, 2, "HQ{}", kinds=kinds, reported=True)
    paper = Paper()
    order = [("cp", "Protein (crude)"), ("adf", "ADF"), ("ndf", "NDF (amylase)"), ("tdn", "TDN"),
             ("ca", "Calcium"), ("p", "Phosphorus"), ("k", "Potassium")]  # fmt: skip
    y = 60.0
    paper.text(60, y, lab, 13, "Times-Bold")
    paper.text(60, y + 16, "Percent of dry matter, unless noted", 8, "Times-Roman")
    for place, one in enumerate(found):
        y = 110.0 + 290 * place
        if variant == 2 and place:
            paper.next_page()
            y = 110.0
        paper.text(60, y, f"{one.id}  (lab no. {one.lab_no})", 11, "Times-Bold")
        paper.text(60, y + 15, f"sampled {cast.worded(one.sampled_on)}, reported "
                   f"{cast.worded(one.reported_on)}", 9, "Times-Roman")  # fmt: skip
        lines = [("Dry matter, as received", one.put("dm") + " %")]
        fault = variant == 1 and place == 1
        for name, word in order:
            swap = {"ca": "p", "p": "ca"}.get(name) if fault else None
            number = one.forage.dry[swap] if swap else None
            lines.append((word, one.put(name, number=number) + " %"))
        lines.append(("Relative feed value", one.put("rfv")))
        if fault:
            one.plant("swapped", ("ca", "p"), "calcium and phosphorus exchanged")
        for row, (word, figure) in enumerate(lines):
            dots = "." * int((300 - 5.2 * len(word)) / 2.6)
            paper.text(60, y + 36 + 15 * row, f"{word} {dots}", 10, "Times-Roman")
            paper.text(440, y + 36 + 15 * row, figure, 10, "Times-Roman", "right")
    return made(
        f"dotted-leaders-{variant}.pdf",
        paper.content(),
        "PDF; names, dots and figures, blocks below each other",
        lab,
        found,
    )


def continued(rng: Random, variant: int) -> Made:
    lab = "Ironwood Hollow Laboratory"
    found = cast.samples(rng, variant, "IH{}", received=True, reported=True)
    order = [("cp", "Crude protein", "%"), ("ndicp", "NDICP", "%"), ("adf", "ADF", "%"),
             ("ndf", "aNDF", "%"), ("lignin", "Lignin", "%"), ("ee", "Fat", "%"),
             ("ash", "Ash", "%"), ("starch", "Starch", "%"), ("wsc", "WSC", "%"),
             ("nfc", "NFC", "%"), ("tdn", "TDN", "%"), ("nel", "NEL", "Mcal/lb"),
             ("nem", "NEM", "Mcal/lb"), ("neg", "NEG", "Mcal/lb"), ("ca", "Calcium", "%"),
             ("p", "Phosphorus", "%"), ("mg", "Magnesium", "%"), ("k", "Potassium", "%"),
             ("s", "Sulfur", "%"), ("fe", "Iron", "ppm"), ("mn", "Manganese", "ppm"),
             ("zn", "Zinc", "ppm"), ("cu", "Copper", "ppm"),
             ("mo", "Molybdenum", "ppm")]  # fmt: skip
    paper = Paper((420.0, 380.0))
    for place, one in enumerate(found):
        rows = [["Dry matter", "%", one.put("dm"), ""]]
        for name, word, unit in order:
            rows.append([word, unit, one.put(name, basis="ar"), one.put(name)])
        for half, part in enumerate((rows[:13], rows[13:])):
            if place or half:
                paper.next_page()
            _heading(paper, lab, one, half)
            head = ["", "Unit", "As received", "Dry matter"]
            paper.table(40, 90, (130, 60, 80, 80), [head, *part], lines=True)
    return made(
        f"continued-{variant}.pdf",
        paper.content(),
        "PDF; one sample over two small pages, heading repeated, dates on the first alone",
        lab,
        found,
    )


def _heading(paper: Paper, lab: str, one: Sample, half: int) -> None:
    paper.text(40, 34, lab, 11, "Helvetica-Bold")
    more = " (continued)" if half else ""
    paper.text(40, 50, f"Sample {one.id}, lab no. {one.lab_no}{more}", 9)
    if not half:
        days = [cast.dashed(day) for day in (one.sampled_on, one.received_on, one.reported_on)]
        line = f"Sampled {days[0]}   Received {days[1]}   Reported {days[2]}"
        paper.text(40, 64, line, 8)


LAYOUTS = (two_to_a_page, year_column, joined_letter, upright_heads, dotted_leaders, continued)
