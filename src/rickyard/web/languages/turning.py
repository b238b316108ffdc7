"""A page turned into another language as it leaves: its texts and what is read of its drawings."""

from __future__ import annotations

import re
from html import escape, unescape
from typing import Final

from rickyard.web.languages.catalogue import Catalogue

_PIECES: Final = re.compile(r"(<(?:\"[^\"]*\"|'[^']*'|[^>\"'])*>)")
_TAG: Final = re.compile(r"</?([a-zA-Z][a-zA-Z0-9]*)")
_READ: Final = re.compile(
    r'(?P<name> (?:aria-label|title|alt|placeholder|data-l))="(?P<text>[^"]*)"'
)
_UNTOUCHED: Final = ("script", "style", "textarea", "datalist")
_VOID: Final = frozenset({"input", "link", "meta", "br", "hr", "img", "path", "rect", "circle"})

#: Words of which the page itself says that they are names.
_NAMED: Final = re.compile(r'translate="no"[^>]*>([^<]+)<')

_OURS: Final = "· Rickyard"
_IN_PART: Final = "A part of this page stands in English."


def turned_page(page: str, catalogue: Catalogue) -> tuple[str, tuple[str, ...]]:
    """Return a page in another language, and what stands on it in no catalogue.

    Parameters
    ----------
    page : str
        The page in English.
    catalogue : Catalogue
        Of the language.

    Returns
    -------
    tuple of (str, tuple of str)
        The page; what is left is marked as English, and the page says so.

    Examples
    --------
    >>> from rickyard.web.languages.catalogue import read_catalogue
    >>> spanish = read_catalogue("es")
    >>> turned_page('<html lang="en"><h2>Load up</h2>', spanish)
    ('<html lang="es"><h2>Cargue</h2>', ())
    >>> turned_page('<h2>Owls <b translate="no">Hay</b></h2>', spanish)[0]
    '<h2><span lang="en">Owls</span> <b translate="no">Hay</b></h2>'
    """
    return _Turning(page, catalogue).whole()


class _Turning:
    """One page on its way."""

    def __init__(self, page: str, catalogue: Catalogue) -> None:
        self.page, self.catalogue = page, catalogue
        self.names = frozenset(unescape(one).strip() for one in _NAMED.findall(page))
        self.left: list[str] = []
        self.still = ""  # The element within which nothing is touched,
        self.deep = 0  # and how often it stands within itself.
        self.within: frozenset[str] = frozenset()  # Elements that are read in their own way.

    def whole(self) -> tuple[str, tuple[str, ...]]:
        pieces = [
            self._tag(one) if number % 2 else self._text(one)
            for number, one in enumerate(_PIECES.split(self.page))
        ]
        turned = "".join(pieces).replace('<html lang="en">', f'<html lang="{self._language}">', 1)
        if self.left:
            told, _ = self.catalogue.turned(_IN_PART)
            turned = turned.replace("</main>", f'<p class="soft small">{told}</p>\n</main>', 1)
        return turned, tuple(self.left)

    @property
    def _language(self) -> str:
        return self.catalogue.language

    def _tag(self, tag: str) -> str:
        found = _TAG.match(tag)
        if found is None:
            return tag
        name, ends = found.group(1).lower(), tag.startswith("</")
        if self.still:
            self._within(name, tag, ends=ends)
            return tag
        if name in ("svg", "title", "option", "cite"):
            self.within = self.within - {name} if ends else self.within | {name}
        if ends:
            return tag
        # What an option says is what is sent, where it has no value of its own.
        alone = name in _UNTOUCHED or (name == "option" and 'value="' not in tag)
        if alone or 'translate="no"' in tag:
            if name not in _VOID:
                self.still, self.deep = name, 1
            return tag
        return _READ.sub(self._attribute, tag)

    def _within(self, name: str, tag: str, *, ends: bool) -> None:
        """Find the end of an element within which nothing is touched."""
        if name == self.still and not tag.endswith("/>"):
            self.deep += -1 if ends else 1
        if not self.deep:
            self.within -= {name}
            self.still = ""

    def _attribute(self, found: re.Match[str]) -> str:
        told, left = self.catalogue.turned(unescape(found.group("text")), self.names)
        self.left += left
        return f'{found.group("name")}="{escape(told)}"'

    def _text(self, text: str) -> str:
        inner = text.strip()
        if self.still or not any(one.isalpha() for one in inner):
            return text
        words = " ".join(unescape(inner).split())
        before, after = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
        if "cite" in self.within:
            return f"{before}{self._citation(words)}{after}"
        told, left = (
            self._title(words)
            if "title" in self.within
            else self.catalogue.turned(words, self.names)
        )
        if not left:
            return f"{before}{escape(told, quote=False)}{after}"
        self.left += left
        marked = escape(told, quote=False)
        if not self.within & {"svg", "option", "title"}:
            for one in left:
                plain = escape(one, quote=False)
                marked = marked.replace(plain, f'<span lang="en">{plain}</span>', 1)
        return f"{before}{marked}{after}"

    def _title(self, words: str) -> tuple[str, tuple[str, ...]]:
        """Return the title of a page: its answer, the name of the farm, and ours."""
        rest = words.removesuffix(_OURS).rstrip()
        ours = words[len(rest) :]
        ends = (f" {one}" for one in sorted(self.names, key=len, reverse=True))
        name = next((one for one in ends if rest.endswith(one)), "")
        told, left = self.catalogue.turned(rest[: len(rest) - len(name)].strip(), self.names)
        return f"{told}{name}{ours}", left

    def _citation(self, words: str) -> str:
        """Return who published something: works stay as they are called."""
        said = [self.catalogue.said(one) or one for one in words.split("; ")]
        return escape("; ".join(said), quote=False)
