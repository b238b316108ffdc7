"""Dangers that stand in a program: each is ticked by whoever feeds by it, before they do."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from typing import Final

from rickyard.book.acting import NotTaken
from rickyard.display import clean, count_text
from rickyard.farm import Caution
from rickyard.service import Planned
from rickyard.sheets.wording import said_once

#: So many characters tell dangers of one program apart.
_KEY_LENGTH: Final = 16


def danger_key(caution: Caution) -> str:
    """Return what a danger is called where it is ticked.

    Parameters
    ----------
    caution : Caution
        The danger, in the words of the program.

    Returns
    -------
    str
        Of the lot, feed or group and of the sentence: when either is another, so is the key.
    """
    said = f"{caution.about}\n{caution.sentence}"
    return hashlib.sha256(said.encode()).hexdigest()[:_KEY_LENGTH]


def standing_dangers(planned: Planned) -> dict[str, Caution]:
    """Return the dangers that stand in a program.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    dict of str to Caution
        By key, in the order of the program, what is said of several groups once.
    """
    said = said_once(tuple(dict.fromkeys(planned.program.cautions)), planned.farm)
    return {danger_key(one): one for one in said if one.level == "danger"}


def refuse_unread(planned: Planned, read: Collection[str]) -> None:
    """Refuse to feed by a program of which a danger was not ticked.

    Parameters
    ----------
    planned : Planned
        The program with its farm.
    read : collection of str
        Keys of the dangers that a person ticked.

    Raises
    ------
    NotTaken
        If one was not ticked; the message names each.
    """
    standing = standing_dangers(planned).items()
    left = [clean(one.sentence) for key, one in standing if key not in read]
    if left:
        told = count_text(len(left), "danger")
        raise NotTaken(
            f"{told} of this program {'is' if len(left) == 1 else 'are'} not ticked, so it is not "
            "fed by. Ask your extension office or a veterinarian where one is not settled, then "
            "tick each.\n" + "\n".join(left)
        )
