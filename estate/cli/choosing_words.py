"""What ``suitability``, ``diagnose`` and ``forecast`` print for people."""

from collections.abc import Iterator

from estate.cli.words import CAUTIONS, day
from estate.domain.diagnosis.diagnose import NOTHING_AMISS, Diagnosis, Suspect
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.diagnosis.evidence import Bearing
from estate.domain.forecast import FORECAST_CAUTION, Counted, Expected, Forecast, GroupForecast, Ranged
from estate.domain.shares import percent
from estate.domain.suitability.check import Suitability
from estate.domain.suitability.conditions import Condition, Held
from estate.domain.suitability.given import Checked
from estate.domain.suitability.swings import SOURCE, Swings

_BEARINGS = {Bearing.SEEN: "seen", Bearing.FOR: "for", Bearing.AGAINST: "against"}


def suitability_words(found: Checked) -> list[str]:
    """Conditions that fail, then those that can't be told, then those that hold, and what would mend them."""
    made = found.suitability
    counts = ", ".join(f"{held.value}: {len(made.of(held))}" for held in Held)
    lines = [found.place] if found.place else []
    lines += [f"Valve: {found.valve}"] if found.valve else []
    lines += [
        made.checked_for,
        *(f"  from the register: {each}" for each in found.taken_from),
        "",
        f"{counts}.",
    ]
    for held in (Held.FAILS, Held.UNTOLD, Held.HOLDS):
        lines += [line for each in made.of(held) for line in _condition(each)]
    lines += ["", "What these supplies would fit:", *_fits(made)]
    if made.swings is not None:
        lines += ["", *_swings(made.swings)]
    return [*lines, "", *made.cautions]


def _condition(made: Condition) -> Iterator[str]:
    parts = [each for each in (made.value_words, made.limit_words) if each]
    if made.margin is not None:
        parts.append(f"margin {made.margin:+.3g}")
    parts += [made.words] if made.words else []
    source = f" [{made.rests_on}]" if made.rests_on else ""
    told = ": " + "; ".join(parts) if parts else ""
    yield f"  {made.held.value:<13} {made.name}{told}{source}"
    for each in made.mend:
        yield f"                  {'to mend: ' if made.held is Held.FAILS else 'to tell: '}{each}"


def _fits(made: Suitability) -> list[str]:
    lines = []
    for each in made.fits:
        below = " (below the class its users need)" if each.enough is False else ""
        lines.append(f"  {each.held.value:<13} {each.words}{below}{': ' if each.why else ''}{each.why}")
    return lines or ["  the rule set publishes no conditions of use"]


def _swings(made: Swings) -> list[str]:
    equal = "" if made.measured else "; pressures were not measured and are taken as equal"
    head = f"A mixer without thermostat, set to {made.wanted_c:g} °C with these supplies, would give{equal}:"
    lines = [head]
    for each in made.swings:
        above = ", above the ceiling" if each.above_ceiling else ""
        lines.append(f"  {each.change:<24} {each.mixed_c:>5.1f} °C ({each.moved_k:+.1f} K{above})")
    return [*lines, f"  That is what the thermostat has to cancel. [{SOURCE}]"]


def diagnosis_words(found: Diagnosed) -> list[str]:
    """Causes in order with their evidence, then the checks, then what was not measured."""
    made = found.diagnosis
    lines = [
        f"{found.outlet.reference}: {found.outlet.path}",
        f"Valve: {found.valve}; visit of {day(made.on)}",
    ]
    if not made.symptoms:
        return [*lines, NOTHING_AMISS, "", CAUTIONS]
    lines += [f"  found: {each}" for each in made.symptoms]
    lines += ["", "Likely causes, in order:", *_causes(made)]
    lines += ["", "Next, in this order:", *_checks(made)]
    if made.wanted:
        lines += ["", "Not measured, and would help:"]
        lines += [f"  {each.words} (on: {'; '.join(each.bears_on)})" for each in made.wanted]
    return [*lines, "", made.ordering, *made.cautions]


def _causes(made: Diagnosis) -> list[str]:
    lines = []
    for place, each in enumerate(made.suspects, start=1):
        lines += [f"{place:>3}. {each.cause.name}", *_evidence(each)]
    if made.others:
        lines.append(f"  Nothing speaks for: {'; '.join(each.cause.name for each in made.others)}.")
    return lines if made.suspects else ["  none: nothing that was measured speaks for one", *lines]


