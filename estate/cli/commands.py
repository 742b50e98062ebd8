"""The commands of ``estate``."""

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from getpass import getuser
from pathlib import Path
from typing import Annotated, Any

import typer

from estate.cli import shapes, words
from estate.domain.intake import SheetKind
from estate.domain.progress import Progress, silent
from estate.errors import KnownFault
from estate.operations import browse, export_tables, plan_retests, set_rules, write_report
from estate.operations.bring_in import commit, look
from estate.operations.open_register import DEFAULT_RULE_SET, new_register, open_register
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
JsonOption = Annotated[
    bool, typer.Option("--json", help="Print JSON; keys are listed in docs/command-line.md.")
]
WhoOption = Annotated[str | None, typer.Option("--who", help="Who does this; the login name if not given.")]


@dataclass(frozen=True)
class Doors:
    """What lies beside the command line and is handed in by the program's start.

    Attributes:
        open_window: opens the window on a register (None: lets the person choose); gives the exit status.
        build_sample: builds the sample estate as a new register.
        demonstrate: does the main job on the sample in a folder; gives lines that say what was done.
        take_pictures: takes pictures of the window into a folder.
        register: the register named before the command.
    """

    open_window: Callable[[str | None], int]
    build_sample: Callable[[Path, Progress], None]
    demonstrate: Callable[[Path], Iterable[str]]
    take_pictures: Callable[[Path], Iterable[Path]]
    register: str | None = None


@app.callback()
def _register(context: typer.Context, register: RegisterOption = None) -> None:
    context.obj = replace(_doors(context), register=register)


def _doors(context: typer.Context) -> Doors:
    doors = context.obj
    if not isinstance(doors, Doors):
        raise TypeError("the command line needs its doors")
    return doors


def _now() -> datetime:
    return datetime.now(UTC).replace(microsecond=0)


def _today(on: datetime | None) -> date:
    return on.date() if on is not None else date.today()


def _who(who: str | None) -> str:
    return who or getuser()


def _print(lines: Iterable[str]) -> None:
    for line in lines:
        typer.echo(line)


def _print_json(value: Any) -> None:
    typer.echo(json.dumps(value, ensure_ascii=False, indent=2))


def _progress() -> Progress:
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
def _opened(context: typer.Context, register: str | None) -> Iterator[Register]:
    where = register or _doors(context).register
    if not where:
        raise typer.BadParameter("name the register with --register or ESTATE_REGISTER")
    opened = open_register(where)
    try:
        yield opened
    finally:
        opened.close()


@app.command()
def sample(context: typer.Context, dest: Path) -> None:
    """Build the sample estate as a new register."""
    _doors(context).build_sample(dest, _progress())
    typer.echo(f"{dest}: the sample estate. All of it is invented.")


@app.command()
def new(
    register: str,
    name: Annotated[str, typer.Option("--name", help="The estate's name, for the heading of reports.")] = "",
    rule_set: Annotated[str, typer.Option("--rule-set", help="Rule set of the estate.")] = DEFAULT_RULE_SET,
    who: WhoOption = None,
) -> None:
    """Make an empty register."""
    made = new_register(register, name or Path(register).stem, rule_set, at=_now(), who=_who(who))
    typer.echo(f"{made.database.shown}: an empty register under {rule_set}. Bring in an asset list next.")
    made.close()


