"""Reports in layouts made by chance: words, order, units, bases and files of many kinds."""

from __future__ import annotations

import csv
import io
import random
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

NAMES = {
    "dm": ("Dry Matter", "DM", "D.M."),
    "moisture": ("Moisture", "Moisture content", "Water"),
    "cp": ("Crude Protein", "CP", "Protein, crude", "Crude Prot.", "Crude Protein (CP)"),
    "adf": ("ADF", "Acid Detergent Fiber", "Acid detergent fibre (ADF)", "Acid Det. Fiber"),
    "ndf": ("NDF", "aNDF", "Neutral Detergent Fiber", "NDF (amylase)"),
    "tdn": ("TDN", "Total Digestible Nutrients", "T.D.N.", "TDN (est.)"),
    "nem": ("NEm", "Net Energy Maintenance", "NE Maint.", "Net energy (maintenance)"),
    "ca": ("Ca", "Calcium", "Calcium (Ca)"),
    "p": ("P", "Phosphorus", "Phos."),
    "ash": ("Ash", "Crude Ash", "Total ash"),
    "ee": ("Fat", "Crude Fat", "Ether Extract", "Fat (EE)"),
    "zn": ("Zn", "Zinc", "Zinc (Zn)"),
    "nitrate_no3n": ("Nitrate-N", "NO3-N", "Nitrate-Nitrogen (NO3-N)", "Nitrate as N"),
    "rfv": ("RFV", "Relative Feed Value"),
}
UNITS = {
    "pct": ("%", "pct", "percent"),
    "mcal_per_lb": ("Mcal/lb", "MCAL/LB"),
    "ppm": ("ppm", "mg/kg"),
    "": ("",),
}
BASES = {
    "dm": ("DM", "dry", "DM basis", "Dry Basis", "100% DM"),
    "ar": ("AR", "as received", "as fed", "As-Fed", "as sampled"),
    "": ("",),
}
LEGENDS = (
    "All results on a dry matter basis, moisture and dry matter as received.",
    "Results are reported on a 100% dry matter basis except moisture.",
    "Values on DM basis unless noted.",
)
IDS = ("Sample ID", "Sample", "Description", "Field ID", "Bag", "Identification")
NUMBERS = ("Lab No", "Lab #", "Laboratory No.", "Our Number", "Accession")
SAMPLED = ("Sampled", "Date Sampled", "Date taken", "Collected")


def unit_of(analyte: str) -> str:
    special = {"nem": "mcal_per_lb", "zn": "ppm", "nitrate_no3n": "ppm", "rfv": ""}
    return special.get(analyte, "pct")


def basis_of(analyte: str) -> str:
    return "ar" if analyte in ("dm", "moisture") else "" if analyte == "rfv" else "dm"


@dataclass
class Made:
    """A file with what stands in it: the printed text by laboratory number and analyte."""

    name: str
    data: bytes
    values: dict[str, dict[str, str]]
    names: dict[str, str]
    days: dict[str, date]


def printed_values(random_: random.Random) -> dict[str, str]:
    """Return the values of an honest grass hay."""
    dry, adf = random_.uniform(83, 91), random_.uniform(33, 39)
    ndf = random_.uniform(54, 62)
    tdn = 96.35 - 1.15 * adf
    energy = 0.04409 * 0.82 * tdn
    nem = (-1.12 + 1.37 * energy - 0.138 * energy**2 + 0.0105 * energy**3) * 0.45359237
    adf, ndf = round(adf, 1), round(ndf, 1)
    return {
        "dm": f"{dry:.1f}",
        "moisture": f"{100 - round(dry, 1):.1f}",
        "cp": f"{random_.uniform(9, 14):.1f}",
        "adf": f"{adf:.1f}",
        "ndf": f"{ndf:.1f}",
        "tdn": f"{tdn:.1f}",
        "nem": f"{nem:.2f}",
        "ca": f"{random_.uniform(0.4, 0.7):.2f}",
        "p": f"{random_.uniform(0.2, 0.28):.2f}",
        "ash": f"{random_.uniform(6.5, 9.5):.1f}",
        "ee": f"{random_.uniform(1.7, 2.6):.1f}",
        "zn": f"{random_.randint(15, 40)}",
        "nitrate_no3n": f"{random_.randint(100, 900)}",
        "rfv": f"{(88.9 - 0.779 * adf) * (120 / ndf) / 1.29:.0f}",
    }


