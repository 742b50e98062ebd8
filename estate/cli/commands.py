"""The command line of ``estate``: its commands and how it leaves."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from estate.cli import (
    changing,
    choosing,
    documents,
    place_outlets,
    places,
    reading,
    recording,
    ruling,
    sheets,
    signing,
    team,
    today,
    trust,
    upkeep,
    work,
)
from estate.cli.terminal import (
    FAULT,
    Doors,
    app,
    doors_of,
    progress_bar,
    show,
)
from estate.errors import KnownFault


@app.command()
def sample(context: typer.Context, dest: Path) -> None:
    """Build the sample estate as a new register."""
    doors_of(context).build_sample(dest, progress_bar())
    typer.echo(f"{dest}: the sample estate. All of it is invented.")


@app.command()
def demo(context: typer.Context, folder: Path) -> None:
    """Do the main job on the sample estate without a display, and say what was done and where."""
    show(doors_of(context).demonstrate(folder))


@app.command()
def pictures(
    context: typer.Context,
    folder: Path,
    only: Annotated[list[str] | None, typer.Option(help="The name of a picture; may be said again.")] = None,
) -> None:
    """Take the pictures that the documents show, and the picture book, into folders of a folder."""
    show(str(each) for each in doors_of(context).take_pictures(folder, only or ()))


@app.command()
def window(context: typer.Context, register: Annotated[str | None, typer.Argument()] = None) -> None:
    """Open the window."""
    doors = doors_of(context)
    raise typer.Exit(doors.open_window(register or doors.register))


__all__ = [
    "Doors",
    "changing",
    "choosing",
    "documents",
    "main",
    "place_outlets",
    "places",
    "reading",
    "recording",
    "ruling",
    "sheets",
    "signing",
    "team",
    "today",
    "trust",
    "upkeep",
    "work",
]


def main(doors: Doors, words_given: Sequence[str] | None = None) -> None:
    """Run the command line and leave the process.

    Args:
        doors: what lies beside the command line.
        words_given: the words after the program's name; None takes those the process was started with.

    Exit status 0 done, 2 usage, 3 known fault (told on stderr), 4 done with rows questioned.
    """
    try:
        app(words_given, obj=doors)
    except KnownFault as fault:
        sys.stderr.write(f"{fault.title}\n{fault.detail}\n{fault.remedy}\n")
        raise SystemExit(FAULT) from fault
