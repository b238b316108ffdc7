"""Open set: more ways in which text is laid out, each in a few lines."""

from __future__ import annotations

from random import Random

from . import cast
from .truth import Made, Sample, made
from .writers import columns, delimited

MAIN = ("cp", "adf", "ndf", "tdn", "ca", "p")
WORDS = {
    "dm": "Dry matter", "moisture": "Moisture", "cp": "Crude protein", "adf": "ADF",
    "ndf": "NDF", "tdn": "TDN", "ca": "Calcium", "p": "Phosphorus", "k": "Potassium",
    "mg": "Magnesium", "zn": "Zinc", "cu": "Copper", "nem": "NEm", "neg": "NEg", "rfv": "RFV",
    "ash": "Ash", "ee": "Fat", "starch": "Starch", "lignin": "Lignin", "fe": "Iron",
}  # fmt: skip


def pairs_in_cells(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "P{}", reported=True)
    lines = []
    for one in found:
        cells = [f"{one.put('dm')} %"]
        for name in MAIN:
            wet = one.put(name, basis="ar")
            cells.append(f"{wet} / {one.put(name)}")
        lines.append([one.lab_no, one.id, *cells])
    text = delimited(
        [["Each cell: as received / dry matter basis, in percent"],
         ["Lab no", "Sample", "DM", *(WORDS[name] for name in MAIN)], *lines],
    )  # fmt: skip
    for one in found:
        one.reported_on = None
    return made(f"pairs-in-cells-{variant}.csv", text.encode(), "both bases in one cell",
                "", found)  # fmt: skip


def lab_and_name(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "{}")
    parts = []
    for one in found:
        lines = [f"Lab {one.lab_no}   {one.id}   {cast.us(one.sampled_on)}", ""]
        one.sampled_on = None
        lines.append(f"  Moisture            {one.put('moisture'):>8}  % as fed")
        lines += [f"  {WORDS[name]:<18}  {one.put(name):>8}  % DM" for name in MAIN]
        parts.append("\n".join(lines))
    for one in found:
        one.more["meta_any"] = ["sampled_on", "received_on", "reported_on"]
    return made(f"lab-and-name-{variant}.txt", "\n\n\n".join(parts).encode(),
                "number and name on a line over the values", "", found)  # fmt: skip


def result_columns(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "R-{}", sampled=True)
    rows = [["SampleID", "LabID", "Collected", "Test", "Result As Fed", "Result DM", "Units"]]
    for one in found:
        rows.append([one.id, one.lab_no, one.sampled_on.isoformat(), "Dry matter",
                     one.put("dm"), "100", "%"])  # fmt: skip
        for name in MAIN:
            wet = one.put(name, basis="ar")
            rows.append([one.id, one.lab_no, one.sampled_on.isoformat(), WORDS[name], wet,
                         one.put(name), "%"])  # fmt: skip
    return made(f"result-columns-{variant}.csv", delimited(rows).encode(),
                "long, a column of results for each basis", "", found)  # fmt: skip


def cards(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "C{}")
    parts = ["Results are percent of dry matter except moisture (as received).\n"]
    for one in found:
        names = ("moisture", *MAIN)
        values = [one.put(name) for name in names]
        parts.append(f"Sample: {one.id}      Lab No: {one.lab_no}      Sampled: "
                     f"{one.sampled_on.isoformat()}")  # fmt: skip
        parts.append(columns([[WORDS[name] for name in names], values], [14] * 7))
    return made(f"cards-{variant}.txt", "\n".join(parts).encode(),
                "a small table of one row for each sample", "", found)  # fmt: skip


def letter_marks(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 4, "{}")
    rows = [["No.", "Sample", "DM (a)", "CP (b)", "ADF (b)", "NDF (b)", "Ca (b)", "Zn (c)"]]
    for one in found:
        cells = [one.put(name) for name in ("dm", "cp", "adf", "ndf", "ca", "zn")]
        rows.append([one.lab_no, one.id, *cells])
    text = columns(rows, [8, 28, 8, 8, 8, 8, 8, 8], range(2, 8))
    text += "\n(a) % as received   (b) % of dry matter   (c) mg per kg of dry matter\n"
    return made(f"letter-marks-{variant}.txt", text.encode(), "units in footnotes", "", found)


