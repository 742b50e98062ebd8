"""Measuring instruments and their calibrations."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class InstrumentKind(StrEnum):
    """What an instrument measures with (MU-10)."""

    IMMERSION_PROBE = "immersion probe"
    SURFACE_PROBE = "surface probe"
    PRESSURE_GAUGE = "pressure gauge"
    MEASURING_VESSEL = "measuring vessel"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Calibration:
    """One calibration: valid from its day until it is due again."""

    on: date
    due_on: date
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument.

    Attributes:
        standard_uncertainty_k: standard uncertainty u in kelvins (k = 1); None if not known.
        specification: words that tell whether two instruments are of the same kind (D08-71).
    """

    id: int
    reference: str
    kind: InstrumentKind = InstrumentKind.IMMERSION_PROBE
    specification: str = ""
    standard_uncertainty_k: float | None = None
    calibrations: tuple[Calibration, ...] = ()

    def calibration_on(self, day: date) -> Calibration | None:
        """The calibration in force on a day, or None if there was none."""
        valid = [each for each in self.calibrations if each.on <= day <= each.due_on]
        return max(valid, key=lambda each: each.on, default=None)
