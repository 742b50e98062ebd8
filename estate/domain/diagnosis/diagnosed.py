"""A diagnosis with the outlet and valve that it speaks of."""

from dataclasses import dataclass

from estate.domain.diagnosis.diagnose import Diagnosis
from estate.domain.places import Outlet


@dataclass(frozen=True, slots=True)
class Diagnosed:
    """A diagnosis with the outlet and valve that it speaks of."""

    outlet: Outlet
    valve: str
    diagnosis: Diagnosis
