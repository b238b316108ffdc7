"""The documentation builds without a warning, and its pages ask nothing of another machine."""

import logging
import re
import sys
from html.parser import HTMLParser
from importlib import import_module
from pathlib import Path
from xml.etree import ElementTree

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

ROOT = Path(__file__).resolve().parents[2]
FOREIGN = re.compile(r"^\s*(https?:)?//", re.IGNORECASE)
IN_STYLE = re.compile(r"(?:url\(|@import)\s*['\"]?\s*(?:https?:)?//", re.IGNORECASE)
#: What a browser fetches by itself; a link that a person clicks is none of these.
FETCHED = {
    "script": "src",
    "link": "href",
    "img": "src",
    "iframe": "src",
    "source": "src",
    "object": "data",
}


class Fetched(HTMLParser):
    """Collect what a page makes a browser fetch."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        # A page that says where it lives fetches nothing by that.
        if tag == "link" and given.get("rel") == "canonical":
            return
        self.found += [value for name, value in attrs if FETCHED.get(tag) == name and value]


def fetched(html: str) -> list[str]:
    parser = Fetched()
    parser.feed(html)
    return parser.found


class Warnings(logging.Handler):
    """Keep every warning that is logged."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str]]:
    folder = tmp_path_factory.mktemp("site")
    kept = Warnings()
    loggers = [logging.getLogger(name) for name in ("mkdocs", "griffe")]
    for one in loggers:
        one.addHandler(kept)
    path = list(sys.path)
    config = load_config(str(ROOT / "mkdocs.yml"), site_dir=str(folder))
    config.plugins.on_startup(command="build", dirty=False)
    try:
        build(config)
    finally:
        sys.path[:] = path
        for one in loggers:
            one.removeHandler(kept)
    return folder, kept.said


@pytest.mark.long
def test_it_builds_without_a_warning(site: tuple[Path, list[str]]) -> None:
    folder, said = site
    assert said == []
    assert (folder / "index.html").is_file()


@pytest.mark.long
def test_no_page_asks_another_machine_for_anything(site: tuple[Path, list[str]]) -> None:
    folder, _ = site
    pages = sorted(folder.rglob("*.html"))
    assert len(pages) > 40
    asked = [
        (page.name, address)
        for page in pages
        for address in fetched(page.read_text(encoding="utf-8"))
        if FOREIGN.match(address)
    ]
    assert asked == []
    for kind in ("*.css", "*.html"):
        for file in folder.rglob(kind):
            assert not IN_STYLE.search(file.read_text(encoding="utf-8")), file


def test_a_foreign_request_would_be_seen() -> None:
    assert fetched('<script src="https://example.org/a.js"></script>')
    assert FOREIGN.match("//example.org/a.css")
    assert IN_STYLE.search("@import 'https://example.org/font.css'")
    assert IN_STYLE.search("src: url(//example.org/a.woff)")
    assert not fetched('<a href="https://example.org/">there</a>')


@pytest.mark.long
def test_every_room_and_example_has_its_place(site: tuple[Path, list[str]]) -> None:
    folder, _ = site
    for example in sorted((ROOT / "docs" / "gallery").glob("*.py")):
        text = (folder / "gallery" / f"{example.stem}.html").read_text(encoding="utf-8")
        assert "It prints:" in text
    reference = (folder / "api" / "forage.html").read_text(encoding="utf-8")
    assert "relative_feed_value" in reference
    assert "Rank a forage against full-bloom alfalfa" in reference
    nomenclature = (folder / "nomenclature.html").read_text(encoding="utf-8")
    assert "mcal_per_lb" in nomenclature
    assert "ergovaline" in nomenclature


def test_the_drawing_shows_every_room(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT))
    drawing = import_module("tools.draw_rooms").rooms_svg()
    ElementTree.fromstring(drawing)
    package = ROOT / "src" / "rickyard"
    for door in package.glob("*/*/__init__.py"):
        room = ".".join(door.parent.relative_to(package).parts)
        assert f"<title>{room}</title>" in drawing, room


def test_a_diff_of_a_how_to_page_touches_at_most_three_files() -> None:
    """Beside data and tests, as the pages say."""
    for diff in sorted((ROOT / "docs" / "howto" / "diffs").glob("*.diff")):
        touched = re.findall(r"^\+\+\+ b/(src/\S+\.py)$", diff.read_text(encoding="utf-8"), re.M)
        assert 1 <= len(touched) <= 3, diff.name


def test_a_diff_of_a_how_to_page_fits_the_files_as_they_stand() -> None:
    """Each hunk's old lines stand in the file in that order: what a page shows can be done."""
    for diff in sorted((ROOT / "docs" / "howto" / "diffs").glob("*.diff")):
        for part in diff.read_text(encoding="utf-8").split("diff --git ")[1:]:
            name = re.search(r"^--- a/(\S+)$", part, re.M)
            if name is None:
                continue
            stands = (ROOT / name[1]).read_text(encoding="utf-8")
            for hunk in re.split(r"^@@ .*$\n", part, flags=re.M)[1:]:
                kept = [line for line in hunk.splitlines() if not line.startswith("+")]
                old = "\n".join(line[1:] for line in kept)
                assert old in stands, f"{diff.name}, {name[1]}:\n{old}"
