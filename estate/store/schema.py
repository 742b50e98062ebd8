"""The tables: the register itself, places, valves, instruments, rules, fits and the ledger."""

from datetime import date, datetime
from typing import Annotated, Final

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row

Key = Annotated[int, mapped_column(primary_key=True)]
Version = Annotated[int, mapped_column(server_default="1")]
"""Raised with every change of a row that may be changed."""


class RegisterRow(Row):
    """The register itself: one row."""

    __tablename__ = "register"
    __table_args__ = (CheckConstraint("id = 1", name="single"),)
    id: Mapped[Key]
    name: Mapped[str]
    identifier: Mapped[str]
    made_at: Mapped[datetime]
    rule_set: Mapped[str]
    row_version: Mapped[Version]


class SiteRow(Row):
    """A hospital or home."""

    __tablename__ = "site"
    __table_args__ = (UniqueConstraint("name_key"),)
    id: Mapped[Key]
    name: Mapped[str]
    name_key: Mapped[str]
    row_version: Mapped[Version]


class BuildingRow(Row):
    """A building of a site."""

    __tablename__ = "building"
    __table_args__ = (UniqueConstraint("site_id", "name_key"),)
    id: Mapped[Key]
    site_id: Mapped[int] = mapped_column(ForeignKey("site.id"))
    name: Mapped[str]
    name_key: Mapped[str]
    rule_set: Mapped[str | None]
    row_version: Mapped[Version]


class LevelRow(Row):
    """A storey of a building."""

    __tablename__ = "level"
    __table_args__ = (UniqueConstraint("building_id", "name_key"),)
    id: Mapped[Key]
    building_id: Mapped[int] = mapped_column(ForeignKey("building.id"))
    name: Mapped[str]
    name_key: Mapped[str]
    row_version: Mapped[Version]


class RoomRow(Row):
    """A room of a storey."""

    __tablename__ = "room"
    __table_args__ = (UniqueConstraint("level_id", "number_key", "name_key"),)
    id: Mapped[Key]
    level_id: Mapped[int] = mapped_column(ForeignKey("level.id"))
    number: Mapped[str]
    number_key: Mapped[str]
    name: Mapped[str]
    name_key: Mapped[str]
    row_version: Mapped[Version]


class PositionRow(Row):
    """A mounting place for a valve body; it serves one or more outlets."""

    __tablename__ = "position"
    id: Mapped[Key]
    room_id: Mapped[int] = mapped_column(ForeignKey("room.id"), index=True)
    words: Mapped[str]
    row_version: Mapped[Version]


class OutletRow(Row):
    """One place where a person draws mixed water."""

    __tablename__ = "outlet"
    __table_args__ = (
        UniqueConstraint("reference_key"),
        CheckConstraint("pipe_m >= 0", name="pipe_m_not_negative"),
    )
    id: Mapped[Key]
    room_id: Mapped[int] = mapped_column(ForeignKey("room.id"), index=True)
    position_id: Mapped[int] = mapped_column(ForeignKey("position.id"), index=True)
    reference: Mapped[str]
    reference_key: Mapped[str]
    name: Mapped[str]
    use: Mapped[str]
    user_group: Mapped[str]
    little_used: Mapped[bool]
    pipe_m: Mapped[float | None]
    rule_set: Mapped[str | None]
    retired_on: Mapped[date | None]
    row_version: Mapped[Version]


class ValveRow(Row):
    """One valve body."""

    __tablename__ = "valve"
    id: Mapped[Key]
    make: Mapped[str]
    model: Mapped[str]
    serial: Mapped[str]
    scheme_class: Mapped[str | None]
    en_type: Mapped[str | None]
    designations: Mapped[str]
    size_mm: Mapped[float | None]
    set_c: Mapped[float | None]
    check_valves: Mapped[bool | None]
    strainers: Mapped[bool | None]
    isolating_valves: Mapped[bool | None]
    min_differential_k: Mapped[float | None]
    max_pressure_ratio: Mapped[float | None]
    row_version: Mapped[Version]


_IN_PLACE = text("removed_on IS NULL")


class FittingRow(Row):
    """A valve body at a position between two days."""

    __tablename__ = "fitting"
    __table_args__ = (
        CheckConstraint("removed_on >= fitted_on", name="removed_after_fitted"),
        Index("ix_fitting_valve_id", "valve_id"),
        Index("ix_fitting_position_id", "position_id"),
        Index(
            "uq_fitting_valve_in_place",
            "valve_id",
            unique=True,
            sqlite_where=_IN_PLACE,
            postgresql_where=_IN_PLACE,
        ),
        Index(
            "uq_fitting_position_in_place",
            "position_id",
            unique=True,
            sqlite_where=_IN_PLACE,
            postgresql_where=_IN_PLACE,
        ),
    )
    id: Mapped[Key]
    valve_id: Mapped[int] = mapped_column(ForeignKey("valve.id"))
    position_id: Mapped[int] = mapped_column(ForeignKey("position.id"))
    fitted_on: Mapped[date | None]
    removed_on: Mapped[date | None]
    row_version: Mapped[Version]