def limits_beside(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 2, "D{}", reported=True, method=None)
    parts = []
    for one in found:
        rows = [["Analyte", "Result", "Unit", "Basis", "Reporting limit", "Method"]]
        rows.append(["Dry matter", one.put("dm"), "%", "as received", "0.1", "oven 105 C"])
        for name, limit in (("cp", "0.2"), ("adf", "0.5"), ("ndf", "0.5"), ("ca", "0.01")):
            rows.append([WORDS[name], one.put(name), "%", "dry matter", limit, "NIR"])
        rows.append(["Copper", one.below("cu", "1.0"), "mg/kg", "dry matter", "1.0", "ICP"])
        for value in one.values:
            value["method"] = None
        one.more["meta_any"] = ["method"]
        head = [["Sample ID", one.id], ["Lab ID", one.lab_no],
                ["Sampled", cast.worded(one.sampled_on)],
                ["Reported", cast.worded(one.reported_on)]]  # fmt: skip
        parts.append(delimited([*head, [], *rows]))
    return made(f"limits-beside-{variant}.csv", "\n".join(parts).encode(),
                "reporting limit and method beside the result", "", found)  # fmt: skip


def last_and_target(rng: Random, variant: int) -> Made:
    one = cast.samples(rng, 1, "T{}", sampled=True)[0]
    names = ("cp", "adf", "ndf", "tdn", "ca", "p", "k")
    rows = [["", "This year", "Last year", "Target", "Typical", ""]]
    rows.append(["Dry matter, % as received", one.put("dm"), "85.0", "> 85", "86", "*****"])
    for name in names:
        value = one.put(name)
        rows.append([f"{WORDS[name]}, % of DM", value, f"{float(value) * 0.9:.2f}",
                     f"{float(value) * 1.1:.1f}", f"{float(value) * 0.95:.1f}",
                     "*" * rng.randint(1, 9)])  # fmt: skip
    text = f"Hay field: {one.id}     Lab number: {one.lab_no}     Sampled: "
    text += f"{cast.worded(one.sampled_on)}\n\n" + columns(rows, [28, 11, 11, 9, 9, 9],
                                                            range(1, 5))  # fmt: skip
    return made(f"last-and-target-{variant}.txt", text.encode(),
                "last year, target, typical and bars beside the result", "", [one],
                not_samples=["Last year", "Target", "Typical"])  # fmt: skip


def bilingual(rng: Random, variant: int) -> Made:
    one = cast.samples(rng, 1, "Z{}", sampled=True)[0]
    names = {
        "cp": "Crude protein / Protéine brute", "adf": "ADF / Fibre ADF",
        "ndf": "NDF / Fibre NDF", "ca": "Calcium / Calcium (Ca)",
        "p": "Phosphorus / Phosphore (P)", "k": "Potassium / Potassium (K)",
        "ash": "Ash / Cendres",
    }  # fmt: skip
    rows = [["Sample / Échantillon:", one.id], ["Lab no. / N° de laboratoire:", one.lab_no],
            ["Sampled / Prélevé le:", one.sampled_on.isoformat()], [],
            ["Test / Analyse", "Result / Résultat", "Unit / Unité"],
            ["Dry matter / Matière sèche", one.put("dm"), "% as received / brut"]]  # fmt: skip
    rows += [[words, one.put(name), "% DM / MS"] for name, words in names.items()]
    return made(f"bilingual-{variant}.csv", delimited(rows, ";").encode(),
                "labels in two languages", "", [one])  # fmt: skip


def comma_columns(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 4, "K{}")
    rows = [["Nr.", "Probe / Sample", "Sampled", "DM %", "CP", "ADF", "NDF", "NEL"],
            ["", "", "", "(fresh)", "g/kg DM", "g/kg DM", "g/kg DM", "MJ/kg DM"]]  # fmt: skip
    for one in found:
        cells = [one.put("dm", comma=True)]
        cells += [one.put(name, "g_per_kg", comma=True, places=1) for name in ("cp", "adf", "ndf")]
        cells.append(one.put("nel", "mj_per_kg", comma=True))
        rows.append([one.lab_no, one.id, cast.dotted(one.sampled_on), *cells])
    text = columns(rows, [8, 28, 11, 8, 9, 9, 9, 9], range(3, 8))
    return made(f"comma-columns-{variant}.txt", text.encode("cp1252"),
                "fixed width, decimal comma", "", found)  # fmt: skip


