"""The tables of trust: people's keys, signatures, checkpoints of the ledger, and accounts on a server."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row
from estate.store.schema import Key, Version


class PersonKeyRow(Row):
    """A person's public key; a further row withdraws one.

    Attributes:
        key: hex of the raw public key.
        withdraws: the row whose key no longer counts from `withdrawn_at` on.
    """

    __tablename__ = "person_key"
    id: Mapped[Key]
    person: Mapped[str]
    key: Mapped[str]
    fingerprint: Mapped[str] = mapped_column(index=True)
    made_at: Mapped[datetime]
    added_by: Mapped[str]
    at: Mapped[datetime]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("person_key.id"))
    withdrawn_at: Mapped[datetime | None]
    why: Mapped[str] = mapped_column(server_default="")


class SignatureRow(Row):
    """A row of another table, signed.

    Attributes:
        noun, row_id: the row.
        digest: hex of what was signed.
        signature: hex.
        role: ``signed`` or ``countersigned``.
    """

    __tablename__ = "signature"
    __table_args__ = (
        Index("ix_signature_noun_row_id", "noun", "row_id"),
        CheckConstraint("role IN ('signed', 'countersigned')", name="role_known"),
    )
    id: Mapped[Key]
    noun: Mapped[str]
    row_id: Mapped[int]
    digest: Mapped[str]
    person_key_id: Mapped[int] = mapped_column(ForeignKey("person_key.id"), index=True)
    signature: Mapped[str]
    role: Mapped[str]
    at: Mapped[datetime]
    who: Mapped[str]


class CheckpointRow(Row):
    """How the ledger ended when someone took a copy of its last digest."""

    __tablename__ = "checkpoint"
    id: Mapped[Key]
    at: Mapped[datetime]
    who: Mapped[str]
    last_entry_id: Mapped[int]
    digest: Mapped[str]
    entries: Mapped[int]


class AccountRow(Row):
    """What a login of the server may do; with a building, there only."""

    __tablename__ = "account"
    __table_args__ = (
        CheckConstraint("role IN ('reader', 'recorder', 'officer', 'keeper')", name="role_known"),
    )
    id: Mapped[Key]
    name: Mapped[str] = mapped_column(index=True)
    role: Mapped[str]
    building_id: Mapped[int | None] = mapped_column(ForeignKey("building.id"), index=True)
    at: Mapped[datetime]
    who: Mapped[str]
    row_version: Mapped[Version]
