"""How trust runs through the window: looking on opening, telling what does not fit, restoring, closing."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.trust import Verification
from estate.errors import KnownFault
from estate.window.backup_doings import BackupDoings
from estate.window.desk import Desk
from estate.window.dialogs.faults import FaultDialog
from estate.window.marks import Mark
from estate.window.models.misfit_rows import heading_of
from estate.window.notices import Notices
from estate.window.showing import Showing
from estate.window.tasks import Tasks
from estate.window.translating import tr, tr_count
from estate.window.trust_doings import TrustDoings
from estate.window.widgets.banner import Banner


class TrustFlow:
    """Joins what is shown to what is done about trust.

    Attributes:
        banner: the notice above the pages.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        tasks: where registers are closed.
        notices: where words and faults are announced.
        trust, backups: what is done.
        open_register: opens a register by its address and shows it.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        tasks: Tasks,
        notices: Notices,
        trust: TrustDoings,
        backups: BackupDoings,
        open_register: Callable[[str], None],
    ) -> None:
        self.banner = Banner()
        self._window, self._showing, self._tasks, self._notices = window, showing, tasks, notices
        self._trust, self._backups, self._open = trust, backups, open_register
        self._restored = False

    def look(self) -> None:
        """Look at the newest entries of the trail; whatever is found, the register is shown."""
        desk, afresh = self._showing.desk, self._restored
        self._restored = False
        if desk is not None:
            self._trust.look(desk, afresh, lambda found: self._tell(desk, found))

    def _tell(self, desk: Desk, found: Verification) -> None:
        if desk is not self._showing.desk:
            return
        if found.fits:
            self._notices.say(
                f"{heading_of(found)}: {tr_count(found.entries, '{n:,} entry', '{n:,} entries')}."
            )
            return
        offers = [(tr("See all…"), lambda: self._show(desk, found))]
        if not found.whole:
            offers.append((tr("Verify everything"), self.verify))
        offers.append((tr("Backups…"), self.show_backups))
        self.banner.tell(heading_of(found), str(found.misfits[0]), offers)

    def verify(self) -> None:
        """Verify everything."""
        desk = self._showing.desk
        if desk is not None:
            self._trust.verify(desk, lambda found: self._on_verified(desk, found))

    def _on_verified(self, desk: Desk, found: Verification) -> None:
        if desk is self._showing.desk:
            self.banner.hide()
            self._tell(desk, found)
            self._show(desk, found)

    def _show(self, desk: Desk, found: Verification) -> None:
        def compare() -> None:
            self._trust.compare(desk, lambda again: self._on_verified(desk, again), self._window)

        self._trust.show_verified(found, compare, self._window)

    def take_checkpoint(self) -> None:
        """Take a checkpoint."""
        desk = self._showing.desk
        if desk is not None:
            self._trust.take_checkpoint(desk, self._showing.show_trail_again, self._window)

    def show_backups(self) -> None:
        """Show the backups of the register that is open."""
        desk = self._showing.desk
        if desk is not None:
            self._show_backups(desk.where, desk, self.leave)

    def _show_backups(self, where: str, desk: Desk | None, leave: Callable[[], None]) -> None:
        def reopen(restored: bool) -> None:
            self._restored = restored
            self._open(where)

        self._backups.show(where, desk, leave, reopen, self._window)

    def leave(self) -> None:
        """Close the register that is open, without a backup."""
        desk = self._showing.leave()
        if desk is not None:
            self._tasks.run(desk.close, lambda done: None)

    def tell_not_opened(self, where: str, error: BaseException) -> None:
        """Say why a register can't be opened; where its file is there, offer its backups."""
        self._restored = False
        if not isinstance(error, KnownFault) or "://" in where or not Path(where).is_file():
            self._notices.report(error)
            return
        dialog = FaultDialog(error, self._window)
        dialog.offer(tr("Its backups…"), lambda: self._show_backups(where, None, lambda: None))
        dialog.show_modal()

    def caution(self, fault: KnownFault) -> None:
        """Keep a fault that stopped nothing in sight."""
        self.banner.tell(tr(fault.title), f"{tr(fault.detail)} {tr(fault.remedy)}", mark=Mark.OPEN_WEDGE)

    def close(self, then: Callable[[], None]) -> bool:
        """Back up and close the register, then go on; whether that has yet to be done."""
        desk = self._showing.desk
        if desk is None:
            return False

        def closed() -> None:
            self.leave()
            then()

        self._trust.close(desk, closed, self._window)
        return True
