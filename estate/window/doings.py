"""What the actions do: each opens its dialog, runs its operation, and announces the change set."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.changes import ChangeSet
from estate.domain.instruments import Instrument
from estate.domain.layouts import Layout, SheetKind
from estate.domain.preview import PolicyPreview
from estate.domain.progress import Progress
from estate.domain.questions import Answer
from estate.domain.register import Batch
from estate.domain.rules.values import RuleSet
from estate.domain.visits import VisitDraft
from estate.errors import KnownFault
from estate.window import words
from estate.window.desk import Brought, Desk, Doors, Looked, Proposal, Recorded
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.entry import VoidDialog, estate_dialog, name_dialog, undo_dialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.record_visit import RecordVisitDialog, background_of, usual_kind
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Latest, Tasks
from estate.window.widgets.drift_panel import DriftPanel

_REPORTS = "PDF (*.pdf);;Spreadsheet (*.xlsx)"
_REGISTERS = "Registers (*.db);;All files (*)"
_SHEETS = "Sheets (*.xlsx *.xlsm *.xls *.xlsb *.ods *.csv *.tsv *.txt);;All files (*)"
_MARKED = "Spreadsheet (*.xlsx)"
Writer = Callable[[Path, Progress], Path]


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet to be read, and how."""

    path: Path
    kind: SheetKind | None
    layout: Layout | None
    answers: tuple[Answer, ...]


