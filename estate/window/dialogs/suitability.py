"""Hold a place, its supplies and a valve against the rules while the figures are typed."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from estate.domain.suitability.check import CAUTIONS
from estate.domain.suitability.given import Checked
from estate.errors import KnownFault
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.conditions_panel import ConditionsPanel
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.survey_form import SurveyForm
from estate.window.widgets.text import label

_PART = 330
_CHOOSE = said("Choose use and users first: without an outlet of the register both have to be known.")
_UNREADABLE = said(
    "Nothing is worked out while this is no number: {fields}. Type it like 41.6, or leave it blank."
)


class SuitabilityDialog(Shell):
    """Checks an outlet, or figures alone before anything is fitted; nothing is written.

    Args:
        place: reference and words of the outlet; empty for figures alone.

    Attributes:
        asked: (given): hold this against the rules; `tell` or `refuse` answers.
    """

    asked = Signal(object)

    def __init__(self, place: str, parent: QWidget | None) -> None:
        super().__init__(tr("Would a valve work there?"), parent)
        self.setMinimumSize(900, 560)
        self.resize(1180, 740)
        self._place, self._filled = place, not place
        self.where = label(place or tr("Figures alone, as for new work"), "strong", wraps=True)
        self.form = SurveyForm()
        self.form.setEnabled(self._filled)
        self.panel = ConditionsPanel()
        self._lay_out()
        self.button(tr("Close"), self.reject)
        self.form.edited.connect(self._on_edited)
        self.panel.say(tr(_CHOOSE) if self._filled else tr("Reading what the register knows…"))
        if self._filled:
            self.form.use.setFocus()

    def _lay_out(self) -> None:
        area = in_scroll_area(self.form)
        area.setAccessibleName(tr("Figures"))
        row = Beside(gap=14, least=_PART)
        row.add(area, 2)
        row.add(self.panel, 3)
        self.body.addWidget(self.where)
        self.body.addWidget(label(tr(CAUTIONS[0]), "caution", wraps=True))
        self.body.addWidget(row, 1)

    def tell(self, found: Checked) -> None:
        """Show what was worked out; the first time also what the register knows."""
        if not self._filled:
            self._filled = True
            self.form.put(found.suitability.survey, found.taken_from)
            self.form.setEnabled(True)
            self.form.use.setFocus()
            place, valve = self._place, found.valve
            known = tr("{place}; valve in place: {valve}", place=place, valve=valve)
            self.where.setText(known if valve else tr("{place}; no valve in place", place=place))
        if not self._why_not():
            self.panel.tell(found)

    def refuse(self, fault: KnownFault) -> None:
        """Say why the figures can't be taken; nothing worked out before stays in sight."""
        self.panel.say(f"{tr(fault.title)}: {tr(fault.detail)} {tr(fault.remedy)}", "wrong")

    def _on_edited(self) -> None:
        why_not = self._why_not()
        if why_not:
            self.panel.say(why_not, "wrong" if self.form.unreadable else "")
        else:
            self.asked.emit(self.form.given())

    def _why_not(self) -> str:
        """Why nothing can be worked out of what stands in the fields; empty where it can."""
        if self.form.unreadable:
            return tr(_UNREADABLE, fields=words.listed(list(self.form.unreadable)))
        given = self.form.given()
        return tr(_CHOOSE) if given.use is None or given.users is None else ""
