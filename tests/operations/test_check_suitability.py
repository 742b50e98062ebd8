from dataclasses import replace
from datetime import date

import pytest

from estate.domain.life.supplies import SuppliesDraft
from estate.domain.places import Use, UserGroup
from estate.domain.suitability.conditions import Condition, Held
from estate.domain.suitability.given import Checked, Given
from estate.domain.suitability.survey import ModelFigures, Supply
from estate.domain.valves import SchemeClass
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import EntryFault, NotFoundFault, RuleFault
from estate.operations import browse
from estate.operations.browse_upkeep import surveys_of
from estate.operations.check_suitability import check_figures, check_outlet
from estate.operations.keep_upkeep import record_survey, take_back_survey
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO

REF = "MM/G/G01/WHB1"
FIGURES = Given(Use.SHOWER, UserGroup.RESIDENTS, Supply(60.0, 3.0, 2.0), Supply(12.0, 3.0, 2.0))


def checked(register: Register, given: Given | None = None, on: date = TODAY, ref: str = REF) -> Checked:
    return check_outlet(register, browse.find_outlet(register, ref).id, given or Given(), on)


def condition(found: Checked, code: str) -> Condition:
    (one,) = [each for each in found.suitability.conditions if each.code == code]
    return one


def measured(register: Register, on: date, readings: Readings) -> None:
    outlet = browse.find_outlet(register, REF)
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert page.valve is not None
    draft = VisitDraft(page.valve.id, outlet.id, VisitKind.IN_SERVICE, on, readings)
    record_visit(register, draft, who=WHO, at=NOW, today=TODAY)


def test_that_an_outlet_is_checked_with_its_known_facts_and_the_supplies_of_its_last_visit(
    only_read: Register,
) -> None:
    found = checked(only_read)
    survey = found.suitability.survey
    assert (survey.use, survey.users, survey.pipe_m) == (Use.BASIN, UserGroup.PATIENTS, 1.2)
    assert (survey.scheme_class, survey.set_c) == (SchemeClass.TYPE_3, 41.0)
    assert (survey.hot.temperature_c, survey.cold.temperature_c) == (60.4, 13.0)
    assert found.taken_from == ("supply temperatures of the visit on 23 Feb 2026",)
    assert found.valve == "Make A A15 A15-1"
    assert condition(found, "pressure-ratio").held is Held.UNTOLD


def test_that_hot_and_cold_of_different_visits_are_never_paired(register: Register) -> None:
    measured(register, date(2026, 6, 1), Readings(found_c=41.2, hot_flow_bar=3.0, cold_flow_bar=2.0))
    measured(register, date(2026, 9, 1), Readings(found_c=41.2, hot_flow_bar=4.0, hot_c=61.0))
    found = checked(register)
    survey = found.suitability.survey
    assert (survey.hot.flow_bar, survey.cold.flow_bar) == (4.0, None)
    assert (survey.hot.temperature_c, survey.cold.temperature_c) == (61.0, None)
    earlier = checked(register, on=date(2026, 7, 1)).suitability.survey
    assert (earlier.hot.flow_bar, earlier.cold.flow_bar) == (3.0, 2.0)
    assert found.taken_from[-1] == "flow pressures of the visit on 1 Sep 2026"


def test_that_a_survey_counts_like_a_visit_until_it_is_withdrawn(register: Register) -> None:
    place = browse.find_outlet(register, REF).id
    survey = SuppliesDraft(
        place, date(2026, 8, 1), hot_flow_bar=2.5, cold_flow_bar=2.0, wanted_flow_l_min=6.0
    )
    record_survey(register, survey, who=WHO, at=NOW, today=TODAY)
    found = checked(register)
    assert found.suitability.survey.hot.flow_bar == 2.5
    assert found.suitability.survey.wanted_l_min == 6.0
    assert found.taken_from[-1] == "flow pressures of the survey on 1 Aug 2026"
    assert checked(register, on=date(2026, 7, 1)).suitability.survey.hot.flow_bar is None
    (kept,) = surveys_of(register, place)
    take_back_survey(register, kept.id, why="read at another valve", who=WHO, at=NOW)
    assert checked(register).suitability.survey.wanted_l_min is None


def test_that_figures_given_by_hand_come_before_those_on_record(only_read: Register) -> None:
    given = Given(
        users=UserGroup.DEPENDENT,
        hot=Supply(53.0),
        set_c=40.0,
        designations=("HP-W",),
        model=ModelFigures(min_differential_k=12.0),
        risk_assessed=True,
    )
    survey = checked(only_read, given).suitability.survey
    assert (survey.hot.temperature_c, survey.cold.temperature_c) == (53.0, 13.0)
    assert (survey.users, survey.use, survey.set_c) == (UserGroup.DEPENDENT, Use.BASIN, 40.0)
    assert (survey.designations, survey.model.min_differential_k) == (("HP-W",), 12.0)
    assert condition(checked(only_read, given), "hot-legionella").held is Held.FAILS


def test_that_an_outlet_without_a_valve_in_place_is_checked_as_one_to_be_fitted(only_read: Register) -> None:
    found = checked(only_read, on=date(2025, 1, 1))
    assert (found.valve, found.taken_from) == ("", ())
    assert found.suitability.kind_assumed
    assert found.suitability.survey.scheme_class is None


def test_that_an_unknown_outlet_is_told(only_read: Register) -> None:
    with pytest.raises(NotFoundFault):
        check_outlet(only_read, 999, Given(), TODAY)


def test_that_figures_alone_go_by_the_rule_set_named_else_the_register_s_else_the_first(
    only_read: Register,
) -> None:
    assert check_figures(FIGURES, TODAY).suitability.rule_set == "uk-healthcare"
    assert check_figures(FIGURES, TODAY, only_read).suitability.rule_set == "uk-healthcare"
    assert check_figures(FIGURES, TODAY, only_read, "uk-type2").suitability.rule_set == "uk-type2"
    assert check_figures(FIGURES, TODAY).place == ""


def test_that_figures_alone_need_use_and_users_and_a_rule_set_that_is_known() -> None:
    with pytest.raises(EntryFault, match="Use and users"):
        check_figures(replace(FIGURES, use=None), TODAY)
    with pytest.raises(EntryFault, match="Use and users"):
        check_figures(replace(FIGURES, users=None), TODAY)
    with pytest.raises(RuleFault, match="No such rule set"):
        check_figures(FIGURES, TODAY, rule_set="nowhere")


def test_that_figures_that_stand_alone_leave_what_the_register_knows_out(only_read: Register) -> None:
    survey = checked(only_read, Given(alone=True, hot=Supply(58.0))).suitability.survey
    assert (survey.use, survey.users) == (Use.BASIN, UserGroup.PATIENTS)
    assert (survey.hot, survey.cold) == (Supply(58.0), Supply())
    assert (survey.scheme_class, survey.set_c, survey.pipe_m) == (None, None, None)
    assert checked(only_read, Given(alone=True)).taken_from == ()
