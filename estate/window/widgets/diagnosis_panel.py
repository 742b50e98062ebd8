"""What may be wrong at an outlet: causes in order, what bears on each, and the next check."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.domain.diagnosis.diagnose import NOTHING_AMISS, SCALD, Diagnosis, NextCheck, Suspect
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.diagnosis.evidence import Bearing, Evidence
from estate.domain.phrases import together
from estate.errors import KnownFault
from estate.window import words
from estate.window.marks import Mark
from estate.window.sizes import grown
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.entry import NumberField
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import Card, Chip, empty, label

_BEARINGS = {
    Bearing.SEEN: Mark.TARGET,
    Bearing.FOR: Mark.OPEN_WEDGE,
    Bearing.AGAINST: Mark.DASH,
    Bearing.MISSING: Mark.RING,
}
"""In the order in which they are told, with their shapes."""
_NO_PROBABILITY = said("Suggestions from the readings, in order. The order is no probability.")
_HARDNESS_WRONG = said("The hardness is no number of mg/l, 0 or more: what is shown was weighed without it.")


class DiagnosisPanel(QWidget):
    """Shows a `Diagnosed`; asks for it only while it is in sight.

    Attributes:
        asked: (id of the outlet, hardness in mg/l CaCO3 or None): weigh its causes.
    """

    asked = Signal(int, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._outlet_id: int | None = None
        self._stale = False
        self.about_visit = label("", "strong", wraps=True)
        self.hardness = NumberField(tr("Hardness of the water, mg/l CaCO3"))
        self.hardness.setMaximumWidth(grown(90))
        self.hardness.setToolTip(tr("Hard water makes scale likelier. Blank: not known."))
        self.hardness.edited.connect(self._ask)
        self.wrong = label(tr(_HARDNESS_WRONG), "wrong", wraps=True)
        self.wrong.hide()
        self._held = QWidget()
        self._held.setProperty("kind", "page")
        self._held.setMinimumHeight(1)
        self._column = QVBoxLayout(self._held)
        self._column.setContentsMargins(0, 4, 6, 4)
        self._column.setSpacing(10)
        self._lay_out()

    def _lay_out(self) -> None:
        head = Flowing(gap=6)
        for widget in (
            label(tr("Hardness of the water, if known")),
            self.hardness,
            label("mg/l CaCO₃", "muted"),
        ):
            head.addWidget(widget)
        area = in_scroll_area(self._held)
        area.setAccessibleName(tr("Causes, checks and what was not measured"))
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 6)
        column.addWidget(self.about_visit)
        column.addLayout(head)
        column.addWidget(self.wrong)
        column.addWidget(area, 1)
        column.addWidget(label(tr(SCALD), "caution", wraps=True))

    def turn_to(self, outlet_id: int | None) -> None:
        """Turn to an outlet; its causes are asked for now if the panel is in sight, else once it is."""
        if outlet_id != self._outlet_id:
            self.hardness.clear()
            self.about_visit.setText("")
            empty(self._column)
        self._outlet_id, self._stale = outlet_id, True
        if self.isVisible():
            self._ask()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._ask()

    def _ask(self) -> None:
        if self._outlet_id is None:
            return
        self._stale = False
        hardness = self.hardness.value()
        good = self.hardness.readable and (hardness is None or hardness >= 0)
        self.wrong.setVisible(not good)
        self.asked.emit(self._outlet_id, hardness if good else None)

    def tell_why_not(self, fault: KnownFault) -> None:
        """Say why there is nothing to diagnose."""
        empty(self._column)
        self.about_visit.setText(tr(fault.title))
        self._column.addWidget(label(tr(fault.detail), wraps=True))
        self._column.addWidget(label(tr(fault.remedy), wraps=True))
        self._column.addStretch(1)

    def tell(self, found: Diagnosed) -> None:
        """Show what was weighed; of another outlet than the one turned to, nothing."""
        if found.outlet.id != self._outlet_id:
            return
        empty(self._column)
        made = found.diagnosis
        self.about_visit.setText(tr("{valve}; visit of {day}", valve=found.valve, day=words.day(made.on)))
        if made.symptoms:
            self._show(made)
        else:
            self._column.addWidget(label(tr(NOTHING_AMISS), wraps=True))
        for caution in made.cautions:
            if caution != SCALD:
                self._column.addWidget(label(tr(caution), "caution", wraps=True))
        self._column.addStretch(1)

    def _show(self, made: Diagnosis) -> None:
        found = "\n".join(f"•  {words.sentence(tr(each))}" for each in made.symptoms)
        self._column.addWidget(label(found, wraps=True))
        self._column.addWidget(label(tr(_NO_PROBABILITY), "strong", wraps=True))
        left, right = QVBoxLayout(), QVBoxLayout()
        for column, cards in (
            (left, (_causes(made),)),
            (right, (_checks(made), *_wanted(made))),
        ):
            column.setSpacing(10)
            for card in cards:
                column.addWidget(card)
            column.addStretch(1)
        beside = Beside(gap=12)
        for column in (left, right):
            column.setContentsMargins(0, 0, 0, 0)
            held = QWidget()
            held.setLayout(column)
            beside.add(held)
        self._column.addWidget(beside)
        self._column.addWidget(label(tr(made.ordering), "small", wraps=True))


def _causes(made: Diagnosis) -> Card:
    card = Card(tr("Likely causes, in order"))
    for place, suspect in enumerate(made.suspects, start=1):
        card.body.addWidget(
            label(f"{place}.  {words.sentence(tr(suspect.cause.name))}", "strong", wraps=True)
        )
        card.body.addLayout(_evidence(suspect))
    if not made.suspects:
        card.body.addWidget(label(tr("None: nothing that was measured speaks for one."), wraps=True))
    if made.others:
        names = "; ".join(tr(each.cause.name) for each in made.others)
        card.body.addWidget(label(tr("Nothing speaks for: {names}.", names=names), "small", wraps=True))
    return card


def _evidence(suspect: Suspect) -> QGridLayout:
    grid = QGridLayout()
    grid.setContentsMargins(14, 0, 0, 6)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(3)
    grid.setColumnStretch(1, 1)
    widest = max(Chip(mark, tr(bearing.value)).sizeHint().width() for bearing, mark in _BEARINGS.items())
    grid.setColumnMinimumWidth(0, widest)
    for row, (bearing, line, source) in enumerate(_lines(suspect.evidence)):
        grid.addWidget(Chip(_BEARINGS[bearing], tr(bearing.value)), row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(_told(line, source), row, 1)
    return grid


def _lines(evidence: Iterable[Evidence]) -> list[tuple[Bearing, str, str]]:
    """What bears on a cause, in order; measurements that are missing in one line."""
    held = list(evidence)
    lines: list[tuple[Bearing, str, str]] = [
        (bearing, tr(each.words), each.source)
        for bearing in _BEARINGS
        if bearing is not Bearing.MISSING
        for each in held
        if each.bearing is bearing
    ]
    missing = "; ".join(tr(each.words) for each in held if each.bearing is Bearing.MISSING)
    return [*lines, (Bearing.MISSING, words.sentence(missing), "")] if missing else lines


def _told(said: str, source: str) -> QWidget:
    held = QWidget()
    column = QVBoxLayout(held)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(1)
    column.addWidget(_wrapped(said, ""))
    if source:
        column.addWidget(_wrapped(source, "small"))
    return held


def _wrapped(said: str, kind: str) -> QLabel:
    made = label(said, kind, wraps=True)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
    return made


def _checks(made: Diagnosis) -> Card:
    card = Card(tr("Next, in this order"))
    apart = tr("tells the first causes apart") if len(made.suspects) > 1 else tr("points to the only cause")
    for place, check in enumerate(made.checks, start=1):
        if check.tells_apart:
            card.body.addWidget(Chip(Mark.TARGET, apart))
        card.body.addWidget(_check(place, check))
    if not made.checks:
        card.body.addWidget(label(tr("No check is known that would tell more."), wraps=True))
    return card


def _check(place: int, check: NextCheck) -> QWidget:
    held = QWidget()
    column = QVBoxLayout(held)
    column.setContentsMargins(0, 0, 0, 2)
    column.setSpacing(1)
    column.addWidget(_wrapped(f"{place}.  {tr(check.words)}", "strong" if check.tells_apart else ""))
    if check.points_to:
        column.addWidget(
            _wrapped(
                tr(
                    "If {shows}: {points_to}.",
                    shows=check.shows,
                    points_to=together(*check.points_to, between="; "),
                ),
                "",
            )
        )
    column.addWidget(_wrapped(check.source, "small"))
    return held


def _wanted(made: Diagnosis) -> tuple[Card, ...]:
    if not made.wanted:
        return ()
    card = Card(tr("Not measured, and would help"))
    for each in made.wanted:
        card.body.addWidget(
            _told(
                f"•  {words.sentence(tr(each.words))}",
                tr("on: {bears_on}", bears_on=together(*each.bears_on, between="; ")),
            )
        )
    return (card,)
