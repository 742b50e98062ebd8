"""Words by which senders call outlets, as a person confirmed them."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Alias:
    """What some words of a sheet stand for.

    Attributes:
        words: as written in the sheet.
        outlet_id: the outlet.
        who, at: who confirmed it and when (UTC).
    """

    words: str
    outlet_id: int
    who: str
    at: datetime
