"""Columns of an outlet's history: every entry, void and corrected ones struck through."""

from collections.abc import Callable

from estate.domain.browsing import HistoryLine
from estate.domain.instruments import Instrument
from estate.domain.temperature import Scale, on_scale
from estate.domain.visits import Standing
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.signed_facts import signing_cell
from estate.window.models.table import TableModel
from estate.window.translating import said, tr


def _standing(line: HistoryLine) -> Cell:
    visit = line.visit
    if visit.standing is Standing.VOID:
        return Cell(tr("void"), 9.0, Mark.DASH, tip=tr("Void: {void_reason}", void_reason=visit.void_reason))
    if visit.standing is Standing.CORRECTED:
        return Cell(
            tr("corrected"), 8.0, Mark.DASH, tip=tr("Corrected by a later entry, which counts instead")
        )
    return cells.verdict(line.judgement.verdict)


def _source(line: HistoryLine) -> Cell:
    visit = line.visit
    entered = tr(
        "Entered by {recorded_by}, {moment}",
        recorded_by=visit.recorded_by,
        moment=words.moment(visit.recorded_at),
    )
    if visit.draft.source is None:
        return cells.text(tr("entered by hand"), entered)
    source = visit.draft.source
    raw = "\n".join(f"{heading}: {found}" for heading, found in source.cells)
    return cells.text(
        tr("{file}, {sheet}, row {row}", file=source.file, sheet=source.sheet, row=source.row),
        f"{entered}\n{raw}".strip(),
    )


def _instrument(line: HistoryLine, names: dict[int, str]) -> Cell:
    draft = line.visit.draft
    known = names.get(draft.instrument_id or 0, "")
    return cells.text(known or draft.instrument_words)


def _degrees(
    title: str,
    scale: Scale,
    value: Callable[[HistoryLine], float | None],
    sample: str = "60.0 ",
    tip: str = "",
) -> Column[HistoryLine]:
    """A column of temperatures on the scale that the person reads."""

    def cell(line: HistoryLine) -> Cell:
        found = value(line)
        return cells.figure(None if found is None else on_scale(found, scale), 1)

    key = title.replace("{scale}", "").strip().casefold().replace("\n", "-").replace(" ", "-")
    return Column(tr(title, scale=scale.sign), cell, sample, tip=tip, id=key)


def _columns(names: dict[int, str], scale: Scale) -> tuple[Column[HistoryLine], ...]:
    return (
        Column(said("Date"), lambda line: cells.on_day(line.visit.on), "25 Nov 2026", id="date"),
        Column(
            said("Kind"),
            lambda line: cells.text(tr(line.visit.draft.kind.value)),
            "commissioning",
            groups=True,
            id="kind",
        ),
        Column(said("Verdict"), _standing, "take out of use", marked=True, id="verdict"),
        _degrees(said("Hot\n{scale}"), scale, lambda line: line.visit.readings.hot_c, "160.0 "),
        _degrees(said("Cold\n{scale}"), scale, lambda line: line.visit.readings.cold_c),
        _degrees(said("Found\n{scale}"), scale, lambda line: line.visit.readings.found_c, "Found ", _FOUND),
        _degrees(said("Left\n{scale}"), scale, lambda line: line.visit.readings.left_c, "160.0 ", _LEFT),
        _degrees(
            said("Cold off\nmax {scale}"),
            scale,
            lambda line: line.visit.readings.cold_isolated.max_c,
            "Cold off ",
            said("Highest mixed temperature after the cold supply was isolated"),
        ),
        Column(
            said("Still flows\nml/min"),
            lambda line: cells.figure(line.visit.readings.cold_isolated.residual_ml_min),
            "Still flows ",
            tip=said("Flow still passing after the cold supply was isolated"),
            id="still-flows-ml-min",
        ),
        Column(
            said("Shut\ns"),
            lambda line: cells.figure(line.visit.readings.cold_isolated.shut_s, 1),
            "Shut ",
            tip=said("Seconds to shut after the cold supply was isolated"),
            id="shut-s",
        ),
        Column(
            said("Person"),
            lambda line: cells.text(line.visit.draft.person),
            "T. A. Person",
            groups=True,
            id="person",
        ),
        Column(
            said("Signed"),
            lambda line: signing_cell(line.signing),
            "countersigned",
            marked=True,
            tip=tr(_SIGNED),
            id="signed",
        ),
        Column(said("Instrument"), lambda line: _instrument(line, names), "Instrument", id="instrument"),
        Column(
            said("Valve"),
            lambda line: cells.text(line.valve.serial or line.valve.words),
            "WW-000000",
            id="valve",
        ),
        Column(
            said("Remarks"),
            lambda line: cells.text(line.visit.draft.remarks),
            "Strainers cleaned, adjusted",
            id="remarks",
        ),
        Column(said("Source"), _source, "history.xlsx, History, row 1000", stretches=True, id="source"),
    )


_FOUND = said("Mixed temperature as found, at the largest draw-off")
_SIGNED = said("Who vouches for the entry by a key; it does not say that the reading is true")
_LEFT = said("Mixed temperature as left, at the largest draw-off")


class HistoryModel(TableModel[HistoryLine]):
    """An outlet's history, newest first."""

    def __init__(self, instruments: tuple[Instrument, ...] = ()) -> None:
        self._names: dict[int, str] = {}
        super().__init__(
            _columns(self._names, Scale.CELSIUS),
            lambda line: line.visit.id,
            lambda line: not line.visit.counts,
        )
        self.know(instruments)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale."""
        self.show(_columns(self._names, scale))

    def know(self, instruments: tuple[Instrument, ...]) -> None:
        """Learn the references of instruments, for rows filled in later."""
        self._names.update({each.id: each.reference for each in instruments})
