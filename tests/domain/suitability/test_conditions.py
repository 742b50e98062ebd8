from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.places import Use, UserGroup
from estate.domain.rules.overlay import lay_over
from estate.domain.rules.values import Override, RuleSet
from estate.domain.suitability.bounds import Sureness
from estate.domain.suitability.check import check_suitability
from estate.domain.suitability.conditions import Held, compared
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import ModelLimits, SchemeClass
from estate.errors import EntryFault
from tests.domain.suitability.surveys import BARE, RULES, SOUND, cold, condition, hot, worked_out

BLANK = RuleSet("blank", "Nothing published", "1", "nowhere", ("Ask.",))


def test_that_a_sound_place_holds_in_every_condition() -> None:
    found = worked_out()
    assert {each.held for each in found.conditions} == {Held.HOLDS}
    assert found.of(Held.HOLDS) == found.conditions
    assert len({each.code for each in found.conditions}) == len(found.conditions) == 20


def test_that_nothing_measured_holds_in_nothing_and_says_what_to_measure() -> None:
    found = worked_out(BARE)
    assert {each.held for each in found.conditions} == {Held.UNTOLD}
    assert all(each.mend for each in found.conditions)


def test_that_without_any_rule_nothing_but_what_was_told_can_be_said() -> None:
    found = check_suitability(replace(SOUND, model=ModelFigures()), BLANK)
    held = {each.code for each in found.of(Held.HOLDS)}
    assert held == {"way-round", "risk-assessment"}
    assert "designation" not in {each.code for each in found.conditions}
    assert "with local codes" in condition(found, "class").mend[0]
    assert found.of(Held.FAILS) == ()
    assert found.fits == ()


MISSING: list[tuple[dict[str, Any], set[str]]] = [
    (
        {"hot": hot(temperature_c=None)},
        {"hot-legionella", "hot-scheme", "hot-model", "way-round", "differential"},
    ),
    ({"cold": cold(temperature_c=None)}, {"cold-legionella", "cold-scheme", "way-round"}),
    ({"hot": hot(static_bar=None)}, {"hot-static-pressure"}),
    ({"cold": cold(static_bar=None)}, {"cold-static-pressure"}),
    (
        {"hot": hot(flow_bar=None)},
        {"hot-flow-pressure", "pressure-ratio", "pressure-difference", "flow-reached"},
    ),
    ({"pipe_m": None}, {"pipe"}),
    ({"set_c": None}, {"set-temperature"}),
    ({"scheme_class": None}, {"class"}),
    ({"designations": ()}, {"designation", "hot-flow-pressure", "cold-flow-pressure"}),
    ({"risk_assessed": None}, {"risk-assessment"}),
]


@pytest.mark.parametrize(("changed", "untold"), MISSING)
def test_that_a_missing_value_never_holds(changed: dict[str, Any], untold: set[str]) -> None:
    found = worked_out(**changed)
    assert {each.code for each in found.of(Held.UNTOLD)} == untold
    assert found.of(Held.FAILS) == ()


FAILING: list[tuple[dict[str, Any], str, float | None, str]] = [
    ({"hot": hot(temperature_c=53.0)}, "hot-legionella", -2.0, "Raise the hot supply by 2.0 K to 55 °C"),
    ({"hot": hot(temperature_c=51.5)}, "hot-scheme", -0.5, "Raise the hot supply to 52 °C"),
    ({"hot": hot(temperature_c=66.0)}, "hot-scheme", -1.0, "never below the limit for legionella control"),
    ({"hot": hot(temperature_c=90.0)}, "hot-model", -5.0, "a model whose maker allows"),
    ({"cold": cold(temperature_c=20.0)}, "cold-legionella", 0.0, "check valve"),
    ({"cold": cold(temperature_c=21.0)}, "cold-scheme", -1.0, "D08-27"),
    ({"hot": hot(temperature_c=11.0)}, "way-round", None, "reversed"),
    ({"hot": hot(temperature_c=50.0)}, "differential", -1.0, "Raise the hot supply to 51 °C"),
    ({"hot": hot(static_bar=11.0)}, "hot-static-pressure", -1.0, "at most 10 bar at rest"),
    ({"hot": hot(flow_bar=6.0)}, "hot-flow-pressure", -1.0, "on the hot supply, set to 2 bar under flow"),
    ({"cold": cold(flow_bar=0.5)}, "cold-flow-pressure", -0.5, "look for a restriction"),
    (
        {"hot": hot(flow_bar=5.0), "cold": cold(flow_bar=0.8)},
        "pressure-ratio",
        -1.25,
        "Bring the cold pressure up to 1 bar first",
    ),
    (
        {"cold": cold(flow_bar=5.0), "hot": hot(flow_bar=1.0), "model": ModelFigures(max_pressure_ratio=4.0)},
        "pressure-ratio",
        -1.0,
        "on the cold supply, set to 1 bar under flow, alike on both sides; above 4 bar the limit is passed",
    ),
    ({"cold": cold(flow_bar=5.0)}, "pressure-difference", -0.5, "on the cold supply, set to 2 bar"),
    ({"scheme_class": SchemeClass.TYPE_2}, "class", None, "Choose a Type 3 valve"),
    ({"risk_assessed": False}, "risk-assessment", None, "before the valve is fitted"),
    ({"designations": ("HP-S",)}, "designation", None, "designated -W"),
    ({"pipe_m": 3.2}, "pipe", -1.2, "Mount the valve 1.2 m closer"),
    ({"set_c": 42.5}, "set-temperature", -1.5, "Set it to 41 °C or lower"),
    ({"wanted_l_min": 2.0}, "least-flow", -1.0, "smaller flows"),
    ({"wanted_l_min": 12.0}, "flow-reached", -3.515, "It takes 4 bar on both sides"),
]


