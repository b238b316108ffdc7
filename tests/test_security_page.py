"""The page of safety says what its table says, and the table names what is there."""

import re
from pathlib import Path

from tools.security_page import MET, NOT_MET, NOT_OURS, demands, page

ROOT = Path(__file__).parents[1]

#: Sections of OWASP ASVS 4.0.3, and the numbers in each that levels 1 or 2 ask for: those of level
#: 3 alone and those that were deleted are not among them.
NUMBERS = """
1.1:1-7 1.2:1-4 1.4:1,4,5 1.5:1-4 1.6:1-4 1.7:1-2 1.8:1-2 1.9:1-2 1.10:1 1.11:1-2 1.12:2 1.14:1-6
2.1:1-12 2.2:1-3 2.3:1-3 2.4:1-6 2.5:1-7 2.6:1-3 2.7:1-6 2.8:1-7 2.9:1-3 2.10:1-4
3.1:1 3.2:1-4 3.3:1-4 3.4:1-5 3.5:1-3 3.7:1 4.1:1-3,5 4.2:1-2 4.3:1-3
5.1:1-5 5.2:1-8 5.3:1-10 5.4:1-3 5.5:1-4 6.1:1-3 6.2:1-6 6.3:1-2 6.4:1-2
7.1:1-4 7.2:1-2 7.3:1,3,4 7.4:1-3 8.1:1-4 8.2:1-3 8.3:1-8 9.1:1-3 9.2:1-4
10.2:1-2 10.3:1-3 11.1:1-8 12.1:1-3 12.2:1 12.3:1-6 12.4:1-2 12.5:1-2 12.6:1
13.1:1,3-5 13.2:1-3,5,6 13.3:1-2 13.4:1-2 14.1:1-4 14.2:1-6 14.3:2-3 14.4:1-7 14.5:1-4
"""


def asked_for() -> list[str]:
    """Return every number that levels 1 and 2 ask for."""
    found = []
    for word in NUMBERS.split():
        section, _, spans = word.partition(":")
        for span in spans.split(","):
            first, _, last = span.partition("-")
            found += [f"{section}.{n}" for n in range(int(first), int(last or first) + 1)]
    return found


def test_the_page_is_the_table() -> None:
    written = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    assert written == page(), "python -m tools.security_page docs/security.md"


def test_every_demand_of_both_levels_has_its_row_and_its_reason() -> None:
    assert [one.number for one in demands()] == asked_for()
    for one in demands():
        assert one.level in (1, 2), one.number
        assert one.state in (MET, NOT_MET, NOT_OURS), one.number
        assert one.asks, one.number
        assert one.how, one.number
        # What is met says where; what is not has no place yet.
        assert bool(one.where) == (one.state == MET), one.number


def test_every_module_and_every_test_that_is_named_is_there() -> None:
    for one in demands():
        for module in one.where:
            path = ROOT / "src" / module.replace(".", "/")
            assert path.is_dir() or path.with_suffix(".py").is_file(), (one.number, module)
        for test in one.tests:
            file, _, name = test.partition("::")
            text = (ROOT / file).read_text(encoding="utf-8")
            shown = rf"^def {name}\(" if name else "^ *>>> "
            assert re.search(shown, text, re.MULTILINE), (one.number, test)
