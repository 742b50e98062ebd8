"""Shows the windows that were open when the program was left: first the window, then what it reads."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from estate.settings import Settings
from estate.window.main_window import MainWindow
from estate.window.standing import AsLeft, find_windows
from estate.window.tasks import Tasks


def take_up(window: MainWindow, tasks: Tasks, register_url: str | None, preferred: Settings) -> None:
    """Show the first window at once; registers are looked for in the worker, as a disk may be far away.

    Args:
        window: the first window, not yet shown.
        tasks: where disks are asked.
        register_url: the register to show, in one window; None shows what was open last.
        preferred: the person's settings.
    """
    lefts = _lefts(register_url, preferred)
    window.windows.take_up(lefts[0])
    window.show()
    if register_url is not None:
        window.open(register_url)
    elif not lefts[0].register:
        window.seat(None)
    else:
        window.pages.start.tell_opening(lefts[0].register)
        asked = {*(each.register for each in lefts), *preferred.registers}
        tasks.run(
            lambda: {each: _is_there(each) for each in asked}, lambda there: _go_on(window, lefts, there)
        )


def _lefts(register_url: str | None, preferred: Settings) -> list[AsLeft]:
    """How the windows are to stand, at least one."""
    lefts = find_windows(preferred.windows)
    if register_url is not None:
        return [each for each in lefts if each.register == register_url][:1] or [AsLeft(register_url)]
    return lefts or [AsLeft(preferred.register)]


def _go_on(window: MainWindow, lefts: Sequence[AsLeft], there: Mapping[str, bool]) -> None:
    """Open what is there; where the register of the first window is gone, the next takes its place."""
    left = [each for each in lefts if there[each.register]]
    if not left:
        window.seat(None)
        gone = lefts[0].register
        late = [each for each, found in there.items() if found and each != gone]
        window.pages.start.tell_gone(gone, late)
        return
    if left[0] is not lefts[0]:
        window.windows.take_up(replace(left[0], box=None))
    waiting = left[1:]

    def open_others() -> None:
        while waiting:
            window.windows.open_as_left(waiting.pop(0))

    window.showing.opened.connect(open_others)
    window.open(left[0].register)


def _is_there(register: str) -> bool:
    """Whether a register may be opened; of one on a server only trying tells."""
    return "://" in register or (bool(register) and Path(register).is_file())
