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
from estate.window.backup_doings import BackupDoings
from estate.window.commands.actions import Actions
from estate.window.commands.table import COMMANDS, When
from estate.window.desk import Desk, Doors
from estate.window.dialogs.drop import sheet_dropped
from estate.window.dialogs.faults import DefectDialog, FaultDialog
from estate.window.dialogs.reading import about_dialog, cautions_dialog, keys_dialog
from estate.window.document_doings import DocumentDoings
from estate.window.doings import Doings
from estate.window.entry_flow import EntryFlow
from estate.window.life_flow import LifeDoings, LifeFlow
from estate.window.look import Look, Scheme
from estate.window.notices import Notices
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
from estate.window.sheet_doings import SheetDoings
from estate.window.sheet_flow import SheetFlow
from estate.window.showing import Pages, Reading, Showing
from estate.window.signing_doings import SigningDoings
from estate.window.tasks import Tasks
from estate.window.today_flow import TodayFlow
from estate.window.trust_doings import TrustDoings
from estate.window.trust_flow import TrustFlow
from estate.window.watching import Watching
from estate.window.widgets.place_panel import PlacePanel
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import label
from estate.window.widgets.withholding import withhold

_ON_TOOLBAR = ("today", "record", "bring-in", "due", "actions", "drift", "write-overdue", "rules")
_NAME = "Estate register"


