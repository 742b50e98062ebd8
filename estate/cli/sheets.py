"""The commands about sheets: in, answered, undone, remembered, and blank ones out."""

from pathlib import Path
from typing import Annotated

import typer

from estate.cli import sheet_shapes as shapes
from estate.cli import sheet_words as words
from estate.cli.signing_shapes import signing_shape
from estate.cli.terminal import (
    QUESTIONED,
    JsonOption,
    KnownAtOption,
    OnOption,
    RegisterOption,
    WhoOption,
    app,
    day_of,
    name_of,
    now,
    opened_register,
    progress_bar,
    read_register,
    show,
    show_json,
)
from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer
from estate.domain.signatures import SignedNoun
from estate.operations import browse, browse_batches, keep_layouts
from estate.operations.answer_questions import answers_from_file, write_answers
from estate.operations.bring_in import Proposal, commit, look, look_again
from estate.operations.browse_signatures import signing_of
from estate.operations.register import Register
from estate.operations.undo_batch import undo_batch
from estate.operations.write_marked import write_marked
from estate.operations.write_round_sheet import Round, write_round_sheet

AnswersOption = Annotated[
    Path | None, typer.Option("--answers", help="A file of answers, as --questions writes it.")
]
QuestionsOption = Annotated[
    Path | None, typer.Option("--questions", help="Write the questions to this file, for the answers.")
]
MarkedOption = Annotated[
    Path | None, typer.Option("--marked", help="Write a copy of the sheet with the questioned cells marked.")
]
CheckOption = Annotated[bool, typer.Option("--check-only", help="Write nothing to the register.")]
WhyOption = Annotated[str, typer.Option("--why", help="Kept for good.")]


