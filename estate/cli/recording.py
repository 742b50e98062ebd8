"""The commands at the valve: the steps of a procedure, recording a visit, its certificate."""

from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from estate.cli import shapes, words
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
    progress_bar,
    show,
    show_json,
)
from estate.domain.findings import Judgement
from estate.domain.procedures import PROCEDURES, Step
from estate.domain.visits import VisitDraft, VisitKind
from estate.operations import record_visit, type_visit, write_certificate
from estate.operations.register import Register

KindOption = Annotated[VisitKind, typer.Option("--kind", help="Why the valve is visited.")]
ReadingsOption = Annotated[
    list[str] | None, typer.Option("--reading", help="NAME=VALUE, such as hot_c=60.1; again for each.")
]
SeenOption = Annotated[
    list[str] | None, typer.Option("--seen", help="STEP=yes or STEP=no: remark; again for each.")
]
PartsOption = Annotated[
    list[str] | None, typer.Option("--part", help="A part put in, PART or PART=NUMBER; again for each.")
]
CollectedOption = Annotated[
    list[str] | None,
    typer.Option("--collected", help="cold=ML/SECONDS or hot=ML/SECONDS with that supply isolated."),
]


@app.command()
def procedure(
    kind: Annotated[VisitKind, typer.Argument(help="Of which kind of visit.")], as_json: JsonOption = False
) -> None:
    """List the steps of a procedure in order: what to do, what to record, what to mind."""
    steps = PROCEDURES[kind]
    if as_json:
        show_json([_step_shape(each) for each in steps])
        return
    show(line for number, step in enumerate(steps, 1) for line in _step_words(number, step))
    show(["", words.CAUTIONS])


def _step_shape(step: Step) -> dict[str, object]:
    return {
        "step": step.key,
        "words": step.words,
        "source": step.source,
        "asked": step.asked,
        "readings": list(step.readings),
        "if_needed": step.if_needed,
        "caution": step.caution,
    }


def _step_words(number: int, step: Step) -> list[str]:
    told = (
        f"--seen {step.key}=yes|no"
        if step.asked
        else " ".join(f"--reading {each}=" for each in step.readings)
    )
    needed = " (where the valve changed)" if step.if_needed else ""
    lines = [f"{number:>2}. {step.words}{needed} [{step.source}]", f"    {told}"]
    return [*lines, f"    {step.caution}"] if step.caution else lines


@app.command()
def record(
    context: typer.Context,
    outlet: str,
    kind: KindOption = VisitKind.IN_SERVICE,
    reading: ReadingsOption = None,
    seen: SeenOption = None,
    part: PartsOption = None,
    collected: CollectedOption = None,
    person: Annotated[str, typer.Option("--person", help="Who made the visit; else who records it.")] = "",
    instrument: Annotated[str, typer.Option("--instrument", help="Its reference.")] = "",
    remarks: Annotated[str, typer.Option("--remarks")] = "",
    corrects: Annotated[
        int | None, typer.Option("--corrects", help="The visit that this entry corrects, by its number.")
    ] = None,
    check_only: Annotated[bool, typer.Option("--check-only", help="Judge it and write nothing.")] = False,
    visited: Annotated[
        datetime | None,
        typer.Option("--day", formats=["%Y-%m-%d"], help="Day of the visit; today if not given."),
    ] = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Record a visit to a valve with its readings, steps and parts; it is judged at once."""
    today = day_of(on)
    typed = type_visit.TypedVisit(
        outlet=outlet,
        kind=kind,
        on=today if visited is None else visited.date(),
        readings=reading or (),
        seen=seen or (),
        parts=part or (),
        collected=collected or (),
        person=person or name_of(who),
        instrument=instrument,
        remarks=remarks,
    )
    with opened_register(context, register) as opened:
        draft = type_visit.draft_of(opened, typed)
        if check_only:
            visit_id, judgement = None, record_visit.judge_draft(opened, draft, corrects)
        else:
            made = _kept(opened, draft, corrects, name_of(who), today)
            visit_id, judgement = made.visit.id, made.judgement
    if as_json:
        show_json({"visit": visit_id, **shapes.judgement_shape(judgement)})
    else:
        show(_recorded_words(visit_id, judgement))


def _kept(
    opened: Register, draft: VisitDraft, corrects: int | None, who: str, today: date
) -> record_visit.Recorded:
    if corrects is None:
        return record_visit.record_visit(opened, draft, who=who, at=now(), today=today)
    return record_visit.correct_visit(opened, corrects, draft, who=who, at=now(), today=today)


def _recorded_words(visit_id: int | None, judgement: Judgement) -> list[str]:
    head = "Nothing was written." if visit_id is None else f"Recorded as visit {visit_id}."
    lines = [f"{head} Verdict: {judgement.verdict.value}."]
    for each in judgement.findings:
        lines.append(
            f"  {each.severity.words if each.severity else ''}: {each.words} {each.action} [{each.source}]"
        )
    lines += [f"  not tested: {each.words}" for each in judgement.not_tested if each.required]
    return [*lines, "", words.CAUTIONS]


@app.command()
def certificate(
    context: typer.Context,
    visit: Annotated[int, typer.Argument(help="Its number, as `history --json` lists it.")],
    to: Annotated[Path, typer.Option("--to", help="A file that ends in .pdf or .xlsx.")],
    on: OnOption = None,
    register: RegisterOption = None,
) -> None:
    """Write the certificate of one visit: steps, readings, limits, findings, instrument, room to sign."""
    with opened_register(context, register) as opened:
        typer.echo(str(write_certificate.write_certificate(opened, visit, to, day_of(on), progress_bar())))
