"""Every shipped value says where it comes from, and none claims to be surer than its fact."""

import pytest

from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.listing import listed
from estate.domain.rules.values import RuleValue
from tests.published.rule_files import every, shipped

COMMON_PRACTICE = "common practice, no source"
OWN_DEFAULT = "this register's own default, no published source"

# How sure each fact is, copied by hand: S seen in the body's own text, S2 second-hand, C computed,
# practice: trade practice without a published source.
SURENESS = {
    "AU-01": "S2",
    "AU-03": "S2",
    "AU-05": "S",
    "CA-01": "S2",
    "CA-03": "S2",
    "D08-01": "S",
    "D08-20": "S",
    "D08-21": "S",
    "D08-22": "S",
    "D08-23": "S",
    "D08-30": "S",
    "D08-31": "S",
    "D08-32": "S",
    "D08-33": "S",
    "D08-34": "S",
    "D08-35": "C",
    "D08-72": "S2",
    "D08-74": "S2",
    "D08-76": "S2",
    "D08-80": "S2",
    "D08-81": "S2",
    "D08-82": "S2",
    "D08-84": "S2",
    "D08-90": "S2",
    "D08-91": "S2",
    "DE-01": "S2",
    "DE-03": "S2",
    "HSE-01": "S",
    "HSE-03": "S",
    "HSE-07": "S2",
    "HSE-08": "S2",
    "HSE-09": "S2",
    "HSE-10": "S2",
    "HSE-12": "S",
    "HSE-18": "S",
    "NZ-01": "S2",
    "T2-01": "S",
    "T2-02": "S",
    "T2-04": "S",
    "T2-05": "S",
    "T2-07": "S2",
    "TP-01": "practice",
    "TP-02": "practice",
    "TP-03": "practice",
    "TP-04": "practice",
    "US-01": "S2",
    "US-02": "S2",
    "US-03": "S2",
    "US-04": "S2",
    "US-05": "S2",
}

IDS = sorted(every())
EACH_ONCE = {value: name for name in reversed(IDS) for value in listed(shipped(name))}
"""Values that several rule sets share are looked at once, under the last of them."""
VALUES = [
    pytest.param(value, id=f"{name}-{value.key}-{value.effective}") for value, name in EACH_ONCE.items()
]


def sureness(value: RuleValue) -> str:
    """How sure the fact behind a value is; the ceilings of D08-30..34 are second-hand, unlike their sets."""
    if value.fact.startswith("D08-3") and value.key.startswith("mixed.ceiling."):
        return "S2"
    return SURENESS[value.fact]


def test_that_healthcare_and_type_2_rules_are_shipped() -> None:
    assert {"uk-healthcare", "uk-type2"} <= set(IDS)


@pytest.mark.parametrize("value", VALUES)
def test_that_each_value_rests_on_a_known_fact_or_says_that_it_is_an_own_default(value: RuleValue) -> None:
    if value.fact == "OWN":
        assert value.source.document == OWN_DEFAULT
    elif sureness(value) == "practice":
        assert value.source.document == COMMON_PRACTICE
    else:
        assert value.source.document not in (OWN_DEFAULT, COMMON_PRACTICE)
        assert value.source.clause


@pytest.mark.parametrize("value", VALUES)
def test_that_only_facts_seen_in_the_bodys_own_text_are_verified(value: RuleValue) -> None:
    if value.verified:
        assert value.fact != "OWN"
        assert sureness(value) == "S"


@pytest.mark.parametrize("value", VALUES)
def test_that_each_shown_source_says_so_where_it_is_not_verified(value: RuleValue) -> None:
    assert value.shown_source.startswith(f"{value.fact}: {value.source.document}")
    assert ("not verified" in value.shown_source) is not value.verified


@pytest.mark.parametrize("name", IDS)
def test_that_each_rule_set_carries_the_cautions(name: str) -> None:
    cautions = " ".join(shipped(name).cautions).casefold()
    for word in ("local codes", "maker's instructions", "risk assessment", "competent", "licensed"):
        assert word in cautions
    for word in ("scald", "isolation", "hygiene", "legionella", "verified"):
        assert word in cautions


def test_that_the_sureness_table_names_no_fact_that_no_rule_set_uses() -> None:
    used = {value.fact for each in IDS for value in shipped(each).values.values()}
    assert set(SURENESS) <= used


# What nobody published, copied by hand from the decisions of this register: key and value.
OWN_DEFAULTS: dict[str, float | str] = {
    "retest.out-of-use.to": 0,
    "retest.put-right.from": 0,
    "retest.put-right.to": 4,
    "retest.not-tested.from": 0,
    "retest.not-tested.to": 4,
    "retest.readjusted.from": 6,
    "retest.readjusted.to": 8,
    "class.needed.staff": "2",
    "class.needed.public": "2",
    **{f"policy.risk.{group}": 0.05 for group in ("staff", "public", "patients", "residents")},
    **{f"policy.risk.{group}": 0.01 for group in ("children", "dependent")},
    **{f"policy.unavailability.{group}": 0.02 for group in ("staff", "public", "patients", "residents")},
    **{f"policy.unavailability.{group}": 0.01 for group in ("children", "dependent")},
    "policy.floor": 4,
    "policy.growth": 1,
    "action.target.out-of-use": 7,
    "action.target.put-right": 28,
    "action.target.watch": 91,
    "action.target.note": 182,
    "action.escalate-after": 7,
    "action.first-told": "the estates manager",
    "action.then-told": "the responsible person for water safety",
}


@pytest.mark.parametrize(
    ("name", "more"),
    [("uk-healthcare", {}), ("uk-type2", {"class.needed.patients": "2", "class.needed.residents": "2"})],
)
def test_that_the_own_defaults_are_these_and_no_others(name: str, more: dict[str, str]) -> None:
    own = {key: each.value for key, each in shipped(name).values.items() if each.fact == "OWN"}
    assert own == OWN_DEFAULTS | more


# HSE-07 quarterly, HSE-08 weekly, HSE-09 beside the yearly inspection: second-hand.
CARE = {"care.shower-head": (3, "HSE-07"), "care.flushing": (7, "HSE-08"), "review.interval": (12, "HSE-09")}


@pytest.mark.parametrize("name", ["uk-healthcare", "uk-type2"])
def test_that_upkeep_rests_on_second_hand_facts_and_says_so(name: str) -> None:
    values = {key: shipped(name).values[key] for key in CARE}
    assert {key: (each.value, each.fact) for key, each in values.items()} == CARE
    assert not any(each.verified for each in values.values())


@pytest.mark.parametrize("name", IDS)
def test_that_no_rule_set_leaves_actions_upkeep_or_reviews_blank(name: str) -> None:
    asked = {key for key in CATALOGUE if key.startswith(("action.", "care.", "review."))}
    assert len(asked) == 10
    assert asked <= shipped(name).values.keys()


def test_that_the_pipe_length_of_the_healthcare_class_is_left_blank_for_type_2() -> None:  # TP-03
    assert shipped("uk-type2").get("pipe.blended") is None


@pytest.mark.parametrize("name", IDS)
def test_that_keys_without_any_published_value_are_left_blank(name: str) -> None:
    for use in ("hair-wash", "other"):
        assert shipped(name).get(f"mixed.set.{use}") is None
        assert shipped(name).get(f"mixed.ceiling.{use}") is None
