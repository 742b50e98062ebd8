"""Rules that change: a visit is judged by the rule of its day, new work by the day of fitting."""

from dataclasses import replace
from datetime import date

import pytest

from estate.domain.findings import Finding, Outcome
from estate.domain.rules.loading import parse
from estate.domain.valves import SchemeClass, Valve
from estate.operations import browse, preview_policy, set_rules
from estate.operations.record_visit import judge_draft
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from tests.builders import TODAY, check, draft
from tests.domain.rules.rule_text import dated
from tests.operations.conftest import NOW, WHO

REF = "MM/G/G01/WHB1"
CHANGE = date(2026, 6, 1)


def chosen(register: Register, rule_set: str) -> Register:
    """The register under another rule set."""
    set_rules.choose(register, "estate", rule_set, who=WHO, at=NOW)
    return register


def left_at(register: Register, on: date, left_c: float) -> Finding:
    """What is said of a visit that left the valve at a temperature."""
    outlet = browse.find_outlet(register, REF)
    (valve,) = [
        each for fitting, each in browse.outlet_page(register, outlet.id, on).fittings if fitting.in_place(on)
    ]
    visit = replace(draft(on, found_c=left_c, left_c=left_c), outlet_id=outlet.id, valve_id=valve.id)
    return check(judge_draft(register, replace(visit, instrument_id=None)), "left-above-ceiling")


@pytest.mark.parametrize(
    ("on", "outcome"),
    [
        (date(2026, 5, 31), Outcome.MET),
        (CHANGE, Outcome.NOT_MET),
        (date(2026, 6, 2), Outcome.NOT_MET),
    ],
)
def test_that_a_visit_is_judged_by_the_rule_of_its_day(
    register: Register, on: date, outcome: Outcome
) -> None:
    trial = parse(dated((45.0, "2012-07-01"), (42.0, "2026-06-01")), "trial.toml")
    held = chosen(replace(register, published={**register.published, "trial": trial}), "trial")
    found = left_at(held, on, 43.5)
    assert found.outcome is outcome
    assert ("before 1 Jun 2026" in found.source) is (on < CHANGE)


def test_that_an_outlet_shows_the_limit_of_the_day_looked_at(register: Register) -> None:
    trial = parse(dated((45.0, "2012-07-01"), (42.0, "2026-06-01")), "trial.toml")
    held = chosen(replace(register, published={**register.published, "trial": trial}), "trial")
    outlet = browse.find_outlet(held, REF)
    limits = [browse.outlet_page(held, outlet.id, on).ceiling_c for on in (date(2026, 5, 31), CHANGE)]
    assert limits == [45.0, 42.0]


def test_that_a_newer_body_is_held_to_the_rule_for_new_work(register: Register) -> None:
    chosen(register, "nz-other")
    assert left_at(register, TODAY, 52.0).outcome is Outcome.NOT_MET
    outlet = browse.find_outlet(register, REF)
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert page.ceiling_c == 50
    assert "by the day of fitting, from 2 Nov 2023" in page.ceiling_source
    body = Valve(0, "Make A", "A15", "A15-9", scheme_class=SchemeClass.TYPE_3)
    replace_valve(register, outlet.id, body, on=TODAY, who=WHO, at=NOW)
    assert left_at(register, TODAY, 49.0).outcome is Outcome.MET


def test_that_a_value_is_tried_in_the_unit_that_a_site_gives_it_in(register: Register) -> None:
    chosen(register, "us-ny-nursing")
    tried = preview_policy.preview_policy(register, "mixed.ceiling.basin", 42.0, "estate", TODAY)
    assert tried.before_value == pytest.approx(390 / 9)
    assert tried.after_value == 42.0


def test_that_a_blank_is_filled_in_and_its_visits_are_judged_again(register: Register) -> None:
    chosen(register, "ie-healthcare")
    assert left_at(register, TODAY, 41.0).outcome is Outcome.NOT_TESTED
    value = set_rules.value_of("mixed.ceiling.basin", "110 °F")
    why = "Guideline of the group, page 7"
    set_rules.override(
        register, "ie-healthcare", "mixed.ceiling.basin", "estate", value, who=WHO, at=NOW, why=why
    )
    found = left_at(register, TODAY, 41.0)
    assert found.outcome is Outcome.MET
    assert why in found.source
