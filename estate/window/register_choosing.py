"""Suitability, causes, the year ahead and instruments over the real operations."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.forecast import Forecast
from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.domain.suitability.given import Checked, Given
from estate.operations import browse, check_suitability, diagnose, forecast, keep_instruments
from estate.operations.register import Register


class RegisterChoosing:
    """Runs the operations about choosing, finding faults and planning ahead on one open register.

    Args:
        register: the open register.
        today: tells the day.
        now: tells the moment, UTC.
    """

    def __init__(self, register: Register, today: Callable[[], date], now: Callable[[], datetime]) -> None:
        self._register, self._today, self._now = register, today, now

    def diagnose(self, outlet_id: int, hardness_mg_l: float | None) -> Diagnosed:
        """Weigh the causes of what the last visit found; hardness in mg/l CaCO3."""
        return diagnose.diagnose(self._register, outlet_id, self._today(), hardness_mg_l)

    def check(self, outlet_id: int, given: Given) -> Checked:
        """Hold an outlet with its valve against its rules; what is given comes first."""
        return check_suitability.check_outlet(self._register, outlet_id, given, self._today())

    def figures(self, given: Given) -> Checked:
        """Hold figures alone against the rules of the estate, as of new work."""
        return check_suitability.check_figures(given, self._today(), self._register)

    def forecast(self) -> Forecast:
        """What is to be expected of valves and parts in the year ahead."""
        return forecast.forecast(self._register, self._today())

    def instruments(self) -> Sequence[Instrument]:
        """Measuring instruments with their calibrations."""
        return browse.instruments(self._register)

    def add_instrument(
        self,
        reference: str,
        *,
        kind: InstrumentKind,
        specification: str,
        standard_uncertainty_k: float | None,
        calibration: Calibration | None,
        who: str,
    ) -> ChangeSet:
        """Add an instrument, with its calibration if it has one."""
        return keep_instruments.add_instrument(
            self._register,
            reference,
            kind=kind,
            specification=specification,
            standard_uncertainty_k=standard_uncertainty_k,
            calibration=calibration,
            who=who,
            at=self._now(),
        )

    def add_calibration(self, reference: str, calibration: Calibration, who: str) -> ChangeSet:
        """Add a calibration to an instrument."""
        return keep_instruments.add_calibration(
            self._register, reference, calibration, who=who, at=self._now()
        )
