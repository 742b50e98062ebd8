"""The commands of actions and of outlets in and out of use."""

from datetime import date, datetime
from enum import StrEnum
from typing import Annotated

import typer

from estate.cli import work_words
from estate.cli.terminal import (
    JsonOption,
    OnOption,
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
from estate.domain.findings import Severity
from estate.domain.life.actions import Step
from estate.domain.life.outlet_use import FLUSH_FIRST, UseStep
from estate.operations import browse, browse_actions, justify_visit, move_action, open_action, use_outlet

TargetOption = Annotated[
    datetime | None, typer.Option("--target", formats=["%Y-%m-%d"], help="To be done by then (YYYY-MM-DD).")
]
WhyOption = Annotated[str, typer.Option("--why", help="What was done, or the reason; kept for good.")]


class Doing(StrEnum):
    """What a person does about an action, as the command takes it."""

    SHOW = "show"
    MADE_SAFE = "made-safe"
    PUT_RIGHT = "put-right"
    RETEST_PASSED = "retest-passed"
    CLOSE = "close"
    REOPEN = "reopen"
    CANCEL = "cancel"
    ASSIGN = "assign"
    TARGET = "target"
    NOTE = "note"


_STEPS = {
    Doing.MADE_SAFE: Step.MAKE_SAFE,
    Doing.PUT_RIGHT: Step.PUT_RIGHT,
    Doing.RETEST_PASSED: Step.RETEST,
    Doing.CLOSE: Step.CLOSE,
    Doing.REOPEN: Step.REOPEN,
    Doing.CANCEL: Step.CANCEL,
    Doing.ASSIGN: Step.ASSIGN,
    Doing.TARGET: Step.RETARGET,
    Doing.NOTE: Step.NOTE,
}


class Using(StrEnum):
    """What a person does about an outlet's use, as the command takes it."""

    SHOW = "show"
    OUT_OF_USE = "out-of-use"
    BACK_IN_USE = "back-in-use"
    RETIRE = "retire"
    TAKE_UP = "take-up"


_USES = {
    Using.OUT_OF_USE: UseStep.TAKE_OUT,
    Using.BACK_IN_USE: UseStep.PUT_BACK,
    Using.RETIRE: UseStep.RETIRE,
    Using.TAKE_UP: UseStep.TAKE_UP,
}


class Weight(StrEnum):
    """Severities as the command takes them."""

    OUT_OF_USE = "out-of-use"
    PUT_RIGHT = "put-right"
    WATCH = "watch"
    NOTE = "note"


@app.command()
def actions(
    context: typer.Context,
    every: Annotated[bool, typer.Option("--all", help="Closed and cancelled ones too.")] = False,
    past_target: Annotated[bool, typer.Option("--past-target", help="Only those past their date.")] = False,
    owner: Annotated[
        str | None, typer.Option("--owner", help='Only those of this owner; "" for those without one.')
    ] = None,
    outlet: Annotated[str | None, typer.Option("--outlet", help="Only those at this outlet.")] = None,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List what must be done, the most pressing first."""
    today = day_of(on)
    with opened_register(context, register) as opened:
        outlet_id = None if outlet is None else browse.find_outlet(opened, outlet).id
        lines = browse_actions.action_lines(
            opened, today, live_only=not every, late_only=past_target, owner=owner, outlet_id=outlet_id
        )
    if as_json:
        show_json([work_words.action_shape(each) for each in lines])
    else:
        show(work_words.action_list_words(lines, today))


@app.command()
def action(
    context: typer.Context,
    number: int,
    doing: Annotated[Doing, typer.Argument(help="What is done about it.")] = Doing.SHOW,
    why: WhyOption = "",
    owner: Annotated[str, typer.Option("--owner", help="Whom it is assigned to.")] = "",
    target: TargetOption = None,
    visit: Annotated[int | None, typer.Option("--visit", help="The retest, of one opened by hand.")] = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show an action with its history, or take it a step on."""
    today = day_of(on)
    with opened_register(context, register) as opened:
        if doing is not Doing.SHOW:
            move_action.move_action(
                opened,
                number,
                _STEPS[doing],
                on=today,
                why=why,
                owner=owner,
                target_on=_day(target),
                visit_id=visit,
                who=name_of(who),
                at=now(),
            )
        line = browse_actions.action_line(opened, number, today)
    if as_json:
        show_json(work_words.action_shape(line))
    else:
        show(work_words.action_words(line))


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


@app.command("open-action")
def open_one(
    context: typer.Context,
    outlet: str,
    what: Annotated[str, typer.Option("--what", help="What must be done.")],
    severity: Annotated[Weight, typer.Option("--severity")] = Weight.PUT_RIGHT,
    retest: Annotated[
        bool, typer.Option("--retest", help="Done only when a later visit finds it so.")
    ] = False,
    owner: Annotated[str, typer.Option("--owner")] = "",
    target: TargetOption = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Open an action that no finding asks for."""
    weights = dict(
        zip(Weight, (Severity.OUT_OF_USE, Severity.PUT_RIGHT, Severity.WATCH, Severity.NOTE), strict=True)
    )
    with opened_register(context, register) as opened:
        number, _ = open_action.open_action(
            opened,
            browse.find_outlet(opened, outlet).id,
            words=what,
            severity=weights[severity],
            asks_retest=retest,
            owner=owner,
            on=day_of(on),
            target_on=_day(target),
            who=name_of(who),
            at=now(),
        )
        show(work_words.action_words(browse_actions.action_line(opened, number, day_of(on))))


@app.command("find-actions")
def find_actions(context: typer.Context, who: WhoOption = None, register: RegisterOption = None) -> None:
    """Open an action for every fault that stands and has none: in a register older than its actions."""
    with opened_register(context, register) as opened:
        count, _ = open_action.open_for_standing(opened, who=name_of(who), at=now())
    typer.echo(f"{count} actions opened.")


@app.command()
def outlet(
    context: typer.Context,
    outlet: str,
    doing: Annotated[Using, typer.Argument(help="What is done about its use.")] = Using.SHOW,
    why: WhyOption = "",
    told: Annotated[str, typer.Option("--told", help="Who in charge of the area was told.")] = "",
    sign: Annotated[bool | None, typer.Option("--sign/--no-sign", help="Whether a sign was put up.")] = None,
    number: Annotated[int | None, typer.Option("--action", help="The action that asks for it.")] = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show how an outlet stands, take it out of use, or put it back after the retest asked for."""
    today = day_of(on)
    with opened_register(context, register) as opened:
        found = browse.find_outlet(opened, outlet)
        if doing is not Using.SHOW:
            use_outlet.use_outlet(
                opened,
                found.id,
                _USES[doing],
                on=today,
                why=why,
                who_told=told,
                sign_placed=sign,
                action_id=number,
                who=name_of(who),
                at=now(),
            )
        life = browse_actions.outlet_life(opened, found.id, today)
    if as_json:
        show_json(work_words.outlet_shape(life, today))
    else:
        show(work_words.outlet_words(life, today))
        if doing is Using.BACK_IN_USE:
            typer.echo(FLUSH_FIRST)


@app.command()
def justify(
    context: typer.Context,
    visit: int,
    why: WhyOption,
    take_back: Annotated[bool, typer.Option("--take-back", help="It is in doubt again.")] = False,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Say why a visit with an instrument out of date counts. Numbers are those of `history --json`."""
    write = justify_visit.take_back_justification if take_back else justify_visit.justify_visit
    with opened_register(context, register) as opened:
        write(opened, visit, why=why, who=name_of(who), at=now())
    typer.echo(f"Visit {visit} {'is in doubt again' if take_back else 'counts, with the reason beside it'}.")
