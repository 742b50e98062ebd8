"""The service record of an outlet: valves fitted, what was set back, cleaned and put in, day by day."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.procedures import asked_steps
from estate.domain.steps import parts_words
from estate.domain.temperature import Scale
from estate.domain.visits import Attempt, Visit, VisitDraft, measured
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr

_SEEN: Final = {
    "strainers_cleaned": (said("strainers clean or cleaned"), said("strainers not clean")),
    "check_valves_good": (said("check valves in good order"), said("check valves not in good order")),
    "isolating_valves_open": (said("isolating valves open"), said("isolating valves not fully open")),
    "cap_refitted": (said("cap refitted"), said("cap not refitted")),
}


@dataclass(frozen=True, slots=True)
class ServiceRow:
    """Something that was done at the outlet.

    Attributes:
        number: in the record, from 0; the key of its row.
        on: the day; None where it was not recorded.
        visit_id: the entry that tells it; None where none does.
        counts: whether its entry still counts.
    """

    number: int
    on: date | None
    what: str
    detail: str
    valve: str = ""
    person: str = ""
    visit_id: int | None = None
    counts: bool = True


def service_rows(page: OutletPage, scale: Scale = Scale.CELSIUS) -> tuple[ServiceRow, ...]:
    """Everything that was done at an outlet, newest first; temperatures on a scale."""
    visits = (row for line in page.history for row in _visit(line, scale))
    told = [*_bodies(page), *visits, *_attempts(page)]
    told.sort(key=lambda row: row.on or date.min, reverse=True)
    return tuple(replace(row, number=number) for number, row in enumerate(told))


def _bodies(page: OutletPage) -> Iterator[ServiceRow]:
    for fitting, body in page.fittings:
        yield ServiceRow(0, fitting.fitted_on, tr("valve fitted"), "", body.words)
        if fitting.removed_on is not None:
            yield ServiceRow(0, fitting.removed_on, tr("valve removed"), "", body.words)


def _visit(line: HistoryLine, scale: Scale) -> Iterator[ServiceRow]:
    """What one visit did beside measuring; a visit that did nothing else gives no row."""
    visit, valve = line.visit, line.valve.serial or line.valve.words
    for what, detail in _done(visit.draft, scale):
        yield ServiceRow(0, visit.on, what, detail, valve, visit.draft.person, visit.id, visit.counts)


def _done(draft: VisitDraft, scale: Scale) -> Iterator[tuple[str, str]]:
    """What was done and seen at a visit, each with its detail."""
    if (turned := _turned(draft, scale)) is not None:
        yield turned
    yield from ((told, "") for told in _seen(draft))
    for step in asked_steps(draft.kind):
        seen = draft.steps.by_key.get(step.key)
        if seen is not None and seen.said is not None:
            answer = words.yes_no(seen.said)
            yield tr(step.words).rstrip("."), f"{answer}, {seen.remark}" if seen.remark else answer
    for part in draft.steps.parts:
        number = "" if part.quantity is None else tr("{number:g} put in", number=part.quantity)
        yield tr("part: {name}", name=part.name), ", ".join(each for each in (number, part.remark) if each)


def _seen(draft: VisitDraft) -> Iterator[str]:
    for path, value in measured(draft.readings).items():
        if path in _SEEN:
            yield tr(_SEEN[path][0 if value else 1])


def _turned(draft: VisitDraft, scale: Scale) -> tuple[str, str] | None:
    """What became of the setting, where it was turned."""
    readings = draft.readings
    if not readings.level_reset:
        return None
    left = words.celsius(readings.left_c, scale=scale)
    if readings.found_c is None:
        return tr("set"), tr("left {left}", left=left)
    found = words.celsius(readings.found_c, scale=scale)
    return tr("set back"), tr("found {found}, left {left}", found=found, left=left)


def _attempts(page: OutletPage) -> Iterator[ServiceRow]:
    for each in page.attempts:
        what = tr("attempted, not tested")
        yield ServiceRow(0, each.on, what, each.why, person=each.person, counts=not each.void_reason)


def seen_words(draft: VisitDraft, scale: Scale = Scale.CELSIUS) -> str:
    """What was seen and done at a visit beside its readings, in a line; empty where nothing is recorded."""
    told = [*_seen(draft)]
    if (turned := _turned(draft, scale)) is not None:
        told.insert(0, f"{turned[0]} ({turned[1]})")
    if draft.steps.parts:
        told.append(tr("parts put in: {parts}", parts=parts_words(draft.steps.parts)))
    if draft.remarks:
        told.append(draft.remarks)
    return "; ".join(told)


def entered_words(entry: Visit | Attempt) -> str:
    """Who entered it and when, and the row of the sheet that it came from."""
    at = words.moment(entry.recorded_at)
    by = tr("Entered by {who}, {at}", who=entry.recorded_by, at=at)
    source = entry.draft.source
    if source is None:
        return by
    told = {"file": source.file, "sheet": source.sheet, "row": source.row}
    return f"{by}. {tr('From {file}, {sheet}, row {row}', **told)}"


def _entry(row: ServiceRow) -> Cell:
    if row.visit_id is None:
        return cells.text("")
    return cells.text(tr("counts") if row.counts else tr("void or corrected"))


SERVICE_COLUMNS: tuple[Column[ServiceRow], ...] = (
    Column(said("Date"), lambda row: cells.on_day(row.on, tr("not recorded")), "25 Nov 2026", id="date"),
    Column(
        said("What was done or seen"),
        lambda row: cells.text(row.what),
        "strainers clean or cleaned, ",
        stretches=True,
        id="what-was-done-or-seen",
    ),
    Column(said("Detail"), lambda row: cells.text(row.detail), "found 41.2 °C, left 41.0 °C", id="detail"),
    Column(said("Valve"), lambda row: cells.text(row.valve), "Make A A15-000000", id="valve"),
    Column(said("Person"), lambda row: cells.text(row.person), "T. A. Person", id="person"),
    Column(said("Entry"), _entry, "void or corrected", id="entry"),
)


class ServiceModel(TableModel[ServiceRow]):
    """The service record; what no longer counts stands struck through."""

    def __init__(self) -> None:
        super().__init__(SERVICE_COLUMNS, lambda row: row.number, lambda row: not row.counts)
