"""Show what a change of the rules would mean for the estate before it is adopted; nothing is written."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time

from estate.domain.due import DueLine
from estate.domain.learned import Learned
from estate.domain.limits import limits_for
from estate.domain.preview import Move, PolicyPreview, Workload
from estate.domain.rules.overlay import check_override
from estate.domain.rules.values import Override
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.learn import learned_of
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.operations.set_rules import rules_at
from estate.scheduler.exposure import weeks_above_a_year

_WEEKS_A_YEAR = 52.1775
_SHOWN_MOVES = 20
_RECURRING = ("shown-interval", "drift", "shut-off", "longest-interval")


def preview_policy(
    register: Register, key: str, value: float | str | None, place: str, today: date
) -> PolicyPreview:
    """Work out windows with and without a value of the site's own.

    Args:
        register: the open register.
        key: of the rule value, such as ``policy.risk.patients``.
        value: None tries the published one.
        place: ``estate``, ``building:ID`` or ``outlet:ID``.
        today: plan as at this day.

    Raises:
        RuleFault: the key is unknown or the value can't stand there.
        EntryFault: there is no such place.
    """
    tried = check_override(key, value)
    rules = rules_at(register, place)
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, on=today)
    made = Override(
        rules.id, key, place, tried, "preview", datetime.combine(today, time(23, 59), UTC), "preview"
    )
    changed = replace(holdings, rulebook=holdings.rulebook.with_override(made))
    before, after = lines_of(holdings, today), lines_of(changed, today)
    moves = [
        Move(old.ref, old.window.not_after, new.window.not_after)
        for old, new in zip(before, after, strict=True)
        if old.window.not_after != new.window.not_after
    ]
    moves.sort(key=lambda each: -abs(each.days))
    now = rules.get(key)
    return PolicyPreview(
        key,
        place,
        None if now is None else now.value,
        tried,
        _workload(holdings, before, today),
        _workload(changed, after, today),
        len(moves),
        tuple(moves[:_SHOWN_MOVES]),
    )


def _workload(holdings: Holdings, lines: Sequence[DueLine], today: date) -> Workload:
    weeks = {line.valve_id: _interval_weeks(line) for line in lines}
    return Workload(
        visits_a_year=sum(_WEEKS_A_YEAR / each for each in weeks.values() if each > 0),
        weeks_above_a_year=_expected_above(holdings, weeks, today),
        by_month=_by_month(lines, today),
    )


def _interval_weeks(line: DueLine) -> float:
    """The interval that comes back year after year: retests, strainers and stages do not."""
    ends = [each.not_after for each in line.window.candidates if each.reason.code.startswith(_RECURRING)]
    return (min(ends) - line.last_visit).days / 7 if ends and line.last_visit else 0.0


def _expected_above(holdings: Holdings, weeks: dict[int, float], today: date) -> float:
    in_place = holdings.in_place(today)
    learned: list[Learned] = []
    ceilings: list[float] = []
    intervals: list[float] = []
    found = learned_of(holdings, in_place.values())
    for position, outlets in holdings.by_position.items():
        fitting = in_place.get(position)
        known = found.get(fitting.valve_id) if fitting else None
        if fitting is None or known is None or known.drift is None or weeks.get(fitting.valve_id, 0.0) <= 0:
            continue
        ceiling = limits_for(
            outlets, holdings.valves[fitting.valve_id], holdings.rules_at(outlets[0])
        ).ceiling_c
        if ceiling is not None:
            learned.append(known)
            ceilings.append(ceiling.value)
            intervals.append(weeks[fitting.valve_id])
    return float(weeks_above_a_year(learned, ceilings, intervals).sum())


def _by_month(lines: Sequence[DueLine], today: date) -> tuple[tuple[date, int], ...]:
    months = [
        date(today.year + (today.month - 1 + ahead) // 12, (today.month - 1 + ahead) % 12 + 1, 1)
        for ahead in range(12)
    ]
    counts = Counter(max(line.window.not_after, today).replace(day=1) for line in lines)
    return tuple((month, counts[month]) for month in months)
