"""Where each word of a page stands: its section, its row, its column."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

#: What is read as one piece; what stands in another piece inside is that one's.
_PIECES = frozenset(
    {"p", "li", "td", "th", "dt", "dd", "h1", "h2", "h3", "summary", "label", "figcaption"}
)
#: Drawn, filled in or not seen: no piece of a page that is read.
_SILENT = frozenset({"svg", "select", "style", "script", "title"})
_NO_END = frozenset({"input", "br", "meta", "link", "img", "hr"})
#: Begins words of its own within a piece.
_APART = frozenset({"small", "span", "div", "b"})


@dataclass
class Piece:
    """A piece of a page: what kind, in which section, under which row and column, its words."""

    tag: str
    section: str
    row: str = ""
    column: str = ""
    words: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Return its words as they are read."""
        said = " ".join("".join(self.words).split())
        for mark in ".,;:)":
            said = said.replace(f" {mark}", mark)
        return said

    @property
    def place(self) -> tuple[str, str, str]:
        """Return the labels that lead a reader to it."""
        return self.section, self.row, self.column


class Placed(HTMLParser):
    """A page in pieces, drawings and what is to be filled in left out."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.pieces: list[Piece] = []
        self._open: list[tuple[str, Piece | None]] = []
        self._sections = [""]
        self._heads: list[str] = []
        self._cells: list[Piece] = []
        self._term = Piece("dt", "")
        self._silent = 0
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin a piece."""
        said = dict(attrs)
        if tag in _NO_END or tag in _APART:
            self._apart()
        if tag in _NO_END:
            return
        if tag in _SILENT:
            self._silent += 1
        if tag == "section":
            self._sections.append(said.get("aria-labelledby") or "")
        if tag == "table":
            self._heads = []
        if tag == "tr":
            self._cells = []
        piece = self._begun(tag, said)
        if piece is not None:
            self.pieces.append(piece)
            self._put(piece, said.get("data-l") or "")
        self._open.append((tag, piece))

    def _begun(self, tag: str, said: dict[str, str | None]) -> Piece | None:
        """Return the piece that an element begins."""
        section = self._sections[-1]
        if tag in _PIECES:
            return Piece(tag, section)
        if tag != "span":
            return None
        if said.get("class") == "what":
            return Piece("what", section)
        if said.get("class") == "q":
            return Piece("q", section, self._term.text, "put out")
        if said.get("translate") == "no" and self._inside("what"):
            # The name of what is put out, apart from what is said of it.
            self._term = Piece("name", section)
            return self._term
        return None

    def _put(self, piece: Piece, label: str) -> None:
        """Say under which labels a cell of a table or of a list of facts stands."""
        if piece.tag in ("td", "th"):
            at = len(self._cells)
            self._cells.append(piece)
            if piece.tag == "td" or at:
                piece.column = label or (self._heads[at] if at < len(self._heads) else str(at))
                piece.row = self._cells[0].text
        if piece.tag == "dd":
            piece.row = self._term.text

    def handle_data(self, data: str) -> None:
        """Add words to the innermost piece."""
        if self._silent:
            return
        for _, piece in reversed(self._open):
            if piece is not None:
                piece.words.append(data)
                return

    def handle_endtag(self, tag: str) -> None:
        """End a piece, and what was left open within it."""
        if tag not in [one for one, _ in self._open]:
            return
        while True:
            name, piece = self._open.pop()
            if name in _SILENT:
                self._silent -= 1
            if name == "section":
                self._sections.pop()
            if name == "dt" and piece is not None:
                self._term = piece
            if name == "thead":
                self._heads = [one.text for one in self._cells]
            if piece is not None and piece.tag not in ("td", "th"):
                self._apart()
            if name == tag:
                return

    def _inside(self, tag: str) -> bool:
        return any(piece is not None and piece.tag == tag for _, piece in self._open)

    def _apart(self) -> None:
        """Keep words beside a piece from growing together with those before it."""
        for _, piece in reversed(self._open):
            if piece is not None:
                piece.words.append(" ")
                return
