"""The rule files as they are shipped."""

from functools import cache
from pathlib import Path

from estate.domain.rules.loading import parse_every
from estate.domain.rules.values import RuleSet

FOLDER = Path(__file__).parents[2] / "resources" / "rules"


@cache
def every() -> dict[str, RuleSet]:
    """Every shipped rule set by its id, without overrides."""
    return dict(parse_every({file.name: file.read_text("utf-8") for file in FOLDER.glob("*.toml")}))


def shipped(rule_set_id: str) -> RuleSet:
    """One shipped rule set, without overrides."""
    return every()[rule_set_id]


def number(rule_set_id: str, key: str) -> float:
    """The number that a shipped rule set has for a key."""
    value = shipped(rule_set_id).number(key)
    assert value is not None, f"{rule_set_id} has no {key}"
    return value
