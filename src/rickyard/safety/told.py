"""The cautions of the rules that bind: what, to whom, do what, why, and whom to call."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date

from rickyard.display import listed, listed_or_all
from rickyard.farm import Caution, Farm
from rickyard.forage.hazards import lot_hazards
from rickyard.forage.plausibility import lot_profile
from rickyard.safety.binding import Binding, counted_together
from rickyard.safety.rule import Rule
from rickyard.safety.whom import classes_bound


def rule_cautions(farm: Farm, bound: Iterable[Binding]) -> tuple[Caution, ...]:
    """Return a caution for each rule that binds and has words of its own.

    Parameters
    ----------
    farm : Farm
        Names the groups, lots and feeds.
    bound : iterable of Binding
        The rules that bind on it.

    Returns
    -------
    tuple of Caution
        One for each rule and source; what is only to be watched is told once for all sources.
        Each names its rule. Then one for sources that share a limit.
    """
    names, every = _names(farm), tuple(bound)
    together: dict[tuple[str, str], list[Binding]] = {}
    for one in every:
        if one.rule.words:
            together.setdefault(_box(one), []).append(one)
    return (
        *(_caution(mine, names) for mine in together.values()),
        *_shared(every, names),
    )


def _shared(bound: Iterable[Binding], names: Mapping[str, str]) -> Iterator[Caution]:
    """Yield what several lots or feeds may be together, once for all groups with the same limit."""
    alike: dict[tuple[object, ...], list[Binding]] = {}
    for mine in counted_together(one for one in bound if one.rule.demand != "mix"):
        rule, sources = mine[0].rule, tuple(dict.fromkeys(one.source_id for one in mine))
        alike.setdefault((sources, rule.together, rule.demand, rule.amount), []).extend(mine)
    for every in alike.values():
        rule = every[0].rule
        sources = tuple(dict.fromkeys(one.source_id for one in every))
        groups = tuple(dict.fromkeys(one.group_id for one in every))
        of = "the dry matter" if rule.demand == "share" else "body weight a day"
        count = sum(one.startswith("group ") for one in names)
        start, end = _days(every)
        yield Caution(
            min((one.rule.level for one in every), key=GRAVEST_FIRST.index),
            groups[0] if len(groups) == 1 else "",
            f"{listed([names[one] for one in sources])} count as one: together no more than "
            f"{rule.amount:g}% of {of} for "
            f"{listed_or_all([names[f'group {one}'] for one in groups], count)}.",
            "; ".join(dict.fromkeys(one.rule.source for one in every)),
            tuple(dict.fromkeys(one.rule.rule_id for one in every)),
            groups=groups,
            sources=sources,
            start=start,
            end=end,
        )


def _box(one: Binding) -> tuple[str, str]:
    """Return what is told together: all that keeps one source away, or one rule of one or of all.

    Who may not have a feed for its copper, its urea and its ionophore reads one box and not three.
    """
    if one.bars:
        return "", one.source_id
    return one.rule.rule_id, "" if one.rule.demand in ("keep", "mix") else one.source_id


def _names(farm: Farm) -> Mapping[str, str]:
    lots = {lot.lot_id: lot.name for lot in farm.lots}
    feeds = {feed.feed_id: feed.name for feed in farm.feeds}
    return {"": ""} | lots | feeds | {f"group {one.group_id}": one.name for one in farm.groups}


def _caution(mine: list[Binding], names: Mapping[str, str]) -> Caution:
    by_rule: dict[str, list[Binding]] = {}
    for one in mine:
        by_rule.setdefault(one.rule.rule_id, []).append(one)
    said = [
        _sentence(of_rule, names, first=number == 0)
        for number, of_rule in enumerate(by_rule.values())
    ]
    sources = list(dict.fromkeys(one.source_id for one in mine))
    groups = tuple(dict.fromkeys(one.group_id for one in mine))
    about = sources[0] if len(sources) == 1 else ""
    if about == "" and len(groups) == 1:
        about = groups[0]
    start, end = _days(mine)
    return Caution(
        min((one.rule.level for one in mine), key=GRAVEST_FIRST.index),
        about,
        _asked_once(said),
        "; ".join(dict.fromkeys(one.rule.source for one in mine)),
        tuple(by_rule),
        groups=groups,
        sources=tuple(one for one in sources if one),
        start=start,
        end=end,
    )


def _sentence(mine: list[Binding], names: Mapping[str, str], *, first: bool) -> str:
    """Return the words of one rule, filled in; after others of the same source it is "It"."""
    rule, found = mine[0].rule, mine[0].found
    sources = dict.fromkeys(one.source_id for one in mine)
    again = not first and rule.words.startswith("{source}")
    groups = [names[f"group {one}"] for one in dict.fromkeys(b.group_id for b in mine)]
    text = rule.words.format(
        source="It" if again else listed([names[one] for one in sources]),
        groups=listed_or_all(groups, sum(one.startswith("group ") for one in names)),
        value=found.value,
        amount=rule.amount,
        **found.said,
    )
    return f"All{text[3:]}" if text.startswith("all groups") else text


def _asked_once(said: list[str]) -> str:
    """Return sentences in a row; whom to ask, where several end with it, is said once and last."""
    asked = [one for one in ASK if sum(sentence.endswith(one) for sentence in said) > 1]
    for one in asked:
        said = [sentence.removesuffix(one).rstrip() for sentence in said]
    return " ".join([*said, *asked])


def _days(mine: Iterable[Binding]) -> tuple[date | None, date | None]:
    """Return the first day and the one after the last on which any of them holds."""
    spans = [one.spans for one in mine]
    if not all(spans):
        return None, None
    return min(one[0][0] for one in spans), max(one[-1][1] for one in spans)


def with_rules(
    cautions: Iterable[Caution], farm: Farm, bound: Iterable[Binding]
) -> tuple[Caution, ...]:
    """Return cautions of lots that say what the rules make of them for the groups of the farm.

    Parameters
    ----------
    cautions : iterable of Caution
        What is said of the lots themselves.
    farm : Farm
        The farm.
    bound : iterable of Binding
        The rules that bind on it.

    Returns
    -------
    tuple of Caution
        The same cautions; that of a hazard by which a rule binds names the rule, and who gets
        none of the lot or only a part. What a rule says in stricter words of its own is left out.
    """
    keys = dict(_hazard_keys(farm))
    names = _names(farm)
    by_finding: dict[tuple[str, str], list[Binding]] = {}
    stricter = set()
    for one in bound:
        if one.rule.finding in UNTESTED:
            stricter |= {(one.source_id, hazard) for hazard in UNTESTED_HAZARDS}
        if not one.rule.words:
            for finding in HAZARDS_OF.get(one.rule.finding, (one.rule.finding,)):
                by_finding.setdefault((one.source_id, finding), []).append(one)
    if any(group.animal_class in classes_bound(("horses",)) for group in farm.groups):
        # They are named where the sugar of each hay is told to the groups themselves.
        stricter |= {(lot.lot_id, "sugar") for lot in farm.lots}
    found = []
    for caution in cautions:
        key = keys.get((caution.about, caution.sentence))
        if (caution.about, key) in stricter:
            continue
        mine = by_finding.get((caution.about, key or ""), [])
        if not mine:
            found.append(caution)
            continue
        said = _here(mine, names)
        sentence = f"{caution.sentence} {said}".rstrip()
        rules = tuple(dict.fromkeys(one.rule.rule_id for one in mine))
        whom = tuple(dict.fromkeys(one.group_id for one in mine)) if said else ()
        found.append(replace(caution, sentence=sentence, rules=rules, groups=whom))
    return tuple(found)


#: By which cautions are ordered.
GRAVEST_FIRST = ("danger", "warning", "note")

#: Whom to ask, as the words of rules end: said once where several are told together.
ASK = ("Ask your veterinarian or local extension office.", "Ask your veterinarian.")

#: What rules of their own say of hay whose nitrate nobody tested, stricter than the hazard does.
UNTESTED = ("nitrate_untested_stressed", "nitrate_untested_carrier", "nitrate_untested_drought")

#: The rows of hazards that tell of it.
UNTESTED_HAZARDS = ("nitrate_untested", "nitrate_untested_stressed")

#: Findings with a value, by the rows of hazards that tell of them.
HAZARDS_OF: Mapping[str, tuple[str, ...]] = {
    "nitrate_no3n": ("nitrate_limited", "nitrate_none_pregnant", "nitrate_deadly"),
    "hcn": ("prussic_acid_toxic", "prussic_acid_deadly"),
    "hcn_suspected": ("prussic_acid_suspected",),
    "hcn_cured": ("prussic_acid_cured",),
    "mold_cfu": ("mold",),
    "selenium": ("selenium_toxic",),
}


def _hazard_keys(farm: Farm) -> Iterator[tuple[tuple[str, str], str]]:
    for lot in farm.lots:
        for hazard in lot_hazards(lot, lot_profile(lot, farm.reports_of(lot.lot_id))):
            yield (lot.lot_id, hazard.caution(lot.lot_id).sentence), hazard.key


def _here(mine: list[Binding], names: Mapping[str, str]) -> str:
    """Say what a hazard means to the groups of this farm."""
    by_demand: dict[str, list[str]] = {}
    for one in mine:
        words = _demand_words(one.rule)
        if words:
            by_demand.setdefault(words, []).append(names[f"group {one.group_id}"])
    told = [f"{words} for {listed(list(dict.fromkeys(who)))}" for words, who in by_demand.items()]
    return f"Here: {'; '.join(told)}." if told else ""


def _demand_words(rule: Rule) -> str:
    if rule.demand == "none":
        return "none"
    if rule.demand == "share":
        weighed = ", weighed and mixed every day," if rule.mixed else ""
        return f"at most {rule.amount:g}% of the dry matter{weighed}"
    return ""
