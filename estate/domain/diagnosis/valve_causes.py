"""Causes in the valve: adjuster, element, seals, scale."""

from collections.abc import Iterator

from estate.domain.diagnosis.course import SHARE, SUPPLY_K, Course
from estate.domain.diagnosis.evidence import (
    FAULT_LISTS,
    PRACTICE,
    SERVICE_NEEDED,
    Evidence,
    missing,
    speaks_against,
    speaks_for,
)
from estate.domain.phrases import phrase
from estate.domain.visits import VisitKind

ONLY_MIXES = 0.5
"""A regulation index beyond this follows the supplies more than not (this register's own default)."""
FOLLOWS, CANCELS, ENOUGH_K = 0.5, 0.3, 2.0
"""Shares of a fixed mixer's movement, and the movement from which they are told (likewise)."""
OWN_ESTIMATE = "this register's own estimate from its readings"
HARD_MG_L, SOFT_MG_L = 200.0, 100.0
"""Above the one hard, up to the other soft or moderately soft (PH-05)."""
HARDNESS = "PH-05: hardness classes (not verified in the source)"
FRESH_DAYS, LONG_DAYS = 182, 365
"""Since a service: too short for scale, long enough for it (common practice, no source)."""
CAP = "TP-06, common practice, no source"
ISOLATED = ("cold-isolated-flow", "cold-isolated-stabilised", "cold-isolated-time", "cold-isolated-rise")


def adjuster_turned(course: Course) -> Iterator[Evidence]:
    """A temperature that changed all at once, with supplies and shut-off as they were (TP-06)."""
    caps = [each.readings.cap_refitted for each in (*course.earlier[-1:], course.case.visit)]
    if False in caps:
        yield speaks_for(phrase("The cap over the adjuster was not in place."), CAP)
    elif caps[0] is None:
        yield missing(phrase("whether the cap is in place over the adjuster"))
    else:
        yield speaks_against(phrase("The cap was refitted at the visit before."), CAP)
    if course.change_k is None:
        yield missing(phrase("mixed temperature as found, and as left at the visit before"))
        return
    yield from _sudden(course)
    steady = _unchanged(course)
    if abs(course.change_k) > course.large_k and steady and not course.not_met(*ISOLATED):
        yield speaks_for(
            phrase("The supplies are what they were and nothing speaks against the shut-off."), PRACTICE
        )


def _unchanged(course: Course) -> bool:
    """Whether both supply temperatures are known to be what they were, and no pressure is known to differ."""
    temperatures = [course.compared(name) for name in ("hot_c", "cold_c")]
    pressures = [course.compared(name) for name in ("hot_flow_bar", "cold_flow_bar")]
    alike = all(each is not None and abs(each.change) < SUPPLY_K for each in temperatures)
    return alike and all(each is None or abs(each.share) < SHARE for each in pressures)


def _sudden(course: Course) -> Iterator[Evidence]:
    found, expected = course.readings.found_c, course.expected_c
    if found is not None and expected is not None:
        low, high = expected
        words = phrase(
            "Found {found:.1f} °C where {low:.1f} to {high:.1f} °C was expected of this valve.",
            found=found,
            low=low,
            high=high,
        )
        yield (speaks_against if low <= found <= high else speaks_for)(words, OWN_ESTIMATE)
    elif course.step:
        yield speaks_for(
            phrase(
                "It changed by {change_k:+.1f} K at once, after little change before.",
                change_k=course.change_k,
            ),
            PRACTICE,
        )
    if course.gradual:
        yield speaks_against(phrase("It has gone the same way at three tests running."), PRACTICE)


def element(course: Course) -> Iterator[Evidence]:
    """An element that no longer regulates: the mix follows the supplies, it may not shut (D08-74, PH-02)."""
    yield from _regulating(course)
    yield from _followed(course)
    for finding in course.not_met(*ISOLATED):
        yield speaks_for(f"{finding.words.rstrip('.')}.", finding.source or SERVICE_NEEDED)
    if course.all_met("cold-isolated-flow", "cold-isolated-stabilised"):
        yield speaks_against(
            phrase("With the cold isolated it shut, and what still flowed was cool enough."), SERVICE_NEEDED
        )
    small, left = course.readings.small_draw_c, course.readings.as_left_c
    if small is None or left is None:
        yield missing(phrase("mixed temperature at a smaller draw-off (D08-57)"))
        return
    words = phrase(
        "The smaller draw-off gives {small:.1f} °C, the largest {left:.1f} °C.", small=small, left=left
    )
    yield (speaks_for if abs(small - left) > course.large_k else speaks_against)(words, PRACTICE)


