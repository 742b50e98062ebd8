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
from estate.domain.phrases import phrase, together
from estate.domain.reading_names import SIDES

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
        yield seen(phrase("An isolating valve was not fully open."), BEFORE_ADJUSTING)
    change = course.change_k
    if change is None:
        yield missing(phrase("mixed temperature as found, and as left at the visit before"))
    elif likely or unlikely:
        less, same = (
            phrase("less {side} water", side=SIDES[side]),
            phrase("not less {side} water", side=SIDES[side]),
        )
        share = less if likely else same
        words = phrase(
            "The mixed temperature changed by {change:+.1f} K: {share}.", change=change, share=share
        )
        yield (speaks_for if likely else speaks_against)(words, FAULT_LISTS)
    yield from _flow(course)
    yield from _pressure(course, side)
    for finding in course.not_met("strainers-overdue"):
        yield speaks_for(f"{finding.words}.", finding.source)


def _flow(course: Course) -> Iterator[Evidence]:
    flow = course.compared("flow_l_min")
    if flow is None:
        yield missing(phrase("flow at the outlet, here and at an earlier visit"))
        return
    words = phrase(
        "The flow is {now:.1f} l/min; it was {then:.1f} l/min on {since}.",
        now=flow.now,
        then=flow.then,
        since=flow.since,
    )
    yield (speaks_for if flow.share <= -SHARE else speaks_against)(words, PRACTICE)


def _pressure(course: Course, side: str) -> Iterator[Evidence]:
    """Pressure that is there at rest and gone under flow has a restriction before the gauge."""
    flowing, static = course.compared(f"{side}_flow_bar"), course.compared(f"{side}_static_bar")
    if flowing is None:
        yield missing(phrase("{side} flow pressure, here and at an earlier visit", side=SIDES[side]))
        return
    words = phrase(
        "The {side} flow pressure is {now:.1f} bar; it was {then:.1f} bar on {since}",
        side=SIDES[side],
        now=flowing.now,
        then=flowing.then,
        since=flowing.since,
    )
    if flowing.share > -SHARE:
        yield speaks_against(together(words, ".", between=""), PRACTICE)
    elif static is None:
        yield missing(phrase("{side} pressure at rest, here and at an earlier visit", side=SIDES[side]))
    elif static.share > -SHARE:
        yield speaks_for(phrase("{words}, and at rest it is what it was.", words=words), PRACTICE)


def check_valve_passing(course: Course) -> Iterator[Evidence]:
    """A check valve that passes lets water cross from the higher pressure to the lower (PH-08, D08-72)."""
    good, fitted = course.readings.check_valves_good, course.valve.check_valves
    if good is not None:
        words = (
            phrase("Check valves looked at: in good order.")
            if good
            else phrase("Check valves looked at: not in good order.")
        )
        yield (speaks_against if good else seen)(words, BEFORE_ADJUSTING)
    if fitted is False:
        yield speaks_for(phrase("The register says that the valve has no check valves."), BEFORE_ADJUSTING)
    yield from _hot_cooled(course)
    cold = course.compared("cold_c")
    if cold is None:
        yield missing(phrase("cold supply temperature, here and at an earlier visit"))
        return
    words = phrase(
        "The cold supply is {now:.1f} °C; it was {then:.1f} °C on {since}",
        now=cold.now,
        then=cold.then,
        since=cold.since,
    )
    if cold.change < SUPPLY_K:
        if cold.change <= STEADY_K:
            yield speaks_against(phrase("{words}: the cold pipe is not warmer.", words=words), FAULT_LISTS)
        return
    yield speaks_for(phrase("{words}: the cold pipe is warm.", words=words), FAULT_LISTS)
    yield from _cold_elsewhere(course)
    yield from _pushed(course)


def _hot_cooled(course: Course) -> Iterator[Evidence]:
    hot, (hot_bar, cold_bar) = course.compared("hot_c"), _pressures(course)
    if hot is None or hot_bar is None or cold_bar is None:
        return
    if hot.change <= -SUPPLY_K and cold_bar - hot_bar >= APART_BAR:
        words = phrase(
            "The hot supply fell from {then:.1f} to {now:.1f} °C since {since}",
            then=hot.then,
            now=hot.now,
            since=hot.since,
        )
        pushes = phrase(
            "the cold pressure, {cold_bar:.1f} bar, is above the hot, {hot_bar:.1f} bar",
            cold_bar=cold_bar,
            hot_bar=hot_bar,
        )
        yield speaks_for(phrase("{words}, and {pushes}.", words=words, pushes=pushes), PRACTICE)


def _pressures(course: Course) -> tuple[float | None, float | None]:
    """Both pressures at rest, else both under flow; None where neither pair was measured."""
    read = course.readings
    pairs = ((read.hot_static_bar, read.cold_static_bar), (read.hot_flow_bar, read.cold_flow_bar))
    return next((pair for pair in pairs if None not in pair), (None, None))


def _cold_elsewhere(course: Course) -> Iterator[Evidence]:
    found = course.middle("cold_change_k")
    if found is None:
        yield missing(phrase("cold supply temperature at other valves on that day"))
    elif found[0] >= SUPPLY_K:
        yield speaks_against(
            phrase("The cold supply is warmer at other valves too, median {centre:+.1f} K.", centre=found[0]),
            PRACTICE,
        )
    else:
        yield speaks_for(
            phrase("At {of} other valves that day the cold supply is not warmer.", of=found[2]), PRACTICE
        )


def _pushed(course: Course) -> Iterator[Evidence]:
    """Water crosses from the higher pressure to the lower one."""
    hot, cold = _pressures(course)
    if hot is None or cold is None:
        yield missing(phrase("both pressures at rest"))
        return
    words = phrase("Hot pressure {hot:.1f} bar, cold {cold:.1f} bar", hot=hot, cold=cold)
    if hot - cold >= APART_BAR:
        yield speaks_for(phrase("{words}: it pushes hot water into the cold pipe.", words=words), PRACTICE)
    elif cold - hot >= APART_BAR:
        yield speaks_against(
            phrase("{words}: it would push cold water into the hot pipe instead.", words=words), PRACTICE
        )
