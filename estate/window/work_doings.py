"""What the actions about work do: steps of actions, outlets out of use and back, certificates."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.domain.progress import Progress
from estate.domain.valves import Valve
from estate.window import words
from estate.window.desk import Desk
from estate.window.dialogs.action_step import ActionStepDialog, OpenActionDialog, OutletUseDialog
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.entry import WordsDialog
from estate.window.dialogs.replace_valve import ReplaceValveDialog
from estate.window.form_keeping import FormKeeper
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks

_IN_DOUBT = (
    "Its instrument was out of calibration, so its readings are in doubt and it is no retest. Say why they "
    "hold all the same, for example how the instrument was compared. Your name and reason stay with the "
    "finding."
)
_REPORTS = "PDF (*.pdf);;Spreadsheet (*.xlsx)"


class WorkDoings:
    """Runs operations about actions and outlets' use.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and shown.
        preferences: whose name is kept.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks, self._notices = tasks, notices
        self._asking, self._preferences = asking, preferences
        self._forms = FormKeeper(tasks, notices)

    def step(self, desk: Desk, line: ActionLine, step: Step, parent: QWidget) -> None:
        """Take an action one step on."""

        def show(people: tuple[str, ...]) -> None:
            dialog = ActionStepDialog(line, step, desk.today, people, parent)
            dialog.given.connect(
                lambda on, why, owner, target: self._forms.change(
                    dialog,
                    lambda: desk.work.move(
                        line.action.id,
                        step,
                        on=on,
                        why=why,
                        owner=owner,
                        target_on=target,
                        who=self._preferences.who,
                    ),
                    f"{line.outlet.reference}: action {step.value}.",
                )
            )
            dialog.show_modal()

        self._with_people(desk, show)

    def use(self, desk: Desk, outlet: Outlet, step: UseStep, parent: QWidget) -> None:
        """Change whether people draw water at an outlet."""

        def show(known: tuple[OutletLife, tuple[str, ...]]) -> None:
            life, people = known
            refused = life.refused if step is UseStep.PUT_BACK else ""
            dialog = OutletUseDialog(outlet.reference, step, desk.today, refused, people, parent)
            dialog.given.connect(
                lambda on, why, told, sign: self._forms.change(
                    dialog,
                    lambda: desk.work.use(
                        outlet.id,
                        step,
                        on=on,
                        why=why,
                        who_told=told,
                        sign_placed=sign,
                        who=self._preferences.who,
                    ),
                    f"{outlet.reference}: {step.value}.",
                )
            )
            dialog.show_modal()

        self._tasks.run(lambda: (desk.work.outlet_life(outlet.id), tuple(desk.people())), show)

    def open(self, desk: Desk, outlet: Outlet, parent: QWidget) -> None:
        """Open an action that no finding asks for."""

        def show(people: tuple[str, ...]) -> None:
            dialog = OpenActionDialog(outlet.reference, desk.today, people, parent)
            dialog.given.connect(
                lambda said, severity, retest, owner, on: self._forms.change(
                    dialog,
                    lambda: desk.work.open(
                        outlet.id,
                        words=said,
                        severity=severity,
                        asks_retest=retest,
                        owner=owner,
                        on=on,
                        who=self._preferences.who,
                    ),
                    f"{outlet.reference}: an action was opened.",
                )
            )
            dialog.show_modal()

        self._with_people(desk, show)

    def justify(self, desk: Desk, line: HistoryLine, parent: QWidget) -> None:
        """Say why a visit counts though its instrument was out of date."""
        dialog = WordsDialog("Why does this visit count?", _IN_DOUBT, "Reason", "", "Let it count", parent)
        dialog.stays = True
        dialog.given.connect(
            lambda why: self._forms.change(
                dialog,
                lambda: desk.work.justify(line.visit.id, why, self._preferences.who),
                f"The visit of {words.day(line.visit.on)} counts: {why}",
            )
        )
        dialog.show_modal()

    def replace(self, desk: Desk, outlet: Outlet, old: Valve, parent: QWidget) -> None:
        """Fit another body in the place of the one that is there."""
        dialog = ReplaceValveDialog(outlet.reference, old, desk.today, parent)
        dialog.given.connect(
            lambda body, on: self._forms.change(
                dialog,
                lambda: desk.work.replace(outlet.id, body, on=on, who=self._preferences.who),
                f"{outlet.reference}: the valve was replaced; commission the new one before use.",
            )
        )
        dialog.show_modal()

    def write_actions(self, desk: Desk, parent: QWidget) -> None:
        """Write the list of open actions where the person says."""
        self._write(f"open actions {desk.today:%Y-%m-%d}", desk.work.write_actions, parent)

    def write_certificate(self, desk: Desk, line: HistoryLine, reference: str, parent: QWidget) -> None:
        """Write the certificate of a visit where the person says."""
        name = f"{reference.replace('/', '-')} {line.visit.draft.kind.value} {line.visit.on:%Y-%m-%d}"
        self._write(
            name, lambda to, progress: desk.work.write_certificate(line.visit.id, to, progress), parent
        )

    def _write(self, name: str, write: Callable[[Path, Progress], Path], parent: QWidget) -> None:
        to = self._asking.file_to_write(f"Write {name}", f"{name}.pdf", _REPORTS, parent)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(f"Written: {path}")
            self._asking.show_file(path)

        self._tasks.run_long(f"Writing {name}", lambda progress: write(to, progress), done)

    def _with_people(self, desk: Desk, then: Callable[[tuple[str, ...]], None]) -> None:
        self._tasks.run(lambda: tuple(desk.people()), then)
