"""What a certificate of one visit speaks of, gathered."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from estate.domain.field_limits import FieldLimit
from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.places import Outlet
from estate.domain.register import RegisterIdentity
from estate.domain.valves import Valve
from estate.domain.visits import Visit


@dataclass(frozen=True, slots=True)
class CertificateFacts:
    """One visit with all that stands beside it on paper.

    Attributes:
        today: the day of writing.
        outlets: every outlet that the valve serves, the tested one first.
        fitted_on: the day the body was fitted; None if not recorded.
        judgement: as it is kept.
        limits: what readings are held against, by field such as ``cold_isolated.max_c``.
        instrument: the one used, if it is in the register.
        signed: who signed in the register, in a sentence.
    """

    today: date
    register: RegisterIdentity
    visit: Visit
    outlets: tuple[Outlet, ...]
    valve: Valve
    fitted_on: date | None
    judgement: Judgement
    instrument: Instrument | None = None
    limits: Mapping[str, FieldLimit] = field(default_factory=dict)
    signed: str = "Of signatures in the register nothing is said."
