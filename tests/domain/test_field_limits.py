from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest

from estate.domain.field_limits import FieldLimit, field_limits
from estate.domain.judging.judge import judge
from estate.domain.places import Use, UserGroup
from estate.domain.rules.overlay import lay_over
from estate.domain.rules.values import Override, RuleSet
from estate.domain.valves import SchemeClass
from tests import builders
from tests.builders import healthcare, outlet, valve

EVERY = {
    "hot_c": "55 to 65",
    "cold_c": "5 to < 20",
    "found_c": "≤ 43",
    "left_c": "41 ± 2, ≤ 43",
    "cold_isolated.max_c": "≤ 43",
    "cold_isolated.stabilised_c": "≤ 43",
    "cold_isolated.residual_ml_min": "≤ 120",
    "cold_isolated.shut_s": "≤ 5",
    "hot_isolated.residual_ml_min": "≤ 120",
    "hot_isolated.shut_s": "≤ 5",
}


def words_of(rules: RuleSet | None = None, use: Use = Use.BASIN, **fields: Any) -> dict[str, str]:
    found = field_limits([outlet(use)], replace(valve(), **fields), rules or healthcare())
    return {name: limit.words for name, limit in found.items()}


def without(*keys: str) -> RuleSet:
    rules = healthcare()
    return replace(rules, values={key: value for key, value in rules.values.items() if key not in keys})


def test_that_a_type_3_basin_has_a_limit_beside_every_field_that_is_judged() -> None:
    assert words_of() == EVERY


def test_that_each_limit_says_where_it_comes_from() -> None:
    found = field_limits([outlet()], valve(), healthcare())
    assert found["found_c"].sources[0].startswith("D08-32: ")
    assert [each.split(":")[0] for each in found["hot_c"].sources] == ["55", "52", "65"]
    assert all(limit.sources for limit in found.values())


def test_that_a_limit_nobody_checked_in_its_source_is_not_verified() -> None:
    found = field_limits([outlet()], valve(), healthcare())
    assert not found["found_c"].verified
    assert not found["left_c"].verified
    assert FieldLimit("≤ 44", ("HSE-12: seen",)).verified


def test_that_a_sites_own_value_counts_as_known() -> None:
    own = Override(
        "uk-healthcare",
        "isolation.residual-flow",
        "estate",
        60.0,
        "A. Officer",
        datetime(2026, 5, 1, tzinfo=UTC),
        "minutes",
    )
    found = field_limits([outlet()], valve(), lay_over(healthcare(), (own,), ("estate",)))
    assert found["cold_isolated.residual_ml_min"].words == "≤ 60"
    assert found["cold_isolated.residual_ml_min"].verified


@pytest.mark.parametrize(
    ("use", "users", "words"),
    [
        (Use.BATH, UserGroup.PATIENTS, "44 ± 2, ≤ 46, immersed ≤ 44"),
        (Use.ASSISTED_BATH, UserGroup.RESIDENTS, "46 ± 2, ≤ 48, immersed ≤ 44"),
        (Use.BATH, UserGroup.STAFF, "44 ± 2, ≤ 46"),
        (Use.BIDET, UserGroup.PATIENTS, "38 ± 2, ≤ 40"),
        (Use.OTHER, UserGroup.PATIENTS, "41 ± 2, ≤ 43"),
    ],
)
def test_that_what_is_left_is_held_against_use_and_users(use: Use, users: UserGroup, words: str) -> None:
    assert field_limits([outlet(use, users)], valve(), healthcare())["left_c"].words == words


def test_that_a_valve_that_serves_two_uses_has_the_stricter_limit() -> None:
    found = field_limits([outlet(Use.BATH), outlet(Use.BIDET)], valve(), healthcare())
    assert found["found_c"].words == "≤ 40"


def test_that_a_use_without_any_limit_has_none_beside_it() -> None:
    found = field_limits([outlet(Use.OTHER)], valve(set_c=None), healthcare())
    assert not {"found_c", "left_c", "cold_isolated.max_c"} & found.keys()


def test_that_without_a_class_only_legionella_control_speaks_of_the_supplies() -> None:
    for unknown in (None, SchemeClass.TYPE_1):
        found = words_of(scheme_class=unknown)
        assert (found["hot_c"], found["cold_c"]) == ("≥ 55", "< 20")


def test_that_what_the_rules_leave_blank_has_no_limit() -> None:
    blank = without("hot.legionella-min", "cold.legionella-max", "mixed.set-tolerance", "isolation.wait")
    assert words_of(blank)["hot_c"] == "52 to 65"
    assert words_of(blank)["cold_c"] == "5 to 20"
    assert words_of(blank)["left_c"] == "41, ≤ 43"
    assert "cold_isolated.shut_s" not in words_of(blank)
    none = words_of(blank, scheme_class=None)
    assert not {"hot_c", "cold_c"} & none.keys()


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("hot_c", 54.9, "hot-too-cool"),
        ("hot_c", 65.1, "hot-outside-class"),
        ("cold_c", 20.0, "cold-too-warm"),
        ("cold_c", 4.9, "cold-outside-class"),
        ("found_c", 43.1, "found-above-ceiling"),
        ("left_c", 43.1, "left-above-ceiling"),
        ("left_c", 38.9, "left-off-set"),
    ],
)
def test_that_judging_draws_the_line_where_the_sheet_says(field: str, value: float, code: str) -> None:
    changed: dict[str, Any] = {field: value}
    visit = builders.draft(readings=replace(builders.GOOD, **changed))
    assert builders.check(judge(builders.case(visit)), code).outcome.value == "not met"
