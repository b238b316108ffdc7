"""Texts of sections in brackets, with keys and values under each."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.vocabulary import is_only_basis, is_only_unit, label_of

#: Where each section names its sample, what stands in its brackets is no name.
_NAMED = re.compile(
    r"^\s*(?:(?:sample[ _]?)?name|sample(?:[ _]?id)?|bag|mark)\s*=", re.MULTILINE | re.IGNORECASE
)
#: "[West 40]" over lines such as "CP = 12.2": what they are of.
_SECTION = re.compile(r"^\[([^\[\]\n=]{2,60})\]\s*$", re.MULTILINE)
#: A section that tells of no sample, and one that only counts it: "[LEGEND]", "[SAMPLE 2]".
_OTHER_SECTION = re.compile(
    r"(?:legend|key|header|file|notes?|units?|footer|end|lab(?:oratory)?|info|comments?|meta|bases|"
    r"basis|general|report)",
    re.IGNORECASE,
)
_COUNTED_SECTION = re.compile(r"(?:sample|record|result|specimen)[ _]?#?\d{1,3}", re.IGNORECASE)
_KEYED_NUMBER = re.compile(
    r"^\s*(?:lab[ _]?)?(?:ref|reference|no|number|id|nr|lab|code|accession)\s*=", re.I | re.M
)
#: "CP_D=21.5", "_A=as received": lines of keys and values.
_KEYED = re.compile(
    r"^[ \t]*_?(?P<key>[A-Za-z][\w .%/,()-]{0,30}?)[ \t]*=[ \t]*(?=\S)", re.MULTILINE
)
#: Sections that tell the units and the bases of all keys, and a line of theirs.
_OF_KEYS: Final = re.compile(r"units?|bas[ie]s|unit of measure|units and bas[ie]s", re.IGNORECASE)
_TOLD: Final = re.compile(
    r"^[ \t]*([A-Za-z][\w .%-]{0,30}?)[ \t]*[=:][ \t]*(\S[^\r\n]{0,40}?)[ \t\r]*$", re.M
)
#: "asfed" and the like, as one word.
_AS_ONE: Final = {"asfed": "as fed", "asreceived": "as received", "drymatter": "dry matter"}


def sections_told(text: str) -> str:
    r"""Return a text with what its sections name said in lines of their own.

    Parameters
    ----------
    text : str
        The content of a file.

    Returns
    -------
    str
        The same where it has no sections; units and bases that sections tell stand at each key.

    Examples
    --------
    >>> sections_told("[Units]\nCP=%\n[Basis]\nCP=dry\n[West 40]\nCP=12.4").split("\n")[-1]
    'CP (% dry) = 12.4'
    """
    if _SECTION.search(text) is None:
        return text
    text = _with_keys(text)
    named, numbered = bool(_NAMED.search(text)), bool(_KEYED_NUMBER.search(text))

    def told(found: re.Match[str]) -> str:
        if _OTHER_SECTION.fullmatch(found[1].strip()):
            return ""
        if named and numbered and _COUNTED_SECTION.fullmatch(found[1].strip()):
            return ""
        return f"Lab no = {found[1]}" if named else f"Lot = {found[1]}"

    return _KEYED.sub(r"\g<key> = ", _SECTION.sub(told, text))


def _with_keys(text: str) -> str:
    """Return a text with the units and bases that sections of their own tell at each key."""
    parts = re.split(r"(?m)^(?=\[)", text)
    told: dict[str, list[str]] = {}
    for part in parts:
        if _is_of_keys(part):
            for key, word in _TOLD.findall(part):
                shown = _AS_ONE.get(word.casefold(), word)
                if label_of(key) is not None and (is_only_unit(shown) or is_only_basis(shown)):
                    told.setdefault(key.casefold(), []).append(shown)
    if not told:
        return text

    def explained(found: re.Match[str]) -> str:
        words = told.get(found["key"].casefold())
        return f"{found['key']} ({' '.join(words)}) = " if words else found[0]

    return "".join("" if _is_of_keys(part) else _KEYED.sub(explained, part) for part in parts)


def _is_of_keys(part: str) -> bool:
    title = _SECTION.match(part)
    return title is not None and bool(_OF_KEYS.fullmatch(title[1].strip()))
