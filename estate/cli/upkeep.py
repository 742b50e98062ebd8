"""The commands of people, upkeep, reviews and surveys."""

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
from estate.domain.life.care import CareAsked, CareDraft, CareKind, ReviewDraft
from estate.domain.life.people import Competence
from estate.domain.life.supplies import SuppliesDraft
from estate.domain.references import reference_key
from estate.operations import browse, browse_upkeep, keep_people, keep_upkeep

PersonOption = Annotated[str, typer.Option("--person", help="Who did it.")]
DueOption = Annotated[bool, typer.Option("--due", help="Only what is due, or never was done.")]
Bar = Annotated[float | None, typer.Option(help="bar")]
Celsius = Annotated[float | None, typer.Option(help="°C")]


class Cared(StrEnum):
    """Kinds of upkeep as the command takes them."""

    FLUSHED = "flushed"
    SHOWER_HEAD = "shower-head"
    DISINFECTED = "disinfected"
    OTHER = "other"


_KINDS = dict(zip(Cared, CareKind, strict=True))


@app.command()
def people(
    context: typer.Context, on: OnOption = None, register: RegisterOption = None, as_json: JsonOption = False
) -> None:
    """List people with their competence, and names on visits that nobody knows."""
    with opened_register(context, register) as opened:
        found = keep_people.people_known(opened)
    today = day_of(on)
    if as_json:
        known = [work_words.person_shape(each, today) for each in found.known]
        show_json({"known": known, "unknown": list(found.unknown)})
    else:
        show(work_words.people_words(found.known, found.unknown, today))


