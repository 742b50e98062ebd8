"""Hold a place, its supplies and a valve against the rules there: before fitting, or at a survey."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from estate.domain.dates import day_words
from estate.domain.life.supplies import SuppliesDraft
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.rules.days import as_of
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.check import check_suitability
from estate.domain.suitability.given import Checked, Given
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import Valve
from estate.domain.visits import Visit
from estate.errors import EntryFault, RuleFault
from estate.operations.holdings import read_holdings
from estate.operations.open_register import DEFAULT_RULE_SET, published_rule_sets
from estate.operations.register import Register
from estate.operations.rulebook import read_rulebook
from estate.store import places, upkeep, valves


def check_outlet(register: Register, outlet_id: int, given: Given, today: date) -> Checked:
    """Hold an outlet with the valve in place against its rules; what is given by hand comes first.

    Supplies are those of the latest visit or survey that measured them, hot and cold always of the same one.

    Raises:
        NotFoundFault: there is no such outlet.
        EntryFault: a figure can't be true.
    """
    with register.database.reading() as session:
        outlet = places.outlet(session, outlet_id)
        here = {each.valve_id for each in valves.fittings(session) if each.position_id == outlet.position_id}
        holdings = read_holdings(session, register.published, here, on=today, judged=False)
        kept = upkeep.surveys(session, [outlet_id])
    fitting = holdings.in_place(today).get(outlet.position_id)
    valve = None if fitting is None else holdings.valves[fitting.valve_id]
    visits = (
        [] if fitting is None else [each for each in holdings.counting(fitting.valve_id) if each.on <= today]
    )
    surveys = [each.draft for each in kept if not each.withdrawn and each.draft.on <= today]
    known, taken_from = _known(outlet, valve, visits, surveys)
    if given.alone:
        known, taken_from = Survey(outlet.use, outlet.user_group), ()
    found = check_suitability(_laid_over(known, given), holdings.rules_at(outlet))
    words = "" if valve is None else valve.words
    return Checked(found, f"{outlet.reference}: {outlet.path}", words, taken_from)


def check_figures(
    given: Given, today: date, register: Register | None = None, rule_set: str | None = None
) -> Checked:
    """Hold figures alone against a rule set, as of new work on a day.

    Args:
        given: with use and users.
        today: the day by which dated rules are chosen.
        register: gives the rules of its estate where no rule set is named.
        rule_set: id of a published rule set; with neither the program's first choice.

    Raises:
        EntryFault: use or users are missing, or a figure can't be true.
        RuleFault: there is no such rule set.
    """
    if given.use is None or given.users is None:
        raise EntryFault(
            "Use and users are missing",
            "Without an outlet of the register both have to be given.",
            "Say what the outlet is for and who draws water there, or name an outlet.",
        )
    rules = as_of(_rules(register, rule_set), today, today)
    return Checked(check_suitability(_laid_over(Survey(given.use, given.users), given), rules))


def _rules(register: Register | None, rule_set: str | None) -> RuleSet:
    if register is not None and rule_set is None:
        with register.database.reading() as session:
            return read_rulebook(session, register.published).at_estate()
    published = published_rule_sets()
    name = rule_set or DEFAULT_RULE_SET
    if name not in published:
        known = ", ".join(sorted(published))
        raise RuleFault(
            "No such rule set",
            phrase('"{name}" is not known.', name=name),
            phrase("Choose one of: {known}.", known=known),
        )
    return published[name]


def _known(
    outlet: Outlet, valve: Valve | None, visits: Sequence[Visit], surveys: Sequence[SuppliesDraft]
) -> tuple[Survey, tuple[str, ...]]:
    """What the register knows of an outlet, and where the supplies come from."""
    survey, taken_from = Survey(outlet.use, outlet.user_group, pipe_m=outlet.pipe_m), []
    if valve is not None:
        survey = replace(
            survey,
            set_c=valve.set_c,
            scheme_class=valve.scheme_class,
            designations=valve.designations,
            model=ModelFigures.kept(valve.limits),
        )
    measured = [(each.on, phrase("visit"), each.readings) for each in visits] + [
        (each.on, phrase("survey"), each) for each in surveys
    ]
    measured.sort(key=lambda each: each[0], reverse=True)
    hot, cold = survey.hot, survey.cold
    for name, (words, ending) in _PAIRS.items():
        for day, kind, values in measured:
            pair = [getattr(values, f"{side}_{ending}") for side in ("hot", "cold")]
            if pair != [None, None]:
                hot, cold = replace(hot, **{name: pair[0]}), replace(cold, **{name: pair[1]})
                taken_from.append(
                    phrase("{what} of the {kind} on {day}", what=words, kind=kind, day=day_words(day))
                )
                break
    wanted = next((each.wanted_flow_l_min for each in reversed(surveys) if each.wanted_flow_l_min), None)
    return replace(survey, hot=hot, cold=cold, wanted_l_min=wanted), tuple(taken_from)


_PAIRS = {
    "temperature_c": ("supply temperatures", "c"),
    "static_bar": ("pressures at rest", "static_bar"),
    "flow_bar": ("flow pressures", "flow_bar"),
}
"""Figures of a supply, and where they stand in a visit or a survey."""


def _laid_over(known: Survey, given: Given) -> Survey:
    """The survey with every figure that was given in place of the known one."""
    names = ("use", "users", "set_c", "scheme_class", "wanted_l_min", "pipe_m", "risk_assessed")
    plain = {name: value for name in names if (value := getattr(given, name)) is not None}
    if given.designations:
        plain["designations"] = given.designations
    return replace(
        known,
        **plain,
        hot=_supply(known.hot, given.hot),
        cold=_supply(known.cold, given.cold),
        model=_figures(known.model, given.model),
    )


def _supply(known: Supply, given: Supply) -> Supply:
    return Supply(
        *(_first(getattr(given, name), getattr(known, name)) for name in Supply.__dataclass_fields__)
    )


def _figures(known: ModelFigures, given: ModelFigures) -> ModelFigures:
    names = ModelFigures.__dataclass_fields__
    return ModelFigures(*(_first(getattr(given, name), getattr(known, name)) for name in names))


def _first(given: float | None, known: float | None) -> float | None:
    return known if given is None else given
