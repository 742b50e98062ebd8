"""The commands about choosing, finding faults and planning ahead; nothing is written."""

from typing import Annotated

import typer

from estate.cli import choosing_shapes, choosing_words
from estate.cli.terminal import (
    JsonOption,
    OnOption,
    RegisterOption,
    app,
    day_of,
    doors_of,
    opened_register,
    show,
    show_json,
)
from estate.domain.places import Use, UserGroup
from estate.domain.suitability.given import Given
from estate.domain.suitability.survey import ModelFigures, Supply
from estate.domain.valves import SchemeClass
from estate.operations import browse
from estate.operations import check_suitability as checking
from estate.operations import diagnose as diagnosing
from estate.operations import forecast as forecasting

Figure = float | None


@app.command()
def suitability(
    context: typer.Context,
    outlet: Annotated[str | None, typer.Argument(help="Without one, the figures given stand alone.")] = None,
    use: Annotated[Use | None, typer.Option("--use", help="What the outlet is for.")] = None,
    users: Annotated[UserGroup | None, typer.Option("--users", help="Who draws water there.")] = None,
    hot: Annotated[Figure, typer.Option("--hot", help="Hot supply at the valve, °C.")] = None,
    cold: Annotated[Figure, typer.Option("--cold", help="Cold supply at the valve, °C.")] = None,
    hot_static: Annotated[Figure, typer.Option("--hot-static", help="Hot pressure at rest, bar.")] = None,
    cold_static: Annotated[Figure, typer.Option("--cold-static", help="Cold pressure at rest, bar.")] = None,
    hot_flow: Annotated[Figure, typer.Option("--hot-flow", help="Hot pressure under flow, bar.")] = None,
    cold_flow: Annotated[Figure, typer.Option("--cold-flow", help="Cold pressure under flow, bar.")] = None,
    set_c: Annotated[Figure, typer.Option("--set", help="Mixed temperature wanted, °C.")] = None,
    scheme_class: Annotated[
        SchemeClass | None, typer.Option("--class", help="UK scheme class of the valve: 1, 2 or 3.")
    ] = None,
    designation: Annotated[
        list[str] | None, typer.Option("--designation", help="Such as HP-W; may be given several times.")
    ] = None,
    wanted: Annotated[Figure, typer.Option("--wanted", help="Flow wanted at the outlet, l/min.")] = None,
    pipe: Annotated[Figure, typer.Option("--pipe", help="Blended pipe from valve to outlet, m.")] = None,
    min_differential: Annotated[
        Figure, typer.Option("--min-differential", help="Model: least hot-to-mix difference, K.")
    ] = None,
    max_ratio: Annotated[Figure, typer.Option("--max-ratio", help="Model: ratio of pressures, to 1.")] = None,
    max_difference: Annotated[
        Figure, typer.Option("--max-difference", help="Model: difference of pressures, bar.")
    ] = None,
    least_flow: Annotated[Figure, typer.Option("--least-flow", help="Model: least flow, l/min.")] = None,
    flow_at_1_bar: Annotated[
        Figure, typer.Option("--flow-at-1-bar", help="Model: flow at 1 bar on both sides, l/min.")
    ] = None,
    max_static: Annotated[Figure, typer.Option("--max-static", help="Model: pressure at rest, bar.")] = None,
    max_hot: Annotated[Figure, typer.Option("--max-hot", help="Model: hottest supply, °C.")] = None,
    risk_assessed: Annotated[
        bool | None,
        typer.Option(
            "--risk-assessed/--not-risk-assessed",
            help="Whether the assessment of the class is on record.",
        ),
    ] = None,
    rule_set: Annotated[
        str | None, typer.Option("--rules", help="Rule set, where no outlet is named.")
    ] = None,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Hold a place, its supplies and a valve against the rules; say what fails and what would mend it."""
    given = Given(
        use=use,
        users=users,
        hot=Supply(hot, hot_static, hot_flow),
        cold=Supply(cold, cold_static, cold_flow),
        set_c=set_c,
        scheme_class=scheme_class,
        designations=tuple(designation or ()),
        wanted_l_min=wanted,
        pipe_m=pipe,
        model=ModelFigures(
            min_differential, max_ratio, max_difference, least_flow, flow_at_1_bar, max_static, max_hot
        ),
        risk_assessed=risk_assessed,
    )
    today = day_of(on)
    if outlet is None and not (register or doors_of(context).register):
        found = checking.check_figures(given, today, rule_set=rule_set)
    else:
        with opened_register(context, register) as opened:
            if outlet is None:
                found = checking.check_figures(given, today, opened, rule_set)
            else:
                found = checking.check_outlet(opened, browse.find_outlet(opened, outlet).id, given, today)
    if as_json:
        show_json(choosing_shapes.suitability_shape(found))
    else:
        show(choosing_words.suitability_words(found))


@app.command()
def diagnose(
    context: typer.Context,
    outlet: str,
    hardness: Annotated[Figure, typer.Option("--hardness", min=0, help="Of the water, mg/l CaCO3.")] = None,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List likely causes of what the last visit found, the evidence for each, and the next check."""
    with opened_register(context, register) as opened:
        place = browse.find_outlet(opened, outlet)
        found = diagnosing.diagnose(opened, place.id, day_of(on), hardness)
    if as_json:
        show_json(choosing_shapes.diagnosis_shape(found))
    else:
        show(choosing_words.diagnosis_words(found))


@app.command()
def forecast(
    context: typer.Context,
    used: Annotated[
        list[str] | None,
        typer.Option("--used", help='A part and how many were used, such as "seal kit=9"; several times.'),
    ] = None,
    used_years: Annotated[float, typer.Option("--used-years", min=0.1, help="Over how many years.")] = 1.0,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Ages, failures and drift by model, and replacements, services and parts of the year ahead."""
    parts = [_part(each, used_years) for each in used or ()]
    with opened_register(context, register) as opened:
        found = forecasting.forecast(opened, day_of(on), parts)
    if as_json:
        show_json(choosing_shapes.forecast_shape(found))
    else:
        show(choosing_words.forecast_words(found))


def _part(told: str, years: float) -> forecasting.PartUsed:
    name, _, number = told.rpartition("=")
    try:
        count = float(number)
    except ValueError:
        count = -1.0
    if not name.strip() or not 0 <= count < float("inf"):
        raise typer.BadParameter(f'{told}: write a part and a number, such as "seal kit=9"')
    return forecasting.PartUsed(name.strip(), count, years)
