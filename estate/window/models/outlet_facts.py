"""The facts of an outlet page as (name, value, why) lines."""

from datetime import date

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.life.outlet_use import OutletUse
from estate.domain.life.policy import NO_TARGET
from estate.domain.valves import Fitting, Valve
from estate.domain.windows import Window
from estate.window import words
from estate.window.translating import said, tr, tr_count

Fact = tuple[str, str, str]
_NOT_ENTERED = said("not entered")


def of_outlet(page: OutletPage) -> list[Fact]:
    """What the outlet is for and who uses it."""
    outlet = page.outlet
    facts: list[Fact] = [
        (tr("Use"), tr(outlet.use.value), ""),
        (tr("Users"), tr(outlet.user_group.value), ""),
        (tr("Little used"), tr("yes") if outlet.little_used else tr("no"), ""),
        (
            tr("Blended pipe"),
            words.number(outlet.pipe_m, "m") if outlet.pipe_m is not None else tr("not measured"),
            "",
        ),
        (tr("Same valve serves"), ", ".join(page.also_serves) or tr("this outlet only"), ""),
    ]
    if outlet.retired_on is not None:
        facts.append((tr("Retired"), words.day(outlet.retired_on), ""))
    return facts


def of_valve(page: OutletPage) -> list[Fact]:
    """The body in place, and those before it."""
    valve = page.valve
    if valve is None:
        facts: list[Fact] = [(tr("Valve"), tr("none in place"), "")]
    else:
        facts = [
            (tr("Make and model"), f"{valve.make} {valve.model}".strip() or tr(_NOT_ENTERED), ""),
            (tr("Serial"), valve.serial or tr(_NOT_ENTERED), ""),
            (tr("Class"), _class_words(valve), ""),
            (tr("Fitted"), _fitted(page, valve), ""),
            (tr("Fittings on it"), _parts(valve), ""),
        ]
    before = [(fitting, body) for fitting, body in page.fittings if fitting.removed_on is not None]
    if before:
        facts.append((tr("Before it"), "; ".join(_earlier(fitting, body) for fitting, body in before), ""))
    return facts


def _class_words(valve: Valve) -> str:
    parts = []
    if valve.scheme_class is not None:
        parts.append(tr("Type {scheme_class} (UK scheme)", scheme_class=valve.scheme_class.value))
    if valve.en_type is not None:
        parts.append(tr("EN 1111 type {en_type}", en_type=valve.en_type.value))
    parts.extend(valve.designations)
    if valve.size_mm is not None:
        parts.append(words.number(valve.size_mm, "mm"))
    return ", ".join(parts) or tr(_NOT_ENTERED)


def _fitted(page: OutletPage, valve: Valve) -> str:
    fitting = next((each for each, body in page.fittings if body.id == valve.id), None)
    return words.day(fitting.fitted_on) if fitting is not None and fitting.fitted_on else tr(_NOT_ENTERED)


def _parts(valve: Valve) -> str:
    named = {
        tr("check valves"): valve.check_valves,
        tr("strainers"): valve.strainers,
        tr("isolating valves"): valve.isolating_valves,
    }
    there = [name for name, present in named.items() if present]
    absent = [tr("no {name}", name=name) for name, present in named.items() if present is False]
    return ", ".join(there + absent) or tr("not recorded")


def _earlier(fitting: Fitting, body: Valve) -> str:
    return tr("{body} until {day}", body=body.words, day=words.day(fitting.removed_on))


def makers_words(valve: Valve) -> str:
    """What the maker asks for beyond the class of the valve."""
    limits = valve.limits
    parts = []
    if limits.min_differential_k is not None:
        parts.append(
            tr(
                "hot to mixed at least {min_differential_k}",
                min_differential_k=words.number(limits.min_differential_k, "K"),
            )
        )
    if limits.max_pressure_ratio is not None:
        parts.append(
            tr(
                "pressures at most {max_pressure_ratio} : 1",
                max_pressure_ratio=words.number(limits.max_pressure_ratio),
            )
        )
    return ", ".join(parts) or tr(_NOT_ENTERED)


def visit_heading(line: HistoryLine) -> str:
    """Which visit is judged: its kind, its day, who made it."""
    draft = line.visit.draft
    kind, day = words.sentence(tr(draft.kind.value)), words.day(draft.on)
    words_of = tr("{kind} of {day}", kind=kind, day=day)
    if draft.person:
        words_of = tr("{kind} of {day} by {person}", kind=kind, day=day, person=draft.person)
    return (
        words_of
        if line.visit.counts
        else tr(
            "{words_of} ({standing}, does not count)",
            words_of=words_of,
            standing=tr(line.visit.standing.value),
        )
    )


def other_candidates(window: Window) -> str:
    """The windows that other rules ask for; they do not bind."""
    others = [
        tr(
            "•  by {day}: {reason} ({source})",
            day=words.day(each.not_after),
            reason=each.reason.words,
            source=each.reason.source,
        )
        for each in window.candidates[1:]
    ]
    return "\n".join([tr("Other rules ask for a later day, so they do not bind:"), *others]) if others else ""


def soon(page: OutletPage, today: date) -> str:
    """Where today stands to the next window."""
    return words.how_soon(page.window, today) if page.window is not None else ""


def attempts_words(page: OutletPage) -> str:
    """The visits at which nobody could get at the valve, newest first, in a line; void ones are left out."""
    tried = [f"{words.day(each.on)} ({each.why})" for each in page.attempts if not each.void_reason]
    return tr("Attempted, not tested: {tried}", tried=words.listed(tried, 3)) if tried else ""


def standing_words(page: OutletPage, today: date) -> str:
    """Whether the outlet is out of use, and what must still be done there; empty where there is nothing."""
    said = []
    if page.use.use is OutletUse.OUT_OF_USE:
        said.append(tr("Out of use since {day}: nobody may draw water here.", day=words.day(page.use.since)))
    for action in page.actions:
        late = action.days_late(today)
        by = (
            tr_count(late, "{n:,} day late", "{n:,} days late")
            if late
            else tr("by {day}", day=words.day(action.target_on))
        )
        by = tr(NO_TARGET) if action.target_on is None else by
        owner = f", {action.owner}" if action.owner else ""
        what = words.first_sentence(action.opening.words)[0]
        said.append(
            tr(
                "To be done ({state}{owner}, {by}): {what}",
                state=tr(action.state.value),
                owner=owner,
                by=by,
                what=what,
            )
        )
    return "\n".join(said)
