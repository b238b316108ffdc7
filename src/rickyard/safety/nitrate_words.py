"""What the rules of nitrate make of one hay: what it holds, who gets how much of it, who none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from rickyard.display import listed
from rickyard.safety.binding import Binding


def nitrate_found(bound: Sequence[Binding], name: str) -> str:
    """Say what a hay holds, or why it counts as high.

    Parameters
    ----------
    bound : sequence of Binding
        The rules of nitrate that bind somebody to it.
    name : str
        What the hay is called.

    Returns
    -------
    str
        One sentence.
    """
    by_finding = {one.found.finding: one.found for one in bound}
    measured = by_finding.get("nitrate_no3n")
    if measured is not None:
        return f"{name} holds {measured.value:,.0f} ppm of nitrate-nitrogen (NO3-N)."
    if "nitrate_form_unknown" in by_finding:
        return (
            f"The report on {name} does not say in which form its nitrate is given, so it counts "
            "as high: ask the laboratory."
        )
    drought = by_finding.get("nitrate_untested_drought")
    past = "a forage that gathers it" if drought is None else f"and it {drought.said['history']}"
    return f"Nobody tested the nitrate of {name}, {past}, so it counts as high: test it."


def nitrate_shares(bound: Iterable[Binding], names: Mapping[str, str]) -> tuple[str, str]:
    """Say who gets how much of a hay, and who none of it.

    Parameters
    ----------
    bound : iterable of Binding
        The rules of nitrate that bind somebody to it.
    names : mapping of str to str
        What each group is called, by its id.

    Returns
    -------
    tuple of str
        "At most 35% of the dry matter for Steers", and "None for Cows. " or nothing.
    """
    parts: dict[float, list[str]] = {}
    none: list[str] = []
    for one in bound:
        if one.rule.demand == "share":
            parts.setdefault(one.rule.amount or 0.0, []).append(names[one.group_id])
        elif one.bars:
            none.append(names[one.group_id])
    shares = [
        f"at most {pct:g}% of the dry matter for {listed(list(dict.fromkeys(who)))}"
        for pct, who in sorted(parts.items())
    ]
    barred = f"None for {listed(list(dict.fromkeys(none)))}. " if none else ""
    told = "; ".join(shares)
    return f"{told[:1].upper()}{told[1:]}", barred
