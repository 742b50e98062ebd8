"""What the actions do: each opens its dialog, runs its operation, and announces the change set."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.changes import ChangeSet
from estate.domain.conflicts import Seen, draft_words
from estate.domain.due import DueLine
from estate.domain.instruments import Instrument
from estate.domain.preview import PolicyPreview
from estate.domain.progress import Progress
from estate.domain.route import next_on_route
from estate.domain.rules.listing import blank
from estate.domain.rules.values import RuleSet, RuleValue
from estate.domain.visits import VisitDraft
from estate.errors import KnownFault
from estate.window import words
from estate.window.desk import Desk, Doors, Recorded
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.choose_rules import ChooseRulesDialog
from estate.window.dialogs.connecting import ConnectingDialog
from estate.window.dialogs.entry import VoidDialog, estate_dialog, name_dialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.record_visit import RecordVisitDialog, background_of, usual_kind
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.models.rule_set_rows import choosable
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Latest, Tasks
from estate.window.widgets.drift_panel import DriftPanel

_REPORTS = "PDF (*.pdf);;Spreadsheet (*.xlsx)"
_REGISTERS = "Registers (*.db);;All files (*)"
Writer = Callable[[Path, Progress], Path]


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
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._forms = FormKeeper(tasks, notices)

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

            self._enter(desk, draft, without, dialog, go_on)

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
        draft: VisitDraft,
        without: int | None,
        dialog: RecordVisitDialog,
        then: Callable[[], None],
    ) -> None:
        who = self._preferences.who

        def work(seen: Against) -> Recorded:
            if isinstance(seen, Seen):
                return desk.correct(seen.row_id, draft, who, why)
            return desk.record(draft, who)

        why, mine = dialog.why.text().strip(), draft_words(draft, dialog.instruments)
        seen = None if without is None else Seen("visit", without)

        def done(recorded: Recorded) -> None:
            self._entered(recorded)
            then()

        self._forms.keep(dialog, Given(work, done, mine, seen))

    def _entered(self, recorded: Recorded) -> None:
        self._notices.announce(recorded.changes)
        draft = recorded.visit.draft
        verdict = recorded.judgement.verdict.value
        self._notices.say(f"Recorded: {draft.kind.value} of {words.day(draft.on)}, {verdict}.")

    def void(self, desk: Desk, line: HistoryLine, parent: QWidget) -> None:
        """Make an entry void, with a reason."""
        dialog = VoidDialog(line, parent)
        who = self._preferences.who
        said = f"Void: {line.visit.draft.kind.value} of {words.day(line.visit.on)}. It stays on record."

        def keep(reason: str) -> None:
            done = self._forms.told(said)
            self._forms.keep(dialog, Given(lambda seen: desk.void(line.visit.id, reason, who), done, {}))

        dialog.given.connect(keep)
        dialog.show_modal()

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
        dialog = OverrideDialog(value or blank(key), parent)
        who = self._preferences.who
        done = self._forms.told(f"{key} is changed for the estate; the last visits were judged again.")

        def keep(given: float | str | None, why: str) -> None:
            def work(seen: Against) -> ChangeSet:
                was = seen if isinstance(seen, RuleValue) else None
                return desk.override(rules.id, key, "estate", given, who=who, why=why, seen=was)

            mine = {"value": "the published value" if given is None else str(given)}
            self._forms.keep(dialog, Given(work, done, mine, value))

        dialog.given.connect(keep)
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

    def choose_rules(
        self, desk: Desk, rules: RuleSet, places: Sequence[tuple[str, str]], parent: QWidget
    ) -> None:
        """Choose another rule set for a place."""
        dialog = ChooseRulesDialog(choosable(desk.rule_sets(), rules.id), places, parent)
        who = self._preferences.who

        def keep(place: str, chosen: str) -> None:
            done = self._forms.told(f"{chosen} is chosen; the last visits were judged again.")
            given = Given(lambda seen: desk.choose_rules(place, chosen, who=who), done, {"rule set": chosen})
            self._forms.keep(dialog, given)

        dialog.given.connect(keep)
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
    return "Record a visit" if line is None else f"Correct the entry of {words.day(line.visit.on)}"
