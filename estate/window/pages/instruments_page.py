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
from estate.window.widgets.list_page import ListPage

_DOUBTFUL = (
    "A visit read with an instrument out of calibration doesn't count as a test until a person responsible "
    "says why it does (D08-60, D08-71)."
)


def instruments_model(today: Callable[[], date]) -> TableModel[Instrument]:
    """Instruments with the calibration that holds, else the last one."""
    columns: tuple[Column[Instrument], ...] = (
        Column("Reference", lambda row: cells.text(row.reference), "T-1234"),
        Column("State", lambda row: _standing(row, today()), "ends in 60 days", marked=True),
        Column("Kind", lambda row: cells.text(row.kind.value), "measuring vessel"),
        Column("Specification", lambda row: cells.text(row.specification), "type T, 0.1 K", stretches=True),
        Column(
            "Uncertainty\nu (k = 1), K",
            lambda row: cells.figure(row.standard_uncertainty_k, tip="not known"),
            tip="Standard uncertainty in kelvins, k = 1",
        ),
        Column("Calibrated", lambda row: cells.on_day(_day(row, today(), "on")), "25 Nov 2026"),
        Column("Due", lambda row: cells.on_day(_day(row, today(), "due_on")), "25 Nov 2026"),
        Column("Certificate", lambda row: cells.text(_certificate(row, today())), "C-2026-118"),
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
        return Cell("none on record", 1.0, Mark.RING, tip="No calibration is on record")
    if shown.on > today:
        return Cell("not begun", 2.0, Mark.HALF, tip=f"Its calibration begins on {words.day(shown.on)}")
    if not holds(instrument, today):
        return Cell("out of date", 0.0, Mark.WEDGE, tip=f"It ran out on {words.day(shown.due_on)}")
    if ends_soon(instrument, today):
        left = (shown.due_on - today).days
        said = "ends today" if left == 0 else f"ends in {words.count(left, 'day')}"
        return Cell(said, 3.0 + left / 1e6, Mark.OPEN_WEDGE, tip="Have it calibrated before it ends")
    return Cell("in calibration", 4.0, Mark.TICK)


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
            ("Every instrument", lambda row: True),
            ("Without a calibration that holds", lambda row: not holds(row, today())),
            ("Ending soon", lambda row: ends_soon(row, today())),
        )
        super().__init__(
            "Instruments",
            instruments_model(today),
            "Measuring instruments",
            lambda row: f"{row.reference} {row.kind.value} {row.specification} {_certificates(row)}",
            choices,
            "No instrument is in the register yet: what a visit was measured with can't be judged. "
            "Add the first one.",
            parent,
        )
        self._today = today
        self.calibrate = self.button(
            "Add a calibration…",
            "A certificate that the instrument came back with",
            self.calibration_asked.emit,
        )
        self.add = self.button("Add an instrument…", "Something you measure with", always=self.add_asked.emit)

    @override
    def about(self, line: Instrument) -> str:
        newest = sorted(line.calibrations, key=lambda each: each.on, reverse=True)
        known = words.listed([_words(each) for each in newest], 4) or "none on record"
        doubtful = "" if holds(line, self._today()) else f" {_DOUBTFUL}"
        return f"Calibrations of {line.reference}: {known}.{doubtful}"


def _certificates(instrument: Instrument) -> str:
    return " ".join(each.certificate for each in instrument.calibrations)


def _words(calibration: Calibration) -> str:
    number = f" ({calibration.certificate})" if calibration.certificate else ""
    return f"{words.span(calibration.on, calibration.due_on)}{number}"
