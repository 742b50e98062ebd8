"""The commands that change the register."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from estate.cli import shapes, words
from estate.cli.terminal import (
    DayOption,
    JsonOption,
    OnOption,
    PlaceOption,
    RegisterOption,
    WhoOption,
    app,
    day_of,
    name_of,
    now,
    opened_register,
    show,
    show_json,
)
from estate.domain.instruments import Calibration
from estate.domain.references import reference_key
from estate.domain.rules.listing import how_sure
from estate.domain.valves import SchemeClass, Valve
from estate.operations import browse, fit_groups, keep_instruments, record_visit, set_rules
from estate.operations import replace_valve as replacing
from estate.operations.open_register import DEFAULT_RULE_SET, new_register


@app.command()
def new(
    register: str,
    name: Annotated[str, typer.Option("--name", help="The estate's name, for the heading of reports.")] = "",
    rule_set: Annotated[str, typer.Option("--rule-set", help="Rule set of the estate.")] = DEFAULT_RULE_SET,
    who: WhoOption = None,
) -> None:
    """Make an empty register."""
    made = new_register(register, name or Path(register).stem, rule_set, at=now(), who=name_of(who))
    typer.echo(f"{made.database.shown}: an empty register under {rule_set}. Bring in an asset list next.")
    made.close()


@app.command()
def override(
    context: typer.Context,
    key: str,
    value: Annotated[str, typer.Argument(help='A value, or "published" to withdraw the site\'s own.')],
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    place: Annotated[
        str, typer.Option("--place", help="estate, building:NUMBER or outlet:NUMBER")
    ] = "estate",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Lay a value of the site's own over a published one; who, when and why are kept."""
    with opened_register(context, register) as opened:
        rule_set = set_rules.rules_at(opened, place).id
        laid = None if value == "published" else set_rules.value_of(key, value)
        set_rules.override(opened, rule_set, key, place, laid, who=name_of(who), at=now(), why=why)
    typer.echo(
        f"{key} at {place}: {'as published' if laid is None else laid}. Last visits were judged again."
    )


@app.command("choose-rules")
def choose_rules(
    context: typer.Context,
    rule_set: str,
    place: PlaceOption = "estate",
    why: Annotated[str, typer.Option("--why", help="Kept in the trail.")] = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Choose the rule set of the estate, a building or an outlet."""
    with opened_register(context, register) as opened:
        set_rules.choose(opened, place, rule_set, who=name_of(who), at=now(), why=why)
        sure = how_sure(opened.published[rule_set])
    typer.echo(f"{place}: {rule_set}. Last visits were judged again.")
    typer.echo(sure.caution)


@app.command()
def instrument(
    context: typer.Context,
    reference: str,
    uncertainty: Annotated[
        float | None, typer.Option("--uncertainty", min=0.001, help="Standard uncertainty in K (k = 1).")
    ] = None,
    specification: Annotated[str, typer.Option("--specification", help="Kind and make in words.")] = "",
    calibrated: DayOption = None,
    due_on: Annotated[
        datetime | None, typer.Option("--due", formats=["%Y-%m-%d"], help="Day on which it is due again.")
    ] = None,
    certificate: Annotated[str, typer.Option("--certificate")] = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Add an instrument, or a calibration to one that is in the register already."""
    if (calibrated is None) != (due_on is None):
        raise typer.BadParameter("give --calibrated and --due together")
    calibration = None
    if calibrated is not None and due_on is not None:
        calibration = Calibration(calibrated.date(), due_on.date(), certificate)
    with opened_register(context, register) as opened:
        known = {reference_key(each.reference) for each in browse.instruments(opened)}
        if reference_key(reference) in known and calibration is not None:
            keep_instruments.add_calibration(opened, reference, calibration, who=name_of(who), at=now())
        else:
            keep_instruments.add_instrument(
                opened,
                reference,
                specification=specification,
                standard_uncertainty_k=uncertainty,
                calibration=calibration,
                who=name_of(who),
                at=now(),
            )
    typer.echo(f"{reference}: kept.")


@app.command("replace-valve")
def replace_valve(
    context: typer.Context,
    outlet: str,
    serial: Annotated[str, typer.Option("--serial")],
    make: Annotated[str, typer.Option("--make")] = "",
    model: Annotated[str, typer.Option("--model")] = "",
    scheme_class: Annotated[
        SchemeClass | None, typer.Option("--class", help="UK scheme class: 1, 2 or 3.")
    ] = None,
    set_c: Annotated[float | None, typer.Option("--set", min=20, max=60, help="Set temperature, °C.")] = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Replace the valve body at an outlet; the old one keeps its history, the new one is due at once."""
    body = Valve(0, make, model, serial, scheme_class=scheme_class, set_c=set_c)
    with opened_register(context, register) as opened:
        found = browse.find_outlet(opened, outlet)
        replacing.replace_valve(opened, found.id, body, on=day_of(on), who=name_of(who), at=now())
    typer.echo(f"{found.reference}: {body.words} in place. Commission it before the outlet is used.")


@app.command()
def fit(
    context: typer.Context,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Fit the groups of valves anew; bringing in results does this by itself."""
    with opened_register(context, register) as opened:
        found, _ = fit_groups.fit_groups(opened, day_of(on), who=name_of(who), at=now())
    if as_json:
        show_json([shapes.group_shape(each) for each in found])
    else:
        show(words.group_words(found))


@app.command()
def void(
    context: typer.Context,
    visit: int,
    reason: Annotated[str, typer.Option("--reason", help="Kept for good.")],
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Mark a visit as void; it stays on record with the reason. Numbers are those of `history --json`."""
    with opened_register(context, register) as opened:
        record_visit.void_visit(opened, visit, reason=reason, who=name_of(who), at=now())
    typer.echo(f"Visit {visit} is void.")
