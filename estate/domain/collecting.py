"""Water collected with a supply isolated: the flow, and how well it is known (TP-02)."""

from dataclasses import dataclass, replace
from math import hypot, isfinite

from estate.domain.phrases import phrase
from estate.domain.steps import Seen, Steps
from estate.domain.visits import VisitDraft
from estate.errors import EntryFault


@dataclass(frozen=True, slots=True)
class Collected:
    """Water that was collected in a vessel with a supply isolated (TP-02).

    Attributes:
        volume_ml, seconds: what was read off the vessel and the stop-watch.
        u_volume_ml, u_seconds: their standard uncertainties (k = 1).
    """

    volume_ml: float
    seconds: float
    u_volume_ml: float = 0.0
    u_seconds: float = 0.0

    def __post_init__(self) -> None:
        figures = (self.volume_ml, self.seconds, self.u_volume_ml, self.u_seconds)
        if not all(isfinite(each) and each >= 0 for each in figures) or self.seconds == 0:
            raise EntryFault(
                "That is no collected volume",
                phrase("{volume_ml:g} ml in {seconds:g} s.", volume_ml=self.volume_ml, seconds=self.seconds),
                "Give the volume in ml, 0 or more, and the time in s, more than 0.",
            )

    @property
    def flow_ml_min(self) -> float:
        """The flow, ml/min."""
        return 60 * self.volume_ml / self.seconds

    @property
    def u_flow_ml_min(self) -> float:
        """Standard uncertainty of the flow, ml/min (JCGM 100, 5.1.2: propagation through a quotient)."""
        per_second = 60 / self.seconds
        return hypot(per_second * self.u_volume_ml, self.flow_ml_min / self.seconds * self.u_seconds)


@dataclass(frozen=True, slots=True)
class Reading:
    """How finely the vessel and the stop-watch can be read.

    Attributes:
        graduation_ml: between two lines of the vessel; half of it each way is the bound of a reading.
        reaction_s: a person's reaction at start and stop of a stop-watch, each.
    """

    graduation_ml: float = 10.0
    reaction_s: float = 0.2

    def collected(self, volume_ml: float, seconds: float) -> Collected:
        """A reading with its uncertainty: uniform in half a graduation (JCGM 100, 4.3.7), two reactions."""
        return Collected(
            volume_ml,
            seconds,
            u_volume_ml=self.graduation_ml / 2 / 3**0.5,
            u_seconds=self.reaction_s * 2**0.5,
        )


def volume_key(supply: str) -> str:
    """The step under which the volume collected with a supply isolated is kept."""
    return f"{supply}-collected"


def time_key(supply: str) -> str:
    """The step under which the time of collecting is kept."""
    return f"{supply}-collected-time"


def with_collected(draft: VisitDraft, supply: str, collected: Collected) -> VisitDraft:
    """The same visit with the flow that volume and time give; both stay on record beside it.

    Args:
        draft: a visit.
        supply: ``cold`` or ``hot``: the one that was isolated.
        collected: what was read off.
    """
    name = f"{supply}_isolated"
    isolation = replace(getattr(draft.readings, name), residual_ml_min=round(collected.flow_ml_min, 6))
    told = (
        Seen(volume_key(supply), None, collected.volume_ml, "ml"),
        Seen(time_key(supply), None, collected.seconds, "s"),
    )
    steps = Steps((*draft.steps.seen, *told), draft.steps.parts)
    return replace(draft, readings=replace(draft.readings, **{name: isolation}), steps=steps)


def collected_of(steps: Steps, supply: str, reading: Reading) -> Collected | None:
    """What is on record as collected with a supply isolated; None where it was not."""
    volume, seconds = steps.number(volume_key(supply)), steps.number(time_key(supply))
    return None if volume is None or seconds is None else reading.collected(volume, seconds)
