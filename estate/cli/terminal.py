"""What every command shares: the app, its options, how it opens a register and how it prints."""

import json
import sys
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from getpass import getuser
from pathlib import Path
from typing import Annotated, Any, Final

import typer

from estate.domain.dates import moment_words
from estate.domain.progress import Progress, silent
from estate.domain.temperature import Scale
from estate.operations.as_known_at import as_known_at
from estate.operations.open_register import open_register
from estate.operations.register import Register

FAULT, QUESTIONED = 3, 4

app = typer.Typer(
    name="estate",
    help="The register of thermostatic mixing valves: bring in results, judge, plan, report.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

RegisterOption = Annotated[
    str | None,
    typer.Option("--register", envvar="ESTATE_REGISTER", help="The register: a file or a PostgreSQL URL."),
]
OnOption = Annotated[
    datetime | None, typer.Option("--on", formats=["%Y-%m-%d"], help="Take this day for today (YYYY-MM-DD).")
]
MOMENT_FORMATS: Final = [
    *("%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M", "%Y-%m-%d"),
    *("%Y-%m-%dT%H:%M%z", "%Y-%m-%dT%H:%M:%S%z"),
]
KnownAtOption = Annotated[
    datetime | None,
    typer.Option(
        "--as-known-at",
        formats=MOMENT_FORMATS,
        help="Show what was known at a past moment, by this machine's clock unless it tells its own offset.",
    ),
]
JsonOption = Annotated[
    bool, typer.Option("--json", help="Print JSON; keys are listed in docs/command-line.md.")
]
PlaceOption = Annotated[str, typer.Option("--place", help="estate, building:NUMBER or outlet:NUMBER")]
UnitOption = Annotated[
    Scale, typer.Option("--unit", help="C or F: how temperatures are shown; they are judged in °C.")
]
DayOption = Annotated[
    datetime | None, typer.Option("--calibrated", formats=["%Y-%m-%d"], help="Day of the calibration.")
]
WhoOption = Annotated[str | None, typer.Option("--who", help="Who does this; the login name if not given.")]


@dataclass(frozen=True)
class Doors:
    """What lies beside the command line and is handed in by the program's start.

    Attributes:
        open_window: opens the window on a register (None: lets the person choose); gives the exit status.
        build_sample: builds the sample estate as a new register.
        demonstrate: does the main job on the sample in a folder; gives lines that say what was done.
        take_pictures: takes pictures of the window into a folder, all or those named.
        register: the register named before the command.
    """

    open_window: Callable[[str | None], int]
    build_sample: Callable[[Path, Progress], None]
    demonstrate: Callable[[Path], Iterable[str]]
    take_pictures: Callable[[Path, Collection[str]], Iterable[Path]]
    register: str | None = None


@app.callback()
def _register(context: typer.Context, register: RegisterOption = None) -> None:
    context.obj = replace(doors_of(context), register=register)


def doors_of(context: typer.Context) -> Doors:
    """What lies beside the command line."""
    doors = context.obj
    if not isinstance(doors, Doors):
        raise TypeError("the command line needs its doors")
    return doors


def now() -> datetime:
    """The moment, UTC, to the second."""
    return datetime.now(UTC).replace(microsecond=0)


def day_of(on: datetime | None, known_at: datetime | None = None) -> date:
    """The day given with ``--on``, else that of ``--as-known-at``, else today."""
    if on is None and known_at is not None:
        return known_at.astimezone().date()
    return on.date() if on is not None else date.today()


def name_of(who: str | None) -> str:
    """The name given with ``--who``, else the login name."""
    return who or getuser()


def show(lines: Iterable[str]) -> None:
    """Print lines for people."""
    for line in lines:
        typer.echo(line)


def show_json(value: Any) -> None:
    """Print one JSON value."""
    typer.echo(json.dumps(value, ensure_ascii=False, indent=2))


def progress_bar() -> Progress:
    """A bar on the terminal; silent where stderr is not one."""
    if not sys.stderr.isatty():
        return silent

    def show(done: int, of: int, what: str) -> None:
        filled = round(20 * done / of) if of else 20
        end = "\n" if done >= of else ""
        sys.stderr.write(f"\r[{'#' * filled}{'.' * (20 - filled)}] {what:<50.50}{end}")
        sys.stderr.flush()

    return show


@contextmanager
def opened_register(context: typer.Context, register: str | None) -> Iterator[Register]:
    """The register named after or before the command, or by the environment; closed at the end."""
    where = register or doors_of(context).register
    if not where:
        raise typer.BadParameter("name the register with --register or ESTATE_REGISTER")
    opened = open_register(where)
    try:
        yield opened
    finally:
        opened.close()


@contextmanager
def read_register(
    context: typer.Context, register: str | None, known_at: datetime | None, aside: bool = False
) -> Iterator[Register]:
    """A register to read, as it is now or as it was known at a past moment, which is said first.

    Args:
        aside: True says it on stderr, so that nothing but what was asked for is printed.
    """
    with opened_register(context, register) as opened:
        if known_at is None:
            yield opened
            return
        then = as_known_at(opened, known_at.astimezone(), progress_bar(), now=now())
        typer.echo(f"As known at {moment_words(known_at)}. What was entered later does not show.", err=aside)
        try:
            yield then
        finally:
            then.close()
