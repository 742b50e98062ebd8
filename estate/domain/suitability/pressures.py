"""Whether the supplies' pressures suit: at rest, under flow, and one against the other."""

from dataclasses import replace

from estate.domain.designations import BANDS
from estate.domain.suitability.bounds import Bound, lowest, maker_bound
from estate.domain.suitability.conditions import Condition, Held, compared
from estate.domain.suitability.fitting import DesignationFit, designation_fits
from estate.domain.suitability.footing import Footing
from estate.domain.suitability.survey import Supply

LOW_FLOW = "No reducing valve mends too little: look for a restriction, raise the pressure, or {others}."
NAME_DESIGNATION = "Name the designations that the valve carries: they decide the range (D08-21)."
ALIKE = "a pressure-reducing valve on the {side} supply, set to {bar:g} bar under flow"


def pressure_conditions(on: Footing) -> list[Condition]:
    """Pressures of both supplies and their balance (D08-20, D08-21, D08-26, T2-01, T2-02, TP-04)."""
    sides = (("hot", on.survey.hot, on.survey.cold), ("cold", on.survey.cold, on.survey.hot))
    single = [
        made for side, own, other in sides for made in (_static(on, side, own), _flow(on, side, own, other))
    ]
    return [*single, _ratio(on), *_difference(on)]


def _static(on: Footing, side: str, supply: Supply) -> Condition:
    scheme = on.bound(f"pressure.static-max.type-{on.kind}")
    high = lowest((scheme, maker_bound(on.survey.model.max_static_bar, "D08-27")))
    made = compared(
        f"{side}-static-pressure",
        f"{side.title()} static pressure",
        supply.static_bar,
        "bar",
        high=high,
        missing=f"Measure the {side} pressure at rest, at night too: it is highest then.",
        unknown="Look up the highest static pressure in the maker's instructions.",
    )
    if made.held is not Held.FAILS or high is None:
        return made
    return replace(
        made,
        mend=(
            f"Fit a pressure-reducing valve on the {side} supply, set to at most {high.value:g} bar at rest.",
        ),
    )


def _flow(on: Footing, side: str, own: Supply, other: Supply) -> Condition:
    low, high = on.flow_range(on.kind, on.band)
    band = f", {BANDS[on.band]}" if on.band else ""
    made = compared(
        f"{side}-flow-pressure",
        on.kind_words(f"{side.title()} flow pressure") + band,
        own.flow_bar,
        "bar",
        low=low,
        high=high,
        missing=f"Measure the {side} pressure while the outlet runs.",
        unknown=NAME_DESIGNATION if on.by_class else "Look up the range in the maker's instructions.",
    )
    if made.held is not Held.FAILS or own.flow_bar is None:
        return made
    if high is not None and own.flow_bar > high.value:
        return replace(made, mend=(_reduce(side, other.flow_bar, low, high),))
    return replace(made, mend=(LOW_FLOW.format(others=_others(on)),))


def _others(on: Footing) -> str:
    """Designations of the users' class for these pressures, as they are or with both reduced."""
    able = (each for each in designation_fits(on) if each.enough is not False)
    fits = [words for each in able if (words := _fitting(each))]
    return (
        f"choose a valve for these pressures: {', '.join(fits)}" if fits else "another place: no class fits"
    )


def _fitting(fit: DesignationFit) -> str:
    """Class and codes if their range holds these flow pressures, or would with both reduced; else empty."""
    if not any("flow" in words for words in fit.outside):
        return fit.words
    return f"{fit.words} with both at {fit.reduced_bar:g} bar" if fit.reduced_bar is not None else ""


def _reduce(side: str, other_bar: float | None, low: Bound | None, high: Bound) -> str:
    """To the other supply's pressure where that lies in the range, for balance; else to the top of it."""
    fits = other_bar is not None and (low is None or low.value <= other_bar) and other_bar <= high.value
    if fits and other_bar is not None:
        words = ALIKE.format(side=side, bar=other_bar)
        return f"Fit {words}: the other supply's pressure, so that both balance (at most {high.value:g} bar)."
    return f"Fit {ALIKE.format(side=side, bar=high.value)} at most."


def _ratio(on: Footing) -> Condition:
    code, name = "pressure-ratio", "Higher flow pressure to the lower"
    high = maker_bound(on.survey.model.max_pressure_ratio, "D08-26") or on.bound("pressure.ratio")
    hot, cold = on.survey.hot, on.survey.cold
    unknown = "Look up the model's pressure ratio in its maker's instructions (D08-26)."
    measure = "Measure both pressures while the outlet runs."
    if hot.flow_bar is None or cold.flow_bar is None:
        at_rest = _quotient(hot.static_bar, cold.static_bar)
        words = (
            "" if at_rest is None else f"at rest {at_rest:.2f}:1, which says little of the ratio under flow"
        )
        return compared(code, name, None, ": 1", high=high, missing=measure, unknown=unknown, words=words)
    ratio = _quotient(hot.flow_bar, cold.flow_bar)
    if ratio is None:
        words = "under flow one supply has no pressure at all: the outlet gets the other one alone"
        return Condition(
            code,
            name,
            Held.FAILS,
            unit=": 1",
            high=high,
            words=words,
            mend=("Find out why that supply does not come, before anything else.",),
        )
    made = compared(code, name, ratio, ": 1", high=high, unknown=unknown)
    return _judged_ratio(on, made, hot.flow_bar, cold.flow_bar)


def _quotient(one: float | None, other: float | None) -> float | None:
    if one is None or other is None or min(one, other) <= 0:
        return None
    return max(one, other) / min(one, other)


def _judged_ratio(on: Footing, made: Condition, hot_bar: float, cold_bar: float) -> Condition:
    higher, lower = max(hot_bar, cold_bar), min(hot_bar, cold_bar)
    weaker = "cold" if hot_bar > cold_bar else "hot"
    if made.high is None:
        return made
    if made.held is Held.HOLDS:
        least = higher / made.high.value
        words = f"reached where the {weaker} pressure falls to {least:.2f} bar; alike is better (TP-04)"
        return replace(made, words=words)
    most = f"above {lower * made.high.value:.2g} bar the limit is passed"
    return replace(made, mend=(f"{_matched(on, hot_bar, cold_bar)}; {most}.",))


def _matched(on: Footing, hot_bar: float, cold_bar: float) -> str:
    """Both pressures alike: the higher reduced to the lower, once that lies in its own range."""
    side, weaker = ("hot", "cold") if hot_bar > cold_bar else ("cold", "hot")
    bar, (low, _) = min(hot_bar, cold_bar), on.flow_range(on.kind, on.band)
    if low is not None and bar < low.value:
        first = f"Bring the {weaker} pressure up to {low.value:g} bar first"
        return f"{first}, then fit a pressure-reducing valve on the {side} supply to match it"
    return f"Fit {ALIKE.format(side=side, bar=bar)}, alike on both sides"


def _difference(on: Footing) -> list[Condition]:
    high = maker_bound(on.survey.model.max_pressure_difference_bar, "D08-26")
    hot, cold = on.survey.hot.flow_bar, on.survey.cold.flow_bar
    if high is None:
        return []
    value = None if hot is None or cold is None else round(abs(hot - cold), 9)
    made = compared(
        "pressure-difference",
        "Difference of the flow pressures",
        value,
        "bar",
        high=high,
        missing="Measure both pressures while the outlet runs.",
    )
    if made.held is not Held.FAILS or hot is None or cold is None:
        return [made]
    return [replace(made, mend=(f"{_matched(on, hot, cold)}.",))]
