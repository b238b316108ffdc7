"""Every word that a question offers is one that it understands."""

from datetime import date

import pytest

from rickyard.draft import hear

DAY = date(2026, 11, 28)
PLACE = ["Stone creek", "Ashlow", "US-KY", "", "", ""]


def asked(lines: list[str], **page: str) -> list[tuple[str, tuple[str, ...]]]:
    """Return the questions of a page with the words that they offer; none may be at fault."""
    heard = hear(lines, page, "Farm", DAY)
    assert not [one.fault for one in heard.questions if one.fault]
    return [(one.key, one.options) for one in heard.questions]


@pytest.mark.parametrize("lines", [PLACE, [*PLACE, ""], [*PLACE, "", ""]])
def test_an_offered_word_is_understood(lines: list[str]) -> None:
    ((_, words),) = asked(lines)
    assert len(words) >= 4
    for word in words:
        for key, offered in asked(lines, head=word)[1:]:
            for one in offered:
                asked(lines, **{"head": word, key: one})