def _evidence(made: Suspect) -> list[str]:
    told = [each for each in made.evidence if each.bearing in _BEARINGS]
    told.sort(key=lambda each: list(_BEARINGS).index(each.bearing))
    return [f"       {_BEARINGS[each.bearing]:<8} {each.words} [{each.source}]" for each in told]


def _checks(made: Diagnosis) -> list[str]:
    lines = []
    for place, each in enumerate(made.checks, start=1):
        points = f" If {each.shows}: {'; '.join(each.points_to)}." if each.points_to else ""
        mark = " (tells the first causes apart)" if each.tells_apart else ""
        lines.append(f"{place:>3}. {each.words}{points}{mark} [{each.source}]")
    return lines


def forecast_words(found: Forecast) -> list[str]:
    """The estate, each model, the bodies likeliest to go, parts and strainers."""
    lines = [f"As at {day(found.as_at)}, for the year ahead. Intervals hold 95 times in 100."]
    for each in (found.estate, *found.models):
        lines += ["", *_group(each)]
    if found.likeliest:
        lines += ["", "Likeliest to be replaced within a year:"]
        lines += [
            f"  {each.ref:<18} {each.valve}, {_years(each.age_years)}: {_share(each.chance)}"
            for each in found.likeliest
        ]
    lines += [
        "",
        f"Strainers: {found.strainer_cleanings} cleanings fall due at {found.strainers_due} valves.",
    ]
    for part in found.parts:
        used = f"{part.used:g} used in {part.looked_back_years:.1f} years"
        lines.append(f"  {part.part}: {used}; expected {_expected(part.expected)}")
    return [*lines, "", FORECAST_CAUTION, CAUTIONS]


def _group(made: GroupForecast) -> Iterator[str]:
    ages = made.ages
    old = f"median age {_years(ages.median_years)}, oldest {_years(ages.oldest_years)}"
    yield f"{made.name}: {made.in_place} in place, {old}"
    yield _counted("replaced", made.replaced)
    if made.replaced.expected is not None and not made.by_age:
        yield "    too few replacements to tell ages apart: one rate for all ages"
    yield from (
        f"  still in place at age {each.age_years:g}: {_share(each.share)}, {each.at_risk} watched then"
        for each in made.still_in_place
    )
    half = made.half_replaced_years
    if half is not None:
        ends = f"{_end(half.low)} to {_end(half.high)}"
        yield f"  half are replaced by the age of {half.value:.1f} years ({ends})"
    yield _counted("failures of the shut-off", made.shut_off)
    if made.shut_off_tests is not None:
        yield f"    it did not shut in {_share(made.shut_off_tests)} of {made.shut_off_tested} tests"
    if made.put_right is not None:
        share = f"{_share(made.put_right)} of {made.tested_valves} valves tested"
        yield f"  to be put right in the last year: {share}"
    yield _counted("services", made.services)
    if made.drift is not None:
        mean = made.drift.mean
        ends = f"{mean.low or 0:+.4f} to {mean.high or 0:+.4f}"
        yield f"  drift {mean.value:+.4f} K a week ({ends}), from valve to valve ± {made.drift.spread:.4f}"
    yield from (f"  too few to tell: {each}" for each in made.too_few)


def _counted(name: str, made: Counted) -> str:
    seen = f"  {name}: {made.count} in {made.years:.0f} valve-years"
    if made.rate_per_year is None:
        return seen
    rate = made.rate_per_year
    ends = f"{percent(rate.low or 0.0)} to {percent(rate.high or 0.0)}"
    return f"{seen}, {percent(rate.value)} a year ({ends}); expected {_expected(made.expected)}"


def _expected(made: Expected | None) -> str:
    return "can't be told" if made is None else f"{made.mean:.1f} ({made.low} to {made.high})"


def _share(made: Ranged) -> str:
    if made.low is None or made.high is None:
        return percent(made.value)
    return f"{percent(made.value)} ({percent(made.low)} to {percent(made.high)})"


def _years(value: float | None) -> str:
    return "not known" if value is None else f"{value:.1f} years"


def _end(value: float | None) -> str:
    return "not reached" if value is None else f"{value:.1f}"
