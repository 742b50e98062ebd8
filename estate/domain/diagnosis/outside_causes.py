"""Causes before the valve: the instrument, the supplies, their balance and their way round."""

from collections.abc import Iterator

from estate.domain.diagnosis.course import FEWEST_OTHERS, SHARE, SUPPLY_K, Compared, Course
from estate.domain.diagnosis.evidence import (
    FAULT_LISTS,
    PRACTICE,
    SUPPLIES_MATTER,
    Evidence,
    missing,
    seen,
    speaks_against,
    speaks_for,
)
from estate.domain.phrases import phrase
from estate.domain.reading_names import SIDES

ALIKE_K = 0.7
"""Shifts within this of each other count as the same shift (common practice, no source)."""
SAME_WAY = 0.75
"""Share of other valves that has to be off the same way (common practice, no source)."""
GREATER = 1.5
"""Growth of the pressure ratio that counts (common practice, no source)."""


def instrument(course: Course) -> Iterator[Evidence]:
    """A thermometer that reads wrong moves every valve of its day, and its supplies too (D08-71)."""
    for finding in course.not_met("instrument-out-of-calibration", "instrument-of-other-kind"):
        yield speaks_for(f"{finding.words}.", finding.source)
    yield from _others_that_day(course)
    shifts = [course.change_k, *(_shift(course, name) for name in ("hot_c", "cold_c"))]
    known = [each for each in shifts if each is not None]
    if len(known) < 3 or abs(known[0]) <= course.small_k:
        return
    if all(abs(each - known[0]) <= ALIKE_K for each in known):
        yield speaks_for(
            phrase("Mixed, hot and cold are all off by about {off:+.1f} K.", off=known[0]), PRACTICE
        )
    else:
        yield speaks_against(phrase("The supplies are not off by what the mixed water is off."), PRACTICE)


def _others_that_day(course: Course) -> Iterator[Evidence]:
    found, own = course.middle("change_k", instrument=True), course.change_k
    if found is None or own is None:
        yield missing(
            phrase(
                "readings of {others} other valves with the same instrument on that day",
                others=FEWEST_OTHERS,
            )
        )
        return
    centre, same, of = found
    if own * centre > 0 and abs(centre) > course.small_k / 2 and same / of >= SAME_WAY:
        words = phrase(
            "{same} of {of} other valves read with it that day are off the same way, median {centre:+.1f} K.",
            same=same,
            of=of,
            centre=centre,
        )
        yield speaks_for(words, PRACTICE)
    else:
        words = phrase(
            "The {of} other valves read with it that day are not off alike (median {centre:+.1f} K).",
            of=of,
            centre=centre,
        )
        yield speaks_against(words, PRACTICE)


def _shift(course: Course, name: str) -> float | None:
    found = course.compared(name)
    return None if found is None else found.change


def supply_changed(course: Course) -> Iterator[Evidence]:
    """A supply that is not what it was at the reference changes what the valve does (D08-07)."""
    yield from _temperatures(course)
    yield from _pressures(course)
    for finding in course.not_met(
        "hot-too-cool", "hot-outside-class", "cold-outside-class", "hot-flow-pressure", "cold-flow-pressure"
    ):
        yield speaks_for(f"{finding.words}.", finding.source)
    found = course.middle("hot_change_k")
    if found is not None and abs(found[0]) >= SUPPLY_K:
        words = phrase(
            "The hot supply changed at {of} other valves that day too, median {centre:+.1f} K.",
            of=found[2],
            centre=found[0],
        )
        yield speaks_for(words, SUPPLIES_MATTER)