@app.command()
def person(
    context: typer.Context,
    name: str,
    position: Annotated[str | None, typer.Option("--position")] = None,
    subject: Annotated[str, typer.Option("--competent-in", help="In what.")] = "",
    certificate: Annotated[str, typer.Option("--certificate", help="Its number, or where it is.")] = "",
    begins: Annotated[datetime | None, typer.Option("--from", formats=["%Y-%m-%d"])] = None,
    until: Annotated[datetime | None, typer.Option("--until", formats=["%Y-%m-%d"])] = None,
    left: Annotated[
        datetime | None, typer.Option("--left", formats=["%Y-%m-%d"], help="Last day here.")
    ] = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Add a person, or a competence to one who is in the register already."""
    if bool(subject) != (begins is not None):
        raise typer.BadParameter("give --competent-in and --from together")
    held = Competence(subject, begins.date(), _day(until), certificate) if begins is not None else None
    with opened_register(context, register) as opened:
        known = {reference_key(each.name) for each in keep_people.people_known(opened).known}
        is_new, doer, moment = reference_key(name) not in known, name_of(who), now()
        if is_new:
            keep_people.add_person(
                opened, name, position=position or "", competence=held, who=doer, at=moment
            )
        elif held is not None:
            keep_people.add_competence(opened, name, held, who=doer, at=moment)
        if left is not None or (position is not None and not is_new):
            keep_people.amend_person(opened, name, position=position, left_on=_day(left), who=doer, at=moment)
        found = keep_people.person(opened, name)
    show(work_words.people_words([found], (), day_of(None)))


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


@app.command("withdraw-competence")
def withdraw_competence(
    context: typer.Context,
    number: int,
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Take a competence back that was entered wrongly. Numbers are those of `people --json`."""
    with opened_register(context, register) as opened:
        keep_people.withdraw_competence(opened, number, why=why, who=name_of(who), at=now())
    typer.echo(f"Competence {number} is withdrawn.")


@app.command()
def care(
    context: typer.Context,
    due: DueOption = False,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List what upkeep is asked for: little-used outlets to flush, shower heads to clean."""
    _list(context, (CareAsked.FLUSHING, CareAsked.SHOWER_HEAD), due, day_of(on), register, as_json)


@app.command()
def reviews(
    context: typer.Context,
    due: DueOption = False,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List when it was last asked whether a valve is still needed."""
    _list(context, (CareAsked.REVIEW,), due, day_of(on), register, as_json)


def _list(
    context: typer.Context,
    asked: tuple[CareAsked, ...],
    due: bool,
    today: date,
    register: str | None,
    as_json: bool,
) -> None:
    with opened_register(context, register) as opened:
        lines = browse_upkeep.upkeep_lines(opened, today, due_only=due)
    wanted = [each for each in lines if each.asked in asked]
    if as_json:
        show_json([work_words.care_line_shape(each, today) for each in wanted])
    else:
        show([f"{len(wanted)} lines", *(work_words.care_line_words(each, today) for each in wanted)])


@app.command()
def cared(
    context: typer.Context,
    outlets: list[str],
    kind: Annotated[Cared, typer.Option("--kind")] = Cared.FLUSHED,
    seconds: Annotated[float | None, typer.Option("--seconds", min=1)] = None,
    person: PersonOption = "",
    remarks: Annotated[str, typer.Option("--remarks")] = "",
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Record upkeep of one outlet or several: flushed, shower head cleaned, disinfected."""
    with opened_register(context, register) as opened:
        drafts = [
            CareDraft(
                browse.find_outlet(opened, each).id,
                _KINDS[kind],
                day_of(on),
                person or name_of(who),
                seconds,
                remarks,
            )
            for each in outlets
        ]
        keep_upkeep.record_care(opened, drafts, who=name_of(who), at=now(), today=day_of(on))
    typer.echo(f"{len(outlets)} outlets: {_KINDS[kind].value}.")


@app.command()
def review(
    context: typer.Context,
    outlet: str,
    needed: Annotated[bool, typer.Option("--needed/--not-needed", help="Whether the valve is needed.")],
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    person: Annotated[str, typer.Option("--person", help="Who decided.")],
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Record whether an outlet's valve is still needed, as the risk assessment decided."""
    with opened_register(context, register) as opened:
        found = browse.find_outlet(opened, outlet)
        draft = ReviewDraft(found.id, day_of(on), person, needed, why)
        keep_upkeep.review_outlet(opened, draft, who=name_of(who), at=now(), today=day_of(on))
    typer.echo(f"{found.reference}: {'needed' if needed else 'not needed; competent people take it out'}.")


@app.command()
def survey(
    context: typer.Context,
    outlet: str,
    hot_static: Bar = None,
    cold_static: Bar = None,
    hot_flow: Bar = None,
    cold_flow: Bar = None,
    hot: Celsius = None,
    cold: Celsius = None,
    wanted_flow: Annotated[float | None, typer.Option(help="l/min")] = None,
    person: PersonOption = "",
    remarks: Annotated[str, typer.Option("--remarks")] = "",
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Record supplies measured at an outlet; what is left out was not measured."""
    with opened_register(context, register) as opened:
        found = browse.find_outlet(opened, outlet)
        draft = SuppliesDraft(
            outlet_id=found.id,
            on=day_of(on),
            person=person or name_of(who),
            hot_static_bar=hot_static,
            cold_static_bar=cold_static,
            hot_flow_bar=hot_flow,
            cold_flow_bar=cold_flow,
            hot_c=hot,
            cold_c=cold,
            wanted_flow_l_min=wanted_flow,
            remarks=remarks,
        )
        keep_upkeep.record_survey(opened, draft, who=name_of(who), at=now(), today=day_of(on))
    typer.echo(f"{found.reference}: kept.")


@app.command("take-back")
def take_back(
    context: typer.Context,
    what: Annotated[str, typer.Argument(help="care, review or survey")],
    number: int,
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Take back upkeep, a review or a survey that was entered wrongly."""
    writers = {
        "care": keep_upkeep.take_back_care,
        "review": keep_upkeep.take_back_review,
        "survey": keep_upkeep.take_back_survey,
    }
    if what not in writers:
        raise typer.BadParameter(f"{what}: choose care, review or survey", param_hint="WHAT")
    with opened_register(context, register) as opened:
        writers[what](opened, number, why=why, who=name_of(who), at=now())
    typer.echo(f"{what} {number} is taken back.")


@app.command("upkeep")
def upkeep_of_outlet(
    context: typer.Context, outlet: str, register: RegisterOption = None, as_json: JsonOption = False
) -> None:
    """List upkeep, reviews and surveys on record of one outlet, with their numbers."""
    with opened_register(context, register) as opened:
        outlet_id = browse.find_outlet(opened, outlet).id
        kept = work_words.kept_shape(
            browse_upkeep.cares_of(opened, outlet_id),
            browse_upkeep.reviews_of(opened, outlet_id),
            browse_upkeep.surveys_of(opened, outlet_id),
        )
    if as_json:
        show_json(kept)
    else:
        show(work_words.kept_words(kept))
