"""What the window asks about suitability, causes, the year ahead and instruments: the operations' port."""

from collections.abc import Sequence
from typing import Protocol

from estate.domain.changes import ChangeSet
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.forecast import Forecast
from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.domain.suitability.given import Checked, Given


class Choosing(Protocol):
    """All about choosing, finding faults and planning ahead that the window can ask of one register."""

    def diagnose(self, outlet_id: int, hardness_mg_l: float | None) -> Diagnosed:
        """Weigh the causes of what the last visit found; hardness in mg/l CaCO3."""

    def check(self, outlet_id: int, given: Given) -> Checked:
        """Hold an outlet with its valve against its rules; what is given comes first."""

    def figures(self, given: Given) -> Checked:
        """Hold figures alone against the rules of the estate, as of new work."""

    def forecast(self) -> Forecast:
        """What is to be expected of valves and parts in the year ahead."""

    def instruments(self) -> Sequence[Instrument]:
        """Measuring instruments with their calibrations."""

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

    def add_calibration(self, reference: str, calibration: Calibration, who: str) -> ChangeSet:
        """Add a calibration to an instrument."""