@pytest.mark.parametrize(("changed", "code", "margin", "mend"), FAILING)
def test_that_a_failing_condition_says_by_how_much_and_what_would_mend_it(
    changed: dict[str, Any], code: str, margin: float | None, mend: str
) -> None:
    made = condition(worked_out(**changed), code)
    assert made.held is Held.FAILS
    assert made.margin == pytest.approx(margin) if margin is not None else made.margin is None
    assert mend in " ".join(made.mend)


def test_that_the_two_limits_of_the_hot_supply_stay_apart() -> None:
    between = worked_out(hot=hot(temperature_c=53.0))
    assert condition(between, "hot-scheme").held is Held.HOLDS
    assert condition(between, "hot-legionella").held is Held.FAILS


def test_that_each_condition_with_a_limit_shows_its_source_and_how_sure_it_is() -> None:
    found = worked_out()
    for made in found.conditions:
        assert bool(made.limits) == bool(made.source)
        assert (made.sureness is None) == (not made.limits)
    assert condition(found, "hot-scheme").sureness is Sureness.SEEN
    assert condition(found, "pipe").sureness is Sureness.PRACTICE
    assert condition(found, "differential").sureness is Sureness.MAKER
    assert condition(worked_out(model=ModelFigures()), "pressure-ratio").sureness is Sureness.PRACTICE


def test_that_a_value_of_the_site_s_own_says_so() -> None:
    who_and_why = ("A. Officer", datetime(2026, 11, 25, tzinfo=UTC), "risk assessment 7")
    made = Override("uk-healthcare", "pipe.blended", "estate", 1.0, *who_and_why)
    found = check_suitability(SOUND, lay_over(RULES, [made], ["estate"]))
    pipe = condition(found, "pipe")
    assert (pipe.held, pipe.sureness) == (Held.FAILS, Sureness.SITE)
    assert "risk assessment 7" in pipe.source


def test_that_a_class_not_named_is_taken_as_the_one_its_users_need() -> None:
    found = worked_out(scheme_class=None)
    assert (found.kind, found.kind_assumed) == (SchemeClass.TYPE_3, True)
    assert worked_out().kind_assumed is False


def test_that_a_valve_without_a_thermostat_has_no_published_conditions() -> None:
    found = worked_out(scheme_class=SchemeClass.TYPE_1)
    assert condition(found, "hot-scheme").held is Held.UNTOLD
    assert condition(found, "hot-flow-pressure").held is Held.UNTOLD
    assert condition(found, "class").held is Held.FAILS


def test_that_where_classes_are_used_but_not_for_these_users_the_assessment_decides() -> None:
    some = RULES
    values = {key: value for key, value in some.values.items() if key != "class.needed.patients"}
    found = check_suitability(replace(SOUND, scheme_class=None), replace(some, values=values))
    assert "between Type 2 and Type 3" in condition(found, "class").mend[0]
    assert "a class that is not named" in condition(found, "hot-scheme").mend[0]


def test_that_a_use_without_a_code_or_limit_is_left_to_maker_and_site() -> None:
    found = worked_out(use=Use.HAIR_WASH)
    assert condition(found, "designation").held is Held.UNTOLD
    assert condition(found, "set-temperature").held is Held.UNTOLD


def test_that_a_bath_for_people_at_risk_has_the_immersion_limit_too() -> None:
    bath = worked_out(use=Use.ASSISTED_BATH, set_c=46.0, designations=("HP-T46",))
    made = condition(bath, "immersion")
    assert (made.held, made.margin) == (Held.FAILS, -2.0)
    assert "always supervises" in made.mend[0]
    codes = {each.code for each in worked_out(use=Use.BATH, users=UserGroup.STAFF).conditions}
    assert "immersion" not in codes
    assert condition(worked_out(use=Use.BATH, set_c=44.0), "immersion").held is Held.HOLDS


