"""The commands about trust: verify, checkpoints, what was known at a moment, backups."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from estate.cli.terminal import (
    MOMENT_FORMATS,
    QUESTIONED,
    JsonOption,
    OnOption,
    RegisterOption,
    WhoOption,
    app,
    day_of,
    doors_of,
    name_of,
    now,
    opened_register,
    progress_bar,
    read_register,
    show,
    show_json,
)
from estate.cli.words import due_words
from estate.domain.trust import Verification
from estate.errors import EntryFault, ReportFault
from estate.operations import back_up as backing
from estate.operations import plan_retests, restore_register
from estate.operations.checkpoints import checkpoint_text, known_head_of, make_checkpoint, read_checkpoint
from estate.operations.verify_register import verify as verify_whole
from estate.operations.write_report import write_overdue, write_summary


@app.command()
def verify(
    context: typer.Context,
    checkpoint: Annotated[
        list[Path] | None, typer.Option("--checkpoint", help="A kept checkpoint; may be repeated.")
    ] = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Walk the whole trail and say the first place that does not fit; nothing is changed."""
    with opened_register(context, register) as opened:
        known = [known_head_of(opened, read_checkpoint(_text(each))) for each in checkpoint or ()]
        found = verify_whole(opened, progress_bar(), known_heads=known)
    if as_json:
        show_json(_shape(found))
    else:
        show([found.words, *(f"  {each}" for each in found.misfits[1:])])
    if not found.fits:
        raise typer.Exit(QUESTIONED)


def _shape(found: Verification) -> dict[str, object]:
    return {
        "fits": found.fits,
        "entries": found.entries,
        "chained": found.chained,
        "rows": found.rows,
        "head": {"entry": found.head.entry_id, "digest": found.head.digest},
        "misfits": [
            {
                "table": each.noun,
                "row": each.row_id,
                "entry": each.entry_id,
                "place": each.place,
                "what": each.what,
                "means": each.means,
            }
            for each in found.misfits
        ],
        "more": found.more,
    }


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise EntryFault("The checkpoint can't be read", f"{path}: {fault}.", "Check its name.") from fault


@app.command()
def checkpoint(
    context: typer.Context,
    to: Annotated[Path | None, typer.Option("--to", help="A text file; shown on the screen without.")] = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Take how the trail ends now, to be printed or mailed to someone who can't write to the register."""
    with opened_register(context, register) as opened:
        text = checkpoint_text(make_checkpoint(opened, who=name_of(who), at=now()))
    if to is None:
        typer.echo(text)
        return
    try:
        to.write_text(text, encoding="utf-8")
    except OSError as fault:
        remedy = "Choose a folder that can be written to; the checkpoint is in the register."
        raise ReportFault("The checkpoint can't be written", f"{to}: {fault.strerror}.", remedy) from fault
    typer.echo(f"{to}: a checkpoint. Keep it away from this machine.")


@app.command("as-known")
def as_known(
    context: typer.Context,
    moment: Annotated[datetime, typer.Argument(formats=MOMENT_FORMATS, help="By this machine's clock.")],
    to: Annotated[
        Path | None, typer.Option("--to", help="A report as .pdf or .xlsx; the overdue list without.")
    ] = None,
    what: Annotated[str, typer.Option("--report", help="overdue or summary")] = "overdue",
    on: OnOption = None,
    register: RegisterOption = None,
) -> None:
    """Show what the register said at a past moment: the overdue list, or a report of it."""
    writers = {"overdue": write_overdue, "summary": write_summary}
    if what not in writers:
        raise typer.BadParameter(f"give {' or '.join(writers)}", param_hint="--report")
    today = day_of(on, moment)
    with read_register(context, register, moment, aside=to is not None) as then:
        if to is not None:
            typer.echo(str(writers[what](then, to, today, progress_bar())))
            return
        every = plan_retests.due_lines(then, today)
    lines = sorted((each for each in every if each.overdue), key=lambda line: line.window.not_after)
    show(due_words(lines, len(every), today))


@app.command()
def backup(
    context: typer.Context,
    folder: Annotated[Path | None, typer.Option("--folder", help="Beside the register without.")] = None,
    second: Annotated[Path | None, typer.Option("--second", help="Copy it there as well.")] = None,
    register: RegisterOption = None,
) -> None:
    """Back up the register; the backup is opened and compared before it counts."""
    with opened_register(context, register) as opened:
        made = backing.back_up(opened, backing.BY_HAND, at=now(), folder=folder, second=second)
    show([made.told, *(f"{each.title}: {each.detail} {each.remedy}" for each in made.faults)])


@app.command()
def backups(
    context: typer.Context,
    folder: Annotated[Path | None, typer.Option("--folder", help="Beside the register without.")] = None,
    register: RegisterOption = None,
) -> None:
    """List the backups of the register, newest first."""
    path = _file(context, register)
    found = backing.backups_of(path, folder)
    show(
        f"{each.at:%d %b %Y %H:%M} UTC  {each.reason:<20} "
        f"{'unreadable' if each.entries is None else f'{each.entries} entries'}  {each.path}"
        for each in found
    )


@app.command()
def restore(
    context: typer.Context,
    backup_file: Path,
    do_it: Annotated[bool, typer.Option("--do-it", help="Without, only what would change is shown.")] = False,
    sure: Annotated[
        bool, typer.Option("--sure", help="The backup is of this register, whose file is gone or unreadable.")
    ] = False,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Put a backup in the place of the register; the present file is kept first."""
    path = _file(context, register)
    show(restore_register.preview_restore(path, backup_file).words)
    if not do_it:
        typer.echo("Nothing was changed. Close the register everywhere and give --do-it to restore.")
        return
    done = restore_register.restore(path, backup_file, who=name_of(who), at=now(), sure=sure)
    kept = f" The file before is kept: {done.kept}." if done.kept else ""
    typer.echo(f"{done.register_path} is as in {done.backup_path}.{kept}")


def _file(context: typer.Context, register: str | None) -> Path:
    """The file of the register that is named, which may be damaged or gone."""
    where = register or doors_of(context).register
    path = backing.register_file(where) if where else None
    if path is None:
        raise typer.BadParameter("name a register that is a file, with --register or ESTATE_REGISTER")
    return path
