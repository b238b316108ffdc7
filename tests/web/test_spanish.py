"""Spanish: what a helper reads stands in the catalogue, and what does not stays as it is."""

import csv
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.accounts import add_account
from rickyard.book.acting import Role
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import adopt, ask_plan, let_in, programs, read_program, standing_dangers
from rickyard.book.working.working import work_once
from rickyard.forage import shipped_toml
from rickyard.forage.plausibility.rules import RULES
from rickyard.forage.values import CLASS_TABLES, FORAGE_WORDS
from rickyard.nutrients import UNIT_WORDS
from rickyard.program.inputs.said import _sentences
from rickyard.program.result import NUTRIENT_WORDS
from rickyard.service import PlanRequest, open_farm, plan_farm
from rickyard.stock.herd.prohibited_feeds import _LIMITS
from rickyard.web.languages import read_catalogue, turned_page
from rickyard.web.languages.messages import CatalogueError, read_messages
from rickyard.web.serving import Access, make_application
from support.books import quick_passwords
from support.farm_folders import SHORT, write_texts
from support.rows import each_row

ROOT = Path(__file__).resolve().parents[2]
SPANISH = read_catalogue("es")
HOST = "hay.example.org"
PASSWORD = "four dry bales of hay"
DAY = "2025-12-04"


class _Most(str):
    """An amount that is asked for as a number too."""

    def __format__(self, how: str) -> str:
        return "0.25" if how else str(self)


#: What stands in the braces of the engine's sentences, where it is no name.
SAMPLES: dict[str, Any] = {
    "value": 12.0, "amount": 30.0, "history": "grew in drought", "why": "grew in drought",
    "verdict": "NSC (starch + WSC) is 14.0%: over 12%, not for horses prone to laminitis.",
    "action": "check twice daily; mold and heat damage to protein begin", "ask": "",
    "whom": "Ask the lab to test ash again.", "beside": "", "wet_bales": "", "vet": "",
    "others": " and 70% for other cattle, sheep and goats",
    "cattle": "cattle tolerate it as it is", "many": "too many molds to count",
    "label": "discontinue feeding", "toxin": "aflatoxin", "word": "aflatoxin", "poison": "nitrate",
    "strictest": "horses", "remedy": "If it was sampled before the rain, sample it again",
    "forage": "prairie hay", "weeks": "the weeks", "days": "Jan 4 and Jan 11", "day": "Jan 4",
    "missing": "selenium or vitamin E", "most": _Most("2 lb"), "head": 3,
    "when": "on Jan 4", "richest": "", "fahrenheit": _Most("158"),
    "mass": _Most("60 lb"), "usd": _Most("$6"),
    "none": "None for Cows. ", "shares": "At most 35% of the dry matter for Steers",
    "found": "Sudan holds 2,400 ppm of nitrate-nitrogen (NO3-N).", "ask_vet": "",
}  # fmt: skip

#: Cautions for whoever keeps the farm's tables: none of them stands on a page of a helper.
FOR_THE_DESK = frozenset(
    {
        "more_than_counted", "late_entries", "little_on_offer", "not_counted_since",
        "fed_without_weight", "storage_remark",
    }
)  # fmt: skip


class _Filling(dict[str, Any]):
    """Whatever stands in braces: a sample, a number where one is asked for, else a name."""

    def __missing__(self, name: str) -> Any:
        return SAMPLES.get(name, _Any(f"{name.capitalize()} one"))


class _Any(str):
    """A name that may also be asked for as a number."""

    def __format__(self, how: str) -> str:
        return format(7.0, how) if how else str(self)


def filled(text: str) -> str:
    return text.format_map(_Filling({**CLASS_TABLES, **_LIMITS}))


