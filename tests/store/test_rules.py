from dataclasses import replace

import pytest

from estate.domain.rules.values import Override
from estate.errors import EntryFault
from estate.store import rules
from estate.store.transaction import Transaction
from tests.store.builders import NOW

HIGHER = Override(
    "uk-healthcare", "mixed.ceiling.basin", "building:3", 42.0, "A. Officer", NOW, "agreed by the group"
)


def test_that_the_estate_has_the_rules_it_was_made_with_until_others_are_chosen(tx: Transaction) -> None:
    assert rules.estate_rule_set(tx.session) == "uk-healthcare"
    rules.choose_estate_rules(tx, "uk-type2")
    assert rules.estate_rule_set(tx.session) == "uk-type2"
    assert tx.changes.rules


@pytest.mark.parametrize("value", [42.0, 0.0, "first day", "", None])
def test_that_an_override_comes_back_as_it_was_made(tx: Transaction, value: float | str | None) -> None:
    override = replace(HIGHER, value=value)
    rules.add_override(tx, override)
    assert rules.overrides(tx.session) == (override,)
    assert tx.changes.rules


def test_that_every_override_is_kept_oldest_first(tx: Transaction) -> None:
    made = [replace(HIGHER, value=value) for value in (42.0, 43.0, None)]
    for each in made:
        rules.add_override(tx, each)
    assert rules.overrides(tx.session) == tuple(made)


@pytest.mark.parametrize("why", ["", "  "])
def test_that_an_override_needs_a_reason(tx: Transaction, why: str) -> None:
    with pytest.raises(EntryFault, match="A reason is needed"):
        rules.add_override(tx, replace(HIGHER, why=why))
    assert rules.overrides(tx.session) == ()


@pytest.mark.parametrize("value", [float("nan"), float("-inf")])
def test_that_an_override_is_a_figure(tx: Transaction, value: float) -> None:
    with pytest.raises(EntryFault, match="not a figure"):
        rules.add_override(tx, replace(HIGHER, value=value))
