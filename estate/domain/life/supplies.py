"""Supplies measured at an outlet, as they are kept: for choosing a valve or finding out what changed."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class SuppliesDraft:
    """Supplies measured on a day, before they are in the register; None where not measured.

    Attributes:
        hot_static_bar, cold_static_bar: at rest, bar.
        hot_flow_bar, cold_flow_bar: while water is drawn, bar.
        wanted_flow_l_min: what is wanted at the outlet, l/min.
    """

    outlet_id: int
    on: date
    person: str = ""
    hot_static_bar: float | None = None
    cold_static_bar: float | None = None
    hot_flow_bar: float | None = None
    cold_flow_bar: float | None = None
    hot_c: float | None = None
    cold_c: float | None = None
    wanted_flow_l_min: float | None = None
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class SuppliesMeasured:
    """Supplies measured, in the register; `withdrawn` says why they no longer count."""

    id: int
    draft: SuppliesDraft
    who: str
    at: datetime
    withdrawn: str = ""
