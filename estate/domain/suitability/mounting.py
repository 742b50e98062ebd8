"""Whether class, designation, mounting, setting and flow suit."""

import math
from dataclasses import replace

from estate.domain.designations import USE_LETTERS, endings_of
from estate.domain.limits import use_key
from estate.domain.phrases import phrase
from estate.domain.places import Use
from estate.domain.suitability.bounds import Bound, Sureness, maker_bound
from estate.domain.suitability.conditions import Condition, Held, compared, seen
from estate.domain.suitability.footing import Footing

DESIGNATED = Bound(0.0, "D08-50: the designation matches the intended application", Sureness.NOT_SEEN)
ASSESSED = Bound(0.0, "D08-06: TMV3 scheme guide, introduction (2017)", Sureness.SEEN)
BY_PRESSURE = phrase("flow goes with the root of the lower pressure (PH-03)")


def mounting_conditions(on: Footing) -> list[Condition]:
    """The valve against its users, its use and its place (D08-06, D08-50, TP-03, D08-30..37, HSE-12)."""
    designated = [_designated(on)] if on.by_class else []
    return [_class(on), _assessed(on), *designated, _pipe(on), _set(on), *_immersed(on), *_flows(on)]


def _class(on: Footing) -> Condition:
    kind, need = on.survey.scheme_class, on.needed
    name = phrase("Class of the valve for {users}", users=phrase(on.survey.users.value))
    if need is None:
        if on.by_class:
            mend = phrase("The recorded risk assessment decides between Type 2 and Type 3 (D08-06).")
        else:
            mend = phrase("The recorded risk assessment decides, with local codes.")
        return Condition(
            "class", name, Held.UNTOLD, words=phrase("the rule set names no class"), mend=(mend,)
        )
    if kind:
        words = phrase("Type {need:.0f} needed, Type {kind} in mind", need=need.value, kind=kind.value)
    else:
        words = phrase("Type {need:.0f} needed, none named in mind", need=need.value)
    told = None if kind is None else float(kind) >= need.value
    mend = phrase(
        "Choose a Type {kind:.0f} valve, unless the recorded risk assessment says otherwise (D08-06).",
        kind=need.value,
    )
    return seen("class", name, told, need, words, mend)


def _assessed(on: Footing) -> Condition:
    mend = phrase("Make and record the risk assessment that decides the class before the valve is fitted.")
    name = phrase("Risk assessment recorded")
    bound = ASSESSED if on.by_class else None
    return seen("risk-assessment", name, on.survey.risk_assessed, bound, "", mend)


def _designated(on: Footing) -> Condition:
    wanted, codes = USE_LETTERS.get(on.survey.use), on.survey.designations
    name = phrase("Designated for {use}", use=phrase(on.survey.use.value))
    if wanted is None:
        words = phrase("no code is published for this use")
        return Condition("designation", name, Held.UNTOLD, words=words, mend=(phrase("Ask the maker."),))
    endings = " or ".join(f"-{each}" for each in wanted)
    told = bool(endings_of(codes) & set(wanted)) if codes else None
    words = (
        phrase("carries {codes}; {endings} wanted", codes=", ".join(codes), endings=endings)
        if codes
        else phrase("{endings} wanted", endings=endings)
    )
    mend = phrase(
        "Choose a valve designated {endings}; it may carry several and is then set on site (D08-13).",
        endings=endings,
    )
    return seen("designation", name, told, DESIGNATED, words, mend)


def _pipe(on: Footing) -> Condition:
    made = compared(
        "pipe",
        phrase("Blended pipe from valve to outlet"),
        on.survey.pipe_m,
        "m",
        high=on.bound("pipe.blended"),
        missing=phrase("Measure the pipe from valve to outlet."),
        unknown=phrase("The rule set has no length: as short as can be (D08-101)."),
    )
    if made.held is not Held.FAILS or made.margin is None:
        return made
    return replace(
        made,
        mend=(
            phrase(
                "Mount the valve {margin:.1f} m closer, or have the risk assessment say why not.",
                margin=-made.margin,
            ),
        ),
    )


def _set(on: Footing) -> Condition:
    high = on.bound(f"mixed.set.{use_key(on.survey.use)}")
    made = compared(
        "set-temperature",
        phrase("Set temperature"),
        on.survey.set_c,
        "°C",
        high=high,
        missing=phrase("Say which mixed temperature is wanted."),
        unknown=phrase("The rule set has none for this use: the site's risk assessment decides."),
    )
    if made.held is not Held.FAILS or high is None:
        return made
    return replace(made, mend=(phrase("Set it to {value:g} °C or lower.", value=high.value),))


def _immersed(on: Footing) -> list[Condition]:
    high = on.bound("mixed.immersion-max")
    bath = on.survey.use in (Use.BATH, Use.ASSISTED_BATH)
    if not bath or not on.survey.users.at_risk or high is None:
        return []
    made = compared(
        "immersion",
        phrase("Bath for people at risk"),
        on.survey.set_c,
        "°C",
        high=high,
        missing=phrase("Say which mixed temperature is wanted."),
    )
    mend = phrase(
        "Fill above {value:g} °C only where a competent person always supervises the bather (D08-37).",
        value=high.value,
    )
    return [replace(made, mend=(mend,)) if made.held is Held.FAILS else made]


def _flows(on: Footing) -> list[Condition]:
    """The wanted flow against what the model needs and what it passes at these pressures."""
    if on.survey.wanted_l_min is None:
        return []
    return [_least_flow(on), _passes(on, on.survey.wanted_l_min)]


def _least_flow(on: Footing) -> Condition:
    low = maker_bound(on.survey.model.least_flow_l_min, "D08-57")
    made = compared(
        "least-flow",
        phrase("Wanted flow against the model's least"),
        on.survey.wanted_l_min,
        "l/min",
        low=low,
        unknown=phrase("Look up the least flow at which the model still regulates."),
    )
    mend = phrase("Choose a model made for smaller flows, or an outlet that lets more pass.")
    return replace(made, mend=(mend,)) if made.held is Held.FAILS else made


def _passes(on: Footing, wanted_l_min: float) -> Condition:
    """What the model passes, held against the wanted flow as its lower limit."""
    code, name = "flow-reached", phrase("Flow that the model passes at these pressures")
    per_bar, bars = on.survey.model.flow_at_1_bar_l_min, (on.survey.hot.flow_bar, on.survey.cold.flow_bar)
    least = None if None in bars else min(each for each in bars if each is not None)
    passed = None if per_bar is None or least is None else round(per_bar * math.sqrt(least), 3)
    low = Bound(wanted_l_min, "the flow wanted, as given", Sureness.SITE)
    measure = (
        phrase("Measure both flow pressures.")
        if per_bar is not None
        else phrase("Look up what the model passes at 1 bar.")
    )
    made = compared(code, name, passed, "l/min", low=low, missing=measure, words=BY_PRESSURE)
    if made.held is not Held.FAILS or per_bar is None:
        return made
    needed = (wanted_l_min / per_bar) ** 2
    return replace(
        made,
        mend=(
            phrase(
                "It takes {needed:.2g} bar on both sides: choose a model that passes more, or accept "
                "less flow.",
                needed=needed,
            ),
        ),
    )
