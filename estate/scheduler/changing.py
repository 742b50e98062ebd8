"""What would change a valve's next date, in words that a person can act on."""

from datetime import timedelta

from estate.domain.dates import day_words
from estate.domain.phrases import phrase
from estate.domain.rules.values import RuleSet
from estate.domain.windows import Window
from estate.scheduler.life import ValveLife, shown_interval

_ACTS = {
    "never-tested": phrase("Commissioning the valve starts the published stages."),
    "stage": phrase("Making the test moves on to the next stage; a service starts the stages again."),
    "retest": phrase("A retest in which this is met removes the reason."),
    "strainers": phrase("Cleaning the strainers moves this reason on by its whole interval."),
    "longest-interval": phrase("Only a test moves it; the rule set's longest interval is the limit."),
    "drift": phrase(
        "Setting the valve back to its set temperature or servicing it starts a new level; finding what "
        "makes it drift (supply, scale) slows it."
    ),
    "shut-off": phrase(
        "Each test in which it shuts in time adds to the evidence and lengthens the interval."
    ),
    "shown-interval": phrase(
        "A test late in its window that finds no more than a small change shows a longer one."
    ),
    "no-rule": phrase("Enter the interval that the site's risk assessment states."),
}


def what_would_change(window: Window, life: ValveLife, rules: RuleSet) -> tuple[str, ...]:
    """Say what would move the binding date, and which reason would bind in its place.

    Args:
        window: the valve's candidates, the binding one first.
        life: its visits.
        rules: the rule set in force.

    Returns:
        Sentences, the act first.
    """
    code = window.reason.code
    found: list[str] = [next(words for start, words in _ACTS.items() if code.startswith(start))]
    if len(window.candidates) > 1:
        second = window.candidates[1]
        found.append(
            phrase(
                "Without this reason the last day would be {day}, by the next one: {why}",
                day=day_words(second.not_after),
                why=second.reason.words,
            )
        )
    if code == "shown-interval":
        found += _growth(life, rules)
    if code.startswith(("drift", "shut-off")):
        found.append(
            phrase(
                "The accepted risk is the site's own decision (policy): preview another before adopting it."
            )
        )
    return tuple(found)


def _growth(life: ValveLife, rules: RuleSet) -> list[str]:
    """What a policy that lets intervals grow would make of it."""
    shown = shown_interval(life, rules)
    if shown is None or life.last is None or (rules.number("policy.growth") or 1.0) > 1:
        return []
    grown = life.last.on + timedelta(days=int(shown.days * 1.25))
    return [
        phrase(
            "A policy that lets intervals grow by 1.25 would allow {day}, if no other reason binds.",
            day=day_words(grown),
        )
    ]
