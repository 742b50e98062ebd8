"""A list of 20,000 lines keeps up with typing: a key in its filter against one look at every line.

By hand, in milliseconds: ``python -m tests.benchmarks.test_list_speed``.
"""

import sys

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estate.domain.due import DueLine
from estate.window.models.due_rows import DueModel
from estate.window.widgets.listing import Listing
from tests.benchmarks.test_window_speed import least_s
from tests.window.builders import due_line

LINES = 20_000
KEYS = ("g", "g1", "g12", "main", "basin patients", "zzz")
STATE, USERS = 0, 9


def listed() -> Listing[DueLine]:
    """A due list, with what its lines are found by prepared."""
    listing: Listing[DueLine] = Listing(DueModel(), "Due list")
    listing.resize(1200, 800)
    listing.table.fill([due_line(number, after=number % 400 - 200) for number in range(LINES)])
    listing.table.prepare()
    return listing


def once_s(listing: Listing[DueLine]) -> float:
    """What one look at every line costs."""
    return least_s(lambda: sum("zzz" in heard for heard in listing.table.heard))


def key_s(listing: Listing[DueLine], text: str) -> float:
    """What a key in the filter costs, from an empty one."""
    spent = []
    for _ in range(5):
        listing.ordered.seek("")
        spent.append(least_s(lambda: listing.ordered.seek(text), 1))
    return min(spent)


def test_that_a_key_in_the_filter_costs_a_few_looks_at_every_line(qtbot: QtBot) -> None:
    listing = listed()
    qtbot.addWidget(listing)
    once = once_s(listing)
    assert max(key_s(listing, text) for text in KEYS) < 15 * once
    listing.ordered.gather_by(STATE)
    assert max(key_s(listing, text) for text in KEYS) < 30 * once


def measured() -> dict[str, float]:
    """Every figure, milliseconds."""
    listing = listed()
    lines = listing.table.rows
    told = {"filled": least_s(lambda: listing.table.fill(lines))}
    told["prepared for words"] = least_s(listing.table.prepare, 1)
    told["one look at every line"] = once_s(listing)
    told |= {f"key {text!r}": key_s(listing, text) for text in KEYS}
    told["sorted by state"] = least_s(lambda: listing.ordered.sort(STATE), 1)
    told["sorted the other way"] = least_s(
        lambda: listing.ordered.sort(STATE, Qt.SortOrder.DescendingOrder), 1
    )
    told["grouped by users"] = least_s(lambda: listing.ordered.gather_by(USERS))
    told |= {f"key {text!r}, grouped": key_s(listing, text) for text in KEYS[:2]}
    told["folded"] = least_s(lambda: listing.ordered.fold(0))
    return {name: seconds * 1000 for name, seconds in told.items()}


if __name__ == "__main__":
    application = QApplication(["measure"])
    for name, milliseconds in measured().items():
        sys.stdout.write(f"{name}: {milliseconds:.1f} ms\n")
