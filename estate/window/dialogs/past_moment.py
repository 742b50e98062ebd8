"""Takes the past moment whose knowledge is to be shown."""

from datetime import UTC, datetime

from PySide6.QtCore import QDateTime, QTimeZone, Signal
from PySide6.QtWidgets import QDateTimeEdit, QWidget

from estate.window.dialogs.shell import Shell
from estate.window.translating import tr
from estate.window.widgets.text import label


class PastMomentDialog(Shell):
    """Takes a day and a time by this machine's clock.

    Attributes:
        given: the moment, UTC.
    """

    given = Signal(object)

    def __init__(self, now: datetime, parent: QWidget | None) -> None:
        super().__init__(tr("As known at a past moment"), parent)
        self.setMinimumWidth(560)
        said = tr(
            "A second window shows the register as it was known then, rebuilt from the trail: every page and "
            "report, without anything that was entered, corrected or voided later. Nothing can be changed "
            "there. It is as trustworthy as the trail is: verify first."
        )
        self.body.addWidget(label(said, wraps=True))
        newest = QDateTime.fromSecsSinceEpoch(int(now.timestamp()), QTimeZone.systemTimeZone())
        self.moment = QDateTimeEdit(newest)
        self.moment.setAccessibleName(tr("Moment"))
        self.moment.setCalendarPopup(True)
        self.moment.setDisplayFormat("d MMM yyyy, HH:mm:ss")
        self.moment.setMaximumDateTime(newest)
        self.body.addWidget(label(tr("Moment, by this machine's clock"), "heading"))
        self.body.addWidget(self.moment)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.button(tr("Show"), self._on_show, main=True)

    def _on_show(self) -> None:
        seconds = self.moment.dateTime().toSecsSinceEpoch()
        self.accept()
        self.given.emit(datetime.fromtimestamp(seconds, UTC))
