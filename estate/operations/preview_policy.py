"""Show what a change of the rules would mean for the estate before it is adopted; nothing is written."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time

from estate.domain.due import DueLine
from estate.domain.preview import Move, PolicyPreview, Workload
from estate.domain.rules.overlay import check_override
from estate.domain.rules.values import Override
from estate.operations.plan_basis import read_plan_basis
from estate.operations.plan_retests import Planned, planned, planned_lines
from estate.operations.register import Register
from estate.operations.set_rules import rules_at
from estate.scheduler.exposure import weeks_above_a_year

_WEEKS_A_YEAR = 52.1775
_SHOWN_MOVES = 20


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
        basis = read_plan_basis(session, register.published, today)
    made = Override(
        rules.id, key, place, tried, "preview", datetime.combine(today, time(23, 59), UTC), "preview"
    )
    changed = replace(basis, rulebook=basis.rulebook.with_override(made))
    now, then = planned(basis, today), planned(changed, today)
    before, after = planned_lines(basis, now, today), planned_lines(changed, then, today)
    moves = [
        Move(old.ref, old.window.not_after, new.window.not_after)
        for old, new in zip(before, after, strict=True)
        if old.window.not_after != new.window.not_after
    ]
    moves.sort(key=lambda each: -abs(each.days))
    in_force = rules.get(key)
    return PolicyPreview(
        key,
        place,
        None if in_force is None else in_force.in_catalogue_unit,
        tried,
        _workload(now, before, today),
        _workload(then, after, today),
        len(moves),
        tuple(moves[:_SHOWN_MOVES]),
    )


def _workload(planned: Planned, lines: Sequence[DueLine], today: date) -> Workload:
    weeks, estimates = planned.windows.ends.recurring_weeks, planned.estimates
    return Workload(
        visits_a_year=sum(_WEEKS_A_YEAR / each for each in weeks.tolist() if each > 0),
        weeks_above_a_year=weeks_above_a_year(estimates, weeks) if estimates else None,
        by_month=_by_month(lines, today),
    )


def _by_month(lines: Sequence[DueLine], today: date) -> tuple[tuple[date, int], ...]:
    months = [
        date(today.year + (today.month - 1 + ahead) // 12, (today.month - 1 + ahead) % 12 + 1, 1)
        for ahead in range(12)
    ]
    counts = Counter(max(line.window.not_after, today).replace(day=1) for line in lines)
    return tuple((month, counts[month]) for month in months)
