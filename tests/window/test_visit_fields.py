"""What a person types becomes readings, and nothing that was not typed becomes a value."""

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.visits import Isolation, Readings, measured
from estate.window.models.visit_fields import (
    FIELDS,
    SECTIONS,
    parse_number,
    readings_of,
    section_of,
    shown,
    value_of,
)


def test_that_every_reading_can_be_entered() -> None:
    whole = {each.name for each in fields(Readings) if not each.name.endswith("_isolated")}
    halves = {f"{supply}_isolated.{each.name}" for supply in ("cold", "hot") for each in fields(Isolation)}
    assert {each.path for each in FIELDS} == whole | halves
    assert len(FIELDS) == len(whole | halves)


def test_that_the_order_is_that_of_the_work() -> None:
    headings = [each.heading for each in SECTIONS]
    assert headings.index("Mixed water as found") < headings.index("Cold supply isolated")
    assert headings[-2:] == ["Before any adjustment, in this order", "As left"]
    before = [each.path for each in SECTIONS[-2].fields]
    assert before == ["strainers_cleaned", "check_valves_good", "isolating_valves_open"]


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("41.6", 41.6),
        ("41,6", 41.6),
        (" 41 ", 41.0),
        ("0", 0.0),
        ("-1.5", -1.5),
        ("−2", -2.0),
        ("", None),
        ("  ", None),
    ],
)
def test_that_a_number_is_read_with_point_or_comma(typed: str, value: float | None) -> None:
    assert parse_number(typed) == value


@pytest.mark.parametrize("typed", ["x", "41.", "4 1", "41.6C", "1e5", "nan", "inf", "--1", "1,2,3", "41.6.1"])
def test_that_what_is_no_number_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match=r".*"):
        parse_number(typed)


@given(st.text(max_size=12))
def test_that_any_words_are_read_or_refused_and_nothing_else(typed: str) -> None:
    try:
        value = parse_number(typed)
    except ValueError:
        return
    assert value is None or float(typed.strip().replace(",", ".").replace("\u2212", "-")) == value


@given(st.dictionaries(st.sampled_from([each.path for each in FIELDS if each.is_number]), st.floats(0, 100)))
def test_that_only_what_was_typed_was_measured(typed: dict[str, float]) -> None:
    readings = readings_of(typed)
    assert measured(readings) == typed
    assert {each.path: value_of(readings, each.path) for each in FIELDS if each.path in typed} == typed


def test_that_nothing_typed_is_nothing_measured() -> None:
    assert readings_of({}) == Readings()
    assert readings_of({each.path: None for each in FIELDS}) == Readings()


def test_that_no_is_kept_apart_from_not_recorded() -> None:
    readings = readings_of({"adjusted": False, "cold_isolated.said_to_shut": False})
    assert readings.adjusted is False
    assert readings.cold_isolated.said_to_shut is False
    assert readings.cap_refitted is None


def test_that_a_value_is_shown_as_it_is_measured() -> None:
    assert [shown(each) for each in (None, True, False)] == ["–", "yes", "no"]
    assert shown(41.0, "°C") == "41.0"
    assert shown(120.0, "ml/min") == "120"


def test_that_fields_of_the_same_name_are_told_apart_by_their_step() -> None:
    named = [(section_of(each), each.words) for each in FIELDS]
    assert len(set(named)) == len(named)
