"""Valve bodies: what they are, what their maker says, where and when they were fitted."""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum


class SchemeClass(StrEnum):
    """UK scheme class (NHS Types 1 to 3); not the EN 1111 type (a naming trap)."""

    TYPE_1 = "1"
    TYPE_2 = "2"
    TYPE_3 = "3"


class EnType(StrEnum):
    """BS EN 1111:2017 types: how the valve is worked, not how safe it is."""

    SINGLE_CONTROL = "1"
    DUAL_CONTROL = "2"
    SINGLE_SEQUENTIAL = "3"
    NO_FLOW_CONTROL = "4"
    PRE_SET = "5"
    OTHER = "6"


DESIGNATIONS = tuple(
    f"{supply}-{use}" for supply in ("HP", "LP") for use in ("B", "S", "W", "T", "T44", "T46")
)
"""Every designation: the pressure of the supply, then the use (D08-10..12)."""


@dataclass(frozen=True, slots=True)
class ModelLimits:
    """The model's own figures, from its maker's instructions; None where not entered (D08-24, D08-26)."""

    min_differential_k: float | None = None
    max_pressure_ratio: float | None = None


@dataclass(frozen=True, slots=True)
class Valve:
    """One valve body.

    Attributes:
        designations: codes such as ``HP-W`` (D08-10..12).
        set_c: the mixed temperature it is meant to be set to, °C.
        check_valves, strainers, isolating_valves: whether they are present; None if not recorded.
    """

    id: int
    make: str
    model: str
    serial: str
    scheme_class: SchemeClass | None = None
    en_type: EnType | None = None
    designations: tuple[str, ...] = ()
    size_mm: float | None = None
    set_c: float | None = None
    check_valves: bool | None = None
    strainers: bool | None = None
    isolating_valves: bool | None = None
    limits: ModelLimits = field(default_factory=ModelLimits)

    @property
    def words(self) -> str:
        """Make, model and serial in one phrase."""
        return " ".join(part for part in (self.make, self.model, self.serial) if part) or f"valve {self.id}"


@dataclass(frozen=True, slots=True)
class Fitting:
    """A valve body at a position, from the day it was fitted to the day it was removed."""

    valve_id: int
    position_id: int
    fitted_on: date | None
    removed_on: date | None = None

    def in_place(self, on: date) -> bool:
        """Whether the body was in place on a day (the day of removal belongs to its successor)."""
        began = self.fitted_on is None or self.fitted_on <= on
        return began and (self.removed_on is None or on < self.removed_on)
