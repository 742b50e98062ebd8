"""Over which time the register watched each body, and how that ended."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date

from estate.domain.places import Outlet
from estate.domain.valves import Fitting
from estate.operations.inventory import Inventory
from estate.scheduler.watched import WatchedBody


def model_words(inventory: Inventory, valve_id: int) -> str:
    """Make and model of a body; words where neither is recorded."""
    valve = inventory.valves[valve_id]
    return f"{valve.make} {valve.model}".strip() or "model not recorded"


def watched_bodies(
    inventory: Inventory, visited: Mapping[int, Sequence[date]], as_at: date
) -> list[WatchedBody]:
    """Each body at each position where it has been up to a day.

    A body is watched from its first visit there, or from its fitting where a body before it is on record at
    the same position. It was replaced where another body followed it there and it did not go elsewhere.

    Args:
        inventory: what stands where.
        visited: days of the visits that count, by the valve's id.
        as_at: what happened later is left out.
    """
    at_position: dict[int, list[Fitting]] = defaultdict(list)
    served: dict[int, list[Outlet]] = defaultdict(list)
    for fitting in inventory.fittings:
        at_position[fitting.position_id].append(fitting)
    for outlet in inventory.outlets:
        served[outlet.position_id].append(outlet)
    return [
        _watched(inventory, each, at_position[each.position_id], served[each.position_id], visited, as_at)
        for each in inventory.fittings
        if served[each.position_id] and (each.fitted_on is None or each.fitted_on <= as_at)
    ]


def _watched(
    inventory: Inventory,
    fitting: Fitting,
    there: Sequence[Fitting],
    outlets: Sequence[Outlet],
    visited: Mapping[int, Sequence[date]],
    as_at: date,
) -> WatchedBody:
    began, left = fitting.fitted_on, _left(fitting, outlets, as_at)
    end = left or as_at
    days = [day for day in visited.get(fitting.valve_id, ()) if (began or date.min) <= day <= end]
    followed = began is not None and any(_ended_by(each, began) for each in there if each is not fitting)
    own = inventory.fittings_of[fitting.valve_id]
    return WatchedBody(
        model=model_words(inventory, fitting.valve_id),
        ref=outlets[0].reference,
        valve=inventory.valves[fitting.valve_id].words,
        born=None if any(each.fitted_on is None for each in own) else min(_days(own)),
        entered=began if followed else min(days, default=None),
        left=left,
        replaced=_replaced(fitting, there, own, as_at),
    )


def _days(fittings: Sequence[Fitting]) -> list[date]:
    return [each.fitted_on for each in fittings if each.fitted_on is not None]


def _ended_by(earlier: Fitting, day: date) -> bool:
    return earlier.removed_on is not None and earlier.removed_on <= day


def _left(fitting: Fitting, outlets: Sequence[Outlet], as_at: date) -> date | None:
    """Day on which the body went, or its last outlet did; None while in place."""
    retired = [each.retired_on for each in outlets]
    closed = None if None in retired else max(each for each in retired if each is not None)
    ends = [each for each in (fitting.removed_on, closed) if each is not None and each <= as_at]
    return min(ends, default=None)


def _replaced(fitting: Fitting, there: Sequence[Fitting], own: Sequence[Fitting], as_at: date) -> bool:
    gone = fitting.removed_on
    if gone is None or gone > as_at:
        return False
    moved = any(each is not fitting and each.fitted_on is not None and each.fitted_on >= gone for each in own)
    followed = any(
        each.valve_id != fitting.valve_id and each.fitted_on is not None and gone <= each.fitted_on <= as_at
        for each in there
    )
    return followed and not moved
