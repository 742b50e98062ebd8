"""The tree of 20,000 outlets keeps up with typing: a key in its filter against a walk over all its nodes.

By hand, in milliseconds: ``python -m tests.benchmarks.test_window_speed``.
"""

import os
import sys
from collections.abc import Callable, Iterable
from time import process_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.standing import OutletState
from estate.window.models.place_choice import outlets_below, walk
from estate.window.widgets.place_panel import PlacePanel
from tests.window.builders import parent

SITES, BUILDINGS, LEVELS, ROOMS, OUTLETS = 4, 10, 5, 25, 4
COSTLIEST = ("s1b2/3", "basin", "whb1")
KEYS = ("w", "ward 3", "s1b2/3", "004321", "zzz", "basin", "whb1")


def estate() -> tuple[PlaceNode, ...]:
    """A tree of 20,000 outlets, each found by its reference, room, valve and serial number."""
    return tuple(
        parent(PlaceKind.SITE, site, f"Site {site}", *(building(site, number) for number in range(BUILDINGS)))
        for site in range(SITES)
    )


def building(site: int, number: int) -> PlaceNode:
    """One building with its levels, rooms and outlets."""
    first = (site * BUILDINGS + number) * LEVELS
    levels = [
        parent(
            PlaceKind.LEVEL,
            first + level,
            f"Level {level}",
            *(room(f"S{site}B{number}/{level}", (first + level) * ROOMS + each) for each in range(ROOMS)),
        )
        for level in range(LEVELS)
    ]
    return parent(PlaceKind.BUILDING, site * BUILDINGS + number, f"Building {number}", *levels)


def room(where: str, number: int) -> PlaceNode:
    """One room with its outlets."""
    return parent(
        PlaceKind.ROOM,
        number,
        f"{number:04}  Ward room",
        *(tap(where, number * OUTLETS + each) for each in range(OUTLETS)),
    )


def tap(where: str, number: int) -> PlaceNode:
    """One outlet."""
    label = f"{where}/{number:06}/WHB{number % OUTLETS}"
    state = OutletState.OVERDUE if number % 7 == 0 else OutletState.IN_ORDER
    heard = f"{label} Ward room basin by the door Make A A15 {number:06}"
    return PlaceNode(PlaceKind.OUTLET, number, label, state, int(state.needs_attention), 1, heard)


def least_s(work: Callable[[], object], times: int = 5) -> float:
    """Least processor time of several, seconds."""
    spent = []
    for _ in range(times):
        began = process_time()
        work()
        spent.append(process_time() - began)
    return min(spent)


def walk_s(nodes: Iterable[PlaceNode]) -> float:
    """What it costs to look at every node once, and to fold the case of what is said of it."""
    kept = tuple(nodes)
    return least_s(lambda: sum("zzz" in node.search_words.casefold() for node in walk(kept)))


def key_s(panel: PlacePanel, text: str, times: int = 5) -> float:
    """What a key in the filter costs, from an empty one."""
    spent = []
    for _ in range(times):
        panel.search.clear()
        spent.append(least_s(lambda: panel.search.setText(text), 1))
    return min(spent)


def filled(nodes: tuple[PlaceNode, ...]) -> PlacePanel:
    """A panel that shows a tree."""
    panel = PlacePanel()
    panel.resize(340, 900)
    panel.tell(nodes)
    return panel


def test_that_a_key_in_the_filter_costs_about_as_much_as_one_look_at_every_node(qtbot: QtBot) -> None:
    nodes = estate()
    assert sum(each.outlets for each in nodes) == 20_000
    panel = filled(nodes)
    qtbot.addWidget(panel)
    once = walk_s(nodes)
    assert max(key_s(panel, text, 3) for text in COSTLIEST) < 4 * once
    assert least_s(lambda: panel.tell(nodes), 3) < 12 * once
    panel.tree.selectAll()
    assert least_s(lambda: outlets_below(panel.picked_nodes), 3) < 4 * once


def measured() -> dict[str, float]:
    """Every figure, milliseconds."""
    nodes = estate()
    panel = filled(nodes)
    told = {"one look at every node": walk_s(nodes)}
    told |= {f"key {text!r}": key_s(panel, text) for text in KEYS}
    told["told again"] = least_s(lambda: panel.tell(nodes))
    panel.tree.selectAll()
    told["all outlets below what is chosen"] = least_s(lambda: outlets_below(panel.picked_nodes))
    return {name: seconds * 1000 for name, seconds in told.items()}


if __name__ == "__main__":
    application = QApplication(["measure"])
    for name, milliseconds in measured().items():
        sys.stdout.write(f"{name}: {milliseconds:.1f} ms\n")
