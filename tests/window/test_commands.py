"""The table of actions, and what the window makes of it."""

from collections import Counter

import pytest
from PySide6.QtGui import QKeySequence
from pytestqt.qtbot import QtBot

from estate import assets
from estate.window.commands.command import Menu, When
from estate.window.commands.table import COMMANDS
from estate.window.dialogs.reading import CAUTIONS, cautions_dialog, keys_dialog
from estate.window.look import Scheme
from estate.window.schemes import DARK, LIGHT
from tests.window.conftest import Seat


def test_that_every_action_has_an_id_and_a_key_of_its_own() -> None:
    assert max(Counter(each.id for each in COMMANDS).values()) == 1
    keys = [each.key for each in COMMANDS if each.key]
    assert max(Counter(keys).values()) == 1
    assert all(QKeySequence(key).toString() == key for key in keys)


@pytest.mark.parametrize("menu", Menu)
def test_that_no_two_actions_of_a_menu_share_a_mnemonic(menu: Menu) -> None:
    letters = [each.words[each.words.index("&") + 1].casefold() for each in COMMANDS if each.menu is menu]
    assert max(Counter(letters).values()) == 1


def test_that_every_drawing_named_is_there() -> None:
    for each in COMMANDS:
        if each.icon:
            text = assets.resource("icons", f"{each.icon}.svg").read_text("utf-8")
            assert "currentColor" in text


def test_that_without_a_register_only_what_makes_sense_is_open(bare: Seat) -> None:
    opened = {each.id for each in COMMANDS if bare.window.actions_[each.id].isEnabled()}
    assert opened == {each.id for each in COMMANDS if each.when is When.ALWAYS}


def test_that_an_outlet_opens_what_can_be_done_to_it(seat: Seat) -> None:
    actions = seat.window.actions_
    assert not actions["record"].isEnabled()
    reading = seat.window.showing.reading
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    assert actions["record"].isEnabled()
    assert not actions["void"].isEnabled()
    seat.window.pages.outlet.history.selectRow(0)
    assert actions["void"].isEnabled()
    assert actions["correct"].isEnabled()


def test_that_menus_and_key_list_hold_every_action(bare: Seat, qtbot: QtBot) -> None:
    shown = [
        action.objectName()
        for top in bare.window.menuBar().actions()
        for action in (top.menu().actions() if top.menu() is not None else [])  # type: ignore[attr-defined]
        if action.objectName()
    ]
    assert Counter(shown) == Counter(each.id for each in COMMANDS)
    dialog = keys_dialog(COMMANDS)
    qtbot.addWidget(dialog)
    assert dialog.windowTitle() == "Keys"


def test_that_light_and_dark_are_chosen_and_kept(bare: Seat) -> None:
    bare.window.actions_["light-dark"].trigger()
    assert bare.built.look.shades is DARK
    assert bare.kept[-1].scheme == "dark"
    assert bare.window.actions_["light-dark"].isChecked()
    bare.window.actions_["light-system"].trigger()
    assert bare.built.look.scheme is Scheme.SYSTEM
    bare.window.actions_["light-light"].trigger()
    assert bare.built.look.shades is LIGHT


def test_that_the_cautions_say_what_can_hurt_and_what_comes_first(qtbot: QtBot) -> None:
    said = " ".join(f"{heading} {words}" for heading, words in CAUTIONS)
    for word in (
        "scald",
        "isolat",
        "disinfect",
        "maker's instructions",
        "risk assessment",
        "licensed",
        "codes",
    ):
        assert word in said
    dialog = cautions_dialog(["The rule set's own."])
    qtbot.addWidget(dialog)
    assert dialog.windowTitle() == "Cautions"
