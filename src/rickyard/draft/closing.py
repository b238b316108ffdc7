"""What is said when a first farm folder is written: what was assumed, and what is next."""

from __future__ import annotations

from rickyard.draft.interview import Answers


def surer(answers: Answers, *, on_pages: bool = False) -> tuple[str, ...]:
    """Return what would make the program surer, what is worth most first.

    Parameters
    ----------
    answers : Answers
        What was told of the farm.
    on_pages : bool
        Whether the reader sits before pages, and knows of no folder.

    Returns
    -------
    tuple of str
        Sentences, the most useful first; empty where nothing was assumed.
    """
    found = []
    tested = {row["lot"].text for row in answers.reports}
    untested = [row["name"].text for row in answers.lots if row["lot"].text not in tested]
    if untested:
        how = (
            "the page of tests says how to core it, and takes the report in"
            if on_pages
            else "rickyard sampling says how, and the report goes into reports.csv"
        )
        found.append(
            f"A test of {_listed(untested)}: {how}. Until then do not feed hay of droughty, "
            "frosted or heavily fertilized stands freely: nitrate and prussic acid are not seen."
        )
    unweighed = [
        row["name"].text
        for row in answers.lots
        if any(one.startswith("bale_weight") and told.assumed for one, told in row.items())
    ]
    if unweighed:
        found.append(f"The weight of five bales of {_listed(unweighed)}, from a scale.")
    if any(told.assumed for row in answers.groups for told in row.values()):
        found.append("The weights, days and target gains of the animals that were assumed.")
    if not any(row["kind"].text == "mineral" for row in answers.feeds):
        where = "" if on_pages else ", in feeds.csv"
        found.append(f"The mineral you keep before them, with its price{where}.")
    if any(told.assumed for row in answers.feeds for told in row.values()):
        found.append("The prices of the feeds that were assumed.")
    return tuple(found)


def _listed(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 3 else f"{len(names)} lots"
