"""The tables of documents and photographs: what they belong to, their bytes, and why one counts no more."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row
from estate.store.schema import Key


class DocumentContentRow(Row):
    """A file's bytes, once, however often the file is added.

    Attributes:
        sha256: hex, of the bytes.
    """

    __tablename__ = "document_content"
    __table_args__ = (UniqueConstraint("sha256"),)
    id: Mapped[Key]
    sha256: Mapped[str]
    content: Mapped[bytes]


class DocumentRow(Row):
    """A document or photograph of a row of another table.

    Attributes:
        noun, row_id: the row.
        name: the file's name when it was added.
        media_type: by the content, not by the name.
        sha256: hex, of the bytes.
    """

    __tablename__ = "document"
    __table_args__ = (
        Index("ix_document_noun_row_id", "noun", "row_id"),
        CheckConstraint("size_bytes > 0", name="not_empty"),
    )
    id: Mapped[Key]
    noun: Mapped[str]
    row_id: Mapped[int]
    name: Mapped[str]
    media_type: Mapped[str]
    size_bytes: Mapped[int]
    sha256: Mapped[str] = mapped_column(
        ForeignKey("document_content.sha256", deferrable=True, initially="DEFERRED"), index=True
    )
    at: Mapped[datetime]
    who: Mapped[str]
    remark: Mapped[str] = mapped_column(server_default="")
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)


class DocumentVoidRow(Row):
    """Why a document counts no more."""

    __tablename__ = "document_void"
    __table_args__ = (UniqueConstraint("document_id"), CheckConstraint("why <> ''", name="why_given"))
    id: Mapped[Key]
    document_id: Mapped[int] = mapped_column(ForeignKey("document.id"))
    who: Mapped[str]
    at: Mapped[datetime]
    why: Mapped[str]
