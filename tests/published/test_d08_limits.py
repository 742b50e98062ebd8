"""Limits of D 08, the TMV3 and the TMV2 scheme, copied by hand from the trade facts named beside them."""

import pytest

from tests.published.rule_files import number, shipped

# D08-30..34, D 08 Table 2 as in the TMV3 scheme's template: use, set temperature, site-test ceiling, °C.
TABLE_2 = [
    ("bidet", 38, 40),  # D08-30
    ("shower", 41, 43),  # D08-31
    ("basin", 41, 43),  # D08-32
    ("bath", 44, 46),  # D08-33
    ("assisted-bath", 46, 48),  # D08-34
]

# T2-04 (TMV2 scheme's template: set maximum) and T2-05 (2 °C more, never above 46 °C).
TYPE_2 = [("bath", 44, 46), ("shower", 41, 43), ("basin", 41, 43), ("bidet", 38, 40)]

# D08-20..23 and T2-01, T2-02: conditions of normal use.
CONDITIONS: list[tuple[str, float]] = [
    ("pressure.static-max.type-3", 10),  # D08-20
    ("pressure.flow-min.type-3.hp", 1),  # D08-21
    ("pressure.flow-max.type-3.hp", 5),  # D08-21
    ("pressure.flow-min.type-3.lp", 0.2),  # D08-21
    ("pressure.flow-max.type-3.lp", 1),  # D08-21
    ("hot.class-min.type-3", 52),  # D08-22
    ("hot.class-max.type-3", 65),  # D08-22
    ("cold.class-min.type-3", 5),  # D08-23
    ("cold.class-max.type-3", 20),  # D08-23
    ("pressure.static-max.type-2", 10),  # T2-01, T2-02
    ("pressure.flow-min.type-2.hp", 0.5),  # T2-01
    ("pressure.flow-max.type-2.hp", 5),  # T2-01
    ("pressure.flow-min.type-2.lp", 0.1),  # T2-02
    ("pressure.flow-max.type-2.lp", 1),  # T2-02
    ("hot.class-min.type-2", 55),  # T2-01, T2-02
    ("hot.class-max.type-2", 65),  # T2-01, T2-02
    ("cold.class-max.type-2", 25),  # T2-01, T2-02
]

# Second-hand from the scheme's procedure, except the two marked.
PROCEDURE: list[tuple[str, float]] = [
    ("change.small", 1),  # D08-72
    ("change.large", 2),  # D08-74, D08-85; for Type 2 D08-76
    ("isolation.wait", 5),  # D08-90
    ("isolation.max-rise", 2),  # D08-74
    ("isolation.residual-over-set", 2),  # D08-91
    ("isolation.residual-flow", 120),  # TP-02, common practice
    ("pressure.ratio", 10),  # TP-04, common practice
]

# D08-80..85: weeks from commissioning.
STAGES = [
    ("stage.1", 6, 8),  # D08-80
    ("stage.2", 12, 15),  # D08-81
    ("stage.3.long", 24, 28),  # D08-82, D08-83
    ("stage.3.short", 18, 21),  # D08-84, D08-85
]


@pytest.mark.parametrize(("use", "set_c", "ceiling_c"), TABLE_2)
def test_that_d08_table_2_and_its_ceilings_are_in_the_healthcare_rules(
    use: str, set_c: float, ceiling_c: float
) -> None:
    assert number("uk-healthcare", f"mixed.set.{use}") == set_c
    assert number("uk-healthcare", f"mixed.ceiling.{use}") == ceiling_c


@pytest.mark.parametrize(("use", "set_c", "ceiling_c"), TYPE_2)
def test_that_the_tmv2_set_maxima_and_two_degrees_more_are_in_the_type_2_rules(
    use: str, set_c: float, ceiling_c: float
) -> None:
    assert number("uk-type2", f"mixed.set.{use}") == set_c
    assert number("uk-type2", f"mixed.ceiling.{use}") == ceiling_c


def test_that_no_type_2_temperature_goes_above_46() -> None:  # T2-05
    assert number("uk-type2", "mixed.never-above") == 46
    limits = [each for key, each in shipped("uk-type2").values.items() if key.startswith("mixed.ceiling.")]
    assert max(each.number for each in limits) == 46


def test_that_every_ceiling_is_two_kelvins_above_its_set_temperature() -> None:  # D08-35, T2-05
    for rule_set_id in ("uk-healthcare", "uk-type2"):
        over = number(rule_set_id, "mixed.ceiling-over-set")
        uses = [key for key in shipped(rule_set_id).values if key.startswith("mixed.set.")]
        assert len(uses) == 5
        for key in uses:
            ceiling_c = number(rule_set_id, key.replace(".set.", ".ceiling."))
            assert ceiling_c - number(rule_set_id, key) == over == 2


@pytest.mark.parametrize("rule_set_id", ["uk-healthcare", "uk-type2"])
@pytest.mark.parametrize(("key", "value"), CONDITIONS + PROCEDURE)
def test_that_conditions_and_triggers_stand_in_both_rule_sets(
    rule_set_id: str, key: str, value: float
) -> None:
    assert number(rule_set_id, key) == value


@pytest.mark.parametrize(("stage", "first", "last"), STAGES)
def test_that_the_stages_are_in_the_healthcare_rules_alone(stage: str, first: float, last: float) -> None:
    assert number("uk-healthcare", f"{stage}.from") == first
    assert number("uk-healthcare", f"{stage}.to") == last
    assert shipped("uk-type2").get(f"{stage}.from") is None
    assert shipped("uk-type2").get(f"{stage}.to") is None


def test_that_the_window_opens_at_the_share_of_the_long_third_stage() -> None:  # D08-82: 24 of 28 weeks
    for rule_set_id in ("uk-healthcare", "uk-type2"):
        assert number(rule_set_id, "window.opening") == pytest.approx(24 / 28, abs=0.0005)


def test_that_setting_tolerance_and_pipe_length_are_those_of_common_practice() -> None:  # TP-01, TP-03
    assert number("uk-healthcare", "mixed.set-tolerance") == 2
    assert number("uk-type2", "mixed.set-tolerance") == 2
    assert number("uk-healthcare", "pipe.blended") == 2


def test_that_healthcare_groups_at_risk_need_type_3() -> None:  # D08-01 scope, D08-06; groups of HSE-15
    needed = {key: each.value for key, each in shipped("uk-healthcare").values.items() if ".needed." in key}
    at_risk = ("patients", "residents", "children", "dependent")
    assert needed == {f"class.needed.{group}": "3" for group in at_risk} | {
        "class.needed.staff": "2",
        "class.needed.public": "2",
    }


def test_that_type_2_rules_leave_children_and_dependent_people_to_the_risk_assessment() -> None:  # D08-06
    rules = shipped("uk-type2")
    assert rules.get("class.needed.children") is None
    assert rules.get("class.needed.dependent") is None
    needed = {each.value for key, each in rules.values.items() if key.startswith("class.needed.")}
    assert needed == {"2"}
