"""What the actions do: each opens its dialog, runs its operation, and announces the change set."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.conflicts import Seen, draft_words
from estate.domain.due import DueLine
from estate.domain.instruments import Instrument
from estate.domain.route import next_on_route
from estate.domain.visits import VisitDraft
from estate.errors import KnownFault
from estate.window import words
from estate.window.desk import Desk, Doors, Recorded
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.connecting import ConnectingDialog
from estate.window.dialogs.entry import VoidDialog, estate_dialog, name_dialog
from estate.window.dialogs.record_visit import RecordVisitDialog, background_of, usual_kind
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.notices import Notices
from estate.window.paper_doings import PaperDoings, Writer
from estate.window.preferences import Preferences
from estate.window.rule_doings import RuleDoings
from estate.window.tasks import Latest, Tasks
from estate.window.translating import said, tr
from estate.window.ways_back import WaysBack
from estate.window.widgets.drift_panel import DriftPanel

_REGISTERS = said("Registers (*.db);;All files (*)")


@dataclass(frozen=True)
class Walk:
    """The walk from valve to valve.

    Attributes:
        lines: every valve, in walking order.
        show: shows an outlet by its id.
        person, instrument_id: who tests and with what, once that is known.
    """

    lines: Sequence[DueLine]
    show: Callable[[int], None]
    person: str = ""
    instrument_id: int | None = None


class Doings:
    """Runs operations for the person at the window.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and shown.
        preferences: whose name is kept beside entries.

    Attributes:
        rules: what is done about the rules.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._forms = FormKeeper(tasks, notices)
        self.rules = RuleDoings(tasks, notices, preferences)
        self._papers = PaperDoings(tasks, notices, asking)

    def record(self, desk: Desk, page: OutletPage, parent: QWidget, walk: Walk | None = None) -> None:
        """Record a visit to an outlet; on a walk, go on to the next."""
        self._with_known(desk, lambda *known: self._open_form(desk, page, None, known, parent, walk))

    def _walk_on(self, desk: Desk, line: DueLine, walk: Walk, draft: VisitDraft, parent: QWidget) -> None:
        """Open the form of the next outlet, with the tester and the instrument in hand."""

        def show(page: OutletPage) -> None:
            walk.show(line.outlet_id)
            further = replace(walk, person=draft.person, instrument_id=draft.instrument_id)
            self.record(desk, page, parent, further)

        self._tasks.run(lambda: desk.outlet_page(line.outlet_id), show)

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
        walk: Walk | None = None,
    ) -> None:
        then = None
        if walk is not None and page.valve is not None:
            then = next_on_route(walk.lines, page.valve.id)
        background = background_of(page, known[0], known[1], line)
        without = line.visit.id if line is not None else None
        dialog = RecordVisitDialog(
            page,
            background,
            line.visit.draft if line is not None else self._blank(desk, page, walk),
            lambda draft: desk.judge(draft, without),
            Latest(self._tasks),
            _form_title(line),
            parent,
            corrects=line is not None,
            then="" if then is None else then.ref,
        )

        def confirmed(draft: VisitDraft) -> None:
            def go_on() -> None:
                if dialog.walks_on and then is not None and walk is not None:
                    self._walk_on(desk, then, walk, draft, parent)

            self._enter(desk, page, draft, line, dialog, go_on)

        dialog.confirmed.connect(confirmed)
        dialog.show_modal()

    def _blank(self, desk: Desk, page: OutletPage, walk: Walk | None) -> VisitDraft:
        last = next((line.visit.draft for line in page.history if line.visit.counts), None)
        in_hand = last.instrument_id if last is not None else None
        person = self._preferences.who
        if walk is not None and walk.person:
            person, in_hand = walk.person, walk.instrument_id
        return VisitDraft(
            valve_id=page.valve.id if page.valve is not None else 0,
            outlet_id=page.outlet.id,
            kind=usual_kind(page),
            on=desk.today,
            person=person,
            instrument_id=in_hand,
        )

    def _enter(
        self,
        desk: Desk,
        page: OutletPage,
        draft: VisitDraft,
        line: HistoryLine | None,
        dialog: RecordVisitDialog,
        then: Callable[[], None],
    ) -> None:
        who = self._preferences.who
        ways, reference = WaysBack(desk, self._who), page.outlet.reference

        def work(seen: Against) -> Recorded:
            if isinstance(seen, Seen):
                return desk.correct(seen.row_id, draft, who, why)
            return desk.record(draft, who)

        why, mine = dialog.why.text().strip(), draft_words(draft, dialog.instruments)
        seen = None if line is None else Seen("visit", line.visit.id)

        def done(recorded: Recorded) -> None:
            made = ways.recorded(recorded, reference)
            self._notices.did(made if line is None else ways.corrected(line, recorded, reference))
            self._entered(recorded)
            then()

        self._forms.keep(dialog, Given(work, done, mine, seen))

    def _who(self) -> str:
        return self._preferences.who

    def _entered(self, recorded: Recorded) -> None:
        self._notices.announce(recorded.changes)
        draft = recorded.visit.draft
        verdict = tr(recorded.judgement.verdict.value)
        self._notices.say(
            tr(
                "Recorded: {kind} of {day}, {verdict}.",
                kind=tr(draft.kind.value),
                day=words.day(draft.on),
                verdict=verdict,
            )
        )

    def void(self, desk: Desk, line: HistoryLine, reference: str, parent: QWidget) -> None:
        """Make an entry of an outlet void, with a reason."""
        dialog = VoidDialog(line, parent)
        who = self._preferences.who
        said = tr(
            "Void: {kind} of {day}. It stays on record.",
            kind=tr(line.visit.draft.kind.value),
            day=words.day(line.visit.on),
        )

        def keep(reason: str) -> None:
            done = self._forms.told(said, WaysBack(desk, self._who).voided(line, reference, reason))
            self._forms.keep(dialog, Given(lambda seen: desk.void(line.visit.id, reason, who), done, {}))

        dialog.given.connect(keep)
        dialog.show_modal()

    def write_report(self, name: str, write: Writer, today: date, parent: QWidget) -> None:
        """Show a report as it comes on paper, to be printed or saved."""
        self._papers.show(name, f"{name} {today:%Y-%m-%d}", write, parent)

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
            self._notices.say(
                tr("The chart of {reference} was sent to the printer.", reference=course.reference)
            )

    def ask_name(self, parent: QWidget) -> None:
        """Ask for the name kept beside entries."""
        dialog = name_dialog(self._preferences.who, parent)
        dialog.given.connect(lambda name: self._preferences.change(who=name))
        dialog.show_modal()

    def make_register(self, doors: Doors, then: Callable[[Desk], None], parent: QWidget) -> None:
        """Make an empty register for an estate."""
        dialog = estate_dialog(parent)

        def make(name: str) -> None:
            path = self._asking.file_to_write(tr("New register"), f"{name}.db", tr(_REGISTERS), parent)
            if path is not None:
                self._tasks.run(lambda: doors.make(path, name, self._preferences.who), then)

        dialog.given.connect(make)
        dialog.show_modal()

    def choose_register(self, then: Callable[[str], None], parent: QWidget) -> None:
        """Ask which register to open."""
        path = self._asking.file_to_open(tr("Open a register"), tr(_REGISTERS), parent)
        if path is not None:
            then(str(path))

    def connect(
        self, doors: Doors, then: Callable[[Desk], None], parent: QWidget, address: str = "", said: str = ""
    ) -> None:
        """Ask where a register lies on a server, and open it.

        Args:
            doors: open it.
            then: gets the register.
            parent: the window.
            address: as it was last opened; empty for none.
            said: what went wrong before.
        """
        dialog = ConnectingDialog(address, said, parent)

        def done(desk: Desk) -> None:
            if not dialog.left:
                dialog.accept()
            then(desk)

        def failed(error: BaseException) -> None:
            if isinstance(error, KnownFault) and not dialog.left:
                dialog.refuse(error)
            else:
                self._notices.report(error)

        def open_it(where: str, password: str) -> None:
            dialog.hold()
            self._tasks.run(lambda: doors.open(where, password), done, failed)

        dialog.given.connect(open_it)
        dialog.show_modal()


def _form_title(line: HistoryLine | None) -> str:
    return (
        tr("Record a visit")
        if line is None
        else tr("Correct the entry of {day}", day=words.day(line.visit.on))
    )
