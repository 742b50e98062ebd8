"""How windows are opened beside each other, left, and taken up again as they stood."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from PySide6.QtCore import QRect
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QMainWindow, QMenu, QSplitter

from estate.domain.browsing import PlaceKind
from estate.window.company import Company, Member
from estate.window.desk import Desk
from estate.window.moving import Moving
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.showing import Showing
from estate.window.standing import AsLeft, Box, in_sight, keep_window
from estate.window.translating import tr
from estate.window.widgets.place_panel import PlacePanel

_BESIDE = 32


@dataclass(frozen=True)
class Windows:
    """The other windows, and how a further one is opened.

    Attributes:
        company: the windows that are open.
        open: opens a further one on a register, standing as told.
    """

    company: Company
    open: Callable[[Desk | None, AsLeft], None]


class WindowsFlow:
    """Joins one window to the others.

    Args:
        window: the one.
        showing, moving, panel: what it shows, where it has been, its tree.
        notices: where its changes are announced.
        windows: the others.
        preferences: in which windows are kept.
        seat: shows a register here.
    """

    def __init__(
        self,
        window: QMainWindow,
        showing: Showing,
        moving: Moving,
        panel: PlacePanel,
        notices: Notices,
        windows: Windows,
        preferences: Preferences,
        seat: Callable[[Desk], None],
    ) -> None:
        self._window, self._showing, self._moving, self._panel = window, showing, moving, panel
        self._company, self._open = windows.company, windows.open
        self._preferences, self._seat = preferences, seat
        self.member = Member(
            notices, lambda: showing.desk, showing.get_up, window.close, self.as_left, self._come_back
        )
        self._company.join(self.member)
        self.late: QMenu | None = None
        showing.left.connect(self._on_left)

    def offer_late(self, menu: QMenu, before: QAction, open_register: Callable[[str], None]) -> None:
        """Put the registers opened of late into a menu of their own, before an entry of another."""
        late = self.late = QMenu(tr("Opened of &late"), menu)
        menu.insertMenu(before, late)

        def fill() -> None:
            late.clear()
            for where in self._preferences.settings.registers:
                action = late.addAction(where.replace("&", "&&"))
                action.triggered.connect(lambda checked=False, where=where: open_register(where))
            if late.isEmpty():
                late.addAction(tr("None yet")).setEnabled(False)

        late.aboutToShow.connect(fill)

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {"new-window": self._on_new_window, "close-window": self._close, "quit": self.quit}

    def _close(self) -> None:
        self._window.close()

    def _on_new_window(self) -> None:
        left = self.as_left()
        across, down, wide, high = left.box or (0, 0, self._window.width(), self._window.height())
        beside = (across + _BESIDE, down + _BESIDE, wide, high)
        self._open(self._showing.desk, replace(left, box=beside, full=False))

    def open_as_left(self, left: AsLeft) -> None:
        """Open a further window as it was left; on a register that is open already, share it."""
        self._open(self._company.desk_at(None, left.register), left)

    def quit(self) -> None:
        """Leave the program: every window is closed, and stands so when it is started again."""
        self._keep(self._company.as_left())
        self._company.close_all()

    def _keep(self, left: list[AsLeft]) -> None:
        self._preferences.change(windows=[keep_window(each) for each in left])

    def shared(self, desk: Desk | None) -> bool:
        """Whether another window shows a register."""
        return bool(self._company.sharing(self.member, desk))

    def desk_at(self, where: str) -> Desk | None:
        """A register that another window has open already."""
        return self._company.desk_at(self.member, where)

    @property
    def notices(self) -> Notices:
        """Those of the window that was opened last and is still there: where a defect is told."""
        members = self._company.members
        return (members[-1] if members else self.member).notices

    def closing(self) -> None:
        """Keep how this window stands, where it is the last; the others go on without it."""
        self._moving.keep()
        if not self._company.leaving and len(self._company.members) <= 1 and self._showing.desk is not None:
            self._keep([self.as_left()])

    def closed(self) -> None:
        """This window is gone."""
        self._company.part(self.member)

    def seated(self, desk: Desk) -> None:
        """A register was opened here: nobody leaves the program, and who was sent away from it comes back."""
        self._company.leaving = False
        self._company.call_back(desk)

    def _on_left(self, desk: Desk) -> None:
        """A register is closed under all windows on it."""
        self._company.send_away(self.member, desk)

    def _come_back(self, desk: Desk, left: AsLeft) -> None:
        self._stand_in(left)
        self._seat(desk)

    def as_left(self) -> AsLeft:
        """How this window stands."""
        shown, desk = self._window, self._showing.desk
        box = shown.normalGeometry() if shown.isMaximized() else shown.geometry()
        return AsLeft(
            "" if desk is None else desk.where,
            (box.x(), box.y(), box.width(), box.height()),
            shown.isMaximized(),
            tuple(self._parts.sizes()) if self._parts is not None else (),
            self._moving.here,
            self._unfolded(),
        )

    def _unfolded(self) -> tuple[tuple[str, int], ...]:
        return tuple(sorted((kind.value, place_id) for kind, place_id in self._panel.unfolded))

    @property
    def _parts(self) -> QSplitter | None:
        found = self._window.findChild(QSplitter, "parts")
        return found if isinstance(found, QSplitter) else None

    def take_up(self, left: AsLeft) -> None:
        """Stand as a window was left, as far as screens and register still allow."""
        if left.box is not None:
            self._window.setGeometry(QRect(*in_sight(left.box, _screens())))
        if left.full:
            self._window.showMaximized()
        if self._parts is not None and len(left.parts) == self._parts.count():
            self._parts.setSizes(list(left.parts))
        self._stand_in(left)

    def _stand_in(self, left: AsLeft) -> None:
        """Stand in a register as a window was left, once it is read."""
        self._panel.unfold(
            {(PlaceKind(kind), each) for kind, each in left.unfolded if kind in set(PlaceKind)}
        )
        usual = self._showing.first

        def first() -> None:
            self._showing.first = usual
            if left.spot is None or not self._moving.reaches(left.spot):
                usual()
            else:
                self._moving.go(left.spot)

        self._showing.first = first


def _screens() -> list[Box]:
    first = QGuiApplication.primaryScreen()
    others = [each for each in QGuiApplication.screens() if each is not first]
    rooms = [each.availableGeometry() for each in ([] if first is None else [first]) + others]
    return [(each.x(), each.y(), each.width(), each.height()) for each in rooms]
