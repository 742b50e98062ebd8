"""The commands that read: nothing is written but reports and exports."""

from dataclasses import asdict
from datetime import timedelta
from pathlib import Path
from typing import Annotated

import typer

from estate.cli import rule_words, shapes, words
from estate.cli.terminal import (
    JsonOption,
    KnownAtOption,
    OnOption,
    PlaceOption,
    RegisterOption,
    UnitOption,
    app,
    day_of,
    progress_bar,
    read_register,
    show,
    show_json,
)
from estate.domain.temperature import Scale
from estate.operations import (
    back_test,
    browse,
    export_tables,
    plan_retests,
    preview_policy,
    report_actions,
    set_rules,
    write_report,
)
from estate.operations import compare_policies as comparing
from estate.operations.open_register import published_rule_sets


@app.command()
def due(
    context: typer.Context,
    on: OnOption = None,
    within_weeks: Annotated[int | None, typer.Option("--within-weeks", min=0, help="Due by then.")] = None,
    overdue: Annotated[bool, typer.Option("--overdue", help="Only what is past its window.")] = False,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List valves by their next test window."""
    today = day_of(on, known_at)
    with read_register(context, register, known_at, as_json) as opened:
        every = plan_retests.due_lines(opened, today)
    lines = [line for line in every if line.overdue or not overdue]
    if within_weeks is not None:
        last = today + timedelta(weeks=within_weeks)
        lines = [line for line in lines if line.window.not_after <= last]
    lines.sort(key=lambda line: line.window.not_after)
    if as_json:
        show_json([shapes.due_shape(line) for line in lines])
    else:
        show(words.due_words(lines, len(every), today))


@app.command()
def explain(
    context: typer.Context,
    outlet: str,
    on: OnOption = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
    unit: UnitOption = Scale.CELSIUS,
) -> None:
    """Say why an outlet's next date is what it is."""
    with read_register(context, register, known_at, as_json) as opened:
        page = browse.outlet_page(opened, browse.find_outlet(opened, outlet).id, day_of(on, known_at))
    if as_json:
        show_json(shapes.explain_shape(page))
    else:
        show(words.explain_words(page, unit))


@app.command()
def history(
    context: typer.Context,
    outlet: str,
    on: OnOption = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
    unit: UnitOption = Scale.CELSIUS,
) -> None:
    """List an outlet's visits, newest first, of every valve body that has been there."""
    with read_register(context, register, known_at, as_json) as opened:
        page = browse.outlet_page(opened, browse.find_outlet(opened, outlet).id, day_of(on, known_at))
    if as_json:
        show_json([shapes.history_shape(line) for line in page.history])
    else:
        show(words.history_words(page.history, page.attempts, unit))


@app.command()
def report(
    context: typer.Context,
    what: Annotated[str, typer.Argument(help="overdue, summary or actions")],
    to: Annotated[Path, typer.Option("--to", help="A file that ends in .pdf or .xlsx.")],
    on: OnOption = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
) -> None:
    """Write the overdue list, the compliance summary or the open actions."""
    writers = {
        "overdue": write_report.write_overdue,
        "summary": write_report.write_summary,
        "actions": report_actions.write_actions,
    }
    if what not in writers:
        raise typer.BadParameter(f"{what}: choose overdue, summary or actions", param_hint="WHAT")
    with read_register(context, register, known_at, aside=True) as opened:
        typer.echo(str(writers[what](opened, to, day_of(on, known_at), progress_bar())))


@app.command()
def export(
    context: typer.Context, folder: Path, known_at: KnownAtOption = None, register: RegisterOption = None
) -> None:
    """Write every table as CSV."""
    with read_register(context, register, known_at, aside=True) as opened:
        written = export_tables.export_tables(opened, folder, progress_bar())
    show(str(each) for each in written)


@app.command()
def rules(
    context: typer.Context,
    place: PlaceOption = "estate",
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
    unit: UnitOption = Scale.CELSIUS,
    of: Annotated[
        str, typer.Option("--of", help="A rule set as published, whatever is in force; needs no register.")
    ] = "",
) -> None:
    """List the rule values in force with their sources, what is blank, and where sources disagree."""
    if of:
        found = set_rules.published(published_rule_sets(), of)
    else:
        with read_register(context, register, known_at, as_json) as opened:
            found = set_rules.rules_at(opened, place)
    if as_json:
        show_json(shapes.rules_shape(found))
    else:
        show(rule_words.rules_words(found, unit))


@app.command()
def preview(
    context: typer.Context,
    key: str,
    value: Annotated[str, typer.Argument(help='A value to try, or "published".')],
    place: PlaceOption = "estate",
    on: OnOption = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what another value of a rule would mean for the whole estate; nothing is written."""
    tried = None if value == "published" else set_rules.value_of(key, value)
    with read_register(context, register, known_at, as_json) as opened:
        found = preview_policy.preview_policy(opened, key, tried, place, day_of(on, known_at))
    if as_json:
        show_json(shapes.preview_shape(found))
    else:
        show(words.preview_words(found))


@app.command()
def backtest(
    context: typer.Context,
    on: OnOption = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Hide each valve's last reading, predict it, and say how good the predictions were."""
    with read_register(context, register, known_at, as_json) as opened:
        found = back_test.back_test(opened, day_of(on, known_at))
    if as_json:
        show_json(shapes.back_test_shape(found))
    else:
        show(words.back_test_words(found))


@app.command("compare-policies")
def compare_policies(
    valves: Annotated[int, typer.Option("--valves", min=10, help="Valves of each simulated estate.")] = 1000,
    years: Annotated[float, typer.Option("--years", min=1, max=30)] = 6.0,
    seed: Annotated[int, typer.Option("--seed", help="The same seed gives the same figures.")] = 1,
    as_json: JsonOption = False,
) -> None:
    """Compare policies of test intervals on simulated estates with known truth; needs no register."""
    found = comparing.compare_policies(valves, years, seed, progress_bar())
    if as_json:
        show_json([asdict(each) for each in found])
    else:
        show(words.comparison_words(found))


@app.command()
def instruments(
    context: typer.Context,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List instruments with their calibrations."""
    with read_register(context, register, known_at, as_json) as opened:
        found = browse.instruments(opened)
    if as_json:
        show_json([shapes.instrument_shape(each) for each in found])
    else:
        show(words.instrument_words(found))
