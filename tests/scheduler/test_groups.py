from collections.abc import Sequence

import numpy as np
import pytest

from estate.scheduler.drift import DriftParameters
from estate.scheduler.fit import ASSUMED
from estate.scheduler.groups import ENOUGH_VALVES, fit_groups
from estate.scheduler.panel import Panel
from tests.scheduler.histories import EXAMPLE, NOTHING, TRUTH, panel, simulated, together

STEADY = DriftParameters(mu=0.0, omega=0.005, sigma=0.03, s=0.25)


def named(model: str, site: str, count: int) -> list[tuple[str, str, str]]:
    return [(f"{model} at {site}", model, "estate")] * count


def of(names: Sequence[Sequence[str]], *parts: Panel) -> list[tuple[str, int]]:
    return [(each.name, each.level) for each in fit_groups(together(*parts), names)]


def test_that_a_big_group_learns_from_its_own_valves() -> None:
    fast, slow = simulated(200, 8, 1).panel, simulated(200, 8, 2, STEADY).panel
    found = fit_groups(together(fast, slow), named("A", "north", 200) + named("B", "north", 200))
    assert (found[0].name, found[0].level) == ("A at north", 0)
    assert found[0] is found[199]
    assert found[0].fit.parameters.omega == pytest.approx(TRUTH.omega, rel=0.25)
    assert found[200].fit.parameters.omega == pytest.approx(STEADY.omega, abs=0.006)
    assert found[0].fit.valves == 200


def test_that_a_small_group_is_widened_to_its_model() -> None:
    names = named("A", "north", 30) + named("A", "south", 3)
    found = of(names, simulated(30, 8, 1).panel, simulated(3, 8, 2).panel)
    assert found[0] == ("A at north", 0)
    assert found[-1] == ("A", 1)


def test_that_a_small_model_is_widened_to_the_estate() -> None:
    names = named("A", "north", 30) + named("B", "north", 1)
    assert of(names, simulated(30, 8, 1).panel, simulated(1, 8, 2).panel)[-1] == ("estate", 2)


def test_that_one_valve_fewer_than_enough_is_not_enough() -> None:
    names = named("A", "north", ENOUGH_VALVES) + named("B", "north", ENOUGH_VALVES - 1)
    found = of(names, simulated(ENOUGH_VALVES, 8, 1).panel, simulated(ENOUGH_VALVES - 1, 8, 2).panel)
    assert found[0] == ("A at north", 0)
    assert found[-1] == ("estate", 2)


def test_that_valves_with_hardly_a_reading_are_not_enough() -> None:
    assert of(named("A", "north", 60), simulated(60, 2, 1).panel)[0] == ("estate", 2)


def test_that_an_estate_of_one_valve_is_close_to_what_is_assumed() -> None:
    (found,) = fit_groups(panel(EXAMPLE), named("A", "north", 1))
    assert found.level == 2
    assert found.fit.parameters.omega == pytest.approx(ASSUMED.omega, rel=0.3)
    assert found.fit.parameters.s == pytest.approx(ASSUMED.s, rel=0.3)


def test_that_an_estate_without_readings_has_what_is_assumed() -> None:
    (found,) = fit_groups(panel([(0, NOTHING, NOTHING)]), named("A", "north", 1))
    assert found.fit.parameters == ASSUMED
    assert found.fit.readings == 0
    assert fit_groups(panel([(0, NOTHING, 41.0)]).rows(np.array([], np.int64)), []) == ()


def test_that_nothing_jumps_when_a_group_becomes_big_enough() -> None:
    # Valves of one truth: what a group of just enough finds alone is near what it took from the estate.
    estate = simulated(400, 8, 5).panel
    for count in (ENOUGH_VALVES - 1, ENOUGH_VALVES):
        names = named("A", "north", 400 - count) + named("B", "north", count)
        found = fit_groups(estate, names)[-1].fit.parameters
        assert found.omega == pytest.approx(TRUTH.omega, rel=0.4)
        assert found.sigma == pytest.approx(TRUTH.sigma, rel=0.4)
