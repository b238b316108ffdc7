"""Sentences of a report that tell the basis, the unit or the method of values elsewhere on it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from rickyard.labs.legends.forms import form_in, forms_told
from rickyard.labs.legends.groups import ENERGIES, ENERGY_UNITS, GROUPS, MINERALS, TRACE, WATER
from rickyard.labs.legends.made_ready import SHORTENED, explained, to_read, without_excepted
from rickyard.labs.legends.units_listed import units_listed
from rickyard.labs.vocabulary import (
    ABOUT_SAMPLE_ABROAD,
    EXCEPT_WATER,
    FOOTNOTE_MARKS,
    OF_ALL_ABROAD,
    OTHER_BASIS,
    STATES_ABROAD,
    STATING,
    TELLING_ABROAD,
    basis_in,
    is_only_unit,
    label_of,
    method_in,
    plain,
    unaccented,
    without_received,
    without_water,
    written_in,
)

_STATES: Final = re.compile(
    r"\bbasis\b|\bexpressed\b|\breported (?:on|as|in)\b|\b(?:results?|values?|figures?|numbers?|"
    r"analys[ei]s|percentages?|data|everything|all|shares|fractions|contents|concentrations|"
    r"nutrients)\b.*\b(?:on|in|as|are|is|of|to|per|for|mean)\b|"
    r"\bwe (?:report|give|print|state|quote|work)\b|"
    r"\b(?:dry[- ](?:matter|basis|weight)|as[- ](?:received|fed|is)|dm|fresh[- ]weight) "
    r"(?:figures?|values?|results?|numbers?|percentages?|shares)\b|"
    r"\bdatos\b|\bchiffres\b|\bdonn[eé]es\b|\bteneurs\b|\bgehalte\b|\bzahlen\b|"
    r"\br[eé]sultats?\b|\bresultados?\b|\bvaleurs?\b|\bvalores\b|\bangaben\b|\bergebnisse\b|"
    r"\bwerte\b|\bbezogen auf\b|\bexprim\w+|\bexpres\w+|\brisultati\b|"
    r"\bgiven (?:on|as|in)\b|\brefers? to (?:the )?(?:dry|hay|feed|material|sample) |"
    r"\bcalculated (?:on|to)\b|^\s*(?:on|all)\b|\bin % of\b|"
    r"^\s*(?:in |all )?percent (?:of|on|in)\b|"
    r"\b(?:unless|except)(?: otherwise| where| as)* (?:noted|stated|marked|indicated|shown|"
    r"given)\b|"
    r"\btests? (?:are |is |were |was )?(?:given |run |printed )?(?:by|on|in)(?: an?| the)? dry\b|"
    r"\bcorrected to\b|" + STATES_ABROAD
)
_ABOUT_SAMPLE: Final = re.compile(
    r"\brelate|\bappl(?:y|ies)\b|\bsamples?,? (?:as|when|was|were|is|are)\b|\bpertain|\bas we got|"
    r"(?<!nothing )(?<!not )\bdried\b|\bwas received\b|\bcondition\b|"
    r"\bthe samples? received\b|\bdivide\b|\bmultiply\b|\bconvert|" + ABOUT_SAMPLE_ABROAD
)
_MARK: Final = re.compile(
    rf"^\s*(?P<mark>[{re.escape(FOOTNOTE_MARKS)}]+|\[\w{{1,2}}\]|\([a-zA-Z]\)|\(?\d\)|[a-z]\)|[A-Za-z]{{1,2}}(?=\s*[=:])|[¹²³⁴])\s*[=:-]?\s*(?P<means>\S.*)$"
)
_UNLESS_MARKED: Final = re.compile(
    r"(?:unless|except|if)\b.{0,30}?\b(?:marked|noted|with|by|followed by)\b\s*"
    r"(?:with|by|an?)?\s*[\"'(]?\s*"
    r"(?P<mark>[A-Za-z*†‡])[\"')]?\s*(?:\(|=|:|for|-)\s*(?P<means>[^)]*)",
    re.IGNORECASE,
)
#: What a sentence excepts by the look of the print, which is not read.
_UNSEEN: Final = re.compile(
    r"\b(?:unless|except|if)\b.{0,40}\b"
    r"(?:italics?|bold|shaded|colou?red|underlined|grey|gray|red|blue)\b",
    re.IGNORECASE,
)
#: "Basis: dry matter" is a statement, where "Dry matter" alone is a label.
_BASIS_ALONE: Final = re.compile(
    r"^\s*(?:reporting |results? )?basis(?: of (?:all )?(?:results|values|reporting))?\s*[:=-]\s*"
    r"(?P<means>[^.;]+)",
    re.IGNORECASE,
)
#: A word before a sentence that says nothing of it.
_LEAD: Final = re.compile(
    r"^\s*(?:please note|note|notes|n\.?b\.?|remark|remarks|comment|comments|basis|important)\s*"
    r"(?:\d\s*)?[:.-]\s*",
    re.IGNORECASE,
)
#: Where a sentence ends, or the next mark of a footnote begins on the same line.
_SENTENCES: Final = re.compile(
    r"(?<=[a-z)%])[.;]\s+|\s;\s+|(?<=[A-Z]{2})\.\s+(?=[A-Z])|(?<=[A-Z]);\s+|(?<=\d)\.\s+(?=[A-Z])|\n|\.$|[,\s]\s*(?=[(\[][a-zA-Z\d][)\]]\s*[=:]?\s*[%a-zA-Z])|"
    r"[,;\s]\s*(?=[*†‡§¶]+\s*[=:]?\s*[%a-zA-Z])"
)
_DEFINES: Final = re.compile(
    r"^[\s(]*(?!units?\b|basis\b|notes?\b|values?\b|result|figure|data\b|all\b)"
    r"[a-z.\s]{1,6}\s*(?:=|:| means )",
    re.IGNORECASE,
)


#: A sentence without one of these tells neither basis, unit nor method.
_TELLING: Final = re.compile(
    TELLING_ABROAD + "|"
    r"dry|dm\b|d\.m|receiv|rec'|fed\b|fresh|wet\b|a\.r|\bas\b|\bar\b|%|percent|ppm|ppb|mg|g/|"
    r"mcal|mj|cfu|nir|infra|chem|method|moisture|matter|[=*†‡¹²³]",
    re.IGNORECASE,
)


_BUT: Final = re.compile(r"\b(?:unless|except|but|other than|apart from|save)\b", re.IGNORECASE)
_LONGEST_SENTENCE: Final = 200
_LONGEST_NOTE: Final = 80
_TELLS_METHOD: Final = re.compile(
    r"\bunless|\bmethod\b|\b(?:done|run|made|analy[sz]ed|tested|all|both|determined|results?) "
    r"(?:are |were )?(?:by|with|using)\b"
)
_OF_ALL: Final = re.compile(
    r"\b(?:all|every(?:thing)?|throughout|numbers|data|percentages|"
    r"(?:page|sheet|report|table) (?:is|in)|reported on|results?|values?|figures?|"
    r"r[eé]sultats?|resultados?|valeurs?|valores|teneurs?|"
    r"ergebnisse|werte|angaben|gehalten?|alle|alla|todos|todas|tutti|tutte|tous|toutes|"
    r"wszystkie|resultat(?:en|er|erne)?|wyniki|waarden|v[æa]rdier|värden|valori|risultati)\b|"
    + OF_ALL_ABROAD
)
_SPEAKS: Final = re.compile(
    r"\b(?:results?|values?|all|everything|reported|expressed)\b", re.IGNORECASE
)


@dataclass
class Legend:
    """What sentences of a report say about its values.

    ``bases`` are the bases stated for every value; more than one leaves the basis open.
    ``stated`` are those of them that a whole sentence states in so many words.
    ``said_of`` are those that a sentence with a verb tells of an analyte, whatever heads it.
    ``basis_of``, ``unit_of`` are by analyte, ``marks`` and ``forms`` of nitrate by the mark of a
    footnote, ``answers`` what a person said, by the key of the question.
    """

    bases: list[str] = field(default_factory=list)
    stated: list[str] = field(default_factory=list)
    basis_of: dict[str, str] = field(default_factory=dict)
    said_of: dict[str, set[str]] = field(default_factory=dict)
    unit_of: dict[str, str] = field(default_factory=dict)
    unit: str = ""
    by_the_pound: bool = False
    method: str = ""
    marks: dict[str, tuple[str, str, str]] = field(default_factory=dict)
    answers: dict[str, str] = field(default_factory=dict)
    forms: dict[str, str] = field(default_factory=dict)
    forms_told: set[str] = field(default_factory=set)
    known: dict[tuple[object, ...], tuple[str, str, str]] = field(default_factory=dict)

    @property
    def basis(self) -> str:
        """Return the one basis that is stated for every value, or an empty string."""
        return self.bases[0] if len(set(self.bases)) == 1 else ""


#: Grams or milligrams in a pound, as feeds for horses are told.
_BY_THE_POUND: Final = re.compile(r"\bm?g\s?/\s?lb\b", re.IGNORECASE)


#: A few words with something in brackets behind them.
_HEADS_ONE: Final = re.compile(r"[^()\[\]:=.]{1,40}[(\[][^()\[\]]{2,24}[)\]]")


def legend_of(texts: Iterable[str]) -> Legend:
    """Read the sentences of a report.

    Parameters
    ----------
    texts : iterable of str
        The texts that stand on it, as printed.

    Returns
    -------
    Legend
        What they say of basis, units and marks.

    Examples
    --------
    >>> legend = legend_of(["Results on a dry matter basis.", "Minerals in mg/kg"])
    >>> legend.basis, legend.unit_of["zn"]
    ('dm', 'ppm')
    >>> legend_of(["Results relate only to the sample as received."]).basis
    ''
    """
    legend = Legend()
    for printed_text in dict.fromkeys(texts):
        text = SHORTENED.sub(r"\1 ", explained(printed_text))
        legend.by_the_pound |= bool(_BY_THE_POUND.search(text))
        if len(text) < 4 or not _TELLING.search(text):
            continue
        if is_only_unit(text) and not (_SPEAKS.search(text) or _MARK.match(text)):
            continue  # the heading of a column or a section, and no sentence
        if _HEADS_ONE.fullmatch(text) and (label := label_of(text)) and label.basis:
            continue  # "Phosphor (Frischmasse)" heads its own values, and no others
        legend.forms_told |= forms_told(text)
        unless = _UNLESS_MARKED.search(text)
        if unless:
            _note_mark(legend, unless["mark"], unless["means"])
        listed = units_listed(text)
        for one in listed:
            legend.unit_of.update(dict.fromkeys(one.analytes, one.unit))
            legend.basis_of.update(dict.fromkeys(one.analytes, one.basis) if one.basis else {})
        if listed:
            continue
        for sentence in _SENTENCES.split(text):
            _sentence(legend, sentence)
    return legend


#: "everything else on dry matter", "the rest is dry".
_REST: Final = re.compile(
    r"\b(?:alles (?:andere|übrige)|alle (?:übrigen|anderen)(?: \w+)?|(?:der rest|das übrige)|"
    r"(?:tout )?le reste|les autres(?: \w+)?|(?:todo )?lo demás|los demás(?: \w+)?|el resto|"
    r"o restante|o resto|(?:os )?(?:demais|restantes)(?: (?!em\b|na\b|sobre\b)\w+)?|"
    r"de rest|het overige|al het overige|"
    r"de overige(?: \w+)?|resten|alt andet|övriga(?: \w+)?|øvrige(?: \w+)?|pozostałe(?: \w+)?|"
    r"(?:tutto )?il resto|gli altri(?: \w+)?|le altre(?: \w+)?|"
    r"(?:the |all )?remaining(?: (?:figures|values|results|analytes|numbers|analyses|tests))?|"
    r"everything else|anything else|all else|all (?:the )?(?:others?|rest)|(?:the )?rest|"
    r"(?:the )?others?(?: (?:figures|values|results|analytes|numbers|analyses))?)\b"
    r"(?P<means>,?[^,;]*)",
    re.IGNORECASE,
)
#: "Dry matter as received", "Moisture is of the bales as they came".
_WATER_ALONE: Final = re.compile(
    r"^[\s(]*(?:moisture|water|dry matter|dm)\b(?: content)?(?: is| are| itself| alone|:)?",
    re.IGNORECASE,
)


def _without_rest(legend: Legend, sentence: str) -> str:
    """Take what a sentence says of everything else, and return what it says before that."""
    told = _REST.search(sentence)
    basis = basis_in(told["means"]) if told else ""
    if told is None or basis not in ("dm", "ar"):
        return sentence
    legend.bases.append(basis)
    if _OF_ALL.search(plain(sentence)) and "=" not in sentence:
        legend.stated.append(basis)
    if written_in(told["means"]).unit == "pct":
        legend.unit = "pct"
    before, after = sentence[: told.start()], sentence[told.end() :].strip(" ,;")
    return after if not before.strip() or _WATER_ALONE.match(before) else f"{before} {after}"


#: "Winter tests, all dry basis": the clause that speaks for every value.
_FOR_ALL: Final = re.compile(r"\s*(?:all|everything)\b", re.IGNORECASE)
#: "and the numbers are all on dry matter", behind a clause that says something else.
_OF_FIGURES: Final = re.compile(
    r"\s*(?:and |so |that |where |but )*(?:all )?(?:of )?(?:the |their |its |our )?"
    r"(?:numbers|figures|results|values|analys[ei]s|everything|percentages)\b.{0,12}"
    r"\b(?:is|are|were|was)\b",
    re.IGNORECASE,
)
#: "Everything from CP to P": the columns of a table.
_FROM_TO: Final = re.compile(r"\beverything from \S+ (?:to|through) \S+", re.IGNORECASE)


def _sentence(legend: Legend, sentence: str) -> None:
    sentence = to_read(sentence)
    if not sentence:
        return
    sentence = without_excepted(without_water(sentence, _named))
    sentence = _without_rest(legend, _FROM_TO.sub("everything", sentence))
    clauses = [one for one in re.split(r"[,;()]|\bbut\b|\bexcept\b", sentence) if one.strip()]
    plainly = [_only_states(one) for one in clauses]
    of_all_bases = {basis_in(one) for one, of_all in zip(clauses, plainly, strict=True) if of_all}
    listed = len(clauses) > 1 and plainly[0] and all(map(_tells, clauses))
    if listed and len(of_all_bases - {""}) < 2:
        # "Mcal/lb, % of DM (moisture: % as is)": a list of what holds for all and for some.
        for clause, of_all in zip(clauses, plainly, strict=True):
            if of_all or _named(plain(clause)) or "moisture" in plain(clause):
                _clause(legend, clause)
        return
    known = {basis_in(one) for one in clauses}
    both = any(without_received(one) != one and not basis_in(one) for one in clauses)
    if len(known - {""}) > 1 or (both and known - {""}):
        # "All on dry matter, moisture as received": each clause speaks of its own values.
        first = clauses[0]
        others = [one for one in clauses if basis_in(one) and not _only_states(one)]
        of_water = all(map(_of_moisture, others))  # "(dry matter basis, moisture as received)"
        for clause in clauses:
            of_all = bool(_FOR_ALL.match(clause)) and _only_states(clause)
            own = clause is first or _named(plain(clause)) or of_all or _OF_FIGURES.match(clause)
            speaks = own or (of_water and _only_states(clause))
            _clause(legend, clause if speaks else "")
        return
    units = {unit for one in clauses if (unit := written_in(one).unit)}
    apart = all(_tells(one) or not _named(plain(one)) for one in clauses)
    if len(units) > 1 and apart and not _BUT.search(sentence):
        # "Results in g/kg of dry matter, trace elements in mg/kg": each has its own unit
        for clause in clauses:
            if _tells(clause):
                _clause(legend, clause)
        return
    _clause(legend, sentence)


def _tells(clause: str) -> bool:
    """Return whether a clause names a unit or a basis."""
    known = written_in(clause)
    return bool(known.unit or known.basis)


def _clause(legend: Legend, sentence: str) -> None:
    alone = _BASIS_ALONE.match(sentence)
    if alone and is_only_unit(alone["means"]) and basis_in(alone["means"]):
        legend.bases.append(basis_in(alone["means"]))
        return
    if _defined(legend, sentence):
        return
    sentence = _LEAD.sub("", sentence)
    shown = plain(sentence)
    marked = _MARK.match(sentence)
    if marked and len(sentence) < 200:
        known = written_in(marked["means"])
        form = form_in(marked["means"])
        if form:
            legend.forms[plain(marked["mark"].strip("()[]"))] = form
            return
        if known.basis or known.unit or method_in(marked["means"]):
            _note_mark(legend, marked["mark"].strip("()[]"), marked["means"])
            if not _OF_THE_REST.search(marked["means"]):
                return
            sentence = marked["means"]
            shown = plain(sentence)
    if _DEFINES.match(sentence) and len(shown) < 60:
        return
    if _ABOUT_SAMPLE.search(shown) and "basis" not in shown:
        return
    groups = _named(shown)
    _take_basis(legend, sentence, groups)
    _take_unit(legend, sentence, groups)
    if not legend.method and _TELLS_METHOD.search(shown):
        found = method_in(re.split(r"\bunless\b|\bexcept\b", shown)[0])
        legend.method = found if found != "mixed" else ""


#: A footnote that speaks for all: "(a) Everything from CP to P is dry", "1 dry unless marked".
_OF_THE_REST: Final = re.compile(
    r"\b(?:everything|all (?:results|values|figures|on|in|dry|as)|"
    r"unless (?:otherwise )?(?:marked|noted|stated))\b",
    re.IGNORECASE,
)
#: "NEm: Mcal per lb of dry matter": a label and what its values are printed in.
_LABEL_MEANS: Final = re.compile(
    r"^\s*(?P<label>[A-Za-z][\w.-]{1,5})\s*(?:[:=]|\s(?:en|in|EN|IN|is)\s)\s*(?P<means>\S.*)$"
)


def _defined(legend: Legend, sentence: str) -> bool:
    """Take unit and basis of one analyte that is named before them; tell whether it is so."""
    told = _LABEL_MEANS.match(sentence)
    label = label_of(told["label"]) if told else None
    if told is None or label is None or len(label.candidates) != 1 or label.maybe_basis:
        return False
    means = told["means"].strip(" .")
    known = written_in(means)
    if label.misspelled or not known.unit or not is_only_unit(means):
        return False
    legend.unit_of.setdefault(label.candidates[0], known.unit)
    if known.basis:
        legend.basis_of.setdefault(label.candidates[0], known.basis)
    return True


#: "Protein and ADF are as received": a sentence, and no heading of a column.
_HAS_VERB: Final = re.compile(r"\b(?:is|are|was|were|sind|sont|son|sono|zijn|est|ist)\b")


def _take_basis(legend: Legend, sentence: str, groups: tuple[str, ...]) -> None:
    basis = basis_in(sentence) or basis_in(_BUT.split(sentence)[0])
    states = (
        _STATES.search(plain(sentence)) or (groups and _short(sentence)) or _only_states(sentence)
    )
    if not basis or not states or _UNSEEN.search(sentence):
        return
    for analyte in groups:
        legend.basis_of.setdefault(analyte, basis)
        if _HAS_VERB.search(plain(sentence)):
            legend.said_of.setdefault(analyte, set()).add(basis)
    if not groups and basis in ("dm", "ar", OTHER_BASIS) and not _of_moisture(sentence):
        legend.bases.append(basis)
        if "=" not in sentence and _OF_ALL.search(plain(sentence)):
            legend.stated.append(basis)


def _of_moisture(sentence: str) -> bool:
    """Return whether a statement is of moisture alone: "moisture: % as is"."""
    shown = plain(sentence)
    if re.match(r"[\s(]*(?:moisture|water|dry matter|dm)\b\s*(?:itself)?\s*[:=(]", shown):
        return True
    if re.match(r"(?:the )?(?:moisture|water)(?: content)? (?:is|are|was) ", shown):
        return True  # "Moisture is given as received"
    first = label_of(re.split(r"\s+(?:as|in|of|tel|tal|sur|en|der|im)\b|[:=(]", shown)[0])
    return first is not None and first.candidates == ("moisture",)


def _only_states(sentence: str) -> bool:
    """Return whether a sentence says nothing but a basis and units.

    Examples
    --------
    >>> _only_states("Percent of dry matter where nothing else is said"), _only_states("CP, dry")
    (True, False)
    """
    rest = EXCEPT_WATER.sub(" ", plain(sentence))
    if re.match(
        r"[\s(]*(?:dry matter|dm|ms|tm|ts)\b(?!.*\b(?:basis|all|every\w*|throughout)\b)", rest
    ):
        return False  # a label
    rest = unaccented(written_in(rest).rest)
    while (known := written_in(rest)).unit or known.basis:
        if known.rest == rest:
            break
        rest = known.rest
    return not set(re.findall(r"[a-z0-9]+", rest)) - STATING


#: "on 100 % dry matter": the number of a basis, and no value.
_WHOLLY_DRY: Final = re.compile(r"\b100 ?(?:%|percent)\s(?=dry|of dry|dm\b)", re.IGNORECASE)


def _short(sentence: str) -> bool:
    """Return whether a sentence is a note such as "Protein and fiber in the dry matter"."""
    bare = _WHOLLY_DRY.sub("", sentence)
    return len(bare) <= _LONGEST_NOTE and not any(sign.isdigit() for sign in bare)


#: "Energy per lb of dry matter": in what is a matter of course.
_BY_POUND: Final = re.compile(r"\b(?:per|a|/)\s*(?:lb|pound)\b", re.IGNORECASE)


def _take_unit(legend: Legend, sentence: str, groups: tuple[str, ...]) -> None:
    unit = written_in(sentence).unit
    if not unit and groups and set(groups) <= set(ENERGIES) and _BY_POUND.search(sentence):
        unit = "mcal_per_lb"
    shown = plain(sentence)
    if unit and groups and len(shown) < _LONGEST_SENTENCE:
        for analyte in groups:
            legend.unit_of.setdefault(analyte, unit)
    elif (
        unit in ("pct", "g_per_kg")
        and not groups
        and ((_STATES.search(shown) and _OF_ALL.search(shown)) or _only_states(sentence))
    ):
        legend.unit = unit
    elif unit == "ppm" and not groups and _STATES.search(shown) and _OF_ALL.search(shown):
        for analyte in (*MINERALS, *TRACE):
            legend.unit_of.setdefault(analyte, unit)
    elif unit and not groups and _only_states(sentence):
        for analyte in TRACE if unit == "ppm" else ENERGIES if unit in ENERGY_UNITS else ():
            legend.unit_of.setdefault(analyte, unit)


def _note_mark(legend: Legend, mark: str, means: str) -> None:
    known = written_in(means)
    legend.marks[plain(mark)] = (known.basis, known.unit, method_in(means))


#: Words of a basis, which name no analyte; "de" before them is no digestible energy.
_DRY_WORDS: Final = re.compile(
    r"\bdry matter\b|\bdm\b|\bmoisture\b|\bs\.m\b|(?:\bde (?:la |l')?)?\bmati[eè]re s[eè]che\b|"
    r"(?:\bde (?:la )?)?\bmateria seca\b|\bde (?:la )?ms\b|\bde(?: la| las| los| l)?\b"
)


#: "mg/kg", which is no magnesium.
_OF_WEIGHT: Final = re.compile(r"\bm?g\s?(?:/|per)\s?(?:kg|lb|100 ?g|g)\b")
#: "ca, k and p are": an element of one or two letters, where it stands in a list of analytes.
_LISTED: Final = re.compile(r"(?:^|[,;:]|\band)\s*(k|p|s|mg|na|fe|zn|cu|mn)\s*(?=,|and\b|are\b)")
_LEAST_LISTED: Final = 3


def _named(shown: str) -> tuple[str, ...]:
    """Return the analytes that a sentence names."""
    found: list[str] = []
    rest = _OF_WEIGHT.sub(" ", EXCEPT_WATER.sub(" ", shown))
    for words, analytes in GROUPS.items():
        if re.search(rf"\b{words}\b", rest):
            found.extend(analytes)
            rest = rest.replace(words, " ")
    singles = re.findall(r"[a-z0-9-]+", unaccented(_DRY_WORDS.sub(" ", rest)))
    for size in (3, 2, 1):
        for first in range(len(singles) - size + 1):
            piece = " ".join(singles[first : first + size])
            bare = re.sub(r"^(?:(?:como?|comme|tal|tel|som|zoals|als|jak|na|se|w)\b ?)+", "", piece)
            if (len(bare) < 3 and bare not in ("cp", "ee", "ca")) or piece in (
                "energy",
                "protein basis",
                "don",
                "fat",
                "iron",
                "water",
            ):
                continue
            label = label_of(bare)
            if label and len(label.candidates) == 1 and not label.misspelled:
                found.extend(one for one in label.candidates if one not in WATER)
    listed = (
        [label_of(one) for one in _LISTED.findall(shown)] if len(found) >= _LEAST_LISTED else []
    )
    found.extend(one.candidates[0] for one in listed if one is not None)
    return tuple(dict.fromkeys(found))
