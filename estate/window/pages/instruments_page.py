"""Measuring instruments: what each is, how sure it reads, and until when its calibration lasts."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.domain.figures_of_means import SOON_DAYS
from estate.domain.instruments import Calibration, Instrument
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_page import ListPage

_DOUBTFUL = said(
    "A visit read with an instrument out of calibration doesn't count as a test until a person responsible "
    "says why it does (D08-60, D08-71)."
)


def instruments_model(today: Callable[[], date]) -> TableModel[Instrument]:
    """Instruments with the calibration that holds, else the last one."""
    columns: tuple[Column[Instrument], ...] = (
        Column(said("Reference"), lambda row: cells.text(row.reference), "T-1234", id="reference"),
        Column(
            said("State"), lambda row: _standing(row, today()), "ends in 60 days", marked=True, id="state"
        ),
        Column(
            said("Kind"),
            lambda row: cells.text(tr(row.kind.value)),
            "measuring vessel",
            groups=True,
            id="kind",
        ),
        Column(
            said("Specification"),
            lambda row: cells.text(row.specification),
            "type T, 0.1 K",
            stretches=True,
            id="specification",
        ),
        Column(
            said("Uncertainty\nu (k = 1), K"),
            lambda row: cells.figure(row.standard_uncertainty_k, tip=tr("not known")),
            tip=said("Standard uncertainty in kelvins, k = 1"),
            id="uncertainty-u-k-1-k",
        ),
        Column(
            said("Calibrated"),
            lambda row: cells.on_day(_day(row, today(), "on")),
            "25 Nov 2026",
            id="calibrated",
        ),
        Column(said("Due"), lambda row: cells.on_day(_day(row, today(), "due_on")), "25 Nov 2026", id="due"),
        Column(
            said("Certificate"),
            lambda row: cells.text(_certificate(row, today())),
            "C-2026-118",
            id="certificate",
        ),
    )
    return TableModel(columns, lambda row: row.id)


def calibration_shown(instrument: Instrument, today: date) -> Calibration | None:
    """The calibration in force, else the latest one; None where none is on record."""
    latest = max(instrument.calibrations, key=lambda each: (each.due_on, each.on), default=None)
    return instrument.calibration_on(today) or latest


def holds(instrument: Instrument, today: date) -> bool:
    """Whether a calibration is in force."""
    return instrument.calibration_on(today) is not None


def ends_soon(instrument: Instrument, today: date) -> bool:
    """Whether the one in force ends soon, with none to follow it."""
    last = max((each.due_on for each in instrument.calibrations), default=today)
    return holds(instrument, today) and (last - today).days <= SOON_DAYS


def _standing(instrument: Instrument, today: date) -> Cell:
    shown = calibration_shown(instrument, today)
    if shown is None:
        return Cell(tr("none on record"), 1.0, Mark.RING, tip=tr("No calibration is on record"))
    if shown.on > today:
        return Cell(
            tr("not begun"),
            2.0,
            Mark.HALF,
            tip=tr("Its calibration begins on {day}", day=words.day(shown.on)),
        )
    if not holds(instrument, today):
        return Cell(
            tr("out of date"), 0.0, Mark.WEDGE, tip=tr("It ran out on {day}", day=words.day(shown.due_on))
        )
    if ends_soon(instrument, today):
        left = (shown.due_on - today).days
        said = tr("ends today") if left == 0 else tr_count(left, "ends in {n:,} day", "ends in {n:,} days")
        return Cell(said, 3.0 + left / 1e6, Mark.OPEN_WEDGE, tip=tr("Have it calibrated before it ends"))
    return Cell(tr("in calibration"), 4.0, Mark.TICK)


def _day(instrument: Instrument, today: date, name: str) -> date | None:
    shown = calibration_shown(instrument, today)
    if shown is None:
        return None
    return shown.on if name == "on" else shown.due_on


def _certificate(instrument: Instrument, today: date) -> str:
    shown = calibration_shown(instrument, today)
    return "" if shown is None else shown.certificate


class InstrumentsView(ListPage[Instrument]):
    """Lists instruments.

    Attributes:
        add_asked: a new instrument.
        calibration_asked: a further calibration of the instrument given.
    """

    add_asked = Signal()
    calibration_asked = Signal(object)

    def __init__(self, today: Callable[[], date], parent: QWidget | None = None) -> None:
        choices = (
            (tr("Every instrument"), lambda row: True),
            (tr("Without a calibration that holds"), lambda row: not holds(row, today())),
            (tr("Ending soon"), lambda row: ends_soon(row, today())),
        )
        super().__init__(
            tr("Instruments"),
            instruments_model(today),
            tr("Measuring instruments"),
            lambda row: f"{row.reference} {tr(row.kind.value)} {row.specification} {_certificates(row)}",
            choices,
            tr(
                "No instrument is in the register yet: what a visit was measured with can't be judged. "
                "Add the first one."
            ),
            parent,
        )
        self._today = today
        self.calibrate = self.button(
            tr("Add a calibration…"),
            tr("A certificate that the instrument came back with"),
            self.calibration_asked.emit,
        )
        self.add = self.button(
            tr("Add an instrument…"), tr("Something you measure with"), always=self.add_asked.emit
        )

    @override
    def about(self, line: Instrument) -> str:
        newest = sorted(line.calibrations, key=lambda each: each.on, reverse=True)
        known = words.listed([_words(each) for each in newest], 4) or tr("none on record")
        doubtful = "" if holds(line, self._today()) else f" {tr(_DOUBTFUL)}"
        return tr(
            "Calibrations of {reference}: {known}.{doubtful}",
            reference=line.reference,
            known=known,
            doubtful=doubtful,
        )


def _certificates(instrument: Instrument) -> str:
    return " ".join(each.certificate for each in instrument.calibrations)


def _words(calibration: Calibration) -> str:
    number = f" ({calibration.certificate})" if calibration.certificate else ""
    return f"{words.span(calibration.on, calibration.due_on)}{number}"
