"""The main window: tree to the left, pages to the right, and what the actions run."""

from collections.abc import Callable, Mapping
from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QMainWindow, QSplitter, QToolBar, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.roles import Deed, refusals, writes_nothing
from estate.domain.temperature import Scale
from estate.errors import KnownFault
from estate.window import words
from estate.window.announcing import announce
from estate.window.backup_doings import BackupDoings
from estate.window.commands.actions import Actions
from estate.window.commands.command import Menu, When
from estate.window.commands.table import COMMANDS
from estate.window.desk import Desk, Doors
from estate.window.dialogs.drop import sheet_dropped
from estate.window.dialogs.faults import DefectDialog, FaultDialog
from estate.window.dialogs.reading import about_dialog, cautions_dialog, keys_dialog
from estate.window.document_doings import DocumentDoings
from estate.window.doings import Doings
from estate.window.editing_flow import ByHand, EditingFlow
from estate.window.entry_flow import EntryFlow
from estate.window.finding_flow import FindingFlow
from estate.window.life_flow import LifeDoings, LifeFlow
from estate.window.list_doings import ListDoings
from estate.window.list_flow import ListFlow
from estate.window.look import Look
from estate.window.look_flow import LookFlow
from estate.window.notices import Notices
from estate.window.opening_flow import OpeningFlow
from estate.window.outlet_flow import OutletFlow
from estate.window.pages.batches_page import BatchesView
from estate.window.pages.drift_page import DriftView
from estate.window.pages.due_page import DueView
from estate.window.pages.outlet_page import OutletView
from estate.window.pages.place_page import PlaceView
from estate.window.pages.rules_page import RulesView
from estate.window.pages.start_page import StartView
from estate.window.pages.trail_page import TrailView
from estate.window.past_doings import PastDoings
from estate.window.preferences import Preferences
from estate.window.rule_flow import RuleFlow
from estate.window.sheet_doings import SheetDoings
from estate.window.sheet_flow import SheetFlow
from estate.window.showing import Pages, Reading, Showing
from estate.window.signing_doings import SigningDoings
from estate.window.tasks import Tasks
from estate.window.today_flow import TodayFlow
from estate.window.translating import said, tr, tr_count
from estate.window.trust_doings import TrustDoings
from estate.window.trust_flow import TrustFlow
from estate.window.undoing import Undoing
from estate.window.watching import Watching
from estate.window.widgets.place_panel import PlacePanel
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import label
from estate.window.widgets.withholding import withhold
from estate.window.windows_flow import Windows, WindowsFlow

_ON_TOOLBAR = ("today", "record", "bring-in", "due", "actions", "drift", "write-overdue", "rules")
_NAME = said("Estate register")


