"""The command of the first page: what hurts first, what is late and what comes."""

from typing import Any

import typer

from estate.cli.terminal import (
    JsonOption,
    OnOption,
    RegisterOption,
    app,
    day_of,
    opened_register,
    show,
    show_json,
)
from estate.cli.words import CAUTIONS, day
from estate.domain.shares import percent
from estate.domain.today import Figure, Part, Share, Today, Workload
from estate.operations.today import today_of, with_past


@app.command("today")
def today_(
    context: typer.Context,
    on: OnOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say what is unsafe, late and coming, how the share in date moved, and the work of 26 weeks."""
    with opened_register(context, register) as opened:
        found = with_past(opened, today_of(opened, day_of(on)))
    if as_json:
        show_json(today_shape(found))
    else:
        show(today_words(found))


def today_words(found: Today) -> list[str]:
    """The first page as lines of text."""
    lines = [f"{found.estate}, as at {day(found.today)}: {found.valves:,} valves in place"]
    for part in Part:
        lines += ["", part.value]
        figures = found.of(part)
        lines += [_figure_words(each) for each in figures if each.count]
        lines += [f"{'':>15}{each.nothing}" for each in figures if not each.count and each.nothing]
    lines += ["", "Satisfactory and in date, worked out now for the ends of the last months"]
    lines += [_share_words(each) for each in found.shares]
    return [*lines, "", *_load_words(found.workload), "", CAUTIONS]


def _figure_words(figure: Figure) -> str:
    return f"  {figure.weight.value:<11}  {figure.sentence}"


def _share_words(share: Share) -> str:
    told = "no valve in place" if share.of_one is None else percent(share.of_one)
    return f"  {day(share.on):>11}  {told:>7}  {share.good:,} of {share.valves:,}"


def _load_words(load: Workload) -> list[str]:
    head = f"Windows by the week in which they end: {len(load.overdue):,} overdue, {load.later:,} later"
    weeks = [
        f"  {day(each.from_on):>11} to {day(each.until_on):>11}  {each.count:>6,}" for each in load.weeks
    ]
    return [head, *weeks]


def today_shape(found: Today) -> dict[str, Any]:
    """The first page for ``--json``; outlets are told by their numbers."""
    return {
        "today": found.today.isoformat(),
        "estate": found.estate,
        "valves": found.valves,
        "figures": [_figure_shape(each) for each in found.figures],
        "shares": [
            {"on": each.on.isoformat(), "valves": each.valves, "good": each.good, "share": each.of_one}
            for each in found.shares
        ],
        "workload": {
            "overdue": len(found.workload.overdue),
            "weeks": [
                {"from": each.from_on.isoformat(), "until": each.until_on.isoformat(), "windows": each.count}
                for each in found.workload.weeks
            ],
            "later": found.workload.later,
        },
    }


def _figure_shape(figure: Figure) -> dict[str, Any]:
    return {
        "part": figure.part.value,
        "weight": figure.weight.value,
        "list": figure.asks.behind.value,
        "count": figure.count,
        "words": figure.sentence if figure.count else figure.nothing,
        "not_known": figure.unknown,
        "outlets": sorted(figure.asks.outlet_ids),
    }