def _engine() -> list[tuple[str, str]]:
    rules = files("rickyard.safety").joinpath("data", "rules.csv").read_text("utf-8")
    found = [(row["id"], row["words"]) for row in csv.DictReader(rules.splitlines())]
    for key, row in shipped_toml("hazards.toml").items():
        found.append((key, f"{row['finding']}: {row['do']} {row.get('ask', '')}"))
    found += [(key, row["sentence"]) for key, row in shipped_toml("cautions.toml").items()]
    found += [
        (key, row["text"])
        for key, row in _sentences().items()
        if "level" in row and key not in FOR_THE_DESK
    ]
    of_class = files("rickyard.stock").joinpath("data", "class_cautions.csv").read_text("utf-8")
    found += [(row["classes"], row["sentence"]) for row in csv.DictReader(of_class.splitlines())]
    return [(key, filled(text)) for key, text in found if text]


@each_row(("key", "sentence"), _engine())
def test_every_caution_of_the_engine_is_said(key: str, sentence: str) -> None:
    said, left = SPANISH.turned(" ".join(sentence.split()))
    assert left == ()
    assert said != sentence


def test_every_doubt_about_a_report_is_said() -> None:
    """What does not fit on a report, its likely cause and what to do, for every value it names."""
    wrong = []
    for rule in RULES:
        for text in (rule.sentence, rule.why, rule.remedy):
            told = text.format_map(_Doubted())
            said, left = SPANISH.turned(told, frozenset({"R1"}))
            if left or said == told:
                wrong.append((rule.rule, told, said))
    assert wrong == []


class _Doubted(dict[str, Any]):
    """A report of prairie hay, on which every value is a number."""

    def __missing__(self, name: str) -> Any:
        return {"report": "R1", "forage": "prairie hay"}.get(name, 12.0)


def test_what_the_engine_names_is_said() -> None:
    words = {*NUTRIENT_WORDS.values(), *FORAGE_WORDS.values()}
    words |= {f"2 lb of {one}" for one in UNIT_WORDS.values()}
    rules = files("rickyard.safety").joinpath("data", "rules.csv").read_text("utf-8")
    words |= {row["hazard"] for row in csv.DictReader(rules.splitlines())}
    assert [one for one in sorted(words) if SPANISH.said(one) is None] == []


def test_what_stands_in_no_catalogue_stays_as_it_is() -> None:
    """A loose message would turn a part of any sentence: tried on all that the documents say."""
    known = set(SPANISH.plain)
    changed = []
    for path in (ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))):
        for line in path.read_text("utf-8").splitlines():
            if len(line) > 30 and not set("|`*[#<>") & set(line):
                for sentence in re.split(r"(?<=[.!?:;])\s+", line):
                    said = SPANISH.said(sentence)
                    if said not in (None, sentence) and sentence not in known:
                        changed.append((sentence, said))
    assert changed == []


def test_a_metric_farm_and_several_names_are_said() -> None:
    said = [
        SPANISH.turned(one)[0]
        for one in (
            "Hay is held down with salt: none for Ewes until they are weighed at 181 kg (400 lb) "
            "or more.",
            "Hay holds 7 % starch, over 12 %, and is kept from Mares and Irish cobs, who founder.",
            "Never give them Sudan (nitrate; sugar) or Corn (grain and starch).",
            "It holds 20 ppb ergovaline and is kept from all groups.",
            "Mon 30 Nov", "12–31", "No such sentence. No hay today. The next is on Thu, Nov 5.",
        )
    ]  # fmt: skip
    assert said == [
        "Hay se limita con sal: nada para Ewes hasta que se pesen y lleguen a 400 lb (181 kg) "
        "o más.",
        "Hay contiene 7% de almidón, más de 12%, y no se da a Mares e Irish cobs, que padecen "
        "laminitis.",
        "Nunca les dé Sudan (nitrato; azúcar) o Corn (grano y almidón).",
        "También contiene 20 ppb de ergovalina y no se da a todos los grupos.",
        "lun 30 nov",
        "12–31",
        "No such sentence. Hoy no hay heno. El próximo es el jue 5 nov.",
    ]


