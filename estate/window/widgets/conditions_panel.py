"""What a check of suitability came to: conditions, what would mend them, what would fit, and the swings."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from estate.domain.suitability.check import CAUTIONS, Suitability
from estate.domain.suitability.conditions import Condition, Held
from estate.domain.suitability.given import Checked
from estate.domain.suitability.swings import SOURCE, Swing, Swings
from estate.window.marks import Mark
from estate.window.translating import said, tr
from estate.window.widgets.text import Card, Chip, empty, label

OF_HELD = {Held.FAILS: Mark.WEDGE, Held.UNTOLD: Mark.HALF, Held.HOLDS: Mark.TICK}
"""What each end of a condition looks like, in the order in which they are told."""
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_TOP = Qt.AlignmentFlag.AlignTop
_NO_SWINGS = said(
    "It can't be told how a mixer without thermostat would swing here: measure both supply temperatures; "
    "the wanted one must lie between them."
)


class ConditionsPanel(QScrollArea):
    """Shows a `Checked`; the first of its cautions is to stand above the panel, always in sight."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(tr("What holds and what fails"))
        held = QWidget()
        held.setProperty("kind", "page")
        held.setMinimumHeight(1)
        self._column = QVBoxLayout(held)
        self._column.setContentsMargins(0, 0, 8, 0)
        self._column.setSpacing(8)
        self.setWidget(held)

    def tell(self, found: Checked) -> None:
        """Show what was worked out; the place scrolled to is kept."""
        at = self.verticalScrollBar().value()
        made = found.suitability
        self._fill(
            (
                _counts(made),
                _wrapped(tr(made.checked_for), "small"),
                _conditions(made),
                _fits(made),
                _swings(made.swings),
                *(_wrapped(tr(each), "caution") for each in made.cautions if each != CAUTIONS[0]),
            )
        )
        self.verticalScrollBar().setValue(at)

    def say(self, why: str, kind: str = "") -> None:
        """Say why nothing was worked out."""
        self._fill((_wrapped(why, kind),))

    def _fill(self, widgets: tuple[QWidget, ...]) -> None:
        empty(self._column)
        for widget in widgets:
            self._column.addWidget(widget)
        self._column.addStretch(1)


def _wrapped(said: str, kind: str = "") -> QLabel:
    made = label(said, kind, wraps=True)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
    return made


def _right(said: str, kind: str = "") -> QLabel:
    made = label(said, kind)
    made.setAlignment(_RIGHT)
    return made


def _counts(made: Suitability) -> QWidget:
    held = QWidget()
    row = QHBoxLayout(held)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(8)
    for end, mark in OF_HELD.items():
        row.addWidget(Chip(mark, f"{len(made.of(end))} {_said(end, len(made.of(end)))}"))
    row.addStretch(1)
    return held


_SEVERAL = {Held.FAILS: said("fail"), Held.HOLDS: said("hold")}


def _said(end: Held, count: int) -> str:
    if end is Held.UNTOLD or count == 1:
        return tr(end.value)
    return tr(_SEVERAL[end])


def _grid(stretch: int) -> tuple[QWidget, QGridLayout]:
    held = QWidget()
    grid = QGridLayout(held)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(10)
    grid.setVerticalSpacing(3)
    grid.setColumnStretch(stretch, 1)
    return held, grid


def _conditions(made: Suitability) -> QWidget:
    held, grid = _grid(1)
    for column, heading in enumerate(("", tr("Condition"), tr("Figure"), tr("Limit"), tr("Margin"))):
        grid.addWidget((_right if column > 1 else label)(heading, "muted"), 0, column)
    row = 1
    for end in OF_HELD:
        for each in made.of(end):
            _line(grid, row, each)
            row += 2
    return held


def _line(grid: QGridLayout, row: int, made: Condition) -> None:
    chip = Chip(OF_HELD[made.held], tr(made.held.value))
    chip.setAccessibleName(f"{tr(made.held.value)}: {tr(made.name)}")
    grid.addWidget(chip, row, 0, _TOP)
    grid.addWidget(_wrapped(tr(made.name), "strong"), row, 1)
    margin = "" if made.margin is None else f"{made.margin:+.3g}"
    for column, figure in enumerate((made.value_words, made.limit_words, margin), start=2):
        grid.addWidget(_right(tr(figure)), row, column)
    below = QWidget()
    column_ = QVBoxLayout(below)
    column_.setContentsMargins(0, 0, 0, 6)
    column_.setSpacing(1)
    start = said("To mend: {what}") if made.held is Held.FAILS else said("To tell: {what}")
    for line, kind in (
        (tr(made.words), ""),
        *((tr(start, what=each), "") for each in made.mend),
        (made.rests_on, "small"),
    ):
        if line:
            column_.addWidget(_wrapped(line, kind))
    grid.addWidget(below, row + 1, 1, 1, 4)


def _fits(made: Suitability) -> Card:
    card = Card(tr("What these supplies would fit"))
    held, grid = _grid(1)
    for row, each in enumerate(made.fits):
        below = tr("(below the class its users need)") if each.enough is False else ""
        grid.addWidget(Chip(OF_HELD[each.held], tr(each.held.value)), row, 0, _TOP)
        grid.addWidget(
            _wrapped(f"{tr(each.words)} {below}".rstrip() + f"{': ' if each.why else ''}{tr(each.why)}"),
            row,
            1,
        )
    card.body.addWidget(held if made.fits else _wrapped(tr("The rule set publishes no conditions of use.")))
    return card


def _swings(made: Swings | None) -> Card:
    card = Card(tr("Why there is a thermostat"))
    if made is None:
        card.body.addWidget(_wrapped(tr(_NO_SWINGS)))
        return card
    equal = "" if made.measured else tr("Pressures under flow were not measured and are taken as equal.")
    start = tr(
        "A mixer without thermostat, set to {wanted_c:.4g} °C with these supplies, would give:",
        wanted_c=made.wanted_c,
    )
    card.body.addWidget(_wrapped(f"{start} {equal}".rstrip()))
    held, grid = _grid(3)
    for column, heading in enumerate((tr("Change"), tr("It would give"), tr("Moved by"), "")):
        grid.addWidget((_right if column in (1, 2) else label)(heading, "muted"), 0, column)
    for row, each in enumerate(made.swings, start=1):
        _swing(grid, row, each)
    card.body.addWidget(held)
    hottest = max(made.swings, key=lambda each: each.mixed_c)
    if hottest.burn:
        card.body.addWidget(_wrapped(tr(hottest.burn), "small"))
    card.body.addWidget(
        _wrapped(tr("That is what the thermostat has to cancel. {source}", source=tr(SOURCE)), "small")
    )
    return card


def _swing(grid: QGridLayout, row: int, made: Swing) -> None:
    grid.addWidget(label(tr(made.change)), row, 0)
    grid.addWidget(_right(f"{made.mixed_c:.1f} °C"), row, 1)
    grid.addWidget(_right(f"{made.moved_k:+.1f} K"), row, 2)
    if made.above_ceiling:
        grid.addWidget(Chip(Mark.WEDGE, tr("above the ceiling")), row, 3)
    else:
        below = tr("the rules name no ceiling") if made.above_ceiling is None else tr("not above the ceiling")
        grid.addWidget(label(below, "muted"), row, 3)
