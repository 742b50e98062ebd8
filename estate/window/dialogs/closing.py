"""A backup that stands between the person and what they want: on closing, or before a batch."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.errors import KnownFault
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.shell import Shell
from estate.window.tasks import LongTask
from estate.window.translating import tr
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import label


class ClosingDialog(Shell):
    """Shown while the register is backed up before the window closes.

    Attributes:
        at_once_asked: the person does not want to wait.
    """

    at_once_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Backing up before closing"), parent)
        self.setMinimumWidth(560)
        said = tr(
            "The backup is opened again and compared before it counts. If you close at once it is finished "
            "without the window, and you are not told whether it succeeded."
        )
        self.body.addWidget(label(said, wraps=True))
        self._strip = ProgressStrip()
        self._strip.stop.hide()
        self.body.addWidget(self._strip)
        self.body.addStretch(1)
        self.at_once = self.button(tr("Close at once"), self.at_once_asked.emit)

    def follow(self, task: LongTask) -> None:
        """Show how far the backup is."""
        self._strip.follow(task)

    @override
    def reject(self) -> None:
        """Stay until the backup has come to its end: Escape must not look like closing without one."""


class NoBackupDialog(FaultDialog):
    """Says why no backup could be made, and asks whether to go on without.

    Attributes:
        go_on_asked: the person goes on.
    """

    go_on_asked = Signal()

    def __init__(self, fault: KnownFault, go_on: str, parent: QWidget | None = None) -> None:
        super().__init__(fault, parent)
        self.leave.setText(tr("Go back"))
        self.offer(go_on, self.go_on_asked.emit)
        self.go_on = self.offered[go_on]