@app.command("bring-in")
def bring_in(
    context: typer.Context,
    file: Path,
    kind: Annotated[SheetKind | None, typer.Option("--kind", help="What the sheet holds.")] = None,
    layout: Annotated[str | None, typer.Option("--layout", help="A remembered layout, by name.")] = None,
    answers: AnswersOption = None,
    check_only: CheckOption = False,
    keep_layout: Annotated[str, typer.Option("--keep-layout", help="Remember the layout by a name.")] = "",
    sender: Annotated[str, typer.Option("--sender", help="Who sends such sheets.")] = "",
    questions: QuestionsOption = None,
    marked: MarkedOption = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Bring in a sheet of assets or results; every row that is not questioned is written as one batch."""
    with opened_register(context, register) as opened:
        given = _answers(answers)
        proposal = look(opened, file, kind, day_of(on), progress_bar(), layout=layout, answers=given)
        _write_questions(opened, proposal, questions, marked)
        brought = None
        if not check_only:
            brought = commit(
                opened,
                proposal,
                who=name_of(who),
                at=now(),
                progress=progress_bar(),
                keep_layout=keep_layout,
                sender=sender,
            )
    if as_json:
        show_json(shapes.bring_in_shape(proposal, brought))
    else:
        show(words.bring_in_words(proposal, brought))
    if proposal.questions:
        raise typer.Exit(QUESTIONED)


@app.command()
def finish(
    context: typer.Context,
    batch: int,
    answers: AnswersOption = None,
    check_only: CheckOption = False,
    questions: QuestionsOption = None,
    marked: MarkedOption = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take rows of a batch that were left out, with answers; the file kept in the register is read again."""
    with opened_register(context, register) as opened:
        proposal = look_again(opened, batch, day_of(on), _answers(answers), progress_bar())
        _write_questions(opened, proposal, questions, marked)
        brought = None
        if not check_only:
            brought = commit(opened, proposal, who=name_of(who), at=now(), progress=progress_bar())
    if as_json:
        show_json(shapes.bring_in_shape(proposal, brought))
    else:
        show(words.bring_in_words(proposal, brought))
    if proposal.questions:
        raise typer.Exit(QUESTIONED)


def _answers(file: Path | None) -> tuple[Answer, ...]:
    return () if file is None else answers_from_file(file)


def _write_questions(
    register: Register, proposal: Proposal, questions: Path | None, marked: Path | None
) -> None:
    if questions is not None:
        write_answers(proposal.questions, questions)
    if marked is not None:
        write_marked(register, proposal, marked)


@app.command()
def batches(
    context: typer.Context,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List what was brought in."""
    with read_register(context, register, known_at, as_json) as opened:
        found = browse_batches.batches(opened)
        signed = signing_of(opened, SignedNoun.BATCH, [each.id for each in found])
    if as_json:
        show_json([{**shapes.batch_shape(each), "signed": signing_shape(signed[each.id])} for each in found])
    else:
        show(words.batches_words(found, signed))


@app.command()
def batch(
    context: typer.Context,
    number: int,
    original: Annotated[
        Path | None, typer.Option("--original", help="Write the file as it came into this folder.")
    ] = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show one batch: who, when, how it was read, its answers, its questions, and what rests on it."""
    with read_register(context, register, known_at, as_json) as opened:
        page = browse_batches.batch_page(opened, number)
        if original is not None:
            typer.echo(str(browse_batches.write_original(opened, number, original)), err=True)
    if as_json:
        show_json(shapes.batch_page_shape(page))
    else:
        show(words.batch_page_words(page))


@app.command("undo-batch")
def undo(
    context: typer.Context,
    number: int,
    why: WhyOption,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Undo a batch whole, unless later work rests on it; its visits stay on record as void."""
    with opened_register(context, register) as opened:
        undone = undo_batch(opened, number, who=name_of(who), at=now(), today=day_of(on), why=why)
    show(words.undone_words(number, undone))


@app.command()
def layouts(
    context: typer.Context,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List the layouts of sheets that are remembered."""
    with read_register(context, register, known_at, as_json) as opened:
        found = keep_layouts.layouts(opened)
    if as_json:
        show_json([shapes.layout_shape(each) for each in found])
    else:
        show(words.layouts_words(found))


@app.command()
def layout(
    context: typer.Context,
    name: Annotated[str, typer.Argument(help="Of the layout; with --take any word.")],
    write: Annotated[Path | None, typer.Option("--write", help="Write it to this file.")] = None,
    take: Annotated[
        Path | None, typer.Option("--take", help="Keep the layout in this file by the name.")
    ] = None,
    forget: Annotated[bool, typer.Option("--forget", help="No longer remember it.")] = False,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Write a remembered layout to a file, take one from a file, or forget one."""
    if [write is not None, take is not None, forget].count(True) != 1:
        raise typer.BadParameter("give one of --write, --take and --forget")
    with opened_register(context, register) as opened:
        if write is not None:
            keep_layouts.write_layout(opened, name, write)
        elif take is not None:
            keep_layouts.take_layout(opened, take, name, who=name_of(who), at=now())
        else:
            keep_layouts.forget_layout(opened, name, who=name_of(who), at=now())
    typer.echo(f"{name}: {'written' if write else 'kept' if take else 'forgotten'}.")


@app.command("round-sheet")
def round_sheet(
    context: typer.Context,
    to: Path,
    outlet: Annotated[
        list[str] | None, typer.Option("--outlet", help="A reference; may be repeated.")
    ] = None,
    building: Annotated[
        int | None, typer.Option("--building", help="Only this building, by its number.")
    ] = None,
    within_weeks: Annotated[
        int | None, typer.Option("--within-weeks", min=0, help="Only what is due by then.")
    ] = None,
    on: OnOption = None,
    register: RegisterOption = None,
) -> None:
    """Write a blank round sheet that comes back in without a question."""
    with opened_register(context, register) as opened:
        chosen = [browse.find_outlet(opened, each).id for each in outlet or ()]
        which = chosen or Round(building, within_weeks)
        write_round_sheet(opened, which, to, day_of(on), progress_bar())
    typer.echo(f"{to}: a round sheet.")