@app.command("bring-in")
def bring_in(
    context: typer.Context,
    file: Path,
    kind: Annotated[SheetKind | None, typer.Option("--kind", help="What the sheet holds.")] = None,
    check_only: Annotated[bool, typer.Option("--check-only", help="Write nothing.")] = False,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Bring in a sheet of assets or results; every row that is not questioned is written as one batch."""
    with _opened(context, register) as opened:
        proposal = look(opened, file, kind, _today(on), _progress())
        brought = None
        if not check_only:
            brought = commit(opened, proposal, who=_who(who), at=_now(), progress=_progress())
    if as_json:
        _print_json(shapes.bring_in_shape(proposal, brought))
    else:
        _print(words.bring_in_words(proposal, brought))
    if proposal.questions:
        raise typer.Exit(QUESTIONED)


@app.command()
def due(
    context: typer.Context,
    on: OnOption = None,
    within_weeks: Annotated[int | None, typer.Option("--within-weeks", min=0, help="Due by then.")] = None,
    overdue: Annotated[bool, typer.Option("--overdue", help="Only what is past its window.")] = False,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List valves by their next test window."""
    today = _today(on)
    with _opened(context, register) as opened:
        every = plan_retests.due_lines(opened, today)
    lines = [line for line in every if line.overdue or not overdue]
    if within_weeks is not None:
        last = today + timedelta(weeks=within_weeks)
        lines = [line for line in lines if line.window.not_after <= last]
    lines.sort(key=lambda line: line.window.not_after)
    if as_json:
        _print_json([shapes.due_shape(line) for line in lines])
    else:
        _print(words.due_words(lines, len(every), today))


@app.command()
def explain(
    context: typer.Context,
    outlet: str,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say why an outlet's next date is what it is."""
    with _opened(context, register) as opened:
        page = browse.outlet_page(opened, browse.find_outlet(opened, outlet).id, _today(on))
    if as_json:
        _print_json(shapes.explain_shape(page))
    else:
        _print(words.explain_words(page))


@app.command()
def history(
    context: typer.Context,
    outlet: str,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List an outlet's visits, newest first, of every valve body that has been there."""
    with _opened(context, register) as opened:
        page = browse.outlet_page(opened, browse.find_outlet(opened, outlet).id, _today(on))
    if as_json:
        _print_json([shapes.history_shape(line) for line in page.history])
    else:
        _print(words.history_words(page.history))


@app.command()
def report(
    context: typer.Context,
    what: Annotated[str, typer.Argument(help="overdue or summary")],
    to: Annotated[Path, typer.Option("--to", help="A file that ends in .pdf or .xlsx.")],
    on: OnOption = None,
    register: RegisterOption = None,
) -> None:
    """Write the overdue list or the compliance summary."""
    writers = {"overdue": write_report.write_overdue, "summary": write_report.write_summary}
    if what not in writers:
        raise typer.BadParameter(f"{what}: choose overdue or summary", param_hint="WHAT")
    with _opened(context, register) as opened:
        typer.echo(str(writers[what](opened, to, _today(on), _progress())))


@app.command()
def export(context: typer.Context, folder: Path, register: RegisterOption = None) -> None:
    """Write every table as CSV."""
    with _opened(context, register) as opened:
        written = export_tables.export_tables(opened, folder, _progress())
    _print(str(each) for each in written)


@app.command()
def rules(
    context: typer.Context,
    place: Annotated[
        str, typer.Option("--place", help="estate, building:NUMBER or outlet:NUMBER")
    ] = "estate",
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List the rule values in force with their sources."""
    with _opened(context, register) as opened:
        found = set_rules.rules_at(opened, place)
    if as_json:
        _print_json(shapes.rules_shape(found))
    else:
        _print(words.rules_words(found))


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
    with _opened(context, register) as opened:
        rule_set = set_rules.rules_at(opened, place).id
        laid = None if value == "published" else set_rules.value_of(key, value)
        set_rules.override(opened, rule_set, key, place, laid, who=_who(who), at=_now(), why=why)
    typer.echo(
        f"{key} at {place}: {'as published' if laid is None else laid}. Last visits were judged again."
    )


@app.command()
def demo(context: typer.Context, folder: Path) -> None:
    """Do the main job on the sample estate without a display, and say what was done and where."""
    _print(_doors(context).demonstrate(folder))


@app.command()
def pictures(context: typer.Context, folder: Path) -> None:
    """Take the pictures of the window that the documentation shows."""
    _print(str(each) for each in _doors(context).take_pictures(folder))


@app.command()
def window(context: typer.Context, register: Annotated[str | None, typer.Argument()] = None) -> None:
    """Open the window."""
    doors = _doors(context)
    raise typer.Exit(doors.open_window(register or doors.register))


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
