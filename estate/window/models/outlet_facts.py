"""The facts of an outlet page as (name, value, why) lines."""

from datetime import date

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.life.outlet_use import OutletUse
from estate.domain.life.policy import NO_TARGET
from estate.domain.temperature import Scale, told_limit
from estate.domain.valves import Fitting, Valve
from estate.domain.windows import Window
from estate.window import words

Fact = tuple[str, str, str]
_NOT_ENTERED = "not entered"


def of_outlet(page: OutletPage) -> list[Fact]:
    """What the outlet is for and who uses it."""
    outlet = page.outlet
    facts: list[Fact] = [
        ("Use", outlet.use.value, ""),
        ("Users", outlet.user_group.value, ""),
        ("Little used", "yes" if outlet.little_used else "no", ""),
        (
            "Blended pipe",
            words.number(outlet.pipe_m, "m") if outlet.pipe_m is not None else "not measured",
            "",
        ),
        ("Same valve serves", ", ".join(page.also_serves) or "this outlet only", ""),
    ]
    if outlet.retired_on is not None:
        facts.append(("Retired", words.day(outlet.retired_on), ""))
    return facts


def of_valve(page: OutletPage) -> list[Fact]:
    """The body in place, and those before it."""
    valve = page.valve
    if valve is None:
        facts: list[Fact] = [("Valve", "none in place", "")]
    else:
        facts = [
            ("Make and model", f"{valve.make} {valve.model}".strip() or _NOT_ENTERED, ""),
            ("Serial", valve.serial or _NOT_ENTERED, ""),
            ("Class", _class_words(valve), ""),
            ("Fitted", _fitted(page, valve), ""),
            ("Fittings on it", _parts(valve), ""),
        ]
    before = [(fitting, body) for fitting, body in page.fittings if fitting.removed_on is not None]
    if before:
        facts.append(("Before it", "; ".join(_earlier(fitting, body) for fitting, body in before), ""))
    return facts


def _class_words(valve: Valve) -> str:
    parts = []
    if valve.scheme_class is not None:
        parts.append(f"Type {valve.scheme_class.value} (UK scheme)")
    if valve.en_type is not None:
        parts.append(f"EN 1111 type {valve.en_type.value}")
    parts.extend(valve.designations)
    if valve.size_mm is not None:
        parts.append(words.number(valve.size_mm, "mm"))
    return ", ".join(parts) or _NOT_ENTERED


def _fitted(page: OutletPage, valve: Valve) -> str:
    fitting = next((each for each, body in page.fittings if body.id == valve.id), None)
    return words.day(fitting.fitted_on) if fitting is not None and fitting.fitted_on else _NOT_ENTERED


def _parts(valve: Valve) -> str:
    named = {
        "check valves": valve.check_valves,
        "strainers": valve.strainers,
        "isolating valves": valve.isolating_valves,
    }
    there = [name for name, present in named.items() if present]
    absent = [f"no {name}" for name, present in named.items() if present is False]
    return ", ".join(there + absent) or "not recorded"


def _earlier(fitting: Fitting, body: Valve) -> str:
    return f"{body.words} until {words.day(fitting.removed_on)}"


def of_limits(page: OutletPage, scale: Scale = Scale.CELSIUS) -> list[Fact]:
    """Limits in force, each with its source; a limit that nobody published is a blank."""
    facts: list[Fact] = [
        ("Set at most", _limit(page.set_c, scale), page.set_source),
        ("Never above", _limit(page.ceiling_c, scale), page.ceiling_source),
        ("Rule set", page.rule_set, ""),
    ]
    if page.valve is not None:
        facts.insert(0, ("Valve set to", _set_to(page.valve, scale), ""))
        facts.append(("Maker's figures", _makers(page.valve), ""))
    return facts


def _limit(highest_c: float | None, scale: Scale) -> str:
    return words.NOTHING if highest_c is None else told_limit(highest_c, scale)


def _set_to(valve: Valve, scale: Scale) -> str:
    return words.celsius(valve.set_c, scale=scale) if valve.set_c is not None else _NOT_ENTERED


def _makers(valve: Valve) -> str:
    limits = valve.limits
    parts = []
    if limits.min_differential_k is not None:
        parts.append(f"hot to mixed at least {words.number(limits.min_differential_k, 'K')}")
    if limits.max_pressure_ratio is not None:
        parts.append(f"pressures at most {words.number(limits.max_pressure_ratio)} : 1")
    return ", ".join(parts) or _NOT_ENTERED


def visit_heading(line: HistoryLine) -> str:
    """Which visit is judged: its kind, its day, who made it."""
    draft = line.visit.draft
    by = f" by {draft.person}" if draft.person else ""
    words_of = f"{words.sentence(draft.kind.value)} of {words.day(draft.on)}{by}"
    return words_of if line.visit.counts else f"{words_of} ({line.visit.standing.value}, does not count)"


def other_candidates(window: Window) -> str:
    """The windows that other rules ask for; they do not bind."""
    others = [
        f"•  by {words.day(each.not_after)}: {each.reason.words} ({each.reason.source})"
        for each in window.candidates[1:]
    ]
    return "\n".join(["Other rules ask for a later day, so they do not bind:", *others]) if others else ""


def soon(page: OutletPage, today: date) -> str:
    """Where today stands to the next window."""
    return words.how_soon(page.window, today) if page.window is not None else ""


def attempts_words(page: OutletPage) -> str:
    """The visits at which nobody could get at the valve, newest first, in a line; void ones are left out."""
    tried = [f"{words.day(each.on)} ({each.why})" for each in page.attempts if not each.void_reason]
    return f"Attempted, not tested: {words.listed(tried, 3)}" if tried else ""


def standing_words(page: OutletPage, today: date) -> str:
    """Whether the outlet is out of use, and what must still be done there; empty where there is nothing."""
    said = []
    if page.use.use is OutletUse.OUT_OF_USE:
        said.append(f"Out of use since {words.day(page.use.since)}: nobody may draw water here.")
    for action in page.actions:
        late = action.days_late(today)
        by = f"{words.count(late, 'day')} late" if late else f"by {words.day(action.target_on)}"
        by = NO_TARGET if action.target_on is None else by
        owner = f", {action.owner}" if action.owner else ""
        what = words.first_sentence(action.opening.words)[0]
        said.append(f"To be done ({action.state.value}{owner}, {by}): {what}")
    return "\n".join(said)