class InstrumentRow(Row):
    """A measuring instrument."""

    __tablename__ = "instrument"
    __table_args__ = (
        UniqueConstraint("reference_key"),
        CheckConstraint("standard_uncertainty_k >= 0", name="uncertainty_not_negative"),
    )
    id: Mapped[Key]
    reference: Mapped[str]
    reference_key: Mapped[str]
    kind: Mapped[str]
    specification: Mapped[str]
    standard_uncertainty_k: Mapped[float | None]
    row_version: Mapped[Version]


class CalibrationRow(Row):
    """One calibration of an instrument."""

    __tablename__ = "calibration"
    __table_args__ = (CheckConstraint("due_on >= calibrated_on", name="due_after_calibrated"),)
    id: Mapped[Key]
    instrument_id: Mapped[int] = mapped_column(ForeignKey("instrument.id"), index=True)
    calibrated_on: Mapped[date]
    due_on: Mapped[date]
    certificate: Mapped[str]
    row_version: Mapped[Version]


class RuleOverrideRow(Row):
    """A site's own value in place of a published one; both values empty withdraws it."""

    __tablename__ = "rule_override"
    __table_args__ = (
        CheckConstraint("number_value IS NULL OR text_value IS NULL", name="one_value"),
        CheckConstraint("why <> ''", name="why_given"),
    )
    id: Mapped[Key]
    rule_set: Mapped[str]
    key: Mapped[str]
    place: Mapped[str]
    number_value: Mapped[float | None]
    text_value: Mapped[str | None]
    who: Mapped[str]
    at: Mapped[datetime]
    why: Mapped[str]


class GroupFitRow(Row):
    """Parameters fitted to a group of valves on one day; a later fit is a further row."""

    __tablename__ = "group_fit"
    __table_args__ = (Index("ix_group_fit_fitted_on", "fitted_on"),)
    id: Mapped[Key]
    name: Mapped[str]
    fitted_on: Mapped[date]
    fitted_at: Mapped[datetime]
    mu: Mapped[float]
    omega: Mapped[float]
    sigma: Mapped[float]
    s: Mapped[float]
    a: Mapped[float]
    b_years: Mapped[float]
    valves: Mapped[int]
    readings: Mapped[int]
    version: Mapped[str]


class LedgerEntryRow(Row):
    """One change to the register: who, when, what; see `estate.store.ledger`.

    Attributes:
        local_at: the moment by the clock on the wall, ISO with its offset.
        program: the program that wrote it, with its version.
        before, after: JSON.
        previous, digest: hex; empty in entries older than the chain.
    """

    __tablename__ = "ledger_entry"
    __table_args__ = (Index("ix_ledger_entry_noun_row_id", "noun", "row_id"),)
    id: Mapped[Key]
    at: Mapped[datetime]
    who: Mapped[str]
    what: Mapped[str]
    noun: Mapped[str]
    row_id: Mapped[int | None]
    action: Mapped[str]
    after: Mapped[str]
    local_at: Mapped[str] = mapped_column(server_default="")
    program: Mapped[str] = mapped_column(server_default="")
    batch_id: Mapped[int | None]
    before: Mapped[str] = mapped_column(server_default="")
    why: Mapped[str] = mapped_column(server_default="")
    previous: Mapped[str] = mapped_column(server_default="")
    digest: Mapped[str] = mapped_column(server_default="")


EVIDENCE: Final = frozenset(
    {
        "visit",
        "visit_void",
        "judgement",
        "finding",
        "action",
        "action_event",
        "outlet_event",
        "visit_check",
        "visit_part",
        "visit_justification",
        "competence",
        "care",
        "outlet_review",
        "survey",
        "attempt",
        "attempt_void",
        "batch",
        "batch_question",
        "batch_row",
        "batch_undo",
        "alias",
        "rule_override",
        "group_fit",
        "ledger_entry",
        "person_key",
        "signature",
        "checkpoint",
        "document_content",
        "document",
        "document_void",
    }
)
"""Tables whose rows are added but never changed or deleted."""

REMOVABLE: Final = frozenset({"site", "building", "level", "room", "position", "outlet", "valve", "fitting"})
"""Tables of places and valves: what a batch writes to them is noted, and can be taken back."""