def one_line_each(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "L{}")
    lines = ["Hello, here are your hay results (all dry basis except moisture):", ""]
    for one in found:
        values = ", ".join(f"{WORDS[name]} {one.put(name)}%" for name in ("moisture", *MAIN))
        lines += [f"{one.id} (lab {one.lab_no}): {values}", ""]
        one.sampled_on = None
    return made(f"one-line-each-{variant}.txt", "\n".join(lines).encode(),
                "a line of values for each sample", "", found)  # fmt: skip


def markdown(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "M{}")
    lines = ["| Lab no | Sample | Sampled | DM % | CP % DM | ADF % DM | NDF % DM | RFV |",
             "|---|---|---|---:|---:|---:|---:|---:|"]  # fmt: skip
    for one in found:
        cells = [one.put(name) for name in ("dm", "cp", "adf", "ndf", "rfv")]
        lines.append("| " + " | ".join([one.lab_no, one.id, one.sampled_on.isoformat(), *cells])
                     + " |")  # fmt: skip
    return made(f"markdown-{variant}.txt", "\n".join(lines).encode(), "a table of bars", "", found)


def header_again(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 6, "H{}")
    head = ["Lab No", "Client ID", "DM", "CP", "ADF", "NDF", "Ca", "P"]
    units = ["", "", "% AR", "% DM", "% DM", "% DM", "% DM", "% DM"]
    rows = []
    for place, one in enumerate(found):
        if place % 3 == 0:
            rows += [[f"Forage report page {place // 3 + 1}"], [], head, units]
        cells = [one.put(name) for name in ("dm", "cp", "adf", "ndf", "ca", "p")]
        rows.append([one.lab_no, one.id, *cells])
    for one in found:
        one.sampled_on = None
    return made(f"header-again-{variant}.csv", delimited(rows).encode(),
                "headings again on every page", "", found)  # fmt: skip


def flags_behind(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 4, "F{}")
    rows = [["lab", "sample", "moisture", "crude protein", "adf", "ndf", "potassium", "iron"],
            ["", "", "% as fed", "% dm", "% dm", "% dm", "% dm", "ppm dm"]]  # fmt: skip
    for one in found:
        cells = [one.put("moisture") + " %"]
        cells += [one.put(name) + rng.choice((" H", " L", "", " *")) for name in
                  ("cp", "adf", "ndf", "k")]  # fmt: skip
        cells.append(one.put("fe") + rng.choice((" H", "")))
        rows.append([one.lab_no, one.id, *cells])
        one.sampled_on = None
    text = delimited(rows, "\t") + "\nH high, L low for hay; * repeated\n"
    return made(f"flags-behind-{variant}.tsv", text.encode("utf-16"), "flags, UTF-16",
                "", found)  # fmt: skip


def bullets(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 2, "N{}")
    lines = ["Good morning,", "", "your results are in:", ""]
    for one in found:
        lines += [f"Sample {one.id}, lab no. {one.lab_no}", f"- Dry matter: {one.put('dm')}%"]
        for name in MAIN:
            dry = one.put(name)
            lines.append(f"- {WORDS[name]}: {dry}% DM ({one.put(name, basis='ar')}% as fed)")
        lines += [f"- RFV: {one.put('rfv')}", ""]
        one.sampled_on = None
    return made(f"bullets-{variant}.txt", "\n".join(lines).encode(),
                "a list with both bases in a line", "", found)  # fmt: skip


def bars_in_line(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "V{}")
    lines = []
    for one in found:
        cells = [f"{name.upper()} {one.put(name)}%" for name in ("cp", "adf", "ndf", "ca", "p")]
        lines += [f"{one.lab_no} {one.id}", f"DM {one.put('dm')}% as received",
                  " | ".join(cells) + " (dry basis)", ""]  # fmt: skip
        one.sampled_on = None
    return made(f"bars-in-line-{variant}.txt", "\n".join(lines).encode(),
                "values of a sample on one line", "", found)  # fmt: skip


