"""Figures given by hand for a check of suitability, and what the check came to."""

from dataclasses import dataclass, field

from estate.domain.places import Use, UserGroup
from estate.domain.suitability.check import Suitability
from estate.domain.suitability.survey import ModelFigures, Supply
from estate.domain.valves import SchemeClass


@dataclass(frozen=True, slots=True)
class Given:
    """Figures given by hand, as in `Survey`; they come before the register's. None where not given.

    Attributes:
        alone: whether what is not given is not known; False takes the register's figures for it. Use and
            users of an outlet are always known.
    """

    use: Use | None = None
    users: UserGroup | None = None
    hot: Supply = field(default_factory=Supply)
    cold: Supply = field(default_factory=Supply)
    set_c: float | None = None
    scheme_class: SchemeClass | None = None
    designations: tuple[str, ...] = ()
    wanted_l_min: float | None = None
    pipe_m: float | None = None
    model: ModelFigures = field(default_factory=ModelFigures)
    risk_assessed: bool | None = None
    alone: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """What was worked out, and what it rests on.

    Attributes:
        place: reference and words of the outlet; empty for figures alone.
        valve: the body in place; empty if there is none or only figures were given.
        taken_from: which figures came from the register, and of which day.
    """

    suitability: Suitability
    place: str = ""
    valve: str = ""
    taken_from: tuple[str, ...] = ()
