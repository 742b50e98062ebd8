"""Files brought in: their bytes, what was taken of them and what was asked."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.errors import NotFoundFault
from estate.store.schema import BatchQuestionRow, BatchRow
from estate.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class Batch:
    """A file brought in.

    Attributes:
        digest: SHA-256 of the file's bytes, hexadecimal.
        read, accepted, already_there, questioned: rows.
        who, at: who brought it in and when (UTC).
    """

    id: int
    kind: SheetKind
    file: str
    digest: str
    read: int
    accepted: int
    already_there: int
    questioned: int
    who: str
    at: datetime


def add_batch(
    tx: Transaction,
    *,
    file: str,
    digest: str,
    kind: SheetKind,
    content: bytes,
    read: int,
    accepted: int,
    already_there: int,
    questions: Sequence[Question],
) -> int:
    """Keep a file that is brought in; the rows taken of it are added with its id.

    Returns:
        The id of the batch.
    """
    row = BatchRow(
        kind=kind.value,
        file=file,
        digest=digest,
        content=content,
        rows_read=read,
        accepted=accepted,
        already_there=already_there,
        who=tx.who,
        at=tx.at,
    )
    batch_id = tx.insert(row)
    tx.insert_many(
        BatchQuestionRow,
        [
            {
                "batch_id": batch_id,
                "sheet": each.sheet,
                "row_number": each.row,
                "cell": each.cell,
                "code": each.code,
                "reference": each.ref,
                "found": each.found,
                "remedy": each.remedy,
            }
            for each in questions
        ],
    )
    tx.touch(batches=[batch_id], everything=accepted > 0)
    return batch_id


def batch_by_digest(session: Session, digest: str, kind: SheetKind | None = None) -> int | None:
    """The first batch with these bytes (as this kind of sheet, if asked); None if there is none."""
    query = select(func.min(BatchRow.id)).where(BatchRow.digest == digest)
    if kind is not None:
        query = query.where(BatchRow.kind == kind.value)
    return session.execute(query).scalar_one()


def batches(session: Session) -> tuple[Batch, ...]:
    """Every batch, oldest first, without its bytes."""
    asked = (
        select(func.count())
        .where(BatchQuestionRow.batch_id == BatchRow.id)
        .correlate(BatchRow)
        .scalar_subquery()
    )
    query = select(
        BatchRow.id,
        BatchRow.kind,
        BatchRow.file,
        BatchRow.digest,
        BatchRow.rows_read,
        BatchRow.accepted,
        BatchRow.already_there,
        asked,
        BatchRow.who,
        BatchRow.at,
    ).order_by(BatchRow.id)
    return tuple(Batch(row[0], SheetKind(row[1]), *row[2:]) for row in session.execute(query))


def content(session: Session, batch_id: int) -> bytes:
    """The bytes of a batch's file.

    Raises:
        NotFoundFault: there is no such batch.
    """
    found = session.execute(select(BatchRow.content).where(BatchRow.id == batch_id)).scalar_one_or_none()
    if found is None:
        raise NotFoundFault("No such batch", f"batch {batch_id}.", "Read the register afresh.")
    return found


def questions(session: Session, batch_id: int) -> tuple[Question, ...]:
    """The rows of a batch that were not taken, in the order they were met."""
    query = (
        select(
            BatchQuestionRow.sheet,
            BatchQuestionRow.row_number,
            BatchQuestionRow.cell,
            BatchQuestionRow.code,
            BatchQuestionRow.reference,
            BatchQuestionRow.found,
            BatchQuestionRow.remedy,
        )
        .where(BatchQuestionRow.batch_id == batch_id)
        .order_by(BatchQuestionRow.id)
    )
    return tuple(Question(*row) for row in session.execute(query))
