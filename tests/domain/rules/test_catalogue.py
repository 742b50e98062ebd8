import math
import re

import pytest

from estate.domain.places import Use, UserGroup
from estate.domain.rules.catalogue import CATALOGUE, ORDERED_PAIRS, UNIT_WORDS, Entry, describe
from estate.domain.valves import SchemeClass

ENTRIES = list(CATALOGUE.values())


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_that_each_entry_has_key_unit_words_and_a_range_or_choices(entry: Entry) -> None:
    assert re.fullmatch(r"[a-z0-9-]+(\.[a-z0-9-]+)+", entry.key)
    assert entry.unit in UNIT_WORDS
    assert entry.words
    assert (entry.low < entry.high) is not bool(entry.choices)


def test_that_no_two_keys_have_the_same_words() -> None:
    assert len({entry.words for entry in ENTRIES}) == len(ENTRIES)


def test_that_a_range_takes_its_ends_and_nothing_outside() -> None:
    entry = CATALOGUE["mixed.ceiling.basin"]
    assert entry.accepts(entry.low)
    assert entry.accepts(int(entry.high))
    assert not entry.accepts(entry.low - 0.1)
    assert not entry.accepts(entry.high + 0.1)


@pytest.mark.parametrize("value", [True, "43", None, math.nan, math.inf, [43]])
def test_that_what_is_no_number_is_not_taken_for_one(value: object) -> None:
    assert not CATALOGUE["mixed.ceiling.basin"].accepts(value)


def test_that_months_and_years_must_be_whole() -> None:
    assert CATALOGUE["strainers.interval"].accepts(6.0)
    assert not CATALOGUE["strainers.interval"].accepts(6.5)
    assert "whole number" in CATALOGUE["records.results"].expected


def test_that_a_class_is_a_text_of_the_choices() -> None:
    entry = CATALOGUE["class.needed.patients"]
    assert entry.accepts("3")
    assert not entry.accepts("4")
    assert not entry.accepts(3)
    assert entry.expected == 'one of the texts "2", "3"'


def test_that_every_choice_of_class_is_a_scheme_class() -> None:
    for entry in ENTRIES:
        if entry.unit == "class":
            assert {SchemeClass(choice) for choice in entry.choices} <= set(SchemeClass)


def test_that_every_use_and_every_user_group_has_its_keys() -> None:
    for use in Use:
        assert f"mixed.set.{use.value.replace(' ', '-')}" in CATALOGUE
        assert f"mixed.ceiling.{use.value.replace(' ', '-')}" in CATALOGUE
    for group in UserGroup:
        assert f"class.needed.{group.value.split()[0]}" in CATALOGUE


def test_that_results_can_not_be_kept_for_less_than_five_years() -> None:  # HSE-18
    assert not CATALOGUE["records.results"].accepts(4)


def test_that_no_site_can_lift_the_immersion_limit_or_a_ceiling_out_of_all_reason() -> None:
    assert not CATALOGUE["mixed.immersion-max"].accepts(48)
    assert not CATALOGUE["mixed.ceiling.bath"].accepts(55)


def test_that_lower_bounds_are_paired_with_their_upper_bounds() -> None:
    for pair in (
        ("mixed.set.bath", "mixed.ceiling.bath"),
        ("hot.class-min.type-3", "hot.class-max.type-3"),
        ("cold.class-min.type-3", "cold.class-max.type-3"),
        ("pressure.flow-min.type-2.lp", "pressure.flow-max.type-2.lp"),
        ("stage.3.short.from", "stage.3.short.to"),
        ("retest.readjusted.from", "retest.readjusted.to"),
        ("change.small", "change.large"),
    ):
        assert pair in ORDERED_PAIRS
    assert all(low in CATALOGUE and high in CATALOGUE for low, high in ORDERED_PAIRS)


def test_that_a_key_is_described_in_words_and_an_unknown_one_by_itself() -> None:
    assert describe("mixed.ceiling.assisted-bath") == "highest stabilised mixed temperature, assisted bath"
    assert describe("no.such.key") == "no.such.key"
