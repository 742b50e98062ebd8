from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estate.domain.valves import EnType, Fitting, ModelLimits, SchemeClass, Valve
from estate.errors import EntryFault, NotFoundFault
from estate.store import places, valves
from estate.store.transaction import Transaction
from tests.store.builders import Basin, add_basin

FULL = Valve(
    0,
    "Invented",
    "Model A",
    "S-1",
    SchemeClass.TYPE_3,
    EnType.PRE_SET,
    ("HP-W", "LP-S"),
    15.0,
    41.0,
    True,
    False,
    None,
    ModelLimits(10.0, 5.0),
)


@pytest.fixture
def basin(tx: Transaction) -> Basin:
    return add_basin(tx)


def test_that_a_valve_comes_back_as_it_was_added(tx: Transaction) -> None:
    valve_id = valves.add_valve(tx, FULL)
    found = valves.valves(tx.session)[valve_id]
    assert found == replace(FULL, id=valve_id)


def test_that_what_is_not_known_of_a_valve_stays_unknown(tx: Transaction) -> None:
    valve_id = valves.add_valve(tx, Valve(0, "", "", ""))
    assert valves.valves(tx.session)[valve_id] == Valve(valve_id, "", "", "")


def test_that_a_valve_is_amended_and_announced(tx: Transaction) -> None:
    valve_id = valves.add_valve(tx, FULL)
    valves.amend_valve(
        tx, valve_id, en_type=None, scheme_class=SchemeClass.TYPE_2, designations=(), limits=ModelLimits()
    )
    found = valves.valves(tx.session)[valve_id]
    assert (found.en_type, found.scheme_class, found.designations) == (None, SchemeClass.TYPE_2, ())
    assert (found.limits, found.serial) == (ModelLimits(), "S-1")
    assert valve_id in tx.changes.valves


@pytest.mark.parametrize("fields", [{"set_c": float("nan")}, {"limits": ModelLimits(float("inf"), None)}])
def test_that_a_valve_takes_figures_only(tx: Transaction, fields: dict[str, Any]) -> None:
    valve_id = valves.add_valve(tx, FULL)
    with pytest.raises(EntryFault, match="not a figure"):
        valves.amend_valve(tx, valve_id, **fields)
    with pytest.raises(EntryFault, match="not a figure"):
        valves.add_valve(tx, Valve(0, "", "", "", **fields))


def test_that_a_replaced_valve_leaves_its_history_at_the_position(tx: Transaction, basin: Basin) -> None:
    new = valves.add_valve(tx, FULL)
    valves.remove(tx, basin.valve_id, basin.position_id, date(2025, 5, 6))
    valves.fit(tx, new, basin.position_id, date(2025, 5, 6))
    assert valves.fittings(tx.session) == (
        Fitting(basin.valve_id, basin.position_id, date(2024, 1, 2), date(2025, 5, 6)),
        Fitting(new, basin.position_id, date(2025, 5, 6)),
    )
    assert basin.outlet_id in tx.changes.outlets
    assert {basin.valve_id, new} <= tx.changes.valves


def test_that_a_fitting_of_unknown_day_counts_as_the_oldest(tx: Transaction, basin: Basin) -> None:
    other = places.add_position(tx, basin.room_id, "behind the panel")
    old, new = valves.add_valve(tx, FULL), valves.add_valve(tx, FULL)
    valves.fit(tx, old, other, None)
    valves.remove(tx, old, other, date(2020, 1, 1))
    valves.fit(tx, new, other, date(2020, 1, 1))
    at_other = [each.valve_id for each in valves.fittings(tx.session) if each.position_id == other]
    assert at_other == [old, new]


@pytest.mark.parametrize("on", [date(2025, 1, 1), date(2023, 1, 1), None])
def test_that_two_valves_are_never_in_one_place(tx: Transaction, basin: Basin, on: date | None) -> None:
    with pytest.raises(EntryFault, match="another valve is in place and was not removed"):
        valves.fit(tx, valves.add_valve(tx, FULL), basin.position_id, on)


def test_that_one_valve_is_never_in_two_places(tx: Transaction, basin: Basin) -> None:
    other = places.add_position(tx, basin.room_id, "behind the panel")
    with pytest.raises(EntryFault, match="this valve is in place"):
        valves.fit(tx, basin.valve_id, other, date(2025, 1, 1))


def test_that_a_valve_is_not_fitted_before_the_last_one_was_removed(tx: Transaction, basin: Basin) -> None:
    valves.remove(tx, basin.valve_id, basin.position_id, date(2025, 5, 6))
    with pytest.raises(EntryFault, match="until 06 May 2025"):
        valves.fit(tx, valves.add_valve(tx, FULL), basin.position_id, date(2025, 5, 5))


def test_that_a_valve_is_not_removed_before_it_was_fitted(tx: Transaction, basin: Basin) -> None:
    with pytest.raises(EntryFault, match="Removed before it was fitted"):
        valves.remove(tx, basin.valve_id, basin.position_id, date(2024, 1, 1))


def test_that_only_a_valve_in_place_is_removed(tx: Transaction, basin: Basin) -> None:
    valves.remove(tx, basin.valve_id, basin.position_id, date(2025, 1, 1))
    with pytest.raises(NotFoundFault, match="not in place"):
        valves.remove(tx, basin.valve_id, basin.position_id, date(2025, 1, 1))