def test_names_and_what_is_sent_are_left_alone() -> None:
    page = (
        '<html lang="en"><title>Feeding Hay · Rickyard</title><b translate="no">Hay</b><h2>Hay</h2>'
        '<select><option>bales</option><option value="x">bales</option></select>'
        '<textarea>Hay</textarea><input value="Hay" aria-label="Unit"><p>Some owls &amp; hay</p>'
        "<cite>from memory; Owls 1999</cite></main>"
    )
    turned, left = turned_page(page, SPANISH)
    assert turned.startswith('<html lang="es"><title>Alimentación Hay · Rickyard</title>')
    assert '<option>bales</option><option value="x">pacas</option>' in turned
    assert '<textarea>Hay</textarea><input value="Hay" aria-label="Unidad">' in turned
    assert '<span lang="en">Some owls &amp; hay</span>' in turned
    assert "<cite>de memoria; Owls 1999</cite>" in turned
    assert "está en inglés" in turned
    assert left == ("Some owls & hay",)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ('msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"\n', "twice"),
        ('msgid "a"\nmsgstr ""\n', "not translated"),
        ("msgid a\n", "no line of a message"),
    ],
)
def test_a_catalogue_that_cannot_be_read_is_named(tmp_path: Path, text: str, why: str) -> None:
    path = tmp_path / "es.po"
    path.write_text(text, "utf-8")
    with pytest.raises(CatalogueError, match=rf"es.po, line \d+.*{why}"):
        read_messages(path)


def _helper(season: Any) -> Client:
    person = add_account("Kim Lee", "kim@example.org", PASSWORD)
    let_in(None, season.farm_id, person, Role.HELPER)
    client = Client(SERVER_NAME=HOST, raise_request_exception=False)
    said = {"email": "kim@example.org", "password": PASSWORD}
    assert client.post("/sign-in", said, secure=True).status_code == 302
    return client


def test_no_english_stands_on_a_page_of_a_helper(
    new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick_passwords(monkeypatch)
    folder = write_texts(tmp_path / "short", SHORT)
    made = plan_farm(open_farm(folder), PlanRequest(effort=0.01))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        make_application(new_book, "x" * 50 + "abcdefgh", Access(HOST, Path("c"), Path("k")))
        season = take_in(folder).season
        ask_plan(None, season.id)
        work_once("w")
        kept = read_program(None, season.id)
        assert kept is not None
        adopt(None, season.id, kept.id, list(standing_dangers(kept.planned)))
        client, days = _helper(season), f"/hill-farm/feeding/{DAY}"
        english = client.get("/account", secure=True)
        assert 'lang="en"' in english.content.decode()
        chosen = client.post(
            "/language",
            {"language": "es"},
            secure=True,
            headers={"referer": f"https://{HOST}/account"},
        )
        assert (chosen["Location"], client.cookies["language"].value) == ("/account", "es")
        looked = {one: client.get(one, secure=True) for one in (
            "/account", "/deleted", "/sign-in", "/none/", days, f"/hill-farm/feeding/week/{DAY}",
            "/hill-farm/stock/", *(f"/hill-farm/stock/{one.group_id}" for one in made.farm.groups),
        )}  # fmt: skip
        fed = client.post(f"{days}/fed", {"as": "listed", "group": "COWS"}, secure=True)
        assert fed.status_code == 302
        looked["after"] = client.get(days, secure=True)
        looked["nothing"] = client.post(f"{days}/fed", {"more": "x"}, secure=True)
        looked["none of it"] = client.post(f"{days}/fed", {}, secure=True)
        looked["not hers"] = client.post("/hill-farm/season/plan", {}, secure=True)
        looked["wrong"] = client.post("/sign-in", {"email": "kim@example.org"}, secure=True)
        looked["weak"] = client.post(
            "/account/password", {"old": "x", "password": "y"}, secure=True
        )
        left = {}
        for name, answer in looked.items():
            text = answer.content.decode()
            assert '<html lang="es">' in text, name
            if "en inglés." in text:
                left[name] = re.findall('<span lang="en">[^<]*', text)
        assert left == {}
        asked = Client(SERVER_NAME=HOST, headers={"accept-language": "es-MX,es;q=0.9,en;q=0.8"})
        first = asked.get("/sign-in", secure=True)
        assert first.headers["Content-Language"] == "es"
        away = {"referer": f"https://{HOST}//evil.example/"}
        refused = asked.post("/language", {"language": "xx"}, secure=True, headers=away)
        assert refused["Location"] == "/"
        assert "language" not in asked.cookies
