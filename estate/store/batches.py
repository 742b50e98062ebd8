"""Files brought in: their bytes, what was taken of them and what was asked."""

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from estate.domain.layouts import SheetKind
from estate.domain.phrases import phrase
from estate.domain.questions import Answer, Question
from estate.domain.register import Batch, BatchUndo, WrittenEntry
from estate.errors import EntryFault, NotFoundFault
from estate.store.batch_records import answers_of, answers_text
from estate.store.batch_schema import BatchQuestionRow, BatchRow, BatchUndoRow, WrittenRow
from estate.store.transaction import Transaction


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
    layout: str = "",
    forms: str = "",
    date_order: str = "",
    answers: Sequence[Answer] = (),
    follows: int | None = None,
) -> int:
    """Keep a file that is brought in; the rows taken of it are added with its id.

    What the transaction adds and changes of places and valves from now on is noted as the batch's own
    (see `rows_of`), so that it can be undone.

    Args:
        content: the file's bytes; those of a follow-up are not kept twice.
        follows: the batch of the same bytes whose open questions this one answers.

    Returns:
        The id of the batch.
    """
    row = BatchRow(
        kind=kind.value,
        file=file,
        digest=digest,
        content=content if follows is None else b"",
        rows_read=read,
        accepted=accepted,
        already_there=already_there,
        who=tx.who,
        at=tx.at,
        layout=layout,
        forms=forms,
        date_order=date_order,
        answers=answers_text(answers),
        follows=follows,
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
    tx.write_for(batch_id)
    tx.touch(batches=[batch_id], everything=accepted > 0)
    return batch_id


def batch_by_digest(session: Session, digest: str, kind: SheetKind | None = None) -> int | None:
    """The first batch with these bytes (as this kind of sheet, if asked) that was not undone; else None."""
    undone = select(BatchUndoRow.batch_id)
    query = select(func.min(BatchRow.id)).where(BatchRow.digest == digest, BatchRow.id.not_in(undone))
    if kind is not None:
        query = query.where(BatchRow.kind == kind.value)
    return session.execute(query).scalar_one()


def batches(session: Session) -> tuple[Batch, ...]:
    """Every batch, undone ones too, oldest first, without its bytes."""
    return tuple(_batch_of(row) for row in session.execute(_batch_query()))


def batch(session: Session, batch_id: int) -> Batch:
    """One batch, without its bytes.

    Raises:
        NotFoundFault: there is no such batch.
    """
    row = session.execute(_batch_query().where(BatchRow.id == batch_id)).one_or_none()
    if row is None:
        raise _no_such(batch_id)
    return _batch_of(row)


def _batch_query() -> Select[Any]:
    asked = (
        select(func.count())
        .where(BatchQuestionRow.batch_id == BatchRow.id)
        .correlate(BatchRow)
        .scalar_subquery()
    )
    counts = (BatchRow.rows_read, BatchRow.accepted, BatchRow.already_there, asked)
    told = (BatchRow.layout, BatchRow.forms, BatchRow.date_order, BatchRow.follows)
    return (
        select(
            *(BatchRow.id, BatchRow.kind, BatchRow.file, BatchRow.digest, *counts),
            *(BatchRow.who, BatchRow.at, *told, BatchUndoRow.who, BatchUndoRow.at, BatchUndoRow.why),
        )
        .outerjoin(BatchUndoRow, BatchUndoRow.batch_id == BatchRow.id)
        .order_by(BatchRow.id)
    )


def _batch_of(row: Any) -> Batch:
    found = Batch(row[0], SheetKind(row[1]), *row[2:14])
    return found if row[14] is None else replace(found, undone=BatchUndo(*row[14:]))


def _no_such(batch_id: int) -> NotFoundFault:
    return NotFoundFault(
        "No such batch", phrase("batch {batch_id}.", batch_id=batch_id), "Read the register afresh."
    )


def content(session: Session, batch_id: int) -> bytes:
    """The bytes of a batch's file; of a follow-up, those of the batch it follows.

    Raises:
        NotFoundFault: there is no such batch.
    """
    query = select(BatchRow.content, BatchRow.follows).where(BatchRow.id == batch_id)
    row = session.execute(query).one_or_none()
    if row is None:
        raise _no_such(batch_id)
    kept: bytes = row.content
    return kept if row.follows is None else content(session, row.follows)


def answers(session: Session, batch_id: int) -> tuple[Answer, ...]:
    """What a person answered to the questions of a batch's file, in the order it was given.

    Raises:
        NotFoundFault: there is no such batch.
    """
    text = session.execute(select(BatchRow.answers).where(BatchRow.id == batch_id)).scalar_one_or_none()
    if text is None:
        raise _no_such(batch_id)
    return answers_of(text)


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


def rows_of(session: Session, batch_id: int) -> tuple[WrittenEntry, ...]:
    """The rows of places and valves that a batch added or changed, in the order in which it did."""
    query = select(WrittenRow.noun, WrittenRow.row_id, WrittenRow.action, WrittenRow.before, WrittenRow.after)
    rows = session.execute(query.where(WrittenRow.batch_id == batch_id).order_by(WrittenRow.id))
    return tuple(
        WrittenEntry(
            noun, row_id, action, tuple(json.loads(before).items()), tuple(json.loads(after).items())
        )
        for noun, row_id, action, before, after in rows
    )


def mark_undone(tx: Transaction, batch_id: int, why: str) -> None:
    """Keep that a batch was undone.

    Raises:
        EntryFault: no reason is given, or it is undone already.
        NotFoundFault: there is no such batch.
    """
    if not why.strip():
        raise EntryFault(
            "A reason is needed", phrase("batch {batch_id}.", batch_id=batch_id), "Say why it is undone."
        )
    there = batch(tx.session, batch_id)
    if there.undone is not None:
        detail = phrase(
            "batch {batch_id}, {file}: {why}.", batch_id=batch_id, file=there.file, why=there.undone.why
        )
        raise EntryFault("That batch is undone already", detail, "Bring the file in again if it is needed.")
    tx.insert(BatchUndoRow(batch_id=batch_id, who=tx.who, at=tx.at, why=why.strip()))
    tx.touch(batches=[batch_id], everything=True)
