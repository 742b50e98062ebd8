"""The tree of places and its filter."""

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estate.domain.browsing import PlaceKind
from estate.domain.standing import OutletState
from estate.window.models.place_tree import PlaceTree
from estate.window.roles import Role
from tests.window.builders import parent, tree

MODE = QAbstractItemModelTester.FailureReportingMode.Warning


@pytest.fixture
def model(qtbot: QtBot) -> PlaceTree:
    made = PlaceTree()
    made.fill(tree(12, (OutletState.IN_ORDER, OutletState.OVERDUE)))
    return made


def labels(model: PlaceTree, above: QModelIndex | None = None) -> list[str]:
    above = above or QModelIndex()
    found: list[str] = []
    for row in range(model.rowCount(above)):
        index = model.index(row, 0, above)
        found += [index.data(), *labels(model, index)]
    return found


def test_that_qt_finds_no_fault_while_it_is_filled_and_filtered(model: PlaceTree) -> None:
    tester = QAbstractItemModelTester(model, MODE)
    for text in ("g", "g05", "nothing like it", "", "main block", "whb1 basin", ""):
        model.seek(text)
    model.fill(tree(3))
    model.fill(())
    assert model.rowCount() == 0
    assert tester.model() is model


def test_that_a_match_stands_in_its_place(model: PlaceTree) -> None:
    assert model.seek("g05") == 1
    assert labels(model) == [
        "Marlpit Cross",
        "Main Block",
        "Level G",
        "G05  Bathroom",
        "MM/G/G05/WHB1  Basin 1",
    ]


def test_that_a_reference_is_found_without_case_and_punctuation(model: PlaceTree) -> None:
    assert model.seek("mmgg05whb1") == 1
    assert model.seek("MM-G-G05-WHB1") == 1
    assert model.seek("a15-7") == 1


def test_that_every_word_must_be_found_but_in_any_order(model: PlaceTree) -> None:
    assert model.seek("basin g05 main") == 1
    assert model.seek("g05 g06") == 0
    assert labels(model) == []


def test_that_finding_a_building_shows_all_of_it(model: PlaceTree) -> None:
    assert model.seek("main block") == 12
    assert model.seek("") == 12


def test_that_a_node_says_how_many_need_someone_to_act(model: PlaceTree) -> None:
    site = model.index(0, 0)
    assert site.data(Role.COUNT_WORDS) == "6 to act on"
    spoken = site.data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Marlpit Cross: 6 of 12 outlets to act on, the worst: overdue"


def test_that_an_outlet_says_its_state_in_a_word(model: PlaceTree) -> None:
    first = model.first_leaf()
    assert first.data(Role.COUNT_WORDS) == "overdue"
    assert first.data(Role.KEY) == 1


def test_that_a_node_in_order_counts_nothing(qtbot: QtBot) -> None:
    model = PlaceTree()
    model.fill(tree(2))
    assert model.index(0, 0).data(Role.COUNT_WORDS) == ""
    assert "none needs anyone" in model.index(0, 0).data(Qt.ItemDataRole.ToolTipRole)


def test_that_a_place_is_found_again_after_the_tree_was_read_afresh(model: PlaceTree) -> None:
    place = (PlaceKind.OUTLET, 7)
    before = model.index_of(place).data()
    model.fill(tree(12))
    assert model.index_of(place).data() == before
    assert not model.index_of((PlaceKind.OUTLET, 99)).isValid()


def test_that_one_outlet_in_twenty_thousand_is_found(qtbot: QtBot) -> None:
    model = PlaceTree()
    sites = [tree(2000)[0] for _ in range(10)]
    model.fill(
        [
            parent(PlaceKind.SITE, number, f"Site {number}", *site.children)
            for number, site in enumerate(sites)
        ]
    )
    assert model.seek("") == 20_000
    assert model.seek("g1999") == 10