def made(number: int) -> Made:
    """Return the file of that number; the same each time."""
    random_ = random.Random(number)
    water = random_.choice(("dm", "moisture"))
    others = [one for one in NAMES if one not in ("dm", "moisture")]
    analytes = [water, *random_.sample(others, random_.randint(5, 10))]
    shape = ("wide", "down", "across", "long")[number % 4]
    count = 1 if shape == "down" else random_.randint(2, 5)
    samples = [printed_values(random_) for _ in range(count)]
    numbers = [f"Q{random_.randint(1000, 9999)}{place}" for place in range(count)]
    names = [f"{random_.choice(('Creek', 'Upper', 'Barn'))} field {n}" for n in range(count)]
    days = [date(2026, 9, 13) + timedelta(random_.randint(0, 12)) for _ in range(count)]
    rows = _rows(random_, shape, analytes, samples, numbers, names, days)
    kind = random_.choice(("csv", "semicolon", "tab", "text", "page"))
    return Made(
        f"{number}-{shape}-{kind}",
        _file(rows, kind),
        {
            one: {analyte: sample[analyte] for analyte in analytes}
            for one, sample in zip(numbers, samples, strict=True)
        },
        dict(zip(numbers, names, strict=True)),
        dict(zip(numbers, days, strict=True)),
    )


def _rows(random_: random.Random, shape: str, analytes: list[str], samples: list[Any],
          numbers: list[str], names: list[str], days: list[date]) -> list[list[str]]:  # fmt: skip
    words = {one: random_.choice(NAMES[one]) for one in analytes}
    units = {unit: random_.choice(ways) for unit, ways in UNITS.items()}
    bases = {basis: random_.choice(ways) for basis, ways in BASES.items()}
    legend = random_.random() < 0.4 and shape != "long"
    style = random_.choice(("{} ({})", "{}, {}", "{} {}"))
    heads = random_.choice(IDS), random_.choice(NUMBERS), random_.choice(SAMPLED)
    form = random_.choice(("%Y-%m-%d", "%d %b %Y", "%b %d, %Y", "%m/%d/%Y"))
    told = [day.strftime(form) for day in days]

    def label(one: str) -> str:
        inner = f"{units[unit_of(one)]} {'' if legend else bases[basis_of(one)]}".strip()
        return style.format(words[one], inner) if inner else words[one]

    top = [["Valley Forage Testing"], ["Prepared for: J. Grower"], []]
    last = [[], [random_.choice(LEGENDS)]] if legend else []
    if shape == "wide":
        rows = [[*heads, *map(label, analytes)]]
        for sample, *beside in zip(samples, names, numbers, told, strict=True):
            rows.append([*beside, *(sample[one] for one in analytes)])
        rows.append(["Average", "", "", *("9.9" for _ in analytes)])
    elif shape == "long":
        rows = [[heads[1], heads[0], heads[2], "Analyte", "Result", "Unit", "Basis"]]
        for sample, name, number, day in zip(samples, names, numbers, told, strict=True):
            for one in analytes:
                tail = [words[one], sample[one], units[unit_of(one)], bases[basis_of(one)]]
                rows.append([number, name, day, *tail])
    else:
        rows = [[heads[0], *names], [heads[1], *numbers], [heads[2], *told]]
        rows += [[label(one), *(sample[one] for sample in samples)] for one in analytes]
    return [*top, *rows, *last]


def _file(rows: list[list[str]], kind: str) -> bytes:
    if kind == "page":
        lines = ("".join(f"<td>{cell}</td>" for cell in row) for row in rows)
        body = "".join(f"<tr>{line}</tr>" for line in lines)
        return f"<html><body><table>{body}</table></body></html>".encode()
    if kind == "text":
        columns = max(map(len, rows))
        widths = [
            max((len(row[n]) for row in rows if len(row) > max(n, 1)), default=0)
            for n in range(columns)
        ]
        return "\n".join(
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False))
            for row in rows
        ).encode()
    out = io.StringIO()
    delimiter = {"csv": ",", "semicolon": ";", "tab": "\t"}[kind]
    csv.writer(out, delimiter=delimiter).writerows(rows)
    return out.getvalue().encode("utf-16" if kind == "tab" else "utf-8")