def test_that_of_several_designations_the_band_that_fits_the_pressures_is_taken() -> None:
    low = worked_out(
        designations=("HP-W", "LP-W"), hot=hot(flow_bar=0.5), cold=cold(flow_bar=0.6), wanted_l_min=None
    )
    assert low.band == "lp"
    assert low.of(Held.FAILS) == ()
    assert worked_out(designations=("HP-W", "LP-W")).band == "hp"


def test_that_too_much_pressure_on_both_sides_is_reduced_to_the_top_of_the_range() -> None:
    found = worked_out(hot=hot(flow_bar=7.0), cold=cold(flow_bar=6.0))
    assert "set to 5 bar under flow at most" in condition(found, "hot-flow-pressure").mend[0]


def test_that_too_little_pressure_names_valves_made_for_it() -> None:
    found = worked_out(hot=hot(flow_bar=0.5), cold=cold(flow_bar=0.5))
    assert condition(found, "hot-flow-pressure").mend[0].endswith("for these pressures: Type 3 LP-W.")
    staff = worked_out(users=UserGroup.STAFF, hot=hot(flow_bar=0.5), cold=cold(flow_bar=0.5))
    assert "Type 3 LP-W, Type 2 HP-W, Type 2 LP-W" in condition(staff, "hot-flow-pressure").mend[0]
    one_high = condition(worked_out(hot=hot(flow_bar=3.0), cold=cold(flow_bar=0.5)), "cold-flow-pressure")
    assert "Type 3 LP-W with both at 0.5 bar" in one_high.mend[0]
    none = worked_out(hot=hot(flow_bar=0.05), cold=cold(flow_bar=0.05))
    assert "no class fits" in condition(none, "hot-flow-pressure").mend[0]


def test_that_pressures_at_rest_do_not_stand_in_for_the_ratio_under_flow() -> None:
    still = worked_out(hot=Supply(60.0, 4.0), cold=Supply(12.0, 2.0))
    made = condition(still, "pressure-ratio")
    assert made.held is Held.UNTOLD
    assert "at rest 2.00:1" in made.words
    assert condition(worked_out(BARE), "pressure-ratio").words == ""


def test_that_a_supply_without_pressure_fails_the_balance() -> None:
    made = condition(worked_out(cold=cold(flow_bar=0.0)), "pressure-ratio")
    assert made.held is Held.FAILS
    assert made.value is None
    assert "has no pressure" in made.words


def test_that_the_room_left_in_the_balance_is_told_in_bar() -> None:
    made = condition(worked_out(hot=hot(flow_bar=3.0)), "pressure-ratio")
    assert (made.held, made.value, made.margin) == (Held.HOLDS, 1.5, 3.5)
    assert "cold pressure falls to 0.60 bar" in made.words


def test_that_limits_are_said_in_words() -> None:
    found = worked_out()
    words = {each.code: each.limit_words for each in found.conditions}
    assert words["hot-scheme"] == "52 to 65 °C"
    assert words["hot-legionella"] == "≥ 55 °C"
    assert words["cold-legionella"] == "< 20 °C"
    assert words["pipe"] == "≤ 2 m"
    assert words["pressure-ratio"] == "≤ 5:1"
    assert words["class"] == ""
    assert compared("some", "Some", 1.0, "m").limit_words == ""


@given(st.floats(0, 100), st.floats(0, 100))
def test_that_a_margin_below_zero_and_failing_are_the_same(hot_c: float, set_c: float) -> None:
    made = condition(worked_out(hot=hot(temperature_c=hot_c), set_c=set_c), "differential")
    assert made.margin is not None
    assert (made.held is Held.FAILS) == (made.margin < 0)


@pytest.mark.parametrize(
    "changed",
    [{"hot": Supply(-1.0)}, {"cold": Supply(12.0, 26.0)}, {"pipe_m": float("nan")}, {"set_c": 101.0}],
)
def test_that_a_figure_that_cannot_be_true_is_refused(changed: dict[str, Any]) -> None:
    with pytest.raises(EntryFault, match="can't be true"):
        replace(SOUND, **changed)


def test_that_the_cautions_of_the_rule_set_stand_beside_every_result_and_nothing_is_permitted() -> None:
    found = worked_out()
    assert set(RULES.cautions) < set(found.cautions)
    said = " ".join(words for each in found.conditions for words in (each.name, each.words, *each.mend))
    assert "permitted" not in said
    assert "it permits nothing" in found.cautions[0]


def test_that_only_the_figures_kept_with_a_valve_come_from_it() -> None:
    assert ModelFigures.kept(ModelLimits(10.0, 5.0)) == ModelFigures(10.0, 5.0)
    assert Survey(Use.BASIN, UserGroup.STAFF).model == ModelFigures()