def two_line_heads(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 5, "{}")
    rows = [["Lab", "Field", "Dry", "Crude", "Acid Det.", "Neut. Det.", "Net En.", "Net En."],
            ["Number", "Name", "Matter", "Protein", "Fiber", "Fiber", "Maint.", "Gain"],
            ["", "", "%", "% DM", "% DM", "% DM", "Mcal/lb", "Mcal/lb"]]  # fmt: skip
    for one in found:
        cells = [one.put(name) for name in ("dm", "cp", "adf", "ndf", "nem", "neg")]
        rows.append([one.lab_no, one.id, *cells])
        one.sampled_on = None
    text = "Energies and fiber on dry matter basis\n\n"
    text += columns(rows, [8, 28, 8, 9, 11, 11, 9, 9], range(2, 8))
    return made(f"two-line-heads-{variant}.txt", text.encode(), "headings on three lines", "",
                found)  # fmt: skip


def triples(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 4, "X{}")
    names = ("cp", "adf", "ndf", "ca")
    head = ["lab_id", "sample_id", "dm_pct"]
    for name in names:
        head += [name, f"{name}_unit", f"{name}_basis"]
    rows = [head]
    for one in found:
        row = [one.lab_no, one.id, one.put("dm")]
        for name in names:
            row += [one.put(name), "%", "DM"]
        rows.append(row)
        one.sampled_on = None
    return made(f"triples-{variant}.csv", delimited(rows).encode(),
                "a column of unit and basis beside each value", "", found)  # fmt: skip


def basis_in_name(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "Y{}")
    rows = [["Sample", "Lab", "Determination", "Value", "Unit"]]
    for one in found:
        rows.append([one.id, one.lab_no, "Dry Matter", one.put("dm"), "%"])
        for name in MAIN:
            wet = one.put(name, basis="ar")
            rows.append([one.id, one.lab_no, f"{WORDS[name]} (as recd)", wet, "%"])
            rows.append([one.id, one.lab_no, f"{WORDS[name]} (DM)", one.put(name), "%"])
        one.sampled_on = None
    return made(f"basis-in-name-{variant}.csv", delimited(rows).encode(),
                "long, the basis in the name", "", found)  # fmt: skip


def name_over_long(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "W{}")
    rows = [["Component", "As fed", "Dry", "Units"]]
    for one in found:
        rows.append([f"Sample: {one.id}", f"Lab no: {one.lab_no}"])
        rows.append(["Moisture", one.put("moisture"), "", "%"])
        for name in MAIN:
            wet = one.put(name, basis="ar")
            rows.append([WORDS[name], wet, one.put(name), "%"])
        one.sampled_on = None
    return made(f"name-over-long-{variant}.csv", delimited(rows).encode(),
                "one heading over all, a name over each sample", "", found)  # fmt: skip


def _equal(one: Sample, name: str, sign: str) -> str:
    return f"{WORDS[name]}{sign}{one.put(name)}"


def equal_signs(rng: Random, variant: int) -> Made:
    found = cast.samples(rng, 3, "E{}")
    lines = ["[units] percent, dry matter basis; moisture as received", ""]
    for one in found:
        lines += [f"sample = {one.id}", f"lab_no = {one.lab_no}",
                  f"sampled = {one.sampled_on.isoformat()}"]  # fmt: skip
        lines += [_equal(one, name, " = ") for name in ("moisture", *MAIN)] + [""]
    return made(f"equal-signs-{variant}.txt", "\n".join(lines).encode(), "names = values", "",
                found)  # fmt: skip


LAYOUTS = ()
SINGLE = (
    pairs_in_cells, lab_and_name, result_columns, cards, letter_marks, limits_beside,
    last_and_target, bilingual, comma_columns, one_line_each, markdown, header_again,
    flags_behind, bullets, bars_in_line, two_line_heads, triples, basis_in_name, name_over_long,
    equal_signs,
)  # fmt: skip
