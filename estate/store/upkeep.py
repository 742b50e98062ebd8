"""Upkeep, reviews and surveys of outlets: added, or taken back by a further row with a reason."""

from collections.abc import Collection, Iterator
from dataclasses import asdict
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.life.care import Care, CareDraft, CareKind, Review, ReviewDraft
from estate.domain.life.supplies import SuppliesDraft, SuppliesMeasured
from estate.domain.phrases import phrase
from estate.errors import NotFoundFault
from estate.store.life_schema import CareRow, OutletReviewRow, SurveyRow
from estate.store.transaction import Transaction

_Kept = TypeVar("_Kept", CareRow, OutletReviewRow, SurveyRow)
_MEASURED = (
    *("hot_static_bar", "cold_static_bar", "hot_flow_bar", "cold_flow_bar"),
    *("hot_c", "cold_c", "wanted_flow_l_min"),
)


def _rows(
    session: Session, row_class: type[_Kept], outlet_ids: Collection[int] | None
) -> Iterator[tuple[_Kept, str]]:
    """Rows by outlet, day and id, each with the reason why it was taken back."""
    query = select(row_class).order_by(row_class.outlet_id, row_class.done_on, row_class.id)
    if outlet_ids is not None:
        query = query.where(row_class.outlet_id.in_(sorted(outlet_ids)))
    rows = session.scalars(query).all()
    back = {row.withdraws: row.why for row in rows if row.withdraws is not None}
    for row in rows:
        if row.withdraws is None:
            yield row, back.get(row.id, "")


def cares(session: Session, outlet_ids: Collection[int] | None = None) -> tuple[Care, ...]:
    """Upkeep of all outlets or some (a few hundred at most), by outlet, day and id; withdrawn too."""
    return tuple(
        Care(row.id, _care_of(row), row.who, row.at, back)
        for row, back in _rows(session, CareRow, outlet_ids)
    )


def _care_of(row: CareRow) -> CareDraft:
    kind = CareKind(row.kind)
    return CareDraft(row.outlet_id, kind, row.done_on, row.person, row.duration_s, row.remarks)


def reviews(session: Session, outlet_ids: Collection[int] | None = None) -> tuple[Review, ...]:
    """Reviews of all outlets or some, by outlet, day and id; withdrawn too."""
    return tuple(
        Review(
            row.id,
            ReviewDraft(row.outlet_id, row.done_on, row.person, row.needed, row.why),
            row.who,
            row.at,
            back,
        )
        for row, back in _rows(session, OutletReviewRow, outlet_ids)
    )


def surveys(session: Session, outlet_ids: Collection[int] | None = None) -> tuple[SuppliesMeasured, ...]:
    """Surveys of all outlets or some, by outlet, day and id; withdrawn too."""
    return tuple(
        SuppliesMeasured(row.id, _supplies_of(row), row.who, row.at, back)
        for row, back in _rows(session, SurveyRow, outlet_ids)
    )


def _supplies_of(row: SurveyRow) -> SuppliesDraft:
    measured = {name: getattr(row, name) for name in _MEASURED}
    return SuppliesDraft(row.outlet_id, row.done_on, row.person, remarks=row.remarks, **measured)


def add_care(tx: Transaction, drafts: Collection[CareDraft]) -> range:
    """Add upkeep; returns ids in the order of `drafts`."""
    rows = [
        {
            "outlet_id": each.outlet_id,
            "kind": each.kind.value,
            "done_on": each.on,
            "person": each.person.strip(),
            "duration_s": each.duration_s,
            "remarks": each.remarks.strip(),
            "at": tx.at,
            "who": tx.who,
            "withdraws": None,
            "why": "",
        }
        for each in drafts
    ]
    tx.touch(outlets=[each.outlet_id for each in drafts])
    return tx.insert_many(CareRow, rows, each=True)


def add_review(tx: Transaction, draft: ReviewDraft) -> int:
    """Add a review; returns its id."""
    tx.touch(outlets=[draft.outlet_id])
    row = OutletReviewRow(
        outlet_id=draft.outlet_id,
        done_on=draft.on,
        person=draft.person.strip(),
        needed=draft.needed,
        why=draft.why.strip(),
        at=tx.at,
        who=tx.who,
        withdraws=None,
    )
    return tx.insert(row)


def add_survey(tx: Transaction, draft: SuppliesDraft) -> int:
    """Add a survey; returns its id."""
    tx.touch(outlets=[draft.outlet_id])
    values = asdict(draft)
    row = SurveyRow(
        **{name: values[name] for name in ("outlet_id", *_MEASURED)},
        done_on=draft.on,
        person=draft.person.strip(),
        remarks=draft.remarks.strip(),
        at=tx.at,
        who=tx.who,
        withdraws=None,
        why="",
    )
    return tx.insert(row)


def take_back_care(tx: Transaction, row_id: int, why: str) -> None:
    """Take upkeep back with a reason.

    Raises:
        NotFoundFault: there is none with this id that counts.
    """
    _take_back(tx, CareRow, row_id, why)


def take_back_review(tx: Transaction, row_id: int, why: str) -> None:
    """Take a review back with a reason.

    Raises:
        NotFoundFault: there is none with this id that counts.
    """
    _take_back(tx, OutletReviewRow, row_id, why)


def take_back_survey(tx: Transaction, row_id: int, why: str) -> None:
    """Take a survey back with a reason.

    Raises:
        NotFoundFault: there is none with this id that counts.
    """
    _take_back(tx, SurveyRow, row_id, why)


def _take_back(tx: Transaction, row_class: type[_Kept], row_id: int, why: str) -> None:
    found = tx.session.get(row_class, row_id)
    again = select(row_class.id).where(row_class.withdraws == row_id)
    if found is None or found.withdraws is not None or tx.session.execute(again).first() is not None:
        detail = phrase(
            "{entry} {row_id} is not there, or was taken back already.",
            entry=row_class.__tablename__.replace("_", " "),
            row_id=row_id,
        )
        raise NotFoundFault("No such entry", detail, "Look at the list again.")
    values = {each.name: getattr(found, each.name) for each in found.__table__.columns if each.name != "id"}
    tx.touch(outlets=[found.outlet_id])
    tx.insert(row_class(**{**values, "why": why.strip(), "withdraws": row_id, "at": tx.at, "who": tx.who}))
