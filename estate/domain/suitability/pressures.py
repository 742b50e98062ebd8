"""Whether the supplies' pressures suit: at rest, under flow, and one against the other."""

from dataclasses import replace

from estate.domain.designations import BANDS
from estate.domain.phrases import phrase, together
from estate.domain.reading_names import SIDES
from estate.domain.suitability.bounds import Bound, lowest, maker_bound
from estate.domain.suitability.conditions import Condition, Held, compared
from estate.domain.suitability.fitting import DesignationFit, designation_fits
from estate.domain.suitability.footing import Footing
from estate.domain.suitability.survey import Supply

NAME_DESIGNATION = phrase("Name the designations that the valve carries: they decide the range (D08-21).")
_STATIC = {"hot": phrase("Hot static pressure"), "cold": phrase("Cold static pressure")}
_FLOW = {"hot": phrase("Hot flow pressure"), "cold": phrase("Cold flow pressure")}


def _reducing(side: str, bar: float) -> str:
    return phrase(
        "a pressure-reducing valve on the {side} supply, set to {bar:g} bar under flow",
        side=SIDES[side],
        bar=bar,
    )


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
        _STATIC[side],
        supply.static_bar,
        "bar",
        high=high,
        missing=phrase(
            "Measure the {side} pressure at rest, at night too: it is highest then.", side=SIDES[side]
        ),
        unknown=phrase("Look up the highest static pressure in the maker's instructions."),
    )
    if made.held is not Held.FAILS or high is None:
        return made
    return replace(
        made,
        mend=(
            phrase(
                "Fit a pressure-reducing valve on the {side} supply, set to at most {value:g} bar at rest.",
                side=SIDES[side],
                value=high.value,
            ),
        ),
    )


def _flow(on: Footing, side: str, own: Supply, other: Supply) -> Condition:
    low, high = on.flow_range(on.kind, on.band)
    name = on.kind_words(_FLOW[side])
    if on.band:
        name = phrase("{name}, {band}", name=name, band=phrase(BANDS[on.band]))
    made = compared(
        f"{side}-flow-pressure",
        name,
        own.flow_bar,
        "bar",
        low=low,
        high=high,
        missing=phrase("Measure the {side} pressure while the outlet runs.", side=SIDES[side]),
        unknown=NAME_DESIGNATION if on.by_class else phrase("Look up the range in the maker's instructions."),
    )
    if made.held is not Held.FAILS or own.flow_bar is None:
        return made
    if high is not None and own.flow_bar > high.value:
        return replace(made, mend=(_reduce(side, other.flow_bar, low, high),))
    return replace(
        made,
        mend=(
            phrase(
                "No reducing valve mends too little: look for a restriction, raise the pressure, or "
                "{others}.",
                others=_others(on),
            ),
        ),
    )


def _others(on: Footing) -> str:
    """Designations of the users' class for these pressures, as they are or with both reduced."""
    able = (each for each in designation_fits(on) if each.enough is not False)
    fits = [words for each in able if (words := _fitting(each))]
    if not fits:
        return phrase("another place: no class fits")
    named = together(*fits, between=", ")
    return phrase("choose a valve for these pressures: {fits}", fits=named)


def _fitting(fit: DesignationFit) -> str:
    """Class and codes if their range holds these flow pressures, or would with both reduced; else empty."""
    if not any("flow" in words for words in fit.outside):
        return fit.words
    if fit.reduced_bar is None:
        return ""
    return phrase("{fit} with both at {bar:g} bar", fit=fit.words, bar=fit.reduced_bar)


def _reduce(side: str, other_bar: float | None, low: Bound | None, high: Bound) -> str:
    """To the other supply's pressure where that lies in the range, for balance; else to the top of it."""
    fits = other_bar is not None and (low is None or low.value <= other_bar) and other_bar <= high.value
    if fits and other_bar is not None:
        return phrase(
            "Fit {valve}: the other supply's pressure, so that both balance (at most {most:g} bar).",
            valve=_reducing(side, other_bar),
            most=high.value,
        )
    return phrase("Fit {valve} at most.", valve=_reducing(side, high.value))


def _ratio(on: Footing) -> Condition:
    code, name = "pressure-ratio", phrase("Higher flow pressure to the lower")
    high = maker_bound(on.survey.model.max_pressure_ratio, "D08-26") or on.bound("pressure.ratio")
    hot, cold = on.survey.hot, on.survey.cold
    unknown = phrase("Look up the model's pressure ratio in its maker's instructions (D08-26).")
    measure = phrase("Measure both pressures while the outlet runs.")
    if hot.flow_bar is None or cold.flow_bar is None:
        at_rest = _quotient(hot.static_bar, cold.static_bar)
        words = (
            ""
            if at_rest is None
            else phrase("at rest {at_rest:.2f}:1, which says little of the ratio under flow", at_rest=at_rest)
        )
        return compared(code, name, None, ": 1", high=high, missing=measure, unknown=unknown, words=words)
    ratio = _quotient(hot.flow_bar, cold.flow_bar)
    if ratio is None:
        words = phrase("under flow one supply has no pressure at all: the outlet gets the other one alone")
        return Condition(
            code,
            name,
            Held.FAILS,
            unit=": 1",
            high=high,
            words=words,
            mend=(phrase("Find out why that supply does not come, before anything else."),),
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
        words = phrase(
            "reached where the {weaker} pressure falls to {least:.2f} bar; alike is better (TP-04)",
            weaker=SIDES[weaker],
            least=least,
        )
        return replace(made, words=words)
    mend = phrase(
        "{matched}; above {most:.2g} bar the limit is passed.",
        matched=_matched(on, hot_bar, cold_bar),
        most=lower * made.high.value,
    )
    return replace(made, mend=(mend,))


def _matched(on: Footing, hot_bar: float, cold_bar: float) -> str:
    """Both pressures alike: the higher reduced to the lower, once that lies in its own range."""
    side, weaker = ("hot", "cold") if hot_bar > cold_bar else ("cold", "hot")
    bar, (low, _) = min(hot_bar, cold_bar), on.flow_range(on.kind, on.band)
    if low is not None and bar < low.value:
        return phrase(
            "Bring the {weaker} pressure up to {least:g} bar first, then fit a pressure-reducing valve on "
            "the {side} supply to match it",
            weaker=SIDES[weaker],
            least=low.value,
            side=SIDES[side],
        )
    return phrase("Fit {valve}, alike on both sides", valve=_reducing(side, bar))


def _difference(on: Footing) -> list[Condition]:
    high = maker_bound(on.survey.model.max_pressure_difference_bar, "D08-26")
    hot, cold = on.survey.hot.flow_bar, on.survey.cold.flow_bar
    if high is None:
        return []
    value = None if hot is None or cold is None else round(abs(hot - cold), 9)
    made = compared(
        "pressure-difference",
        phrase("Difference of the flow pressures"),
        value,
        "bar",
        high=high,
        missing=phrase("Measure both pressures while the outlet runs."),
    )
    if made.held is not Held.FAILS or hot is None or cold is None:
        return [made]
    return [replace(made, mend=(together(_matched(on, hot, cold), ".", between=""),))]
