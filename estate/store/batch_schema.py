"""The tables of what is brought in: batches and what they wrote, their undoing, layouts and aliases."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row
from estate.store.schema import Key, Version


class BatchRow(Row):
    """A file brought in, byte for byte.

    Attributes:
        content: the file's bytes; empty of a follow-up, whose bytes are those of the batch it follows.
        forms: how the tables lie, by name, separated by commas.
        answers: JSON, see `estate.store.answers`.
        follows: the batch of the same file whose open questions this one answers.
    """

    __tablename__ = "batch"
    id: Mapped[Key]
    kind: Mapped[str]
    file: Mapped[str]
    digest: Mapped[str] = mapped_column(index=True)
    content: Mapped[bytes]
    rows_read: Mapped[int]
    accepted: Mapped[int]
    already_there: Mapped[int]
    who: Mapped[str]
    at: Mapped[datetime]
    layout: Mapped[str] = mapped_column(server_default="")
    forms: Mapped[str] = mapped_column(server_default="")
    date_order: Mapped[str] = mapped_column(server_default="")
    answers: Mapped[str] = mapped_column(server_default="[]")
    follows: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)


class BatchQuestionRow(Row):
    """A row of a batch that was not taken."""

    __tablename__ = "batch_question"
    id: Mapped[Key]
    batch_id: Mapped[int] = mapped_column(ForeignKey("batch.id"), index=True)
    sheet: Mapped[str]
    row_number: Mapped[int]
    cell: Mapped[str]
    code: Mapped[str]
    reference: Mapped[str | None]
    found: Mapped[str]
    remedy: Mapped[str]


class WrittenRow(Row):
    """A row of another table that a batch added or changed.

    Attributes:
        noun: the table.
        action: ``added`` or ``changed``.
        before, after: JSON of the changed columns; empty of an added row, of which the ledger tells.
    """

    __tablename__ = "batch_row"
    id: Mapped[Key]
    batch_id: Mapped[int] = mapped_column(ForeignKey("batch.id"), index=True)
    noun: Mapped[str]
    row_id: Mapped[int]
    action: Mapped[str]
    before: Mapped[str]
    after: Mapped[str]


class BatchUndoRow(Row):
    """Why a batch was undone."""

    __tablename__ = "batch_undo"
    __table_args__ = (UniqueConstraint("batch_id"), CheckConstraint("why <> ''", name="why_given"))
    id: Mapped[Key]
    batch_id: Mapped[int] = mapped_column(ForeignKey("batch.id"))
    who: Mapped[str]
    at: Mapped[datetime]
    why: Mapped[str]


class LayoutRow(Row):
    """How a sender's sheets lie, as a person confirmed it; `body` is JSON."""

    __tablename__ = "layout"
    __table_args__ = (UniqueConstraint("name_key"),)
    id: Mapped[Key]
    name: Mapped[str]
    name_key: Mapped[str]
    kind: Mapped[str]
    sender: Mapped[str]
    body: Mapped[str]
    who: Mapped[str]
    at: Mapped[datetime]
    row_version: Mapped[Version]


class AliasRow(Row):
    """What a person said that some words of a sheet stand for; of two alike the later counts.

    Attributes:
        outlet_id: NULL withdraws what was said of the words before.
        batch_id: the batch that taught it.
    """

    __tablename__ = "alias"
    id: Mapped[Key]
    words: Mapped[str]
    words_key: Mapped[str] = mapped_column(index=True)
    outlet_id: Mapped[int | None] = mapped_column(ForeignKey("outlet.id"), index=True)
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)
    who: Mapped[str]
    at: Mapped[datetime]
