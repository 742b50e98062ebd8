"""The rule files as they are shipped."""

from functools import cache
from pathlib import Path

from estate.domain.rules.loading import parse
from estate.domain.rules.values import RuleSet

FOLDER = Path(__file__).parents[2] / "resources" / "rules"


@cache
def shipped(rule_set_id: str) -> RuleSet:
    """Load one shipped rule set, without overrides."""
    file = FOLDER / f"{rule_set_id}.toml"
    return parse(file.read_text("utf-8"), file.name)


def number(rule_set_id: str, key: str) -> float:
    """The number that a shipped rule set has for a key."""
    value = shipped(rule_set_id).number(key)
    assert value is not None, f"{rule_set_id} has no {key}"
    return value
