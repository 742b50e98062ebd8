from datetime import timedelta

import pytest

from estate.cli.shapes import preview_shape
from estate.cli.words import preview_words
from estate.errors import RuleFault
from estate.operations import set_rules
from estate.operations.preview_policy import preview_policy
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_learn import learned  # noqa: F401 - a fixture, found by its name

KEY = "policy.risk.patients"


def test_that_a_smaller_risk_means_more_visits_and_less_time_above(learned: Register) -> None:
    found = preview_policy(learned, KEY, 0.001, "estate", TODAY)
    before, after = found.before.weeks_above_a_year, found.after.weeks_above_a_year
    assert before is not None
    assert after is not None
    assert after < before
    assert found.after.visits_a_year > found.before.visits_a_year
    assert found.moved >= len(found.moves) > 0
    assert all(move.after < move.before for move in found.moves)
    assert sum(count for _, count in found.before.by_month) == 30


def test_that_an_estate_of_which_nothing_was_learned_says_so(learned: Register) -> None:
    found = preview_policy(learned, KEY, 0.001, "estate", TODAY - timedelta(days=1))
    assert (found.before.weeks_above_a_year, found.after.weeks_above_a_year) == (None, None)
    assert found.before.visits_a_year > 0
    assert "above the ceiling: not known yet now, not known yet then" in "\n".join(preview_words(found))
    assert preview_shape(found)["before"]["weeks_above_a_year"] is None


def test_that_valves_without_a_visit_expose_nothing_that_is_known(register: Register) -> None:
    early = TODAY - timedelta(days=700)
    assert preview_policy(register, KEY, 0.01, "estate", early).before.weeks_above_a_year is None


def test_that_going_back_to_the_published_value_is_tried_too(learned: Register) -> None:
    set_rules.override(learned, "uk-healthcare", KEY, "estate", 0.001, who=WHO, at=NOW, why="site rule")
    found = preview_policy(learned, KEY, None, "estate", TODAY)
    assert (found.before_value, found.after_value) == (0.001, None)
    assert found.after.visits_a_year < found.before.visits_a_year
    assert preview_words(found)[0].endswith("0.001 now, published tried. Nothing was written.")
    assert set_rules.rules_at(learned).number(KEY) == 0.001


def test_that_a_value_that_can_not_stand_is_not_tried(register: Register) -> None:
    with pytest.raises(RuleFault):
        preview_policy(register, KEY, 7.0, "estate", TODAY)