class MainWindow(QMainWindow):
    """Shows one register.

    Args:
        tasks: runs operations away from the window's thread.
        notices: where changes, words and faults are announced.
        look: light or dark.
        doors: how registers are opened and made.
        doings, sheets, trust, backups, signing, documents, past, life: what the actions run.
        preferences: the person's.
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
        preferences: Preferences,
        version: str,
    ) -> None:
        super().__init__()
        self._tasks, self._notices, self._look = tasks, notices, look
        self._doors, self._doings = doors, doings
        self._signing = signing
        self._documents, self._past = documents, past
        self._preferences = preferences
        self._version = version
        self.panel = PlacePanel()
        due = DueView(preferences.settings.due_weeks)
        others = (DriftView(), RulesView(), BatchesView(), TrailView())
        self.pages = Pages(StartView(), PlaceView(), OutletView(), due, *others)
        self.showing = Showing(self.pages, self.panel, tasks, notices, trust.give_back)
        self.trust = TrustFlow(self, self.showing, tasks, notices, trust, backups, self.open)
        self.watching = Watching(lambda: self.showing.desk, tasks, notices, self)
        self.entries = EntryFlow(self, self.showing, doings, signing, documents, self._may)
        self.sheets = SheetFlow(self, self.showing, sheets, signing, preferences, self._may)
        self.life = LifeFlow(self, self.showing, tasks, life, self._may, lambda: self.entries.chosen)
        self.today = TodayFlow(self.showing, tasks, self.life)
        self._refused: Mapping[Deed, str] = {}
        self.actions_ = Actions(COMMANDS, self._runs(), self)
        self._lay_out()
        self._listen()
        self._dress()
        wanted = preferences.settings.temperatures
        self.read_in(Scale(wanted) if wanted in set(Scale) else Scale.CELSIUS)
        self._on_moved()

    def _lay_out(self) -> None:
        self.setWindowTitle(_NAME)
        self.setAcceptDrops(True)
        self.resize(self._preferences.settings.width, self._preferences.settings.height)
        self.actions_.fill_menus()
        toolbar = QToolBar("Actions")
        toolbar.setObjectName("actions")
        toolbar.setMovable(False)
        toolbar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.actions_.fill_toolbar(toolbar, _ON_TOOLBAR)
        self.addToolBar(toolbar)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(self.panel)
        split.addWidget(self.showing.stack)
        split.setStretchFactor(1, 1)
        split.setSizes([322, 958])
        self.setCentralWidget(self._below_banner(split))
        self._strip = ProgressStrip()
        self._as_at = label("")
        self.statusBar().addPermanentWidget(self._strip)
        self._account = label("", "strong")
        self.statusBar().addPermanentWidget(self._as_at)
        self.statusBar().addPermanentWidget(self._account)

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
            "new": self._on_new,
            "open": self._on_open,
            "connect": self._on_connect,
            "sample": self._on_sample,
            "write-overdue": self._on_write_overdue,
            "write-summary": self._on_write_summary,
            "verify": self.trust.verify,
            "checkpoint": self.trust.take_checkpoint,
            "backups": self.trust.show_backups,
            "who": self._on_name,
            "own-key": self._on_own_key,
            "add-key": self._on_add_key,
            "quit": self._on_quit,
            "trail": self.showing.show_trail,
            "as-known": self._on_as_known,
            "find": self._on_find,
            "due": self.showing.show_due,
            "places": self._on_places,
            "drift": self.showing.show_drift,
            "rules": self.showing.show_rules,
            "light-system": partial(self.wear, Scheme.SYSTEM),
            "light-light": partial(self.wear, Scheme.LIGHT),
            "light-dark": partial(self.wear, Scheme.DARK),
            "scale-C": partial(self.read_in, Scale.CELSIUS),
            "scale-F": partial(self.read_in, Scale.FAHRENHEIT),
            "refresh": self.showing.refresh,
            **self.entries.runs(),
            **self.sheets.runs(),
            **self.life.runs(),
            "today": self.today.show,
            "keys": self._on_keys,
            "cautions": self._on_cautions,
            "about": self._on_about,
        }

    def _listen(self) -> None:
        self._look.changed.connect(self._dress)
        self._notices.said.connect(self.statusBar().showMessage)
        self._notices.fault_met.connect(self._on_fault)
        self._notices.cautioned.connect(self.trust.caution)
        self._notices.defect_met.connect(self._on_defect)
        self._tasks.began.connect(self._strip.follow)
        self.showing.moved.connect(self._on_moved)
        self.showing.opened.connect(self.trust.look)
        self.pages.trail.verify_asked.connect(self.trust.verify)
        self.pages.trail.checkpoint_asked.connect(self.trust.take_checkpoint)
        start = self.pages.start
        start.sample_asked.connect(self._on_sample)
        start.new_asked.connect(self._on_new)
        start.open_asked.connect(self._on_open)
        self.pages.due.overdue_list_asked.connect(self._on_write_overdue)
        self.pages.due.weeks.valueChanged.connect(lambda weeks: self._preferences.change(due_weeks=weeks))
        self.pages.rules.override_asked.connect(self._on_override)
        self.pages.rules.choose_asked.connect(self._on_choose_rules)

    def _on_as_known(self) -> None:
        if self.showing.desk is not None:
            self._past.ask(self.showing.desk, self)

    def seat(self, desk: Desk | None) -> None:
        """Show a register, or none."""
        self.trust.banner.hide()
        self._documents.clear_away()
        self.showing.seat(desk)
        if desk is not None:
            self._preferences.change(register=desk.where)

    def open(self, where: str) -> None:
        """Open a register in the worker, then show it."""
        self._tasks.run(
            lambda: self._doors.open(where),
            self.seat,
            lambda error: self._on_not_opened(where, error),
        )

    def _on_not_opened(self, where: str, error: BaseException) -> None:
        if "://" in where and isinstance(error, KnownFault):
            said = f"{error.title}. {error.detail} {error.remedy}"
            self._doings.connect(self._doors, self.seat, self, self._doors.address(where), said)
        else:
            self.trust.tell_not_opened(where, error)

    def wear(self, scheme: Scheme) -> None:
        """Put on a scheme and keep the choice."""
        self._look.wear(scheme)
        self._preferences.change(scheme=scheme.value)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale and keep the choice; they are kept and judged in °C."""
        for page in (self.pages.outlet, self.pages.rules):
            page.read_in(scale)
        self.actions_[f"scale-{scale.value}"].setChecked(True)
        self._preferences.change(temperatures=scale.value)

    def _dress(self) -> None:
        self.actions_.draw(self._look.drawing)
        self.actions_[f"light-{self._look.scheme.value}"].setChecked(True)

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
        self._show_account(reading)
        self.actions_.allow(so, self._refused)
        if reading is None or self.showing.desk is None:
            self.setWindowTitle(_NAME)
            self._as_at.setText("")
            return
        only = " (read only)" if writes_nothing(reading.role) else ""
        self.setWindowTitle(f"{reading.identity.name}{only} – {_NAME}")
        acting = sum(each.attention for each in reading.tree)
        held = words.count(sum(each.outlets for each in reading.tree), "outlet")
        self._as_at.setText(f"{held}, {acting:,} to act on. As at {words.day(self.showing.desk.today)}")

    def _show_account(self, reading: Reading | None) -> None:
        """Shut what the account may not do, and say what it may."""
        self._refused = {} if reading is None else refusals(reading.role)
        for deed, buttons in self._writing_buttons().items():
            for button in buttons:
                withhold(button, self._refused.get(deed))
        held = reading.role if reading is not None and self._refused else None
        only = ": read only" if held is not None and writes_nothing(held) else ""
        self._account.setText("" if held is None else f"Your account is {held.value}{only}")
        self._account.setVisible(held is not None)

    def _writing_buttons(self) -> dict[Deed, tuple[QWidget, ...]]:
        recording = (*self.entries.writing_buttons(), *self.sheets.writing_buttons())
        life = self.life.writing_buttons()
        return {
            **life,
            Deed.RECORD: (*recording, *life[Deed.RECORD]),
            Deed.SET_RULES: (self.pages.rules.override_button,),
            Deed.TAKE_CHECKPOINTS: (self.pages.trail.checkpoint,),
        }

    def _may(self, deed: Deed) -> bool:
        """Whether the account may do something; if not, the status line says why."""
        reason = self._refused.get(deed)
        if reason is not None:
            self._notices.say(reason)
        return reason is None

    def _on_new(self) -> None:
        self._doings.make_register(self._doors, self.seat, self)

    def _on_open(self) -> None:
        self._doings.choose_register(self.open, self)

    def _on_connect(self) -> None:
        last = self._preferences.settings.register
        self._doings.connect(self._doors, self.seat, self, last if "://" in last else "")

    def _on_sample(self) -> None:
        self._tasks.run_long("Opening the sample estate", lambda progress: self._doors.sample(), self.seat)

    def _on_own_key(self) -> None:
        if self.showing.desk is not None:
            self._signing.own_key(self.showing.desk, self)

    def _on_add_key(self) -> None:
        if self.showing.desk is not None:
            self._signing.add_key(self.showing.desk, self)

    def _on_write_overdue(self) -> None:
        desk = self.showing.desk
        if desk is not None:
            self._doings.write_report("overdue list", desk.write_overdue, desk.today, self)

    def _on_write_summary(self) -> None:
        desk = self.showing.desk
        if desk is not None:
            self._doings.write_report("compliance summary", desk.write_summary, desk.today, self)

    def _on_override(self, key: str) -> None:
        rules = self.pages.rules.rules
        if self.showing.desk is not None and rules is not None and self._may(Deed.SET_RULES):
            self._doings.override(self.showing.desk, rules, key, self)

    def _on_choose_rules(self) -> None:
        rules, desk, reading = self.pages.rules.rules, self.showing.desk, self.showing.reading
        if desk is None or rules is None or reading is None:
            return
        places = [("The whole estate", "estate")]
        for site in reading.tree:
            places += [(f"{site.label}: {each.label}", f"building:{each.id}") for each in site.children]
        if self.showing.outlet is not None:
            outlet = self.showing.outlet.outlet
            places.append((f"Outlet {outlet.reference}", f"outlet:{outlet.id}"))
        self._doings.choose_rules(desk, rules, places, self)

    def _on_name(self) -> None:
        self._doings.ask_name(self)

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

    def _on_quit(self) -> None:
        self.close()

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
        # The first attempt to close may not have come back yet when the register is closed.
        if self.trust.close(lambda: QTimer.singleShot(0, self.close)):
            event.ignore()
            self._strip.give_up()
        else:
            super().closeEvent(event)
