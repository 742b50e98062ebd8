"""The tables of a valve's whole life: actions, use of outlets, what was seen, people, upkeep, surveys.

A row with `withdraws` takes another row of the same table back; neither counts then.
"""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from estate.store.columns import Row
from estate.store.schema import Key, Version


class ActionRow(Row):
    """Something that must be done at an outlet, as it was opened; `action_event` tells what became of it.

    Attributes:
        valve_id: the body that the fault is of; NULL where it is of none.
        visit_id: the visit that found it; NULL of one opened by hand.
        kind: see `estate.domain.life.actions.ActionKind`.
        severity: see `estate.domain.findings.Severity`.
        codes: codes of the checks that failed, separated by spaces.
        stop_codes: those of them that ask for the outlet to be out of use, likewise.
        batch_id: the batch that brought the finding.
    """

    __tablename__ = "action"
    __table_args__ = (CheckConstraint("words <> ''", name="words_given"),)
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    valve_id: Mapped[int | None] = mapped_column(ForeignKey("valve.id"), index=True)
    visit_id: Mapped[int | None] = mapped_column(ForeignKey("visit.id"), index=True)
    kind: Mapped[str]
    severity: Mapped[int]
    asks_retest: Mapped[bool]
    codes: Mapped[str]
    stop_codes: Mapped[str]
    words: Mapped[str]
    opened_at: Mapped[datetime]
    opened_by: Mapped[str]
    found_on: Mapped[date]
    target_on: Mapped[date | None]
    owner: Mapped[str]
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"), index=True)


class ActionEventRow(Row):
    """What was done about an action; its state is the fold of its events.

    Attributes:
        kind: see `estate.domain.life.actions.Step`.
        by_itself: whether the register did it, from the visits alone.
        owner, target_on: set by this event; empty where it leaves them.
        visit_id: the visit that it rests on.
        codes, stop_codes, severity: of a finding that joined the action.
    """

    __tablename__ = "action_event"
    id: Mapped[Key]
    action_id: Mapped[int] = mapped_column(ForeignKey("action.id"), index=True)
    kind: Mapped[str]
    at: Mapped[datetime]
    who: Mapped[str]
    done_on: Mapped[date]
    by_itself: Mapped[bool]
    why: Mapped[str]
    owner: Mapped[str]
    target_on: Mapped[date | None]
    visit_id: Mapped[int | None] = mapped_column(ForeignKey("visit.id"), index=True)
    codes: Mapped[str]
    stop_codes: Mapped[str]
    severity: Mapped[int | None]


class OutletEventRow(Row):
    """An outlet taken out of use or put back.

    Attributes:
        action_id: the action that asked for it.
        visit_id: the retest that lets it back in use.
    """

    __tablename__ = "outlet_event"
    __table_args__ = (CheckConstraint("why <> ''", name="why_given"),)
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    kind: Mapped[str]
    done_on: Mapped[date]
    at: Mapped[datetime]
    who: Mapped[str]
    who_told: Mapped[str]
    sign_placed: Mapped[bool | None]
    why: Mapped[str]
    action_id: Mapped[int | None] = mapped_column(ForeignKey("action.id"), index=True)
    visit_id: Mapped[int | None] = mapped_column(ForeignKey("visit.id"), index=True)


class VisitCheckRow(Row):
    """A step of the procedure, as it was seen at a visit; NULL where it was not seen or not measured."""

    __tablename__ = "visit_check"
    id: Mapped[Key]
    visit_id: Mapped[int] = mapped_column(ForeignKey("visit.id"), index=True)
    key: Mapped[str]
    said: Mapped[bool | None]
    number: Mapped[float | None]
    unit: Mapped[str]
    remark: Mapped[str]


class VisitPartRow(Row):
    """A part used at a visit."""

    __tablename__ = "visit_part"
    id: Mapped[Key]
    visit_id: Mapped[int] = mapped_column(ForeignKey("visit.id"), index=True)
    part: Mapped[str]
    quantity: Mapped[float | None]
    remark: Mapped[str]


class VisitJustificationRow(Row):
    """Why a visit counts though its instrument was out of date."""

    __tablename__ = "visit_justification"
    __table_args__ = (CheckConstraint("why <> ''", name="why_given"),)
    id: Mapped[Key]
    visit_id: Mapped[int] = mapped_column(ForeignKey("visit.id"), index=True)
    who: Mapped[str]
    at: Mapped[datetime]
    why: Mapped[str]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("visit_justification.id"))


class PersonRow(Row):
    """A person who tests or repairs."""

    __tablename__ = "person"
    __table_args__ = (UniqueConstraint("name_key"),)
    id: Mapped[Key]
    name: Mapped[str]
    name_key: Mapped[str]
    position: Mapped[str]
    left_on: Mapped[date | None]
    row_version: Mapped[Version]


class CompetenceRow(Row):
    """What a person is competent in, between two days."""

    __tablename__ = "competence"
    __table_args__ = (CheckConstraint("until_on >= from_on", name="ends_after_it_begins"),)
    id: Mapped[Key]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    subject: Mapped[str]
    certificate: Mapped[str]
    from_on: Mapped[date]
    until_on: Mapped[date | None]
    at: Mapped[datetime]
    who: Mapped[str]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("competence.id"))
    why: Mapped[str]


class CareRow(Row):
    """Upkeep of an outlet between tests: flushed, shower head cleaned; see `estate.domain.life.care`."""

    __tablename__ = "care"
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    kind: Mapped[str]
    done_on: Mapped[date]
    person: Mapped[str]
    duration_s: Mapped[float | None]
    remarks: Mapped[str]
    at: Mapped[datetime]
    who: Mapped[str]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("care.id"))
    why: Mapped[str]


class OutletReviewRow(Row):
    """Whether an outlet's valve is still needed, as a person decided on a day."""

    __tablename__ = "outlet_review"
    __table_args__ = (CheckConstraint("why <> ''", name="why_given"),)
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    done_on: Mapped[date]
    person: Mapped[str]
    needed: Mapped[bool]
    why: Mapped[str]
    at: Mapped[datetime]
    who: Mapped[str]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("outlet_review.id"))


class SurveyRow(Row):
    """Supplies measured at an outlet before a valve is chosen: bar, °C, l/min; NULL where not measured."""

    __tablename__ = "survey"
    id: Mapped[Key]
    outlet_id: Mapped[int] = mapped_column(ForeignKey("outlet.id"), index=True)
    done_on: Mapped[date]
    person: Mapped[str]
    hot_static_bar: Mapped[float | None]
    cold_static_bar: Mapped[float | None]
    hot_flow_bar: Mapped[float | None]
    cold_flow_bar: Mapped[float | None]
    hot_c: Mapped[float | None]
    cold_c: Mapped[float | None]
    wanted_flow_l_min: Mapped[float | None]
    remarks: Mapped[str]
    at: Mapped[datetime]
    who: Mapped[str]
    withdraws: Mapped[int | None] = mapped_column(ForeignKey("survey.id"))
    why: Mapped[str]
