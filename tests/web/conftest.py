"""A book with farms in it, and a browser without a window to look at its pages."""

import shutil
from collections.abc import Callable
from html.parser import HTMLParser
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import pytest

from rickyard.book.base import BookPlace, make_ready, opened_book
from rickyard.book.folders import take_in
from rickyard.web.serving import make_application

#: There are several files of this name, and none holds examples to try.
collect_ignore = ["conftest.py"]

make_ready()


class Page(HTMLParser):
    """A page as a person reads it: its text, its elements."""

    def __init__(self, answer: Any) -> None:
        super().__init__()
        self.status: int = answer.status_code
        self.headers = answer.headers
        self.text = ""
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self._part = ""
        self._cells: list[tuple[str, list[str]]] = []
        self._in_cell = False
        self.feed(answer.content.decode())
        self.text = " ".join(self.text.split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        self.elements.append((tag, said))
        if tag == "section":
            self._part = said.get("aria-labelledby") or ""
        if tag == "tr":
            self._cells.append((self._part, []))
        if tag in ("td", "th"):
            self._cells[-1][1].append("")
            self._in_cell = True

    def handle_data(self, data: str) -> None:
        self.text += f" {data}"
        if self._in_cell:
            self._cells[-1][1][-1] += data

    def handle_endtag(self, tag: str) -> None:
        self._in_cell = self._in_cell and tag not in ("td", "th")

    def rows(self, part: str) -> list[list[str]]:
        """Return the cells of the tables of a section, row by row."""
        return [cells for of, cells in self._cells if of == part]

    @property
    def looks_again(self) -> list[str | None]:
        """Return after how many seconds the page looks again: by script, and where none runs."""
        return [said.get("hx-trigger") for _, said in self.elements if "data-again" in said] + [
            said.get("content") for _, said in self.elements if said.get("http-equiv") == "refresh"
        ]

    @property
    def links(self) -> list[str]:
        """Return where the page leads."""
        return [
            one.get("href") or one.get("xlink:href") or ""
            for tag, one in self.elements
            if tag == "a"
        ]


@pytest.fixture(scope="session")
def empty_book(empty_file: Path) -> BookPlace:
    """Return a book with nothing in it, to be copied."""
    return BookPlace(empty_file.parent)


@pytest.fixture
def new_book(empty_book: BookPlace, tmp_path: Path) -> BookPlace:
    """Return an empty book of the test's own."""
    return BookPlace(shutil.copytree(empty_book.folder, tmp_path / "book"))


@pytest.fixture(scope="session")
def demo_book(empty_book: BookPlace, tmp_path_factory: pytest.TempPathFactory) -> BookPlace:
    """Return a book with the demonstration farm, which no test may change."""
    folder = tmp_path_factory.mktemp("demo") / "book"
    place = BookPlace(shutil.copytree(empty_book.folder, folder))
    with opened_book(place), as_file(files("rickyard") / "demo_farm") as shipped:
        take_in(Path(shipped))
    return place


@pytest.fixture
def open_pages() -> Callable[[BookPlace], Callable[..., Page]]:
    """Return what opens a book and gets its pages."""
    from django.test import Client

    def opened(place: BookPlace) -> Callable[..., Page]:
        make_application(place, "x" * 50 + "abcdefgh")
        client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)

        def get(address: str, **how: Any) -> Page:
            return Page(client.get(address, **how))

        return get

    return opened


@pytest.fixture
def get(
    open_pages: Callable[[BookPlace], Callable[..., Page]], demo_book: BookPlace
) -> Callable[..., Page]:
    """Return what gets a page of the demonstration farm's book."""
    return open_pages(demo_book)
