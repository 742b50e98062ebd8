"""What is known of a place before a valve is fitted there, or at a survey of one that is."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from estate.domain.phrases import phrase
from estate.domain.places import Use, UserGroup
from estate.domain.valves import ModelLimits, SchemeClass
from estate.errors import EntryFault


@dataclass(frozen=True, slots=True)
class Supply:
    """One supply at the inlet of the valve; None where not measured.

    Attributes:
        temperature_c: °C.
        static_bar, flow_bar: pressure at rest and while water is drawn, bar.
    """

    temperature_c: float | None = None
    static_bar: float | None = None
    flow_bar: float | None = None


@dataclass(frozen=True, slots=True)
class ModelFigures:
    """The model's own figures from its maker's instructions; None where not entered (D08-24, D08-26).

    Attributes:
        min_differential_k: least difference from hot supply to mixed water, K.
        max_pressure_ratio: most that one flow pressure may be of the other.
        max_pressure_difference_bar: most by which the flow pressures may differ, bar.
        least_flow_l_min: least flow at which it still regulates, l/min.
        flow_at_1_bar_l_min: what it passes at a flow pressure of 1 bar on both sides, l/min.
        max_static_bar: bar.
        max_hot_c: hottest supply, °C.
    """

    min_differential_k: float | None = None
    max_pressure_ratio: float | None = None
    max_pressure_difference_bar: float | None = None
    least_flow_l_min: float | None = None
    flow_at_1_bar_l_min: float | None = None
    max_static_bar: float | None = None
    max_hot_c: float | None = None

    @staticmethod
    def kept(limits: ModelLimits) -> "ModelFigures":
        """The figures that the register keeps with a valve."""
        return ModelFigures(limits.min_differential_k, limits.max_pressure_ratio)


@dataclass(frozen=True, slots=True)
class Survey:
    """A place, its supplies and the valve in mind; None where not known.

    Attributes:
        set_c: the mixed temperature that is wanted, °C; None takes the rule set's for the use.
        scheme_class: of the valve in mind; None takes the class that its users need.
        designations: codes of the valve in mind, such as ``HP-W``.
        wanted_l_min: the flow that is wanted at the outlet, l/min.
        pipe_m: blended pipe from valve to outlet, m.
        risk_assessed: whether the risk assessment that decides the class is on record (D08-06).
    """

    use: Use
    users: UserGroup
    hot: Supply = field(default_factory=Supply)
    cold: Supply = field(default_factory=Supply)
    set_c: float | None = None
    scheme_class: SchemeClass | None = None
    designations: tuple[str, ...] = ()
    wanted_l_min: float | None = None
    pipe_m: float | None = None
    model: ModelFigures = field(default_factory=ModelFigures)
    risk_assessed: bool | None = None

    def __post_init__(self) -> None:
        for name, value, most, unit in self._figures():
            if value is not None and not (math.isfinite(value) and 0 <= value <= most):
                raise EntryFault(
                    "A figure of the survey can't be true",
                    phrase("{name} {value:g} {unit}.", name=name, value=value, unit=unit),
                    phrase(
                        "Give 0 to {most:g} {unit}, or leave it out where it was not measured.",
                        most=most,
                        unit=unit,
                    ),
                )

    def _figures(self) -> Iterator[tuple[str, float | None, float, str]]:
        for side, supply in ((phrase("Hot"), self.hot), (phrase("Cold"), self.cold)):
            yield phrase("{side} supply", side=side), supply.temperature_c, 100, "°C"
            yield phrase("{side} static pressure", side=side), supply.static_bar, 25, "bar"
            yield phrase("{side} flow pressure", side=side), supply.flow_bar, 25, "bar"
        model = self.model
        yield phrase("Set temperature"), self.set_c, 100, "°C"
        yield phrase("Wanted flow"), self.wanted_l_min, 200, "l/min"
        yield phrase("Blended pipe"), self.pipe_m, 500, "m"
        yield phrase("The model's least differential"), model.min_differential_k, 60, "K"
        yield phrase("The model's pressure ratio"), model.max_pressure_ratio, 100, "to 1"
        yield phrase("The model's pressure difference"), model.max_pressure_difference_bar, 25, "bar"
        yield phrase("The model's least flow"), model.least_flow_l_min, 200, "l/min"
        yield phrase("The model's flow at 1 bar"), model.flow_at_1_bar_l_min, 500, "l/min"
        yield phrase("The model's static pressure"), model.max_static_bar, 40, "bar"
        yield phrase("The model's hottest supply"), model.max_hot_c, 100, "°C"
