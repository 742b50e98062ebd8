from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from estate.domain.places import Outlet
from estate.domain.steps import Part, Steps
from estate.domain.valves import Fitting, Valve
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations import browse
from estate.operations.forecast import PartUsed, forecast
from estate.operations.holdings import Holdings
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from estate.operations.rulebook import RuleBook
from estate.operations.watch_bodies import watched_bodies
from estate.scheduler.watched import WatchedBody
from tests.builders import TODAY, outlet, valve
from tests.operations.conftest import NOW, WHO

FITTED, GONE = date(2020, 1, 6), date(2024, 1, 8)


def test_that_each_model_is_told_with_its_bodies_and_what_is_too_little(only_read: Register) -> None:
    found = forecast(only_read, TODAY)
    assert [(each.name, each.in_place) for each in found.models] == [
        ("Make A A15", 2),
        ("Make B B-15", 1),
        ("Make C C3", 1),
    ]
    assert (found.estate.in_place, found.estate.watched) == (4, 3)
    assert found.estate.replaced.expected is None
    assert len(found.estate.too_few) == 3
    assert found.likeliest == ()


def test_that_a_replaced_body_is_counted_and_the_new_one_is_watched_from_new(register: Register) -> None:
    place = browse.find_outlet(register, "MM/1/101/BTH1").id
    body = Valve(0, "Make B", "B-15", "B-4")
    replace_valve(register, place, body, on=date(2026, 9, 1), who=WHO, at=NOW)
    (model,) = [each for each in forecast(register, TODAY).models if each.name == "Make B B-15"]
    assert (model.in_place, model.watched, model.replaced.count) == (1, 2, 1)
    assert model.replaced.years == pytest.approx((TODAY - date(2026, 1, 5)).days / 365.25)
    before = forecast(register, date(2026, 8, 1))
    assert [each.replaced.count for each in before.models] == [0, 0, 0]


def test_that_strainers_fall_due_once_a_year_at_each_valve(only_read: Register) -> None:
    found = forecast(only_read, TODAY)
    assert (found.strainers_due, found.strainer_cleanings) == (4, 4)


def test_that_valves_put_right_are_counted_among_those_tested_in_the_last_year(only_read: Register) -> None:
    found = forecast(only_read, TODAY).estate
    assert found.tested_valves == 2
    assert found.put_right is not None
    assert found.put_right.value == 0.5
    assert found.shut_off_tested == 2
    assert forecast(only_read, TODAY + timedelta(days=800)).estate.put_right is None


def serviced(register: Register, on: date, *parts: Part) -> None:
    place = browse.find_outlet(register, "MM/G/G01/WHB1")
    page = browse.outlet_page(register, place.id, TODAY)
    assert page.valve is not None
    draft = VisitDraft(page.valve.id, place.id, VisitKind.SERVICE, on, Readings(left_c=41.0))
    record_visit(register, replace(draft, steps=Steps(parts=parts)), who=WHO, at=NOW, today=TODAY)


def test_that_parts_on_record_and_parts_as_given_are_expected_again(register: Register) -> None:
    serviced(register, date(2026, 6, 1), Part("seal kit", 2.0), Part("strainer"))
    serviced(register, date(2026, 10, 1), Part("seal kit", 1.0))
    found = forecast(register, TODAY, [PartUsed("element", 9, 2.0)]).parts
    assert [(each.part, each.used) for each in found] == [
        ("element", 9),
        ("seal kit", 3.0),
        ("strainer", 1.0),
    ]
    years = (TODAY - date(2026, 1, 5)).days / 365.25
    assert found[1].looked_back_years == pytest.approx(years)
    assert found[1].expected is not None
    assert found[1].expected.mean == pytest.approx(3.5 / years)
    assert found[0].expected is not None
    assert found[0].expected.mean == pytest.approx(9.5 / 2)
    assert forecast(register, date(2029, 11, 1)).parts == ()


def test_that_an_empty_register_expects_nothing(empty: Register) -> None:
    found = forecast(empty, TODAY, [PartUsed("element", 1)])
    assert found.models == ()
    assert (found.estate.in_place, found.strainers_due) == (0, 0)
    assert [each.part for each in found.parts] == ["element"]


def standing(*fittings: Fitting, retired: date | None = None) -> Holdings:
    places: list[Outlet] = [outlet(id=1, retired_on=retired), outlet(id=2, position_id=2)]
    bodies = {each.valve_id: valve(id=each.valve_id, serial=f"S{each.valve_id}") for each in fittings}
    nothing: dict[str, Any] = {"visits": {}, "instruments": {}, "judgements": {}}
    return Holdings(
        outlets=tuple(places),
        valves=bodies,
        fittings=fittings,
        rulebook=RuleBook({}, "", {}, {}, ()),
        **nothing,
    )


def watched(
    *fittings: Fitting, visited: dict[int, list[date]] | None = None, **fields: Any
) -> list[WatchedBody]:
    return watched_bodies(standing(*fittings, **fields), visited or {}, TODAY)


def test_that_a_body_followed_by_another_was_replaced_and_its_follower_is_watched_from_new() -> None:
    old, new = watched(Fitting(1, 1, FITTED, GONE), Fitting(2, 1, GONE), visited={1: [date(2022, 1, 3)]})
    assert (old.born, old.entered, old.left, old.replaced) == (FITTED, date(2022, 1, 3), GONE, True)
    assert (new.born, new.entered, new.left, new.replaced) == (GONE, GONE, None, False)


def test_that_a_body_that_went_elsewhere_was_not_replaced_and_keeps_its_age() -> None:
    here, there, _ = watched(Fitting(1, 1, FITTED, GONE), Fitting(1, 2, GONE), Fitting(2, 1, GONE))
    assert here.replaced is False
    assert (there.born, there.entered) == (FITTED, None)


def test_that_a_body_that_nothing_followed_was_not_replaced() -> None:
    (gone,) = watched(Fitting(1, 1, FITTED, GONE))
    assert (gone.left, gone.replaced) == (GONE, False)


def test_that_a_body_whose_outlets_are_retired_is_watched_until_then() -> None:
    (gone,) = watched(Fitting(1, 1, FITTED), retired=GONE)
    assert (gone.left, gone.replaced) == (GONE, False)


def test_that_what_lies_ahead_is_left_out() -> None:
    later = TODAY + timedelta(days=9)
    (still,) = watched(Fitting(1, 1, FITTED, later), Fitting(2, 1, later))
    assert (still.left, still.replaced) == (None, False)


def test_that_a_day_of_fitting_that_is_not_on_record_leaves_the_age_open() -> None:
    (body,) = watched(Fitting(1, 1, None), visited={1: [FITTED]})
    assert (body.born, body.entered) == (None, FITTED)
