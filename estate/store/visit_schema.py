"""The tables of evidence about valves: visits, attempts, their voids, and what judging found."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row
from estate.store.schema import Key


class VisitRow(Row):
    """One visit: readings flattened, °C, bar, l/min, ml/min, s; NULL where not measured."""

    __tablename__ = "visit"
    __table_args__ = (Index("ix_visit_valve_id_visited_on_id", "valve_id", "visited_on", "id"),)
    id: Mapped[Key]
    valve_id: Mapped[int] = mapped_column(ForeignKey("valve.id"))
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    kind: Mapped[str]
    visited_on: Mapped[date]
    person: Mapped[str]
    instrument_id: Mapped[int | None] = mapped_column(ForeignKey("instrument.id"), index=True)
    instrument_words: Mapped[str]
    remarks: Mapped[str]
    hot_c: Mapped[float | None]
    cold_c: Mapped[float | None]
    found_c: Mapped[float | None]
    left_c: Mapped[float | None]
    flow_l_min: Mapped[float | None]
    small_draw_c: Mapped[float | None]
    small_draw_l_min: Mapped[float | None]
    hot_static_bar: Mapped[float | None]
    cold_static_bar: Mapped[float | None]
    hot_flow_bar: Mapped[float | None]
    cold_flow_bar: Mapped[float | None]
    cold_isolated_max_c: Mapped[float | None]
    cold_isolated_stabilised_c: Mapped[float | None]
    cold_isolated_residual_ml_min: Mapped[float | None]
    cold_isolated_residual_c: Mapped[float | None]
    cold_isolated_shut_s: Mapped[float | None]
    cold_isolated_said_to_shut: Mapped[bool | None]
    hot_isolated_max_c: Mapped[float | None]
    hot_isolated_stabilised_c: Mapped[float | None]
    hot_isolated_residual_ml_min: Mapped[float | None]
    hot_isolated_residual_c: Mapped[float | None]
    hot_isolated_shut_s: Mapped[float | None]
    hot_isolated_said_to_shut: Mapped[bool | None]
    adjusted: Mapped[bool | None]
    strainers_cleaned: Mapped[bool | None]
    check_valves_good: Mapped[bool | None]
    isolating_valves_open: Mapped[bool | None]
    cap_refitted: Mapped[bool | None]
    source_file: Mapped[str | None]
    source_sheet: Mapped[str | None]
    source_row: Mapped[int | None]
    source_cells: Mapped[str | None]
    recorded_at: Mapped[datetime]
    recorded_by: Mapped[str]
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)
    corrects: Mapped[int | None] = mapped_column(ForeignKey("visit.id"), index=True)


class VisitVoidRow(Row):
    """Why a visit no longer counts."""

    __tablename__ = "visit_void"
    __table_args__ = (UniqueConstraint("visit_id"), CheckConstraint("reason <> ''", name="reason_given"))
    id: Mapped[Key]
    visit_id: Mapped[int] = mapped_column(ForeignKey("visit.id"))
    reason: Mapped[str]
    who: Mapped[str]
    at: Mapped[datetime]


class AttemptRow(Row):
    """A visit that was tried: the tester could not get at the valve."""

    __tablename__ = "attempt"
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    attempted_on: Mapped[date]
    why: Mapped[str]
    person: Mapped[str]
    source_file: Mapped[str | None]
    source_sheet: Mapped[str | None]
    source_row: Mapped[int | None]
    source_cells: Mapped[str | None]
    recorded_at: Mapped[datetime]
    recorded_by: Mapped[str]
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)


class AttemptVoidRow(Row):
    """Why an attempt no longer counts."""

    __tablename__ = "attempt_void"
    __table_args__ = (UniqueConstraint("attempt_id"), CheckConstraint("reason <> ''", name="reason_given"))
    id: Mapped[Key]
    attempt_id: Mapped[int] = mapped_column(ForeignKey("attempt.id"))
    reason: Mapped[str]
    who: Mapped[str]
    at: Mapped[datetime]


class JudgementRow(Row):
    """A visit judged under one rule set; the latest one counts.

    Attributes:
        met_codes: codes of the checks that were met, separated by spaces.
        untested_codes: codes of the checks whose value was missing and not required, likewise.
    """

    __tablename__ = "judgement"
    id: Mapped[Key]
    visit_id: Mapped[int] = mapped_column(ForeignKey("visit.id"), index=True)
    rule_set: Mapped[str]
    rule_set_edition: Mapped[str]
    verdict: Mapped[str]
    met_count: Mapped[int]
    met_codes: Mapped[str]
    untested_codes: Mapped[str]
    judged_at: Mapped[datetime]


class FindingRow(Row):
    """A check of a judgement that was not met, or whose required value was missing."""

    __tablename__ = "finding"
    id: Mapped[Key]
    judgement_id: Mapped[int] = mapped_column(ForeignKey("judgement.id"), index=True)
    code: Mapped[str]
    outcome: Mapped[str]
    words: Mapped[str]
    severity: Mapped[int | None]
    required: Mapped[bool]
    measured: Mapped[float | None]
    limit_value: Mapped[float | None]
    unit: Mapped[str]
    source: Mapped[str]
    action: Mapped[str]
    retest_from_weeks: Mapped[float | None]
    retest_to_weeks: Mapped[float | None]
