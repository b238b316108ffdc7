"""What a broken rule says of a sample, whatever the laboratory left out."""

from __future__ import annotations

import pytest

from rickyard.forage.plausibility import RULES, Rule
from rickyard.kinds import Forage
from rickyard.labs.common import told_rule


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.rule)
def test_a_rule_speaks_where_a_value_that_it_looks_at_was_not_reported(rule: Rule) -> None:
    assert told_rule(rule, "Sample 7", Forage.ALFALFA, False, {})
