"""Hold a place, its supplies and a valve against the rules while the figures are typed."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QWidget

from estate.domain.suitability.check import CAUTIONS
from estate.domain.suitability.given import Checked
from estate.errors import KnownFault
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.widgets.conditions_panel import ConditionsPanel
from estate.window.widgets.survey_form import SurveyForm
from estate.window.widgets.text import label

_CHOOSE = "Choose use and users first: without an outlet of the register both have to be known."
_UNREADABLE = "Nothing is worked out while this is no number: {}. Type it like 41.6, or leave it blank."


class SuitabilityDialog(Shell):
    """Checks an outlet, or figures alone before anything is fitted; nothing is written.

    Args:
        place: reference and words of the outlet; empty for figures alone.

    Attributes:
        asked: (given): hold this against the rules; `tell` or `refuse` answers.
    """

    asked = Signal(object)

    def __init__(self, place: str, parent: QWidget | None) -> None:
        super().__init__("Would a valve work there?", parent)
        self.setMinimumSize(900, 560)
        self.resize(1180, 740)
        self._place, self._filled = place, not place
        self.where = label(place or "Figures alone, as for new work", "strong", wraps=True)
        self.form = SurveyForm()
        self.form.setEnabled(self._filled)
        self.panel = ConditionsPanel()
        self._lay_out()
        self.button("Close", self.reject)
        self.form.edited.connect(self._on_edited)
        self.panel.say(_CHOOSE if self._filled else "Reading what the register knows…")

    def _lay_out(self) -> None:
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName("Figures")
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(self.form)
        area.setFixedWidth(self.form.minimumSizeHint().width() + area.verticalScrollBar().sizeHint().width())
        row = QHBoxLayout()
        row.setSpacing(14)
        row.addWidget(area)
        row.addWidget(self.panel, 1)
        self.body.addWidget(self.where)
        self.body.addWidget(label(CAUTIONS[0], "caution", wraps=True))
        self.body.addLayout(row, 1)

    def tell(self, found: Checked) -> None:
        """Show what was worked out; the first time also what the register knows."""
        if not self._filled:
            self._filled = True
            self.form.put(found.suitability.survey, found.taken_from)
            self.form.setEnabled(True)
            self.form.use.setFocus()
            valve = f"; valve in place: {found.valve}" if found.valve else "; no valve in place"
            self.where.setText(f"{self._place}{valve}")
        if not self._why_not():
            self.panel.tell(found)

    def refuse(self, fault: KnownFault) -> None:
        """Say why the figures can't be taken; nothing worked out before stays in sight."""
        self.panel.say(f"{fault.title}: {fault.detail} {fault.remedy}", "wrong")

    def _on_edited(self) -> None:
        why_not = self._why_not()
        if why_not:
            self.panel.say(why_not, "wrong" if self.form.unreadable else "")
        else:
            self.asked.emit(self.form.given())

    def _why_not(self) -> str:
        """Why nothing can be worked out of what stands in the fields; empty where it can."""
        if self.form.unreadable:
            return _UNREADABLE.format(words.listed(list(self.form.unreadable)))
        given = self.form.given()
        return _CHOOSE if given.use is None or given.users is None else ""
