"""The page that lists every rule of safety for a veterinarian to read.

``python -m tools.safety_page docs/safety-rules.md`` writes it anew.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT
from rickyard.safety.rule import Rule, rules
from rickyard.safety.shortage_order import shortage_places

HEAD: Final = """# Rules of safety

Every rule of safety that the program holds to, from one table (`rickyard/safety/data/rules.csv`). \
From a row are made the limit in the season program, the caution where the decision is made, and \
the check of the program and of each day of its list. What nobody tested counts as high where \
the forage and its past can carry it. What a limit leaves of one lot or feed it leaves of all that \
the same limit binds: two grains, or two lots with the same toxin, count as one.

The program decides nothing that a veterinarian should. Rules marked **judgement** or **common \
practice** rest on no publication, wholly or in part: a veterinarian is asked to read them first.

"""

#: What a demand means, in words.
DEMANDS: Final = {
    "none": "none",
    "share": "at most {amount:g}% of the dry matter",
    "pct_bw": "at most {amount:g}% of body weight a day",
    "diet": "the whole diet at most {amount:g}",
    "counts_as": "unknown counts as {amount:g}",
    "step": "raised over {amount:g} days",
    "rise": "raised by {amount:.2g} kg a day at most",
    "begin": "begun by thirds of its share over {amount:g} days",
    "beside": "at least {amount:g}% of the dry matter is forage",
    "least_ratio": "calcium to phosphorus at least {amount:g} to 1",
    "least": "the whole diet at least {amount:g}%",
    "hold": "at least {amount:g}% of the energy and protein of the period before",
    "fall": "forage falls in one night by at most {amount:g}% of the ration of the day before",
    "keep": "watch, and do as it says",
    "mix": "at most {amount:g}% of the forage where other forage is there, else it is told",
    "written": "at most {amount:g}% of the intake a head that is written for it",
    "a_head": "at most {amount:g} g as fed a head and day where no most is written",
    "watch": "told of above {amount:g} of the whole diet (copper in mg/kg, protein in percent)",
}


ORDER: Final = """## Who goes short first

Where hay or feed does not reach, energy and protein go short where it harms least, in this order \
(`rickyard/safety/data/shortage_order.csv`). Of the rows that fit a group the first of the table \
holds: late pregnancy, milk and thin condition come before the rest. `counts` is what an amount \
that is missing weighs against the same amount of the first; the order is published where a source \
stands, the weights are judgement, no published source. Minerals, long forage and the limits of \
safety are never saved on for it.

"""


def demand_words(rule: Rule) -> str:
    """Return what a rule demands, in words.

    Examples
    --------
    >>> from rickyard.safety.rule import rule_of
    >>> demand_words(rule_of("nitrate-half"))
    'at most 50% of the dry matter, weighed and mixed'
    """
    words = DEMANDS[rule.demand].format(amount=rule.amount or 0.0)
    return f"{words}, weighed and mixed" if rule.mixed else words


def _found(rule: Rule) -> str:
    span = ""
    if rule.above is not None:
        span += f" above {rule.above:,g}"
    if rule.upto is not None:
        span += f" to {rule.upto:,g}"
    return f"{rule.finding.replace('_', ' ')}{span} ({rule.known})"


def _whom(rule: Rule) -> str:
    stock = ", ".join(rule.stock).replace("_", " ")
    return f"{stock}; {rule.stage.replace('_', ' ')}" if rule.stage else stock


def _cell(text: str) -> str:
    return text.replace("|", "/").replace("\n", " ")


def _rows(chosen: list[Rule]) -> Iterator[str]:
    yield "| rule | found | whom | demand | words | source |\n|---|---|---|---|---|---|\n"
    for rule in chosen:
        words = rule.words.replace("{", "‹").replace("}", "›") or "as the hazard of the lot says"
        cells = (
            f"`{rule.rule_id}`",
            _found(rule),
            _whom(rule),
            demand_words(rule),
            words,
            f"{rule.source} ({rule.evidence})",
        )
        yield f"| {' | '.join(_cell(one) for one in cells)} |\n"


def _named(chosen: list[Rule]) -> str:
    return ", ".join(f"`{one.rule_id}`" for one in chosen)


def _resting() -> Iterator[tuple[str, list[Rule]]]:
    """Yield what the rules rest on that no publication carries wholly, and which they are."""
    every = rules()
    alone = [one for one in every if one.source in (JUDGEMENT, COMMON_PRACTICE)]
    weak = [one for one in every if one.evidence in ("judgement", "common practice")]
    partly = [one for one in weak if one not in alone]
    recalled = [one for one in every if one.evidence == "memory"]
    yield f"{len(alone)} of {len(every)} rules rest on judgement or common practice alone", alone
    yield f"{len(partly)} rest on it in part: in what they demand, or whom they bind", partly
    yield f"{len(recalled)} are quoted in whole or in part from memory", recalled


def _order() -> Iterator[str]:
    """Yield the table of who goes short first, those first who go first."""
    yield "| place | counts | whom | condition score | because | source |\n"
    yield "|---|---|---|---|---|---|\n"
    for row in sorted(shortage_places(), key=lambda one: one.place):
        stock = ", ".join(row.stock).replace("_", " ")
        bounds = (("above", row.score_above), ("up to", row.score_upto))
        cells = (
            str(row.place),
            f"{row.weight:g}",
            f"{stock}; {row.stage.replace('_', ' ')}" if row.stage else stock,
            " ".join(f"{word} {score:g}" for word, score in bounds if score is not None),
            row.because,
            f"{row.source} ({row.evidence})",
        )
        yield f"| {' | '.join(_cell(one) for one in cells)} |\n"


def page() -> str:
    """Return the page, in Markdown.

    Returns
    -------
    str
        Rules that rest on judgement or practice first, then by hazard.
    """
    parts = [HEAD, "## To be read by a veterinarian first\n\n"]
    parts += [f"{text}: {_named(chosen)}.\n\n" for text, chosen in _resting()]
    for hazard in dict.fromkeys(one.hazard for one in rules()):
        parts.append(f"## {hazard.capitalize()}\n\n")
        parts += _rows([one for one in rules() if one.hazard == hazard])
        parts.append("\n")
    parts += [ORDER, *_order()]
    return "".join(parts).rstrip() + "\n"


def main(path: str) -> None:
    """Write the page to a file."""
    Path(path).write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