class Doings:
    """Runs operations for the person at the window.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and shown.
        preferences: whose name is kept beside entries.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences

    def record(self, desk: Desk, page: OutletPage, parent: QWidget) -> None:
        """Record a visit to an outlet."""
        self._with_known(desk, lambda *known: self._open_form(desk, page, None, known, parent))

    def correct(self, desk: Desk, page: OutletPage, line: HistoryLine, parent: QWidget) -> None:
        """Correct an entry by a further one."""
        self._with_known(desk, lambda *known: self._open_form(desk, page, line, known, parent))

    def _with_known(
        self, desk: Desk, then: Callable[[tuple[str, ...], tuple[Instrument, ...]], None]
    ) -> None:
        self._tasks.run(lambda: (tuple(desk.people()), tuple(desk.instruments())), lambda known: then(*known))

    def _open_form(
        self,
        desk: Desk,
        page: OutletPage,
        line: HistoryLine | None,
        known: tuple[tuple[str, ...], tuple[Instrument, ...]],
        parent: QWidget,
    ) -> None:
        background = background_of(page, known[0], known[1], line)
        without = line.visit.id if line is not None else None
        dialog = RecordVisitDialog(
            page,
            background,
            line.visit.draft if line is not None else self._blank(desk, page),
            lambda draft: desk.judge(draft, without),
            Latest(self._tasks),
            _form_title(line),
            parent,
        )
        dialog.confirmed.connect(lambda draft: self._enter(desk, draft, without, dialog))
        dialog.show_modal()

    def _blank(self, desk: Desk, page: OutletPage) -> VisitDraft:
        last = next((line.visit.draft for line in page.history if line.visit.counts), None)
        return VisitDraft(
            valve_id=page.valve.id if page.valve is not None else 0,
            outlet_id=page.outlet.id,
            kind=usual_kind(page),
            on=desk.today,
            person=self._preferences.who,
            instrument_id=last.instrument_id if last is not None else None,
        )

    def _enter(self, desk: Desk, draft: VisitDraft, without: int | None, dialog: RecordVisitDialog) -> None:
        who = self._preferences.who

        def work() -> Recorded:
            return desk.record(draft, who) if without is None else desk.correct(without, draft, who)

        def failed(error: BaseException) -> None:
            dialog.refused()
            self._notices.report(error)

        self._tasks.run(work, lambda recorded: self._entered(recorded, dialog), failed)

    def _entered(self, recorded: Recorded, dialog: RecordVisitDialog) -> None:
        dialog.accept()
        self._notices.announce(recorded.changes)
        draft = recorded.visit.draft
        verdict = recorded.judgement.verdict.value
        self._notices.say(f"Recorded: {draft.kind.value} of {words.day(draft.on)}, {verdict}.")

    def void(self, desk: Desk, line: HistoryLine, parent: QWidget) -> None:
        """Make an entry void, with a reason."""
        dialog = VoidDialog(line, parent)
        who = self._preferences.who
        dialog.given.connect(
            lambda reason: self._change(
                lambda: desk.void(line.visit.id, reason, who),
                f"Void: {line.visit.draft.kind.value} of {words.day(line.visit.on)}. It stays on record.",
            )
        )
        dialog.show_modal()

    def _change(self, work: Callable[[], ChangeSet], said: str) -> None:
        def done(changes: ChangeSet) -> None:
            self._notices.announce(changes)
            self._notices.say(said)

        self._tasks.run(work, done)

    def bring_in(self, desk: Desk, path: Path | None, parent: QWidget) -> None:
        """Bring in a sheet, one already chosen or one to be chosen."""
        dialog = BringInDialog(lambda: self._asking.file_to_open("Choose a sheet", _SHEETS, parent), parent)
        dialog.look_asked.connect(
            lambda sheet, kind, layout, answers: self._look(
                desk, _Sheet(sheet, kind, layout, answers), dialog
            )
        )
        dialog.commit_asked.connect(
            lambda proposal, name, sender: self._commit(desk, proposal, (name, sender), dialog)
        )
        dialog.marked_asked.connect(lambda proposal: self._write_marked(desk, proposal, dialog))
        dialog.show_modal()
        if path is not None:
            dialog.bring(path)

    def finish_batch(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Answer what was left open of a batch, and take more of its rows."""
        dialog = BringInDialog(lambda: None, parent)
        dialog.finish(batch.file)

        def look(layout: Layout | None, answers: tuple[Answer, ...]) -> None:
            def work(progress: Progress) -> Looked:
                proposal = desk.look_again(batch.id, progress, layout, answers)
                return Looked(proposal, desk.fields(proposal.reading.kind), desk.shown(proposal))

            self._tasks.run_long(f"Reading {batch.file}", work, dialog.show_proposal, began=dialog.follow)

        dialog.look_asked.connect(lambda path, kind, layout, answers: look(layout, answers))
        dialog.commit_asked.connect(
            lambda proposal, name, sender: self._commit(desk, proposal, (name, sender), dialog)
        )
        dialog.marked_asked.connect(lambda proposal: self._write_marked(desk, proposal, dialog))
        dialog.show_modal()
        look(None, ())

    def undo_batch(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Undo a batch whole, with a reason."""
        dialog = undo_dialog(batch, parent)
        who = self._preferences.who
        dialog.given.connect(
            lambda why: self._change(
                lambda: desk.undo_batch(batch.id, who, why),
                f"Undone: {batch.file}. The file and what was in it stay on record.",
            )
        )
        dialog.show_modal()

    def save_batch_file(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Save the file of a batch as it came."""
        to = self._asking.file_to_write("Save the file as it came", batch.file, "All files (*)", parent)
        if to is None:
            return

        def work() -> Path:
            to.write_bytes(desk.batch_file(batch.id))
            return to

        self._tasks.run(work, lambda path: self._notices.say(f"Written: {path}"))

    def write_round_sheet(self, desk: Desk, weeks: int, parent: QWidget) -> None:
        """Write a blank round sheet where the person says, then open it."""
        name = f"round sheet {desk.today:%Y-%m-%d}.xlsx"
        title = f"Write a round sheet of what is due within {words.count(weeks, 'week')}"
        to = self._asking.file_to_write(title, name, _MARKED, parent)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(f"Written: {path}")
            self._asking.show_file(path)

        self._tasks.run_long(
            "Writing a round sheet", lambda progress: desk.write_round_sheet(to, weeks, progress), done
        )

    def _look(self, desk: Desk, sheet: _Sheet, dialog: BringInDialog) -> None:
        def work(progress: Progress) -> Looked:
            proposal = desk.look(sheet.path, sheet.kind, progress, sheet.layout, sheet.answers)
            return Looked(proposal, desk.fields(proposal.reading.kind), desk.shown(proposal))

        self._tasks.run_long(
            f"Reading {sheet.path.name}",
            work,
            dialog.show_proposal,
            began=dialog.follow,
        )

    def _write_marked(self, desk: Desk, proposal: Proposal, dialog: BringInDialog) -> None:
        name = f"{Path(proposal.reading.file).stem} questions.xlsx"
        to = self._asking.file_to_write("Write the questions back", name, _MARKED, dialog)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(f"Written: {path}")
            self._asking.show_file(path)

        self._tasks.run_long(
            "Writing the questions back",
            lambda progress: desk.write_marked(proposal, to, progress),
            done,
            began=dialog.follow,
        )

    def _commit(
        self, desk: Desk, proposal: Proposal, remembered: tuple[str, str], dialog: BringInDialog
    ) -> None:
        who = self._preferences.who

        def work(progress: Progress) -> Brought:
            return desk.commit(proposal, who, progress, *remembered)

        def done(brought: Brought) -> None:
            dialog.show_brought(brought)
            self._notices.announce(brought.changes)
            self._notices.say(f"{words.count(brought.accepted, 'row')} of {proposal.reading.file} taken.")

        self._tasks.run_long(f"Taking {proposal.reading.file}", work, done, began=dialog.follow)

    def write_report(self, name: str, write: Writer, today: date, parent: QWidget) -> None:
        """Write a report where the person says, then open it."""
        usual = f"{name} {today:%Y-%m-%d}.pdf"
        to = self._asking.file_to_write(f"Write the {name}", usual, _REPORTS, parent)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(f"Written: {path}")
            self._asking.show_file(path)

        self._tasks.run_long(f"Writing the {name}", lambda progress: write(to, progress), done)

    def print_chart(self, panel: DriftPanel, parent: QWidget) -> None:
        """Print the chart of the outlet shown, with what has been learned of it."""
        from estate.window.widgets.drift_paper import lie_flat, print_course  # noqa: PLC0415 - printing is rare

        course = panel.chart.course
        if course is None:
            return
        printer = self._asking.printer(lambda made: lie_flat(made, course.reference), parent)
        if printer is None:
            return
        try:
            print_course(printer, course, panel.told, panel.font(), panel.years)
        except KnownFault as fault:
            self._notices.report(fault)
        else:
            self._notices.say(f"The chart of {course.reference} was sent to the printer.")

    def override(self, desk: Desk, rules: RuleSet, key: str, parent: QWidget) -> None:
        """Put the site's own value in place of a published one."""
        value = rules.get(key)
        if value is None:
            return
        dialog = OverrideDialog(value, parent)
        who = self._preferences.who
        dialog.given.connect(
            lambda given, why: self._change(
                lambda: desk.override(rules.id, key, "estate", given, who=who, why=why),
                f"{key} is changed for the estate; the last visits were judged again.",
            )
        )
        latest = Latest(self._tasks)

        def work(tried: float | str | None) -> PolicyPreview | KnownFault:
            try:
                return desk.preview(key, "estate", tried)
            except KnownFault as fault:
                return fault

        dialog.tried.connect(
            lambda tried: latest.run(lambda: work(tried), dialog.show_outcome, dialog.stop_trying)
        )
        dialog.overtaken.connect(latest.forget)
        dialog.show_modal()

    def ask_name(self, parent: QWidget) -> None:
        """Ask for the name kept beside entries."""
        dialog = name_dialog(self._preferences.who, parent)
        dialog.given.connect(lambda name: self._preferences.change(who=name))
        dialog.show_modal()

    def make_register(self, doors: Doors, then: Callable[[Desk], None], parent: QWidget) -> None:
        """Make an empty register for an estate."""
        dialog = estate_dialog(parent)

        def make(name: str) -> None:
            path = self._asking.file_to_write("New register", f"{name}.db", _REGISTERS, parent)
            if path is not None:
                self._tasks.run(lambda: doors.make(path, name, self._preferences.who), then)

        dialog.given.connect(make)
        dialog.show_modal()

    def choose_register(self, then: Callable[[str], None], parent: QWidget) -> None:
        """Ask which register to open."""
        path = self._asking.file_to_open("Open a register", _REGISTERS, parent)
        if path is not None:
            then(str(path))


def _form_title(line: HistoryLine | None) -> str:
    return "Record a visit" if line is None else f"Correct the entry of {words.day(line.visit.on)}"
