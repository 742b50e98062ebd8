"""Which classes and designations these supplies would fit."""

from dataclasses import dataclass

from estate.domain.designations import BANDS, USE_LETTERS
from estate.domain.phrases import phrase, together
from estate.domain.suitability.bounds import Bound
from estate.domain.suitability.conditions import Held
from estate.domain.suitability.footing import Footing
from estate.domain.valves import SchemeClass


@dataclass(frozen=True, slots=True)
class DesignationFit:
    """Whether the supplies lie within the conditions of use of one class and pressure band.

    Attributes:
        band: ``hp`` or ``lp``.
        codes: designations of that band for the use, such as ``HP-W``; empty where the use has none.
        outside: figures that lie outside, in words.
        missing: figures that were not measured.
        reduced_bar: where only pressures are too high: the flow pressure to which reducing valves would have
            to bring whatever is above it; None where that would not do.
        sources: where the limits come from.
        enough: whether the class is the one that the users need or above; None where no class is named.
    """

    scheme_class: SchemeClass
    band: str
    codes: tuple[str, ...]
    held: Held
    outside: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reduced_bar: float | None = None
    sources: tuple[str, ...] = ()
    enough: bool | None = None

    @property
    def words(self) -> str:
        """Class and codes in one phrase, such as ``Type 3 HP-W``."""
        codes = together(*self.codes, between=" or ") or self.band.upper()
        return phrase("Type {kind} {codes}", kind=self.scheme_class.value, codes=codes)

    @property
    def why(self) -> str:
        """What lies outside and what would do, or what was not measured; empty where it fits."""
        told: str = together(*self.outside, between="; ")
        if not told and self.missing:
            told = phrase("not measured: {what}", what=together(*self.missing, between=", "))
        if self.reduced_bar is not None:
            told = phrase(
                "{outside}; would do with both at {bar:g} bar under flow", outside=told, bar=self.reduced_bar
            )
        return told


def designation_fits(on: Footing) -> tuple[DesignationFit, ...]:
    """One line for each class and band for which the rule set publishes conditions of use."""
    pairs = [(kind, band) for kind in (SchemeClass.TYPE_3, SchemeClass.TYPE_2) for band in BANDS]
    return tuple(made for kind, band in pairs if (made := _fit(on, kind, band)) is not None)


def _fit(on: Footing, kind: SchemeClass, band: str) -> DesignationFit | None:
    low, high = on.flow_range(kind, band)
    if low is None and high is None:
        return None
    static = (None, on.bound(f"pressure.static-max.type-{kind}"))
    temperatures = [
        tuple(on.bound(f"{side}.class-{end}.type-{kind}") for end in ("min", "max"))
        for side in ("hot", "cold")
    ]
    hot, cold = on.survey.hot, on.survey.cold
    rows: list[tuple[str, float | None, str, tuple[Bound | None, ...]]] = [
        (phrase("hot supply"), hot.temperature_c, "°C", temperatures[0]),
        (phrase("cold supply"), cold.temperature_c, "°C", temperatures[1]),
        (phrase("hot flow pressure"), hot.flow_bar, "bar", (low, high)),
        (phrase("cold flow pressure"), cold.flow_bar, "bar", (low, high)),
        (phrase("hot static pressure"), hot.static_bar, "bar", static),
        (phrase("cold static pressure"), cold.static_bar, "bar", static),
    ]
    outside = tuple(_words(*row) for row in rows if _is_outside(row[1], row[3]))
    missing = tuple(name for name, value, _, limits in rows if value is None and any(limits))
    codes = tuple(f"{band.upper()}-{each}" for each in USE_LETTERS.get(on.survey.use, ()))
    held = Held.FAILS if outside else Held.UNTOLD if missing else Held.HOLDS
    enough = None if on.needed is None else float(kind) >= on.needed.value
    sources = tuple(dict.fromkeys(each.source for *_, limits in rows for each in limits if each is not None))
    reducible = outside and all("pressure" in words for words in outside)
    reduced = _reduced(hot.flow_bar, cold.flow_bar, low, high) if reducible else None
    return DesignationFit(kind, band, codes, held, outside, missing, reduced, sources, enough)


def _reduced(
    hot_bar: float | None, cold_bar: float | None, low: Bound | None, high: Bound | None
) -> float | None:
    """One pressure for both supplies that lies within the range and that neither has to be raised to."""
    if hot_bar is None or cold_bar is None or high is None:
        return None
    bar = min(hot_bar, cold_bar, high.value)
    return None if low is not None and bar < low.value else bar


def _is_outside(value: float | None, limits: tuple[Bound | None, ...]) -> bool:
    low, high = limits
    if value is None:
        return False
    return (low is not None and value < low.value) or (high is not None and value > high.value)


def _words(name: str, value: float | None, unit: str, limits: tuple[Bound | None, ...]) -> str:
    ends = " to ".join(f"{each.value:g}" for each in limits if each is not None)
    return phrase("{name} {value:g} {unit} ({ends})", name=name, value=value, unit=unit, ends=ends)
