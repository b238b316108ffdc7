"""Cautions that say the same of several groups, said once with all of their names."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from rickyard.display import listed
from rickyard.farm import Caution, Farm

#: What stands for the name of a group while sentences are compared.
_NAME = "\0"


def said_once(cautions: Iterable[Caution], farm: Farm) -> tuple[Caution, ...]:
    """Return cautions with those that differ in the name of a group alone put together.

    Parameters
    ----------
    cautions : iterable of Caution
        In any order; each keeps its place, and the first of several takes that of all.
    farm : Farm
        Gives the groups their names.

    Returns
    -------
    tuple of Caution
        About the first of the groups, where several are named. Dangers are counted, and each is
        told by itself.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass, Group, Season
    >>> groups = tuple(Group(one, one, AnimalClass.HORSE, 2, 500.0) for one in ("Mares", "Ponies"))
    >>> farm = Farm("F", Season(date(2027, 1, 1), date(2027, 3, 1)), groups=groups)
    >>> told = [Caution("note", one, f"Give {one} forage.", "") for one in ("Mares", "Ponies")]
    >>> [one.sentence for one in said_once(told, farm)]
    ['Give Mares and Ponies forage.']
    """
    names = {group.group_id: group.name for group in farm.groups}
    found: dict[tuple[str, str, str], list[Caution]] = {}
    for one in cautions:
        name = "" if one.level == "danger" else names.get(one.about, "")
        plain = one.sentence.replace(name, _NAME) if name else one.sentence
        alone = "" if _NAME in plain else one.about
        found.setdefault((one.level, plain, alone), []).append(one)
    return tuple(
        replace(
            told[0],
            sentence=plain.replace(_NAME, listed([names[one.about] for one in told])),
            groups=tuple(one.about for one in told),
        )
        if _NAME in plain and len(told) > 1
        else told[0]
        for (_, plain, _), told in found.items()
    )
