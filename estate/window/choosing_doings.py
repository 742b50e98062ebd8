"""What the actions about choosing, finding faults and instruments do."""

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.instruments import Instrument
from estate.domain.places import Outlet
from estate.domain.suitability.given import Checked, Given
from estate.errors import EntryFault, NotFoundFault
from estate.window.choosing import Choosing
from estate.window.dialogs.instruments import AddInstrumentDialog, CalibrationDialog
from estate.window.dialogs.suitability import SuitabilityDialog
from estate.window.form_keeping import FormKeeper
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Latest, Tasks
from estate.window.translating import tr
from estate.window.widgets.diagnosis_panel import DiagnosisPanel


class ChoosingDoings:
    """Runs operations about suitability, causes and instruments.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        preferences: whose name is kept.
    """

    def __init__(self, tasks: Tasks, notices: Notices, preferences: Preferences) -> None:
        self._tasks, self._notices, self._preferences = tasks, notices, preferences
        self._diagnosing = Latest(tasks)
        self._forms = FormKeeper(tasks, notices)

    def diagnose(
        self, choosing: Choosing, outlet_id: int, hardness_mg_l: float | None, panel: DiagnosisPanel
    ) -> None:
        """Weigh the causes of what the last visit found, or say why there is nothing to weigh."""

        def weigh() -> Callable[[], None]:
            try:
                found = choosing.diagnose(outlet_id, hardness_mg_l)
            except NotFoundFault as fault:
                why = fault
                return lambda: panel.tell_why_not(why)
            return lambda: panel.tell(found)

        self._diagnosing.run(weigh, lambda show: show())

    def suitability(self, choosing: Choosing, outlet: Outlet | None, parent: QWidget) -> None:
        """Hold an outlet, or figures alone, against the rules while they are typed; nothing is written."""
        dialog = SuitabilityDialog("" if outlet is None else f"{outlet.reference}: {outlet.path}", parent)
        latest = Latest(self._tasks)

        def check(given: Given) -> Checked:
            return choosing.figures(given) if outlet is None else choosing.check(outlet.id, given)

        def ask(given: Given) -> None:
            def work() -> Callable[[], None]:
                try:
                    found = check(given)
                except EntryFault as fault:
                    wrong = fault
                    return lambda: dialog.refuse(wrong)
                return lambda: dialog.tell(found)

            latest.run(work, lambda show: show())

        dialog.asked.connect(ask)
        dialog.finished.connect(lambda result: latest.forget())
        dialog.show_modal()
        if outlet is not None:
            ask(Given())

    def add_instrument(self, choosing: Choosing, today: date, parent: QWidget) -> None:
        """Add an instrument."""
        who = self._preferences.who

        def show(known: tuple[Instrument, ...]) -> None:
            dialog = AddInstrumentDialog(today, [each.reference for each in known], parent)
            dialog.given.connect(
                lambda reference, kind, specification, uncertainty_k, calibration: self._forms.change(
                    dialog,
                    lambda: choosing.add_instrument(
                        reference,
                        kind=kind,
                        specification=specification,
                        standard_uncertainty_k=uncertainty_k,
                        calibration=calibration,
                        who=who,
                    ),
                    tr("{reference} was added.", reference=reference),
                )
            )
            dialog.show_modal()

        self._tasks.run(lambda: tuple(choosing.instruments()), show)

    def add_calibration(
        self, choosing: Choosing, today: date, instrument: Instrument, parent: QWidget
    ) -> None:
        """Add a calibration to an instrument."""
        dialog, who = CalibrationDialog(instrument, today, parent), self._preferences.who
        dialog.given.connect(
            lambda calibration: self._forms.change(
                dialog,
                lambda: choosing.add_calibration(instrument.reference, calibration, who),
                tr("{reference}: a calibration was added.", reference=instrument.reference),
            )
        )
        dialog.show_modal()
