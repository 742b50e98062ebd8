"""Work away from the window's thread: one worker, handed in, so that tests run straight through."""

from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor, wait
from threading import Event
from typing import Any, TypeVar

from PySide6.QtCore import QObject, Signal, Slot
from typing_extensions import override

from estate.domain.progress import Cancelled, Progress
from estate.errors import KnownFault
from estate.window.notices import Notices

T = TypeVar("T")


class Straight(Executor):
    """Waits for each piece of work before it goes on: for pictures and tests."""

    def __init__(self) -> None:
        self._worker = ThreadPoolExecutor(1, "straight")

    @override
    def submit(self, fn: Callable[..., T], /, *args: Any, **kwargs: Any) -> Future[T]:
        future = self._worker.submit(fn, *args, **kwargs)
        wait([future])
        return future

    @override
    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self._worker.shutdown(wait=wait, cancel_futures=cancel_futures)


class LongTask(QObject):
    """One piece of long work: tells how far it is, and can be asked to stop.

    Attributes:
        progressed: (done, of, words), delivered in the window's thread.
        ended: once, whatever came of it.
    """

    progressed = Signal(int, int, str)
    ended = Signal()

    def __init__(self, words: str, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.words = words
        self._stop = Event()

    def cancel(self) -> None:
        """Ask the work to stop at its next step."""
        self._stop.set()

    def tell(self, done: int, of: int, words: str) -> None:
        """Tell how far the work is; runs in the worker.

        Raises:
            Cancelled: the person asked to stop.
        """
        if self._stop.is_set():
            raise Cancelled
        self.progressed.emit(done, of, words)


class Tasks(QObject):
    """Runs work in the executor and brings its outcome back to the window's thread."""

    _came_back = Signal(object)
    began = Signal(object)

    def __init__(self, executor: Executor, notices: Notices, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._executor = executor
        self._notices = notices
        self._hushed = False
        self._asked = 0
        self._begun = 0
        self._came_back.connect(self._on_came_back)

    def run(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[BaseException], None] | None = None,
    ) -> None:
        """Do short work in the worker.

        Args:
            work: runs in the worker; may touch no widget.
            done: gets the outcome in the window's thread.
            failed: gets the exception there; None reports it the usual way.
        """
        self._asked += 1

        def begin() -> T:
            self._begun += 1
            return work()

        future = self._executor.submit(begin)
        future.add_done_callback(lambda ready: self._came_back.emit((ready, done, failed)))

    def run_long(
        self,
        words: str,
        work: Callable[[Progress], T],
        done: Callable[[T], None],
        began: Callable[[LongTask], None] | None = None,
        failed: Callable[[BaseException], None] | None = None,
    ) -> None:
        """Do long work in the worker, with progress and a way to stop it.

        Args:
            words: what is being done.
            work: runs in the worker and tells its progress.
            done: gets the outcome in the window's thread.
            began: shows the task; None leaves that to whoever listens to `began`.
            failed: gets the exception in the window's thread; None reports it the usual way.
        """
        task = LongTask(words, self)
        (began or self.began.emit)(task)

        def finish(outcome: T) -> None:
            task.ended.emit()
            done(outcome)

        def give_up(error: BaseException) -> None:
            task.ended.emit()
            (failed or self._notices.report)(error)

        task.ended.connect(task.deleteLater)
        self.run(lambda: work(task.tell), finish, give_up)

    @property
    def waiting(self) -> bool:
        """Whether work of this window was asked for that has not begun yet."""
        return self._asked > self._begun

    def report(self, error: BaseException) -> None:
        """Report an exception the usual way."""
        self._notices.report(error)

    def hush(self) -> None:
        """The window is gone: what comes back now has nobody to be shown to; a defect is still told."""
        self._hushed = True

    @Slot(object)
    def _on_came_back(
        self,
        back: tuple[Future[T], Callable[[T], None], Callable[[BaseException], None] | None],
    ) -> None:
        ready, done, failed = back
        if ready.cancelled():
            return
        error = ready.exception()
        if self._hushed:
            if error is not None and not isinstance(error, KnownFault | Cancelled):
                raise error
        elif error is None:
            done(ready.result())
        else:
            (failed or self._notices.report)(error)


class Latest:
    """Runs only the newest of several asks: what has been overtaken is neither done nor shown."""

    def __init__(self, tasks: Tasks) -> None:
        self._tasks = tasks
        self._newest = 0

    def run(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        gave_up: Callable[[], None] | None = None,
    ) -> None:
        """Ask for work that overtakes whatever was asked before.

        Args:
            work: runs in the worker; may touch no widget.
            done: gets the outcome in the window's thread.
            gave_up: called there when the work broke off, before that is reported.
        """
        self._newest += 1
        mine = self._newest

        def unless_overtaken() -> list[T]:
            return [work()] if mine == self._newest else []

        def shown(outcome: list[T]) -> None:
            if mine == self._newest:
                for each in outcome:
                    done(each)

        def broke_off(error: BaseException) -> None:
            if gave_up is not None and mine == self._newest:
                gave_up()
            self._tasks.report(error)

        self._tasks.run(unless_overtaken, shown, broke_off)

    def run_aside(
        self, work: Callable[[Progress], T], done: Callable[[T], None], wanted: Callable[[], bool]
    ) -> None:
        """Ask for long work that nobody waits for: it gives way to any other, and is begun again after that.

        Args:
            work: runs in the worker and tells its progress often; it may be stopped there.
            done: gets the outcome in the window's thread.
            wanted: asked there whether it is still to be begun again and shown.
        """
        self._newest += 1
        mine = self._newest

        def give_way(steps: int, of: int, words: str) -> None:
            if mine != self._newest or self._tasks.waiting:
                raise Cancelled

        def unless_overtaken() -> list[T]:
            return [work(give_way)] if mine == self._newest else []

        def shown(outcome: list[T]) -> None:
            if mine == self._newest and wanted():
                for each in outcome:
                    done(each)

        def broke_off(error: BaseException) -> None:
            if not isinstance(error, Cancelled):
                self._tasks.report(error)
            elif mine == self._newest and wanted():
                self._tasks.run(unless_overtaken, shown, broke_off)

        self._tasks.run(unless_overtaken, shown, broke_off)

    def forget(self) -> None:
        """Let nothing asked so far be shown."""
        self._newest += 1
