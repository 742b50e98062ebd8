"""What has been learned of a valve, in words; every estimate with its caution."""

from dataclasses import dataclass
from enum import StrEnum

from estate.domain.browsing import OutletPage
from estate.domain.learned import DriftEstimate, GroupParameters, RegulationEstimate, ShutOffEstimate
from estate.window import words
from estate.window.marks import Mark
from estate.window.models.drift_course import HALF_50, HALF_95, Course, Foreseen, Stop
from estate.window.translating import said, tr, tr_count

Fact = tuple[str, str, str]
_WEEKS_A_YEAR = 52.1775

NOT_FITTED = said(
    "Nothing has been learned of this valve yet. Groups of valves are fitted when sheets of results are "
    "brought in; the readings are shown as they are."
)
DRIFT_CAUTION = said(
    "An estimate, not a permission: a valve above its ceiling is put right at once, whatever the chance."
)
SHUT_OFF_CAUTION = said(
    "An estimate, not a permission: only a test shows that it shuts, and none may be left out for this."
)
REGULATION_CAUTION = said(
    "An estimate, not a permission: a valve that only mixes does not protect when a supply changes. Have a "
    "competent person see to it."
)
_HOW = said(
    "From the filtered readings of this valve and the parameters of its group; "
    "± is two standard deviations, about 95 %. Like the fan of the chart it is the true temperature, "
    "without the error of a reading."
)


@dataclass(frozen=True, slots=True)
class Told:
    """One matter that has been learned of: its facts, and what they are not.

    Attributes:
        chip: mark and word in a nutshell; None for none.
        weeks, weeks_words, weeks_tip: a share for each of some numbers of weeks, and what it means.
    """

    heading: str
    facts: tuple[Fact, ...]
    caution: str
    chip: tuple[Mark, str] | None = None
    weeks: tuple[tuple[int, float], ...] = ()
    weeks_words: str = ""
    weeks_tip: str = ""


class Regulates(StrEnum):
    """What the regulation index says."""

    YES = said("regulates")
    OPEN = said("can't tell")
    NO = said("only mixes")


OF_REGULATES = {Regulates.YES: Mark.TICK, Regulates.OPEN: Mark.RING, Regulates.NO: Mark.WEDGE}
_MIDDLE = 0.5


def regulates(estimate: RegulationEstimate | None) -> Regulates:
    """Whether a valve regulates: only where its whole interval lies on one side of the middle."""
    if estimate is None or estimate.low <= _MIDDLE <= estimate.high:
        return Regulates.OPEN
    return Regulates.YES if estimate.high < _MIDDLE else Regulates.NO


def of_stop(stop: Stop) -> str:
    """One entry of the chart in a sentence."""
    visit = stop.line.visit
    kind, person = tr(visit.draft.kind.value), visit.draft.person
    made = tr("{kind} by {person}", kind=kind, person=person) if person else kind
    parts = [f"{words.day(stop.on)}, {made}"]
    for name, value in ((tr("found"), stop.found_c), (tr("left"), stop.left_c)):
        if value is not None:
            parts.append(f"{name} {words.celsius(value)}")
    if not stop.counts:
        reason = f": {visit.void_reason}" if visit.void_reason else ""
        parts.append(
            tr("{standing}{reason}, does not count", standing=tr(visit.standing.value), reason=reason)
        )
    elif stop.reset:
        parts.append(tr("re-adjusted"))
    return f"{parts[0]}: {', '.join(parts[1:])}."


def of_foreseen(each: Foreseen, course: Course) -> str:
    """One day of the fan in sentences."""
    inner, outer = (
        tr("{low:.1f} and {high:.1f} °C", low=low, high=high)
        for low, high in (each.between(HALF_50), each.between(HALF_95))
    )
    told = tr(
        "Expected on {day}: {mean_c}; 50 % between {inner}, 95 % between {outer}.",
        day=words.day(each.on),
        mean_c=words.celsius(each.mean_c),
        inner=inner,
        outer=outer,
    )
    if each.on == course.fan[-1].on and course.chance is not None:
        told += f" {of_chance(course)}."
    return told


def of_chance(course: Course) -> str:
    """The chance to reach the ceiling by the last day of the fan."""
    if course.chance is None or not course.fan:
        return ""
    by = words.day(course.fan[-1].on)
    return tr(
        "Chance to reach {ceiling_c} by {by}: {chance}",
        ceiling_c=words.celsius(course.ceiling_c),
        by=by,
        chance=words.share(course.chance),
    )


def of_course(course: Course) -> str:
    """The whole chart in sentences, for those who do not see it."""
    parts = [
        tr_count(
            len(course.stops),
            "{n:,} entry with a mixed temperature",
            "{n:,} entries with a mixed temperature",
        )
    ]
    if course.stops:
        parts.append(f"{words.span(course.stops[0].on, course.stops[-1].on)}")
    said = ", ".join(parts) + "."
    if course.fan:
        said += f" {of_foreseen(course.fan[-1], course)}"
    return tr("{said} Arrow keys step through the entries.", said=said)


