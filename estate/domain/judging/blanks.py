"""What was measured but has no limit in the rule set: never a pass, and said to be no fault of the test.

A check leaves a value unjudged whose limit is blank. Here its words are put right: the value is there, the
limit is not, and the site can fill it in. A check that was met with nothing to hold it against is not tested.
"""

from collections.abc import Iterator, Sequence

from estate.domain.findings import Finding, Outcome
from estate.domain.judging.case import Case
from estate.domain.judging.standards import Standards
from estate.domain.rules.catalogue import describe
from estate.domain.rules.values import TO_BE_FILLED_IN

FILL_IN = (
    "Have those responsible for water safety fill in the limit with its source; the visit is then judged."
)


def say_blanks(checks: Sequence[Finding], case: Case) -> tuple[Finding, ...]:
    """The checks of a visit, those without a limit saying so."""
    held = case.standards
    if held.once(_is_whole):
        return tuple(checks)
    blank = {**dict(_mixed(case, held)), **dict(_isolated(case, held))}
    return tuple(_said(each, blank[each.code]) if each.code in blank else each for each in checks)


def _is_whole(held: Standards) -> bool:
    needed = (
        *(held.ceiling_c, held.set_tolerance, held.small_change, held.large_change),
        *(held.residual_flow, held.rise, held.wait, held.strainers),
    )
    return None not in needed


def _said(check: Finding, words: str) -> Finding:
    """A failure that needed no limit, such as a valve said not to shut, stays one."""
    if check.outcome is Outcome.NOT_MET:
        return check
    return check._replace(
        outcome=Outcome.NOT_TESTED,
        words=words or check.words,
        limit=None,
        source="",
        action=FILL_IN if check.required else check.action,
    )


def _isolated(case: Case, held: Standards) -> Iterator[tuple[str, str]]:
    """Codes of checks whose value is there and whose limit is blank, with the words for it."""
    cold, hot, before = case.readings.cold_isolated, case.readings.hot_isolated, case.previous
    rise_known = before is not None and before.readings.cold_isolated.max_c is not None
    for code, key, limit, value, unit in (
        ("cold-isolated-flow", "isolation.residual-flow", held.residual_flow, cold.residual_ml_min, "ml/min"),
        ("hot-isolated-flow", "isolation.residual-flow", held.residual_flow, hot.residual_ml_min, "ml/min"),
        ("cold-isolated-time", "isolation.wait", held.wait, cold.shut_s, "s"),
        ("hot-isolated-time", "isolation.wait", held.wait, hot.shut_s, "s"),
        ("cold-isolated-rise", "isolation.max-rise", held.rise, cold.max_c if rise_known else None, "°C"),
    ):
        if value is not None and limit is None:
            yield code, f"{value:g} {unit} measured; {_lacking(describe(key))}"
    if held.strainers is None and held.has_strainers and not case.readings.strainers_cleaned:
        yield "strainers-overdue", f"Strainers not cleaned; {_lacking(describe('strainers.interval'))}"


def _mixed(case: Case, held: Standards) -> Iterator[tuple[str, str]]:
    read, cold = case.readings, case.readings.cold_isolated
    still = cold.stabilised_c if cold.stabilised_c is not None else cold.residual_c
    if held.ceiling_c is None:
        for code, value in (
            ("found-above-ceiling", read.found_c),
            ("left-above-ceiling", read.as_left_c),
            ("small-draw-above-ceiling", read.small_draw_c),
        ):
            if value is not None:
                yield code, ""
        if cold.max_c is not None:
            yield "cold-isolated-highest", f"{cold.max_c:.1f} °C measured; {_lacking(_MIXED)}"
    if still is not None and held.residual_c is None:
        yield "cold-isolated-stabilised", f"{still:.1f} °C measured; {_lacking(_MIXED)}"
    if read.as_left_c is not None and held.set_c is not None and held.set_tolerance is None:
        words = f"As left {read.as_left_c:.1f} °C, set temperature {held.set_c.value:.1f} °C"
        yield "left-off-set", f"{words}; {_lacking(describe('mixed.set-tolerance'))}"
    if held.small_change is None and held.large_change is None:
        yield from _changes(case)


def _changes(case: Case) -> Iterator[tuple[str, str]]:
    found = case.readings.found_c
    for code, earlier in (
        ("changed-since-previous", case.previous),
        ("changed-since-reference", case.reference),
    ):
        before = None if earlier is None else earlier.readings.as_left_c
        if found is not None and before is not None:
            change = f"Changed by {round(found - before, 6):+.1f} K from {before:.1f} °C"
            yield code, f"{change}; {_lacking(describe('change.small'))}"


def _lacking(what: str) -> str:
    return f"no limit is known for: {what}; it is {TO_BE_FILLED_IN}."


_MIXED = "mixed temperature"
