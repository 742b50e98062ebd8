"""What has been learned of a valve, in words; every estimate with its caution."""

from dataclasses import dataclass
from enum import StrEnum

from estate.domain.browsing import OutletPage
from estate.domain.learned import DriftEstimate, GroupParameters, RegulationEstimate, ShutOffEstimate
from estate.window import words
from estate.window.marks import Mark
from estate.window.models.drift_course import HALF_50, HALF_95, Course, Foreseen, Stop

Fact = tuple[str, str, str]
_WEEKS_A_YEAR = 52.1775

NOT_FITTED = (
    "Nothing has been learned of this valve yet. Groups of valves are fitted when sheets of results are "
    "brought in; the readings are shown as they are."
)
DRIFT_CAUTION = (
    "An estimate, not a permission: a valve above its ceiling is put right at once, whatever the chance."
)
SHUT_OFF_CAUTION = (
    "An estimate, not a permission: only a test shows that it shuts, and none may be left out for this."
)
REGULATION_CAUTION = (
    "An estimate, not a permission: a valve that only mixes does not protect when a supply changes. Have a "
    "competent person see to it."
)
_HOW = (
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

    YES = "regulates"
    OPEN = "can't tell"
    NO = "only mixes"


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
    by = f" by {visit.draft.person}" if visit.draft.person else ""
    parts = [f"{words.day(stop.on)}, {visit.draft.kind.value}{by}"]
    for name, value in (("found", stop.found_c), ("left", stop.left_c)):
        if value is not None:
            parts.append(f"{name} {words.celsius(value)}")
    if not stop.counts:
        reason = f": {visit.void_reason}" if visit.void_reason else ""
        parts.append(f"{visit.standing.value}{reason}, does not count")
    elif stop.reset:
        parts.append("re-adjusted")
    return f"{parts[0]}: {', '.join(parts[1:])}."


def of_foreseen(each: Foreseen, course: Course) -> str:
    """One day of the fan in sentences."""
    inner, outer = (
        f"{low:.1f} and {high:.1f} °C" for low, high in (each.between(HALF_50), each.between(HALF_95))
    )
    said = f"Expected on {words.day(each.on)}: {words.celsius(each.mean_c)}; 50 % between {inner}, "
    said += f"95 % between {outer}."
    if each.on == course.fan[-1].on and course.chance is not None:
        said += f" {of_chance(course)}."
    return said


def of_chance(course: Course) -> str:
    """The chance to reach the ceiling by the last day of the fan."""
    if course.chance is None or not course.fan:
        return ""
    by = words.day(course.fan[-1].on)
    return f"Chance to reach {words.celsius(course.ceiling_c)} by {by}: {words.share(course.chance)}"


def of_course(course: Course) -> str:
    """The whole chart in sentences, for those who do not see it."""
    shown = words.count(len(course.stops), "entry", "entries")
    parts = [f"{shown} with a mixed temperature"]
    if course.stops:
        parts.append(f"{words.span(course.stops[0].on, course.stops[-1].on)}")
    said = ", ".join(parts) + "."
    if course.fan:
        said += f" {of_foreseen(course.fan[-1], course)}"
    return f"{said} Arrow keys step through the entries."


def of_drift(page: OutletPage) -> list[Fact]:
    """Level, drift, accepted chance and group."""
    learned = page.learned
    if learned is None or learned.drift is None:
        return [("Level", "no reading that says it", "")]
    drift = learned.drift
    yearly = f"{drift.drift_k_per_week * _WEEKS_A_YEAR:+.1f} K a year"
    told: list[Fact] = [
        ("Level", f"{level(drift)} °C on {words.day(drift.at)}", _HOW),
        ("Drift", f"{speed(drift)} K a week, {yearly}", ""),
    ]
    if not drift.risk:
        told.append(("Ceiling", "none is given, so no chance is told", ""))
    elif drift.horizon_weeks is not None and drift.accepted_risk is not None:
        told.append(("Accepted", _accepted(drift.accepted_risk, drift.horizon_weeks), _ACCEPTED))
    told.append(("Group", f"{learned.group.name}: {_rests_on(learned.group)}", _parameters(learned.group)))
    return told


_ACCEPTED = "The risk that the rules in force accept for these users, and when the chance passes it."


def _accepted(chance: float, weeks: float) -> str:
    if weeks < 0.05:
        return f"{words.share(chance)}, passed already"
    return f"{words.share(chance)}, passed after {weeks:.0f} weeks"


def level(drift: DriftEstimate) -> str:
    """The level with two standard deviations, °C."""
    return f"{drift.level_c:.1f} ± {2 * drift.level_sd_k:.1f}"


def speed(drift: DriftEstimate) -> str:
    """The drift with two standard deviations, K per week."""
    return f"{drift.drift_k_per_week:+.3f} ± {2 * drift.drift_sd:.3f}"


def _rests_on(group: GroupParameters) -> str:
    valves, readings = words.count(group.valves, "valve"), words.count(group.readings, "reading")
    return f"{valves} with {readings} up to {words.day(group.fitted_on)}"


def _parameters(group: GroupParameters) -> str:
    return (
        f"Drift {group.mu:+.4f} K a week on average, spread {group.omega:.4f}; wander {group.sigma:.3f} K "
        f"per square root of a week; one reading ± {group.s:.2f} K; method {group.version}."
    )


def of_shut_off(estimate: ShutOffEstimate | None) -> list[Fact]:
    """The hidden failure of the shut-off."""
    if estimate is None:
        return [("Shut-off", "never tested", "")]
    shown = f"{estimate.passed_years:.1f} years shown in order, "
    shown += f"{words.count(estimate.failures, 'failure')} found" if estimate.failures else "no failure found"
    told: list[Fact] = [
        ("Tests", shown, ""),
        ("Failures", f"{estimate.rate_per_year:.3f} a year expected", ""),
    ]
    if estimate.horizon_weeks is not None and estimate.accepted_share is not None:
        share = words.share(estimate.accepted_share)
        told.append(("Accepted", f"{share}, if tested every {estimate.horizon_weeks:.0f} weeks", ""))
    return told


def of_regulation(estimate: RegulationEstimate | None) -> list[Fact]:
    """How far the mixed temperature follows the supplies."""
    if estimate is None:
        why = "too few readings with both supplies measured, or the supplies hardly varied"
        return [("Index", f"not known: {why}", "")]
    return [
        ("Index", f"{estimate.index:.2f} ({estimate.low:.2f} to {estimate.high:.2f})", _INDEX),
        ("Rests on", words.count(estimate.readings, "reading"), ""),
    ]


_INDEX = (
    "0 regulates, 1 only mixes: movement of the mixed temperature over what a fixed mixer would do, "
    "with its 95 % interval."
)


def as_at(course: Course) -> str:
    """The day as at which a chart was drawn, with its caution."""
    return f"As at {words.day(course.today)}. An estimate, not a permission."


_CHANCE = "The chance that the true temperature reaches the ceiling within so many weeks of the last visit."
_SHARE = "The average share of time without a working shut-off if it is tested every so many weeks."


def of_page(page: OutletPage) -> tuple[Told, ...]:
    """Everything learned of an outlet's valve; nothing before groups have been fitted."""
    learned = page.learned
    if learned is None:
        return ()
    said = regulates(learned.regulation)
    drift, shut = learned.drift, learned.shut_off
    return (
        Told(
            "Level and drift",
            tuple(of_drift(page)),
            DRIFT_CAUTION,
            weeks=drift.risk if drift is not None else (),
            weeks_words=f"Chance to reach {words.celsius(page.ceiling_c)}",
            weeks_tip=_CHANCE,
        ),
        Told(
            "Shut-off",
            tuple(of_shut_off(shut)),
            SHUT_OFF_CAUTION,
            weeks=shut.unavailability if shut is not None else (),
            weeks_words="Time without a shut-off",
            weeks_tip=_SHARE,
        ),
        Told(
            "Regulation",
            tuple(of_regulation(learned.regulation)),
            REGULATION_CAUTION,
            (OF_REGULATES[said], said.value),
        ),
    )