def _regulating(course: Course) -> Iterator[Evidence]:
    regulation = None if course.learned is None else course.learned.regulation
    if regulation is None:
        yield missing(phrase("both supply temperatures at several visits: they show whether it regulates"))
        return
    words = phrase(
        "Over {readings} readings the mix followed its supplies by {index:.2f} of what a "
        "mixer without thermostat would ({low:.2f} to {high:.2f}).",
        readings=regulation.readings,
        index=regulation.index,
        low=regulation.low,
        high=regulation.high,
    )
    if regulation.low > 0 and regulation.index >= ONLY_MIXES:
        yield speaks_for(words, f"PH-02, {OWN_ESTIMATE}")
    elif regulation.high < ONLY_MIXES:
        yield speaks_against(words, f"PH-02, {OWN_ESTIMATE}")


def _followed(course: Course) -> Iterator[Evidence]:
    fixed, change = course.fixed_move_k, course.change_k
    if fixed is None or change is None or abs(fixed) < ENOUGH_K:
        return
    words = phrase(
        "A mixer without thermostat would have moved by {fixed:+.1f} K with these supplies; "
        "it moved by {change:+.1f} K.",
        fixed=fixed,
        change=change,
    )
    if change / fixed >= FOLLOWS:
        yield speaks_for(words, "PH-01, PH-03 (computed)")
    elif change / fixed < CANCELS:
        yield speaks_against(words, "PH-01, PH-03 (computed)")


def seals(course: Course) -> Iterator[Evidence]:
    """Worn seals or seats: it mixes as it should, but passes when it ought to be shut (PH-08)."""
    passing = course.not_met("cold-isolated-flow", "hot-isolated-flow")
    for finding in passing:
        yield speaks_for(f"{finding.words.rstrip('.')}.", finding.source or SERVICE_NEEDED)
    if course.all_met("cold-isolated-flow", "hot-isolated-flow"):
        yield speaks_against(phrase("With either supply isolated it shut."), SERVICE_NEEDED)
    elif not passing:
        yield missing(
            phrase("flow that still passes with each supply isolated in turn, collected for a minute")
        )
    if passing and course.change_k is not None and not (course.rose or course.fell):
        yield speaks_for(phrase("It mixes as it did; only the shut-off is amiss."), FAULT_LISTS)


def scale(course: Course) -> Iterator[Evidence]:
    """Scale grows with hard water and time: a steady drift, a flow that falls (PH-05, PH-08)."""
    hard = course.hardness_mg_l
    if hard is None:
        yield missing(phrase("hardness of the water, mg/l CaCO3"))
    elif hard > HARD_MG_L:
        yield speaks_for(phrase("The water is hard, {hard:g} mg/l CaCO3.", hard=hard), HARDNESS)
    elif hard <= SOFT_MG_L:
        yield speaks_against(phrase("The water is soft, {hard:g} mg/l CaCO3.", hard=hard), HARDNESS)
    yield from _drifting(course)
    if course.step:
        yield speaks_against(phrase("It changed all at once; scale grows slowly."), PRACTICE)
    flow = course.compared("flow_l_min")
    if flow is not None and flow.share <= -SHARE:
        words = phrase(
            "The flow fell from {then:.1f} to {now:.1f} l/min since {since}.",
            then=flow.then,
            now=flow.now,
            since=flow.since,
        )
        yield speaks_for(words, FAULT_LISTS)
    yield from _since_service(course)


def _since_service(course: Course) -> Iterator[Evidence]:
    reference = course.case.reference
    if reference is None:
        return
    days = (course.case.visit.on - reference.on).days
    if reference.kind is VisitKind.SERVICE and days <= FRESH_DAYS:
        yield speaks_against(phrase("It was serviced {days} days before.", days=days), PRACTICE)
    elif days > LONG_DAYS and (course.hardness_mg_l or 0.0) > HARD_MG_L:
        yield speaks_for(
            phrase(
                "It has been {days} days in hard water since its {kind}.",
                days=days,
                kind=reference.kind.words,
            ),
            PRACTICE,
        )


def _drifting(course: Course) -> Iterator[Evidence]:
    drift = None if course.learned is None else course.learned.drift
    if drift is not None and abs(drift.drift_k_per_week) > 2 * drift.drift_sd:
        words = phrase(
            "It drifts steadily, {drift:+.3f} ± {drift_sd:.3f} K a week (95 %).",
            drift=drift.drift_k_per_week,
            drift_sd=2 * drift.drift_sd,
        )
        yield speaks_for(words, OWN_ESTIMATE)
    elif course.gradual:
        yield speaks_for(phrase("It has gone the same way at three tests running."), PRACTICE)
