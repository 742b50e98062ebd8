"""Going through the parts of a chart by keys: to the next, to the one before, to either end."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_ACROSS = (Qt.Key.Key_Left, Qt.Key.Key_Right)
_DOWN = (Qt.Key.Key_Up, Qt.Key.Key_Down)


def stepped(event: QKeyEvent, chosen: int, count: int, *, down: bool) -> int | None:
    """The part that a key goes to.

    Args:
        event: of the key.
        chosen: the part that is chosen, -1 for none.
        count: how many parts there are.
        down: whether they stand one below the other, not side by side.

    Returns:
        Its number; None where the key goes nowhere.
    """
    if not count:
        return None
    back, on = _DOWN if down else _ACROSS
    last = count - 1
    goes = {back: max(0, chosen - 1), on: min(last, chosen + 1), Qt.Key.Key_Home: 0, Qt.Key.Key_End: last}
    return goes.get(Qt.Key(event.key()))
