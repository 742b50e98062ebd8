"""Causes in the valve's own fittings, in the order of D08-72: strainers, check valves, isolating valves."""

from collections.abc import Iterator

from estate.domain.diagnosis.course import SHARE, SUPPLY_K, Course
from estate.domain.diagnosis.evidence import (
    BEFORE_ADJUSTING,
    FAULT_LISTS,
    PRACTICE,
    Evidence,
    missing,
    seen,
    speaks_against,
    speaks_for,
)

APART_BAR = 0.2
"""Pressures apart by this much drive water across a check valve that passes (common practice, no source)."""
STEADY_K = 1.0
"""A cold supply within this of what it was has not warmed (common practice, no source)."""


def cold_restricted(course: Course) -> Iterator[Evidence]:
    """Too little cold water: the mix gets hotter, the flow smaller (PH-08, D08-72)."""
    yield from _restricted(course, "cold", course.rose, course.fell)


def hot_restricted(course: Course) -> Iterator[Evidence]:
    """Too little hot water: the mix gets cooler, the flow smaller (PH-08, D08-72)."""
    yield from _restricted(course, "hot", course.fell, course.rose)


def _restricted(course: Course, side: str, likely: bool, unlikely: bool) -> Iterator[Evidence]:
    open_valves = course.readings.isolating_valves_open
    if open_valves is False:
        yield seen("An isolating valve was not fully open.", BEFORE_ADJUSTING)
    change = course.change_k
    if change is None:
        yield missing("mixed temperature as found, and as left at the visit before")
    elif likely or unlikely:
        share = f"{'less' if likely else 'not less'} {side} water"
        words = f"The mixed temperature changed by {change:+.1f} K: {share}."
        yield (speaks_for if likely else speaks_against)(words, FAULT_LISTS)
    yield from _flow(course)
    yield from _pressure(course, side)
    for finding in course.not_met("strainers-overdue"):
        yield speaks_for(f"{finding.words}.", finding.source)


def _flow(course: Course) -> Iterator[Evidence]:
    flow = course.compared("flow_l_min")
    if flow is None:
        yield missing("flow at the outlet, here and at an earlier visit")
        return
    words = f"The flow is {flow.now:.1f} l/min; it was {flow.then:.1f} l/min on {flow.since}."
    yield (speaks_for if flow.share <= -SHARE else speaks_against)(words, PRACTICE)


def _pressure(course: Course, side: str) -> Iterator[Evidence]:
    """Pressure that is there at rest and gone under flow has a restriction before the gauge."""
    flowing, static = course.compared(f"{side}_flow_bar"), course.compared(f"{side}_static_bar")
    if flowing is None:
        yield missing(f"{side} flow pressure, here and at an earlier visit")
        return
    words = (
        f"The {side} flow pressure is {flowing.now:.1f} bar; it was {flowing.then:.1f} bar on {flowing.since}"
    )
    if flowing.share > -SHARE:
        yield speaks_against(f"{words}.", PRACTICE)
    elif static is None:
        yield missing(f"{side} pressure at rest, here and at an earlier visit")
    elif static.share > -SHARE:
        yield speaks_for(f"{words}, and at rest it is what it was.", PRACTICE)


def check_valve_passing(course: Course) -> Iterator[Evidence]:
    """A check valve that passes lets water cross from the higher pressure to the lower (PH-08, D08-72)."""
    good, fitted = course.readings.check_valves_good, course.valve.check_valves
    if good is not None:
        words = f"Check valves looked at: {'in good order' if good else 'not in good order'}."
        yield (speaks_against if good else seen)(words, BEFORE_ADJUSTING)
    if fitted is False:
        yield speaks_for("The register says that the valve has no check valves.", BEFORE_ADJUSTING)
    yield from _hot_cooled(course)
    cold = course.compared("cold_c")
    if cold is None:
        yield missing("cold supply temperature, here and at an earlier visit")
        return
    words = f"The cold supply is {cold.now:.1f} °C; it was {cold.then:.1f} °C on {cold.since}"
    if cold.change < SUPPLY_K:
        if cold.change <= STEADY_K:
            yield speaks_against(f"{words}: the cold pipe is not warmer.", FAULT_LISTS)
        return
    yield speaks_for(f"{words}: the cold pipe is warm.", FAULT_LISTS)
    yield from _cold_elsewhere(course)
    yield from _pushed(course)


def _hot_cooled(course: Course) -> Iterator[Evidence]:
    hot, (hot_bar, cold_bar) = course.compared("hot_c"), _pressures(course)
    if hot is None or hot_bar is None or cold_bar is None:
        return
    if hot.change <= -SUPPLY_K and cold_bar - hot_bar >= APART_BAR:
        words = f"The hot supply fell from {hot.then:.1f} to {hot.now:.1f} °C since {hot.since}"
        pushes = f"the cold pressure, {cold_bar:.1f} bar, is above the hot, {hot_bar:.1f} bar"
        yield speaks_for(f"{words}, and {pushes}.", PRACTICE)


def _pressures(course: Course) -> tuple[float | None, float | None]:
    """Both pressures at rest, else both under flow; None where neither pair was measured."""
    read = course.readings
    pairs = ((read.hot_static_bar, read.cold_static_bar), (read.hot_flow_bar, read.cold_flow_bar))
    return next((pair for pair in pairs if None not in pair), (None, None))


def _cold_elsewhere(course: Course) -> Iterator[Evidence]:
    found = course.middle("cold_change_k")
    if found is None:
        yield missing("cold supply temperature at other valves on that day")
    elif found[0] >= SUPPLY_K:
        yield speaks_against(
            f"The cold supply is warmer at other valves too, median {found[0]:+.1f} K.", PRACTICE
        )
    else:
        yield speaks_for(f"At {found[2]} other valves that day the cold supply is not warmer.", PRACTICE)


def _pushed(course: Course) -> Iterator[Evidence]:
    """Water crosses from the higher pressure to the lower one."""
    hot, cold = _pressures(course)
    if hot is None or cold is None:
        yield missing("both pressures at rest")
        return
    words = f"Hot pressure {hot:.1f} bar, cold {cold:.1f} bar"
    if hot - cold >= APART_BAR:
        yield speaks_for(f"{words}: it pushes hot water into the cold pipe.", PRACTICE)
    elif cold - hot >= APART_BAR:
        yield speaks_against(f"{words}: it would push cold water into the hot pipe instead.", PRACTICE)
