"""What the actions about work do: steps of actions, outlets out of use and back, certificates."""

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.changes import ChangeSet
from estate.domain.findings import Severity
from estate.domain.life.actions import Step as ActionStep
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.domain.valves import Valve
from estate.window import words
from estate.window.desk import Desk
from estate.window.dialogs.action_step import ActionStepDialog, OpenActionDialog, OutletUseDialog
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.entry import WordsDialog
from estate.window.dialogs.replace_valve import ReplaceValveDialog
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.notices import Notices
from estate.window.paper_doings import PaperDoings
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import said, tr
from estate.window.undoing import Step
from estate.window.ways_back_in_work import Moved, Used, WorkWaysBack

_KEPT = said("The reason stays with the finding; make the visit void or correct it where it was wrong.")
_FITTED = said("Each body keeps its history: where it was recorded wrongly, replace the valve once more.")
_IN_DOUBT = said(
    "Its instrument was out of calibration, so its readings are in doubt and it is no retest. Say why they "
    "hold all the same, for example how the instrument was compared. Your name and reason stay with the "
    "finding."
)


class WorkDoings:
    """Runs operations about actions and outlets' use.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and shown.
        preferences: whose name is kept.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks, self._preferences = tasks, preferences
        self._forms = FormKeeper(tasks, notices)
        self._papers = PaperDoings(tasks, notices, asking)

    def step(self, desk: Desk, line: ActionLine, step: ActionStep, parent: QWidget) -> None:
        """Take an action one step on."""

        def show(people: tuple[str, ...]) -> None:
            dialog = ActionStepDialog(line, step, desk.today, people, parent)
            ways = WorkWaysBack(desk, self._who)
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
                    tr("{reference}: action {step}.", reference=line.outlet.reference, step=tr(step.value)),
                    ways.moved(line, Moved(step, why, owner, target)),
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
            ways = WorkWaysBack(desk, self._who)
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
                    f"{outlet.reference}: {tr(step.value)}.",
                    ways.used(Used(outlet, step, on, why, told, sign)),
                )
            )
            dialog.show_modal()

        self._tasks.run(lambda: (desk.work.outlet_life(outlet.id), tuple(desk.people())), show)

    def open(self, desk: Desk, outlet: Outlet, parent: QWidget) -> None:
        """Open an action that no finding asks for."""

        def show(people: tuple[str, ...]) -> None:
            dialog = OpenActionDialog(outlet.reference, desk.today, people, parent)
            ways, who = WorkWaysBack(desk, self._who), self._preferences.who

            def keep(words: str, severity: Severity, retest: bool, owner: str, on: date) -> None:
                def work(seen: Against) -> tuple[ChangeSet, Step]:
                    known = {each.action.id for each in desk.work.outlet_life(outlet.id).actions}
                    changes = desk.work.open(
                        outlet.id,
                        words=words,
                        severity=severity,
                        asks_retest=retest,
                        owner=owner,
                        on=on,
                        who=who,
                    )
                    now = [each.action for each in desk.work.outlet_life(outlet.id).actions]
                    mine = [each for each in now if each.id not in known and each.opening.words == words]
                    return changes, ways.opened(outlet, mine[0] if len(mine) == 1 else None)

                def done(kept: tuple[ChangeSet, Step]) -> None:
                    told = tr("{reference}: an action was opened.", reference=outlet.reference)
                    self._forms.told(told, kept[1])(kept[0])

                self._forms.keep(dialog, Given(work, done, {}))

            dialog.given.connect(keep)
            dialog.show_modal()

        self._with_people(desk, show)

    def justify(self, desk: Desk, line: HistoryLine, parent: QWidget) -> None:
        """Say why a visit counts though its instrument was out of date."""
        dialog = WordsDialog(
            tr("Why does this visit count?"), tr(_IN_DOUBT), tr("Reason"), "", tr("Let it count"), parent
        )
        dialog.stays = True
        dialog.given.connect(
            lambda why: self._forms.change(
                dialog,
                lambda: desk.work.justify(line.visit.id, why, self._preferences.who),
                tr("The visit of {day} counts: {why}", day=words.day(line.visit.on), why=why),
                Step(desk, tr("let a visit count"), tr(_KEPT)),
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
                tr(
                    "{reference}: the valve was replaced; commission the new one before use.",
                    reference=outlet.reference,
                ),
                Step(desk, tr("replace the valve at {reference}", reference=outlet.reference), tr(_FITTED)),
            )
        )
        dialog.show_modal()

    def _who(self) -> str:
        return self._preferences.who

    def write_actions(self, desk: Desk, parent: QWidget) -> None:
        """Show the list of open actions as it comes on paper."""
        name = tr("open actions {today:%Y-%m-%d}", today=desk.today)
        self._papers.show(tr("list of open actions"), name, desk.work.write_actions, parent)

    def write_certificate(self, desk: Desk, line: HistoryLine, reference: str, parent: QWidget) -> None:
        """Show the certificate of a visit as it comes on paper."""
        name = f"{reference.replace('/', '-')} {line.visit.draft.kind.value} {line.visit.on:%Y-%m-%d}"
        self._papers.show(
            tr("certificate of {reference}", reference=reference),
            name,
            lambda to, progress: desk.work.write_certificate(line.visit.id, to, progress),
            parent,
        )

    def _with_people(self, desk: Desk, then: Callable[[tuple[str, ...]], None]) -> None:
        self._tasks.run(lambda: tuple(desk.people()), then)
