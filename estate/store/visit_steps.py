"""Steps and parts of visits: added with the visit, never changed."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.steps import Part, Seen, Steps
from estate.domain.visits import Visit
from estate.store.life_schema import VisitCheckRow, VisitPartRow
from estate.store.transaction import Transaction

_ASKED_ONE_BY_ONE = 500


def add_steps(tx: Transaction, told: Iterable[tuple[int, Steps]]) -> None:
    """Add the steps and parts of visits just added, by the visits' ids."""
    seen: list[dict[str, Any]] = []
    parts: list[dict[str, Any]] = []
    for visit_id, steps in told:
        seen += [_seen_values(visit_id, each) for each in steps.seen]
        parts += [_part_values(visit_id, each) for each in steps.parts]
    if seen:
        tx.insert_many(VisitCheckRow, seen)
    if parts:
        tx.insert_many(VisitPartRow, parts)


def _seen_values(visit_id: int, seen: Seen) -> dict[str, Any]:
    return {
        "visit_id": visit_id,
        "key": seen.key,
        "said": seen.said,
        "number": seen.number,
        "unit": seen.unit,
        "remark": seen.remark,
    }


def _part_values(visit_id: int, part: Part) -> dict[str, Any]:
    return {"visit_id": visit_id, "part": part.name, "quantity": part.quantity, "remark": part.remark}


def with_steps(session: Session, visits: Collection[Visit]) -> list[Visit]:
    """The same visits, each with the steps that are on record of it."""
    found = _steps(session, [each.id for each in visits])
    if not found:
        return list(visits)
    return [
        replace(each, draft=replace(each.draft, steps=found[each.id])) if each.id in found else each
        for each in visits
    ]


def _steps(session: Session, ids: Collection[int]) -> dict[int, Steps]:
    checks, parts = select(VisitCheckRow).order_by(VisitCheckRow.id), select(VisitPartRow)
    parts = parts.order_by(VisitPartRow.id)
    if len(ids) <= _ASKED_ONE_BY_ONE:
        checks = checks.where(VisitCheckRow.visit_id.in_(ids))
        parts = parts.where(VisitPartRow.visit_id.in_(ids))
    seen: defaultdict[int, list[Seen]] = defaultdict(list)
    used: defaultdict[int, list[Part]] = defaultdict(list)
    for row in session.execute(checks).scalars():
        seen[row.visit_id].append(Seen(row.key, row.said, row.number, row.unit, row.remark))
    for each in session.execute(parts).scalars():
        used[each.visit_id].append(Part(each.part, each.quantity, each.remark))
    return {number: Steps(tuple(seen[number]), tuple(used[number])) for number in seen.keys() | used.keys()}