class MainWindow(QMainWindow):
    """Shows one register.

    Args:
        tasks: runs operations away from the window's thread.
        notices: where changes, words and faults are announced.
        look: light or dark.
        doors: how registers are opened and made.
        doings, sheets, trust, backups, signing, documents, past, life, lists, by_hand: what the
            actions run.
        preferences: the person's.
        windows: the others beside this one.
        version: of the program, for About.
    """

    def __init__(
        self,
        *,
        tasks: Tasks,
        notices: Notices,
        look: Look,
        doors: Doors,
        doings: Doings,
        sheets: SheetDoings,
        trust: TrustDoings,
        backups: BackupDoings,
        signing: SigningDoings,
        documents: DocumentDoings,
        past: PastDoings,
        life: LifeDoings,
        lists: ListDoings,
        by_hand: ByHand,
        preferences: Preferences,
        windows: Windows,
        version: str,
    ) -> None:
        super().__init__()
        self._tasks, self._notices, self._look = tasks, notices, look
        self._doings = doings
        self._close_register = trust.give_back
        self._documents, self._past = documents, past
        self._preferences = preferences
        self._version = version
        self.panel = PlacePanel()
        due = DueView(preferences.settings.due_weeks)
        others = (DriftView(), RulesView(), BatchesView(), TrailView())
        self.pages = Pages(StartView(), PlaceView(), OutletView(), due, *others)
        self.showing = Showing(self.pages, self.panel, tasks, notices, self._give_back)
        for each in (self.showing, notices):
            each.setParent(self)  # what they call keeps this window alive until they go
        self.trust = TrustFlow(self, self.showing, tasks, notices, trust, backups, self.open)
        self.watching = Watching(lambda: self.showing.desk, tasks, notices, self)
        self.entries = EntryFlow(self, self.showing, doings, signing, documents, self._may)
        self.sheets = SheetFlow(self, self.showing, sheets, signing, preferences, self._may)
        self.life = LifeFlow(self, self.showing, tasks, life, self._may, lambda: self.entries.chosen)
        self.today = TodayFlow(self.showing, tasks, self.life)
        self.finding = FindingFlow(self, self.showing, tasks, self.life, preferences)
        self.windows = WindowsFlow(
            self, self.showing, self.finding.moving, self.panel, notices, windows, preferences, self.seat
        )
        self.opening = OpeningFlow(
            window=self,
            showing=self.showing,
            tasks=tasks,
            doors=doors,
            doings=doings,
            preferences=preferences,
            windows=self.windows,
            not_opened=self.trust.tell_not_opened,
            leave=self._leave,
        )
        self.leading_on = OutletFlow(
            self,
            self.showing,
            self.panel,
            tasks,
            self.life,
            self.sheets,
            lambda act: self.actions_[act].trigger(),
        )
        self.looking = LookFlow(self, look, preferences, notices, self.showing.refresh)
        self.lists = ListFlow(self, self.showing, lists, preferences)
        self.changing_rules = RuleFlow(self, self.showing, doings.rules, self._may)
        self.undoing = Undoing(tasks, notices, self)
        self.editing = EditingFlow(self, self.showing, self.panel, by_hand, self.undoing, self._may)
        self._refused: Mapping[Deed, str] = {}
        self.actions_ = Actions(COMMANDS, self._runs(), self)
        self._lay_out()
        self._listen()
        self._dress()
        wanted = preferences.settings.temperatures
        self.read_in(Scale(wanted) if wanted in set(Scale) else Scale.CELSIUS)
        self._on_moved()

    def _lay_out(self) -> None:
        self.setWindowTitle(tr(_NAME))
        self.setAcceptDrops(True)
        self.resize(self._preferences.settings.width, self._preferences.settings.height)
        self.actions_.fill_menus()
        self.windows.offer_late(self.actions_.menus[Menu.REGISTER], self.actions_["sample"], self.open)
        toolbar = QToolBar(tr("Actions"))
        toolbar.setObjectName("actions")
        toolbar.setMovable(False)
        toolbar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.actions_.fill_toolbar(toolbar, _ON_TOOLBAR)
        self.addToolBar(toolbar)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(self.panel)
        split.addWidget(self._below_bar(self.showing.stack))
        split.setStretchFactor(1, 1)
        split.setObjectName("parts")
        self.setCentralWidget(self._below_banner(split))
        self.looking.hold(split)
        self._strip = ProgressStrip()
        self._as_at = label("")
        self.statusBar().addPermanentWidget(self._strip)
        self._account = label("", "strong")
        self.statusBar().addPermanentWidget(self._as_at)
        self.statusBar().addPermanentWidget(self._account)

    def _below_bar(self, shown: QWidget) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.finding.lay_out(self.actions_, COMMANDS))
        column.addWidget(shown, 1)
        return held

    def _below_banner(self, shown: QWidget) -> QWidget:
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.trust.banner)
        column.addWidget(shown, 1)
        return whole

    def _runs(self) -> dict[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {
            **self.opening.runs(),
            "write-overdue": self._on_write_overdue,
            "write-summary": self._on_write_summary,
            "verify": self.trust.verify,
            "checkpoint": self.trust.take_checkpoint,
            "backups": self.trust.show_backups,
            "trail": self.showing.show_trail,
            "as-known": self._on_as_known,
            "find": self._on_find,
            "due": self.showing.show_due,
            "places": self._on_places,
            "drift": self.showing.show_drift,
            "rules": self.showing.show_rules,
            "scale-C": partial(self.read_in, Scale.CELSIUS),
            "scale-F": partial(self.read_in, Scale.FAHRENHEIT),
            "refresh": self.showing.refresh,
            **self.looking.runs(),
            **self.editing.runs(),
            **self.finding.runs(),
            **self.windows.runs(),
            **self.entries.runs(),
            **self.sheets.runs(),
            **self.life.runs(),
            **self.leading_on.runs(),
            **self.lists.runs(),
            "today": self.today.show,
            "keys": self._on_keys,
            "cautions": self._on_cautions,
            "about": self._on_about,
        }

    def _listen(self) -> None:
        self._look.changed.connect(self._dress)
        self._notices.said.connect(self.statusBar().showMessage)
        self._notices.said.connect(partial(announce, self.statusBar()))
        self._notices.fault_met.connect(self._on_fault)
        self._notices.cautioned.connect(self.trust.caution)
        self._notices.defect_met.connect(self._on_defect)
        self._tasks.began.connect(self._strip.follow)
        self.showing.moved.connect(self._on_moved)
        self.panel.picked.connect(self._on_moved)
        self.undoing.changed.connect(self._on_moved)
        self.showing.opened.connect(self.trust.look)
        self.pages.trail.verify_asked.connect(self.trust.verify)
        self.pages.trail.checkpoint_asked.connect(self.trust.take_checkpoint)
        self.pages.due.overdue_list_asked.connect(self._on_write_overdue)
        self.pages.due.weeks.valueChanged.connect(lambda weeks: self._preferences.change(due_weeks=weeks))

    def _on_as_known(self) -> None:
        if self.showing.desk is not None:
            self._past.ask(self.showing.desk, self)

    def _give_back(self, desk: Desk) -> None:
        """Close a register that is left for another, unless another window shows it."""
        if not self.windows.shared(desk):
            self._close_register(desk)

    def _leave(self, desk: Desk | None) -> None:
        """Make ready for another register, or none."""
        self.trust.banner.hide()
        self._documents.clear_away()
        self.undoing.seat(desk)

    def seat(self, desk: Desk | None) -> None:
        """Show a register, or none."""
        self.opening.seat(desk)

    def open(self, where: str) -> None:
        """Open a register in the worker, then show it."""
        self.opening.open(where)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale and keep the choice; they are kept and judged in °C."""
        for page in (self.pages.outlet, self.pages.rules):
            page.read_in(scale)
        self.actions_[f"scale-{scale.value}"].setChecked(True)
        self._preferences.change(temperatures=scale.value)

    def _dress(self) -> None:
        self.looking.dress(self.actions_)

    def _on_moved(self) -> None:
        """Open the actions that make sense now, and say which register this is."""
        reading, page, entry = self.showing.reading, self.showing.outlet, self.entries.chosen
        so = {When.ALWAYS}
        if self.showing.desk is not None:
            so.add(When.REGISTER_OPEN)
        if page is not None:
            so.add(When.OUTLET_SHOWN)
        if page is not None and page.valve is not None:
            so.add(When.VALVE_SHOWN)
        if entry is not None:
            so.add(When.ENTRY_SHOWN)
        if entry is not None and entry.visit.counts:
            so.add(When.ENTRY_CHOSEN)
        so |= self.editing.so()
        self._show_account(reading)
        self.actions_.allow(so, self._refused)
        self.editing.dress(self.actions_, self._refused)
        self.finding.settle()
        if reading is None or self.showing.desk is None:
            self.setWindowTitle(tr(_NAME))
            self._as_at.setText("")
            return
        name = reading.identity.name
        name = tr("{name} (read only)", name=name) if writes_nothing(reading.role) else name
        self.setWindowTitle(f"{name} – {tr(_NAME)}")
        acting = sum(each.attention for each in reading.tree)
        held = tr_count(sum(each.outlets for each in reading.tree), "{n:,} outlet", "{n:,} outlets")
        self._as_at.setText(
            tr(
                "{held}, {acting:,} to act on. As at {day}",
                held=held,
                acting=acting,
                day=words.day(self.showing.desk.today),
            )
        )

    def _show_account(self, reading: Reading | None) -> None:
        """Shut what the account may not do, and say what it may."""
        self._refused = {} if reading is None else refusals(reading.role)
        for deed, buttons in self._writing_buttons().items():
            for button in buttons:
                withhold(button, self._refused.get(deed))
        held = reading.role if reading is not None and self._refused else None
        only = tr(": read only") if held is not None and writes_nothing(held) else ""
        self._account.setText(
            "" if held is None else tr("Your account is {held}{only}", held=tr(held.value), only=only)
        )
        self._account.setVisible(held is not None)

    def _writing_buttons(self) -> dict[Deed, tuple[QWidget, ...]]:
        recording = (*self.entries.writing_buttons(), *self.sheets.writing_buttons())
        life = self.life.writing_buttons()
        return {
            **life,
            Deed.RECORD: (*recording, *life[Deed.RECORD], *self.leading_on.writing_buttons()),
            Deed.AMEND: (*life[Deed.AMEND], *self.leading_on.amending_buttons()),
            Deed.SET_RULES: (self.pages.rules.override_button, self.pages.rules.choose_button),
            Deed.TAKE_CHECKPOINTS: (self.pages.trail.checkpoint,),
        }

    def _may(self, deed: Deed) -> bool:
        """Whether the account may do something; if not, the status line says why."""
        reason = self._refused.get(deed)
        if reason is not None:
            self._notices.say(reason)
        return reason is None

    def _on_write_overdue(self) -> None:
        desk = self.showing.desk
        if desk is not None:
            self._doings.write_report(tr("overdue list"), desk.write_overdue, desk.today, self)

    def _on_write_summary(self) -> None:
        desk = self.showing.desk
        if desk is not None:
            self._doings.write_report(tr("compliance summary"), desk.write_summary, desk.today, self)

    def _on_find(self) -> None:
        self.panel.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.panel.search.selectAll()

    def _on_places(self) -> None:
        self.panel.tree.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _on_keys(self) -> None:
        keys_dialog(COMMANDS, self).show_modal()

    def _on_cautions(self) -> None:
        cautions_dialog((), self).show_modal()

    def _on_about(self) -> None:
        identity = self.showing.reading.identity if self.showing.reading is not None else None
        about_dialog(self._version, identity, self).show_modal()

    def _on_fault(self, fault: KnownFault) -> None:
        FaultDialog(fault, self).show_modal()

    def _on_defect(self, error: BaseException) -> None:
        DefectDialog(error, self).show_modal()

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.showing.desk is not None and sheet_dropped(event.mimeData()) is not None:
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        sheet = sheet_dropped(event.mimeData())
        if self.showing.desk is not None and sheet is not None:
            event.acceptProposedAction()
            self.sheets.bring_in(sheet)

    @override
    def closeEvent(self, event: QCloseEvent) -> None:
        self._preferences.change(width=self.width(), height=self.height())
        self.windows.closing()
        if self.windows.shared(self.showing.desk):
            self.showing.get_up()
        # The first attempt to close may not have come back yet when the register is closed.
        if self.trust.close(lambda: QTimer.singleShot(0, self.close)):
            event.ignore()
            self._strip.give_up()
        else:
            self.windows.closed()
            super().closeEvent(event)
