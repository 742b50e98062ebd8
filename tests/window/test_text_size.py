"""The size of text is chosen in the window, kept, and followed by everything without a new start."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication, QLabel, QToolBar, QToolButton
from pytestqt.qtbot import QtBot

from estate.window.look import PERCENTS, Scheme
from estate.window.pictures import settle
from estate.window.sizes import fixed_font, grown, growth, natural_font
from estate.window.widgets.beside import Beside
from tests.window.conftest import Seat


@pytest.fixture
def sized(bare: Seat) -> Iterator[Seat]:
    """A window whose text has its natural size again afterwards."""
    yield bare
    bare.built.look.size_text(100)


def test_that_a_size_is_chosen_and_kept(sized: Seat) -> None:
    for percent in PERCENTS:
        sized.window.actions_[f"text-{percent}"].trigger()
        assert sized.built.look.percent == percent
        assert QApplication.font().pointSizeF() == pytest.approx(natural_font().pointSizeF() * percent / 100)
        assert sized.preferences.settings.text_percent == percent
        assert sized.window.actions_[f"text-{percent}"].isChecked()


def test_that_keys_step_through_the_sizes_and_stop_at_either_end(sized: Seat) -> None:
    larger, smaller = (sized.window.actions_[f"text-{which}"] for which in ("larger", "smaller"))
    assert (larger.shortcut().toString(), smaller.shortcut().toString()) == ("Ctrl++", "Ctrl+-")
    assert sized.window.actions_["text-100"].shortcut().toString() == "Ctrl+0"
    seen = []
    for _ in range(5):
        larger.trigger()
        seen.append(sized.built.look.percent)
    for _ in range(5):
        smaller.trigger()
        seen.append(sized.built.look.percent)
    assert seen == [125, 150, 200, 200, 200, 150, 125, 100, 100, 100]


def test_that_a_size_that_there_is_not_is_the_natural_one(sized: Seat) -> None:
    sized.built.look.size_text(173)
    assert sized.built.look.percent == 100
    assert growth() == pytest.approx(1.0)


def test_that_rows_columns_icons_and_the_tree_follow_at_once(sized: Seat) -> None:
    listing, panel = sized.window.pages.due.listing, sized.window.panel
    toolbar = sized.window.findChild(QToolBar, "actions")
    assert isinstance(toolbar, QToolBar)
    high, wide, tree = listing.verticalHeader().defaultSectionSize(), listing.columnWidth(0), panel.width()
    icon = toolbar.iconSize().width()
    sized.window.actions_["text-200"].trigger()
    settle()
    assert listing.verticalHeader().defaultSectionSize() == pytest.approx(2 * high, abs=2)
    assert listing.columnWidth(0) == pytest.approx(2 * wide, abs=4)
    assert toolbar.iconSize().width() == 2 * icon
    assert tree < panel.width() <= sized.window.width() // 3 + 1
    assert sized.window.width() <= 1280
    more = toolbar.findChild(QToolButton, "qt_toolbar_ext_button")
    assert isinstance(more, QToolButton)
    assert more.isVisible()
    assert more.accessibleName() == "More actions"
    sized.window.actions_["text-100"].trigger()
    settle()
    assert (listing.verticalHeader().defaultSectionSize(), listing.columnWidth(0)) == (high, wide)


def test_that_lengths_and_the_font_of_even_widths_grow_with_the_text(sized: Seat) -> None:
    assert grown(13) == 13
    before = fixed_font().pointSizeF()
    sized.built.look.size_text(150)
    assert grown(13) == 20
    assert fixed_font().pointSizeF() == pytest.approx(1.5 * before)


def test_that_a_high_contrast_scheme_is_chosen_and_kept(sized: Seat) -> None:
    for scheme in (Scheme.CONTRAST_DARK, Scheme.CONTRAST_LIGHT):
        sized.window.actions_[f"light-{scheme.value}"].trigger()
        assert sized.built.look.shades.name == scheme.value
        assert sized.preferences.settings.scheme == scheme.value
        assert sized.window.actions_[f"light-{scheme.value}"].isChecked()


def test_that_things_beside_each_other_fold_where_one_would_be_too_narrow(qtbot: QtBot) -> None:
    beside = Beside(gap=10, least=200)
    qtbot.addWidget(beside)
    assert beside.heightForWidth(300) == 0
    for words in ("One " * 30, "Two " * 30):
        held = QLabel(words)
        held.setWordWrap(True)
        beside.add(held)
    beside.resize(600, 200)
    beside.show()
    settle()
    assert not beside.row.folds_at(beside.width())
    narrow = beside.heightForWidth(300)
    assert narrow > beside.heightForWidth(600)
    beside.resize(300, narrow)
    settle()
    assert beside.row.folds_at(beside.width())
    first, second = (item.geometry() for place in (0, 1) if (item := beside.row.itemAt(place)) is not None)
    assert first.bottom() < second.top()
    assert (first.width(), second.width()) == (300, 300)
    assert beside.row.takeAt(1) is not None
    assert (beside.row.takeAt(1), beside.row.itemAt(5)) == (None, None)
    assert beside.row.count() == 1


def test_that_at_twice_the_size_no_words_of_the_first_page_are_cut_off(sized: Seat) -> None:
    sized.window.resize(1280, 800)
    sized.window.actions_["text-200"].trigger()
    sized.window.pages.start.tell("Withy End Care Home")
    settle()
    labels = sized.window.pages.start.findChildren(QLabel)
    wrapped = [each for each in labels if each.wordWrap() and each.isVisible()]
    assert len(wrapped) > 3
    assert [each.text() for each in wrapped if each.height() < each.heightForWidth(each.width())] == []
