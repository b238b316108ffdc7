"""What a broken rule says of a sample, whatever the laboratory left out."""

from __future__ import annotations

from rickyard.forage.plausibility import RULES
from rickyard.kinds import Forage
from rickyard.labs.science import told_rule


def test_a_rule_speaks_where_a_value_that_it_looks_at_was_not_reported() -> None:
    assert len(RULES) > 100
    mute = [
        rule.rule for rule in RULES if not told_rule(rule, "Sample 7", Forage.ALFALFA, False, {})
    ]
    assert mute == []