def of_drift(page: OutletPage) -> list[Fact]:
    """Level, drift, accepted chance and group."""
    learned = page.learned
    if learned is None or learned.drift is None:
        return [(tr("Level"), tr("no reading that says it"), "")]
    drift = learned.drift
    yearly = tr("{drift_k_per_week:+.1f} K a year", drift_k_per_week=drift.drift_k_per_week * _WEEKS_A_YEAR)
    told: list[Fact] = [
        (tr("Level"), tr("{level} °C on {day}", level=level(drift), day=words.day(drift.at)), tr(_HOW)),
        (tr("Drift"), tr("{speed} K a week, {yearly}", speed=speed(drift), yearly=yearly), ""),
    ]
    if not drift.risk:
        told.append((tr("Ceiling"), tr("none is given, so no chance is told"), ""))
    elif drift.horizon_weeks is not None and drift.accepted_risk is not None:
        told.append((tr("Accepted"), _accepted(drift.accepted_risk, drift.horizon_weeks), tr(_ACCEPTED)))
    told.append(
        (tr("Group"), f"{learned.group.name}: {_rests_on(learned.group)}", _parameters(learned.group))
    )
    return told


_ACCEPTED = said("The risk that the rules in force accept for these users, and when the chance passes it.")


def _accepted(chance: float, weeks: float) -> str:
    if weeks < 0.05:
        return tr("{chance}, passed already", chance=words.share(chance))
    return tr("{chance}, passed after {weeks:.0f} weeks", chance=words.share(chance), weeks=weeks)


def level(drift: DriftEstimate) -> str:
    """The level with two standard deviations, °C."""
    return f"{drift.level_c:.1f} ± {2 * drift.level_sd_k:.1f}"


def speed(drift: DriftEstimate) -> str:
    """The drift with two standard deviations, K per week."""
    return f"{drift.drift_k_per_week:+.3f} ± {2 * drift.drift_sd:.3f}"


def _rests_on(group: GroupParameters) -> str:
    valves, readings = (
        tr_count(group.valves, "{n:,} valve", "{n:,} valves"),
        tr_count(group.readings, "{n:,} reading", "{n:,} readings"),
    )
    return tr(
        "{valves} with {readings} up to {day}",
        valves=valves,
        readings=readings,
        day=words.day(group.fitted_on),
    )


def _parameters(group: GroupParameters) -> str:
    return tr(
        "Drift {mu:+.4f} K a week on average, spread {omega:.4f}; wander {sigma:.3f} K per "
        "square root of a week; one reading ± {s:.2f} K; method {version}.",
        mu=group.mu,
        omega=group.omega,
        sigma=group.sigma,
        s=group.s,
        version=group.version,
    )


def of_shut_off(estimate: ShutOffEstimate | None) -> list[Fact]:
    """The hidden failure of the shut-off."""
    if estimate is None:
        return [(tr("Shut-off"), tr("never tested"), "")]
    failures = tr_count(estimate.failures, "{n:,} failure found", "{n:,} failures found")
    shown = tr(
        "{passed_years:.1f} years shown in order, {failures}",
        passed_years=estimate.passed_years,
        failures=failures if estimate.failures else tr("no failure found"),
    )
    told: list[Fact] = [
        (tr("Tests"), shown, ""),
        (tr("Failures"), tr("{rate_per_year:.3f} a year expected", rate_per_year=estimate.rate_per_year), ""),
    ]
    if estimate.horizon_weeks is not None and estimate.accepted_share is not None:
        share = words.share(estimate.accepted_share)
        told.append(
            (
                tr("Accepted"),
                tr(
                    "{share}, if tested every {horizon_weeks:.0f} weeks",
                    share=share,
                    horizon_weeks=estimate.horizon_weeks,
                ),
                "",
            )
        )
    return told


def of_regulation(estimate: RegulationEstimate | None) -> list[Fact]:
    """How far the mixed temperature follows the supplies."""
    if estimate is None:
        why = tr("too few readings with both supplies measured, or the supplies hardly varied")
        return [(tr("Index"), tr("not known: {why}", why=why), "")]
    return [
        (
            tr("Index"),
            tr(
                "{index:.2f} ({low:.2f} to {high:.2f})",
                index=estimate.index,
                low=estimate.low,
                high=estimate.high,
            ),
            tr(_INDEX),
        ),
        (tr("Rests on"), tr_count(estimate.readings, "{n:,} reading", "{n:,} readings"), ""),
    ]


_INDEX = said(
    "0 regulates, 1 only mixes: movement of the mixed temperature over what a fixed mixer would do, "
    "with its 95 % interval."
)


def as_at(course: Course) -> str:
    """The day as at which a chart was drawn, with its caution."""
    return tr("As at {day}. An estimate, not a permission.", day=words.day(course.today))


_CHANCE = said(
    "The chance that the true temperature reaches the ceiling within so many weeks of the last visit."
)
_SHARE = said("The average share of time without a working shut-off if it is tested every so many weeks.")


def of_page(page: OutletPage) -> tuple[Told, ...]:
    """Everything learned of an outlet's valve; nothing before groups have been fitted."""
    learned = page.learned
    if learned is None:
        return ()
    said = regulates(learned.regulation)
    drift, shut = learned.drift, learned.shut_off
    return (
        Told(
            tr("Level and drift"),
            tuple(of_drift(page)),
            tr(DRIFT_CAUTION),
            weeks=drift.risk if drift is not None else (),
            weeks_words=tr("Chance to reach {ceiling_c}", ceiling_c=words.celsius(page.ceiling_c)),
            weeks_tip=tr(_CHANCE),
        ),
        Told(
            tr("Shut-off"),
            tuple(of_shut_off(shut)),
            tr(SHUT_OFF_CAUTION),
            weeks=shut.unavailability if shut is not None else (),
            weeks_words=tr("Time without a shut-off"),
            weeks_tip=tr(_SHARE),
        ),
        Told(
            tr("Regulation"),
            tuple(of_regulation(learned.regulation)),
            tr(REGULATION_CAUTION),
            (OF_REGULATES[said], tr(said.value)),
        ),
    )