def _temperatures(course: Course) -> Iterator[Evidence]:
    steady = 0
    for side in ("hot", "cold"):
        found = course.compared(f"{side}_c")
        if found is None:
            yield missing(phrase("{side} supply temperature, here and at an earlier visit", side=SIDES[side]))
        elif abs(found.change) >= SUPPLY_K:
            yield speaks_for(
                _told(phrase("The {side} supply", side=SIDES[side]), found, "°C"), SUPPLIES_MATTER
            )
        else:
            steady += 1
    if steady == 2:
        yield speaks_against(
            phrase("Both supply temperatures are within {most:g} K of what they were.", most=SUPPLY_K),
            SUPPLIES_MATTER,
        )


def _pressures(course: Course) -> Iterator[Evidence]:
    steady = 0
    for side in ("hot", "cold"):
        found = course.compared(f"{side}_flow_bar") or course.compared(f"{side}_static_bar")
        if found is None:
            yield missing(phrase("{side} pressure, here and at an earlier visit", side=SIDES[side]))
        elif abs(found.share) >= SHARE:
            yield speaks_for(
                _told(phrase("The {side} pressure", side=SIDES[side]), found, "bar"), SUPPLIES_MATTER
            )
        else:
            steady += 1
    if steady == 2:
        yield speaks_against(
            phrase("Both pressures are within {share:.0%} of what they were.", share=SHARE), SUPPLIES_MATTER
        )


def _told(name: str, found: Compared, unit: str) -> str:
    return phrase(
        "{name} is {now:.1f} {unit}; it was {then:.1f} {unit} on {since}.",
        name=name,
        now=found.now,
        then=found.then,
        unit=unit,
        since=found.since,
    )


def imbalance(course: Course) -> Iterator[Evidence]:
    """Pressures too far apart are more than the valve can cancel (D08-26, TP-04)."""
    (ratio,) = course.check("pressure-ratio")
    if course.all_met("pressure-ratio"):
        yield speaks_against(f"{ratio.words}.", ratio.source)
    elif course.not_met("pressure-ratio"):
        yield speaks_for(f"{ratio.words}.", ratio.source)
    else:
        yield missing(phrase("both flow pressures at one time"))
    hot, cold = course.compared("hot_flow_bar"), course.compared("cold_flow_bar")
    if hot is None or cold is None or min(hot.now, hot.then, cold.now, cold.then) <= 0:
        return
    now, then = max(hot.now / cold.now, cold.now / hot.now), max(hot.then / cold.then, cold.then / hot.then)
    if now >= GREATER * then:
        yield speaks_for(
            phrase(
                "The pressure ratio grew from {then:.1f}:1 to {now:.1f}:1 since {since}.",
                then=then,
                now=now,
                since=hot.since,
            ),
            PRACTICE,
        )


def reversed_supplies(course: Course) -> Iterator[Evidence]:
    """Hot and cold the wrong way round (TP-07): from the day of fitting, or of work on the pipes."""
    told = course.case.visit.steps.said("right-way-round")
    if told is not None:
        yield (speaks_against if told else seen)(
            phrase("Right way round: yes.") if told else phrase("Right way round: no."), "TP-07, " + PRACTICE
        )
    hot, cold = course.readings.hot_c, course.readings.cold_c
    if hot is None or cold is None:
        yield missing(phrase("hot and cold supply temperature at the valve's inlets"))
    elif hot <= cold:
        words = phrase(
            "The hot reading {hot:.1f} °C is not above the cold {cold:.1f} °C: pipes or readings swapped.",
            hot=hot,
            cold=cold,
        )
        yield seen(words, "TP-07, " + PRACTICE)
    else:
        yield speaks_against(
            phrase("Hot {hot:.1f} °C is above cold {cold:.1f} °C.", hot=hot, cold=cold), "TP-07, " + PRACTICE
        )
    worked = [each for each in course.earlier if each.readings.as_left_c is not None]
    if worked:
        yield speaks_against(
            phrase("The same body was left mixing on {visits} visits before.", visits=len(worked)), PRACTICE
        )
    elif course.not_met("cold-isolated-flow"):
        words = phrase("It has never been left in order, and with the cold isolated it does not shut.")
        yield speaks_for(words, FAULT_LISTS)
