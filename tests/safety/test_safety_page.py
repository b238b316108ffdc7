"""The page of the rules of safety says what the table says."""

from __future__ import annotations

from pathlib import Path

from rickyard.forage.values import nitrate_share_limit
from rickyard.safety.rule import rules
from tools.safety_page import page

PAGE = Path(__file__).parents[2] / "docs" / "safety-rules.md"


def test_the_page_is_the_table() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), (
        "python -m tools.safety_page docs/safety-rules.md"
    )


def test_the_rows_of_nitrate_are_the_published_classes() -> None:
    """Clemson Agricultural Service Laboratory; ServiTech 6.05.022 where stock is pregnant."""
    for ppm in (0.0, 1000.0, 1000.1, 1399.0, 1500.0, 1500.1, 1999.0, 2001.0, 3500.1, 4000.1):
        for stage in ("pregnant", "open"):
            held = [
                rule.most_share
                for rule in rules()
                if rule.finding == "nitrate_no3n" and rule.stage == stage and rule.meets(ppm)
            ]
            assert min(held, default=1.0) == nitrate_share_limit(ppm, pregnant=stage == "pregnant")
