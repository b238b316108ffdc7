"""Kept set: mail."""

from __future__ import annotations

from random import Random

from . import cast
from .truth import Made, made


def quoted_reply(rng: Random, variant: int) -> Made:
    lab = "Juniper Fork Feed Lab"
    found = cast.samples(rng, 2, "JF{}")
    parts = ["Thanks, that is quicker than last time. We had 12.5 protein on the old stack.\n\n"
             "On Thursday the lab wrote:\n"]  # fmt: skip
    for one in found:
        tag = "(dry)" if variant == 1 else "DMB"
        line = [f"{word} {one.put(name)}% {tag}" for name, word in
                (("cp", "CP"), ("adf", "ADF"), ("ndf", "NDF"), ("ca", "Ca"))]  # fmt: skip
        energy = f"NEm {one.put('nem')} and NEg {one.put('neg')} Mcal/lb {tag}"
        parts.append(
            f'> Sample {one.lab_no} "{one.id}", taken {cast.worded(one.sampled_on)}:\n'
            f"> moisture {one.put('moisture')}% as received; {', '.join(line)};\n"
            f"> {energy}; RFV {one.put('rfv')}.\n>\n"
        )
    parts.append("> Let us know if you want minerals.\n")
    return made(
        f"quoted-reply-{variant}.txt",
        "\n".join(parts).encode(),
        "answer to a mail, results in the quoted part, several to a line",
        lab,
        found,
        not_samples=["12.5 protein on the old stack"],
    )


def boxed_table(rng: Random, variant: int) -> Made:
    lab = "Rope Walk Laboratory"
    found = cast.samples(rng, 4, "RW{}", reported=True)
    order = ["dm", "cp", "adf", "ndf", "tdn", "ca"]
    head = [
        "Sample",
        "Lab no.",
        "DM % AR",
        "CP % DM",
        "ADF % DM",
        "NDF % DM",
        "TDN % DM",
        "Ca % DM",
    ]
    rows = [head] + [[one.id, one.lab_no, *(one.put(name) for name in order)] for one in found]
    widths = [max(len(row[place]) for row in rows) for place in range(len(head))]
    bar, cross = ("|", "+") if variant == 1 else ("\u2502", "\u253c")
    dash = "-" if variant == 1 else "\u2500"
    rule = cross + cross.join(dash * (width + 2) for width in widths) + cross
    lines = [rule]
    for row in rows:
        cells = [f" {cell:<{width}} " for cell, width in zip(row, widths, strict=True)]
        lines += [bar + bar.join(cells) + bar, rule]
    day, out = cast.worded(found[0].sampled_on), cast.worded(found[0].reported_on)
    for one in found:
        one.sampled_on = found[0].sampled_on
    text = (f"Good afternoon,\n\nresults below. All four were sampled on {day} and reported on "
            f"{out}.\n\n" + "\n".join(lines) + "\n\nKind regards\n")  # fmt: skip
    return made(
        f"boxed-table-{variant}.txt",
        text.encode(),
        "table drawn with signs within a mail, dates in the sentence before",
        lab,
        found,
    )


def both_in_words(rng: Random, variant: int) -> Made:
    lab = "Sandpiper Analytical"
    found = cast.samples(rng, 1 if variant == 1 else 2, "SP-{}", sampled=False, method="NIR")
    parts = ["Dear customer,\n"]
    for one in found:
        pairs = {name: (one.put(name, basis="ar"), one.put(name)) for name in ("cp", "adf", "ndf")}
        dry = one.put("dm")
        parts.append(
            f"your sample {one.id}, number {one.lab_no}, was {dry} percent dry matter. Protein was "
            f"{pairs['cp'][0]} percent\nas received, or {pairs['cp'][1]} percent in the dry "
            f"matter; acid detergent fiber {pairs['adf'][0]} percent as received\n"
            f"and {pairs['adf'][1]} percent dry; neutral detergent fiber {pairs['ndf'][0]} percent "
            f"as received and {pairs['ndf'][1]} percent dry.\nAnalyzed by NIR.\n"
        )
    parts.append("Sincerely,\nthe laboratory\n")
    return made(
        f"both-in-words-{variant}.txt",
        "\n".join(parts).encode(),
        "letter in sentences, both bases in each",
        lab,
        found,
    )


LAYOUTS = (quoted_reply, boxed_table, both_in_words)
