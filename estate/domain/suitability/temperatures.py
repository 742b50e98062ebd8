"""Whether the supplies' temperatures suit: legionella control, the scheme, and the difference to the mix."""

from dataclasses import replace

from estate.domain.judging.supplies import TELL_WATER_SAFETY
from estate.domain.phrases import phrase
from estate.domain.suitability.bounds import maker_bound
from estate.domain.suitability.conditions import Condition, Held, compared
from estate.domain.suitability.footing import Footing

WITH_WATER_SAFETY = phrase(
    "only together with the person responsible for water safety, and with every valve downstream checked"
)
MEASURE_HOT = phrase("Measure the hot supply at the valve's inlet after a minute of running.")
MEASURE_COLD = phrase("Measure the cold supply at the valve's inlet after two minutes of running.")


def temperature_conditions(on: Footing) -> list[Condition]:
    """Hot and cold for legionella control and for the scheme, two limits that stay apart (HSE-01, D08-22)."""
    return [
        _hot_hygiene(on),
        _hot_scheme(on),
        *_hot_model(on),
        _cold_hygiene(on),
        _cold_scheme(on),
        _way_round(on),
        _differential(on),
    ]


def _unpublished(on: Footing) -> str:
    if not on.by_class:
        return phrase("This rule set publishes no conditions of use: the maker's instructions decide.")
    if on.kind:
        return phrase("No conditions of use are published for this class.")
    return phrase("No conditions of use are published for a class that is not named.")


def _hot_hygiene(on: Footing) -> Condition:
    code, name, hot = (
        "hot-legionella",
        phrase("Hot supply for legionella control"),
        on.survey.hot.temperature_c,
    )
    low = on.bound("hot.legionella-min")
    made = compared(
        code,
        name,
        hot,
        "°C",
        low=low,
        missing=MEASURE_HOT,
        unknown=phrase("The rule set has no limit: the site's own water safety plan decides."),
    )
    if made.held is not Held.FAILS or low is None or made.margin is None:
        return made
    raised = phrase(
        "Raise the hot supply by {margin:.1f} K to {least:g} °C at the valve, {with_whom}.",
        margin=-made.margin,
        least=low.value,
        with_whom=WITH_WATER_SAFETY,
    )
    return replace(made, mend=(raised, TELL_WATER_SAFETY))


def _hot_scheme(on: Footing) -> Condition:
    hot, kind = on.survey.hot.temperature_c, on.kind
    low, high = (on.bound(f"hot.class-{end}.type-{kind}") for end in ("min", "max"))
    made = compared(
        "hot-scheme",
        on.kind_words(phrase("Hot supply")),
        hot,
        "°C",
        low=low,
        high=high,
        missing=MEASURE_HOT,
        unknown=_unpublished(on),
    )
    if made.held is not Held.FAILS or hot is None:
        return made
    if low is not None and hot < low.value:
        return replace(
            made,
            mend=(
                phrase(
                    "Raise the hot supply to {least:g} °C, {with_whom}.",
                    least=low.value,
                    with_whom=WITH_WATER_SAFETY,
                ),
            ),
        )
    mend = phrase(
        "Ask the maker for the model's own limit, or lower the hot supply, but never below the limit for "
        "legionella control, {with_whom}.",
        with_whom=WITH_WATER_SAFETY,
    )
    return replace(made, mend=(mend,))


def _hot_model(on: Footing) -> list[Condition]:
    high = maker_bound(on.survey.model.max_hot_c, "D08-27")
    if high is None:
        return []
    made = compared(
        "hot-model",
        phrase("Hot supply for the model"),
        on.survey.hot.temperature_c,
        "°C",
        high=high,
        missing=MEASURE_HOT,
    )
    mend = phrase("Choose a model whose maker allows this supply.")
    return [replace(made, mend=(mend,)) if made.held is Held.FAILS else made]


def _cold_hygiene(on: Footing) -> Condition:
    name, cold = phrase("Cold supply for legionella control"), on.survey.cold.temperature_c
    made = compared(
        "cold-legionella",
        name,
        cold,
        "°C",
        high=on.bound("cold.legionella-max"),
        strict=True,
        missing=MEASURE_COLD,
        unknown=phrase("The rule set has no limit: the site's own water safety plan decides."),
    )
    mend = (
        phrase(
            "Find where the cold water is warmed: pipes beside hot ones, long standing, a check valve that "
            "lets hot water across."
        ),
    )
    return replace(made, mend=mend) if made.held is Held.FAILS else made


def _cold_scheme(on: Footing) -> Condition:
    cold, kind = on.survey.cold.temperature_c, on.kind
    low, high = (on.bound(f"cold.class-{end}.type-{kind}") for end in ("min", "max"))
    made = compared(
        "cold-scheme",
        on.kind_words(phrase("Cold supply")),
        cold,
        "°C",
        low=low,
        high=high,
        missing=MEASURE_COLD,
        unknown=_unpublished(on),
    )
    mend = phrase("Find out why it lies outside: there the scheme's approval does not apply (D08-27).")
    return replace(made, mend=(mend,)) if made.held is Held.FAILS else made


def _way_round(on: Footing) -> Condition:
    hot, cold = on.survey.hot.temperature_c, on.survey.cold.temperature_c
    code, name = "way-round", phrase("Hot supply warmer than cold (TP-07)")
    if hot is None or cold is None:
        return Condition(code, name, Held.UNTOLD, mend=(MEASURE_HOT, MEASURE_COLD))
    words = phrase("hot {hot:.1f} °C, cold {cold:.1f} °C", hot=hot, cold=cold)
    if hot > cold:
        return Condition(code, name, Held.HOLDS, words=words)
    mend = phrase("Follow both pipes: hot and cold are reversed, or the readings were swapped.")
    return Condition(code, name, Held.FAILS, words=words, mend=(mend,))


def _mixed_at(on: Footing, wanted_c: float) -> str:
    if on.survey.set_c is not None:
        return phrase("mixed at {wanted:g} °C", wanted=wanted_c)
    return phrase("mixed at {wanted:g} °C, the highest that the rule set has for this use", wanted=wanted_c)


def _differential(on: Footing) -> Condition:
    hot, wanted = on.survey.hot.temperature_c, on.set_c
    low = maker_bound(on.survey.model.min_differential_k, "D08-24")
    value = None if hot is None or wanted is None else round(hot - wanted.value, 9)
    words = "" if wanted is None else _mixed_at(on, wanted.value)
    made = compared(
        "differential",
        phrase("Hot supply above the mixed water"),
        value,
        "K",
        low=low,
        words=words,
        missing=MEASURE_HOT if hot is None else phrase("Say which mixed temperature is wanted."),
        unknown=phrase("Look up the model's least difference in its maker's instructions (D08-24)."),
    )
    if made.held is not Held.FAILS or low is None or wanted is None:
        return made
    return replace(
        made,
        mend=(
            phrase(
                "Raise the hot supply to {least:g} °C, {with_whom}.",
                least=wanted.value + low.value,
                with_whom=WITH_WATER_SAFETY,
            ),
            phrase(
                "Or choose a model that needs {most:.1f} K or less: below it a valve may fail to shut.",
                most=value,
            ),
        ),
    )
