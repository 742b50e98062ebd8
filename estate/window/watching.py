"""Watches for what others do to the register, and lets the window read it again, quietly."""

from collections import Counter
from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, QTimer

from estate.domain.changes import ChangeSet, OthersChange
from estate.errors import KnownFault
from estate.window.desk import Desk
from estate.window.notices import Notices
from estate.window.tasks import Tasks
from estate.window.translating import tr, tr_count

_OFTEN_MS = 2_000
_SELDOM_MS = 15_000  # while the register is out of reach
_SHOWN = 2


class Watching(QObject):
    """Asks now and then, one question at a time; an unchanged register is not read.

    Args:
        desk: the register that is open, or None.
        tasks: where it is asked.
        notices: where changes are announced.
    """

    def __init__(
        self, desk: Callable[[], Desk | None], tasks: Tasks, notices: Notices, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._tasks, self._notices = desk, tasks, notices
        self._lost = False
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.setInterval(_OFTEN_MS)
        self.timer.timeout.connect(self.look)
        self.timer.start()

    def look(self) -> None:
        """Ask once, then wait again."""
        desk = self._desk()
        if desk is None:
            self._lost = False
            self.timer.start(_OFTEN_MS)
        else:
            self._tasks.run(desk.news, lambda news: self._on_news(desk, news), self._on_failed)

    def _on_news(self, desk: Desk, news: Sequence[OthersChange]) -> None:
        self.timer.start(_OFTEN_MS)
        found, self._lost = self._lost, False
        if desk is not self._desk() or not (news or found):
            return
        self._notices.announce(ChangeSet(everything=True))
        self._notices.say(told(news) if news else tr("The register is in reach again, and was read afresh."))

    def _on_failed(self, error: BaseException) -> None:
        if not isinstance(error, KnownFault):
            self._notices.report(error)
            return
        self.timer.start(_SELDOM_MS)
        if not self._lost and self._desk() is not None:
            self._notices.say(tr("{title}. It is tried again; what you typed stays.", title=error.title))
        self._lost = True


def told(news: Sequence[OthersChange]) -> str:
    """What others did, in one line for the status line, the newest first."""
    times = Counter((each.who, each.what) for each in news)
    last = {(each.who, each.what): each.clock for each in news}
    parts = [_part(who, what, times[who, what], clock) for (who, what), clock in reversed(last.items())]
    more = sum(list(times.values())) - sum(times[key] for key in list(reversed(last))[:_SHOWN])
    rest = [tr_count(more, "and {n:,} more change", "and {n:,} more changes")] if more else []
    return "; ".join((*parts[:_SHOWN], *rest))


def _part(who: str, what: str, times: int, clock: str) -> str:
    done = tr("{what} {times:,} times", what=what, times=times) if times > 1 else what
    return f"{who or tr('Somebody')} {done}, {clock}"
