"""Visits to a valve and what was measured; a value not measured is None, never zero."""

from dataclasses import dataclass, field, fields
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from estate.domain.phrases import Phrase, phrase
from estate.domain.steps import NOTHING_SEEN, Steps


class VisitKind(StrEnum):
    """Why the valve was visited."""

    COMMISSIONING = "commissioning"
    IN_SERVICE = "in-service test"
    SERVICE = "service"

    @property
    def sets_reference(self) -> bool:
        """Whether the visit becomes the reference for later tests (D08-62, D08-64)."""
        return self is not VisitKind.IN_SERVICE

    @property
    def words(self) -> Phrase:
        """What it is called within a sentence."""
        return phrase(self.value)


class Standing(StrEnum):
    """Whether an entry still counts; entries are never changed or deleted."""

    RECORDED = "recorded"
    CORRECTED = "corrected by a later entry"
    VOID = "void"


@dataclass(frozen=True, slots=True)
class Isolation:
    """What happened when one supply was isolated (D08-59, D08-90, D08-91, TP-02).

    Attributes:
        max_c: highest mixed temperature reached, °C.
        stabilised_c: final stabilised temperature of what still flows, °C.
        residual_ml_min: flow still passing, ml/min.
        residual_c: temperature of that residual flow, °C.
        shut_s: time to shut, s.
        said_to_shut: the tester's word or tick alone; None if nothing was said.
    """

    max_c: float | None = None
    stabilised_c: float | None = None
    residual_ml_min: float | None = None
    residual_c: float | None = None
    shut_s: float | None = None
    said_to_shut: bool | None = None


@dataclass(frozen=True, slots=True)
class Readings:
    """Everything measured or observed at one visit; °C, bar, l/min; None where not measured.

    Attributes:
        found_c, left_c: mixed temperature as found and as left at the largest draw-off.
        small_draw_c: mixed temperature at the smaller draw-off `small_draw_l_min` (D08-57).
        adjusted: whether the temperature adjuster was turned; None if not said.
        check_valves_good, isolating_valves_open, cap_refitted: what was seen (D08-72, TP-06).
    """

    hot_c: float | None = None
    cold_c: float | None = None
    found_c: float | None = None
    left_c: float | None = None
    flow_l_min: float | None = None
    small_draw_c: float | None = None
    small_draw_l_min: float | None = None
    hot_static_bar: float | None = None
    cold_static_bar: float | None = None
    hot_flow_bar: float | None = None
    cold_flow_bar: float | None = None
    cold_isolated: Isolation = field(default_factory=Isolation)
    hot_isolated: Isolation = field(default_factory=Isolation)
    adjusted: bool | None = None
    strainers_cleaned: bool | None = None
    check_valves_good: bool | None = None
    isolating_valves_open: bool | None = None
    cap_refitted: bool | None = None

    @property
    def as_left_c(self) -> float | None:
        """Mixed temperature the valve was left at; as found where it is known that nothing was adjusted."""
        if self.left_c is not None:
            return self.left_c
        return self.found_c if self.adjusted is False else None

    @property
    def level_reset(self) -> bool:
        """Whether the visit began a new level: said so, or the as-left value differs from the as-found."""
        if self.adjusted is not None:
            return self.adjusted
        return self.left_c is not None and self.left_c != self.found_c


@dataclass(frozen=True, slots=True)
class Source:
    """Where an entry came from: the file's name, sheet and row, and its cells as they stood."""

    file: str
    sheet: str
    row: int
    cells: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class VisitDraft:
    """A visit before it is in the register.

    Attributes:
        steps: what was seen and done beside the readings.
    """

    valve_id: int
    outlet_id: int
    kind: VisitKind
    on: date
    readings: Readings = field(default_factory=Readings)
    person: str = ""
    instrument_id: int | None = None
    instrument_words: str = ""
    remarks: str = ""
    source: Source | None = None
    steps: Steps = NOTHING_SEEN


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit in the register.

    Attributes:
        corrects: id of the entry that this one corrects.
        recorded_at: moment of entry, UTC.
        void_reason: why it no longer counts; empty if it does.
    """

    id: int
    draft: VisitDraft
    recorded_at: datetime
    recorded_by: str
    batch_id: int | None = None
    standing: Standing = Standing.RECORDED
    corrects: int | None = None
    void_reason: str = ""

    @property
    def on(self) -> date:
        """Day of the visit."""
        return self.draft.on

    @property
    def readings(self) -> Readings:
        """What was measured."""
        return self.draft.readings

    @property
    def counts(self) -> bool:
        """Whether judging and planning use this entry."""
        return self.standing is Standing.RECORDED


@dataclass(frozen=True, slots=True)
class AttemptDraft:
    """A visit that was tried, before it is in the register: the tester could not get at the valve.

    Attributes:
        why: in the tester's words, such as "no access, room occupied".
    """

    outlet_id: int
    on: date
    why: str
    person: str = ""
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Attempt:
    """An attempted visit in the register; it measured nothing and is never a pass.

    Attributes:
        recorded_at: moment of entry, UTC.
        void_reason: why it no longer counts; empty if it does.
    """

    id: int
    draft: AttemptDraft
    recorded_at: datetime
    recorded_by: str
    batch_id: int | None = None
    void_reason: str = ""

    @property
    def outlet_id(self) -> int:
        """The outlet that was not reached."""
        return self.draft.outlet_id

    @property
    def on(self) -> date:
        """Day of the attempt."""
        return self.draft.on

    @property
    def why(self) -> str:
        """Why the valve was not reached."""
        return self.draft.why

    @property
    def person(self) -> str:
        """Who tried."""
        return self.draft.person

    @property
    def source(self) -> Source | None:
        """Where the entry came from."""
        return self.draft.source


def measured(record: Readings | Isolation) -> dict[str, Any]:
    """The values of a record that were measured, by dotted name such as ``cold_isolated.max_c``."""
    found: dict[str, Any] = {}
    for each in fields(record):
        value = getattr(record, each.name)
        if isinstance(value, Isolation):
            found |= {f"{each.name}.{name}": inner for name, inner in measured(value).items()}
        elif value is not None:
            found[each.name] = value
    return found
