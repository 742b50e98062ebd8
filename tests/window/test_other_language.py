"""The window in a language that nobody speaks: no English words of its own stay, and none are cut off."""

import json
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from estate.app.exhibits import put_away, round_for, staged
from estate.operations.open_register import new_register
from estate.window.pictures.book import DIALOGS, PAGES, Sight
from estate.window.pictures.stage import Stage, close_all, settle
from estate.window.tasks import Straight
from tests import wording
from tests.window.builders import NOW
from tests.window.pseudo import Pseudo, clipped, left_over, spoken, texts_of

_AS_KEPT = {"Did not shut", "The whole estate", "person", "remarks", "added"}
_AS_KEPT |= {"shower head cleaned and descaled"}
_AS_KEPT |= {f"{side} {kind} pressure" for side in ("Hot", "Cold") for kind in ("flow", "static")}
_AS_KEPT |= {"The recorded risk assessment decides between Type 2 and Type 3 (D08-06)."}
"""Of a remark, of findings, of the trail and of a rule set's notes: what was kept or published stays in the
language in which it was written."""
_OF_SHEETS = {"columns", "preview", "questions", "source-sheet"}
"""Sights of sheets as they came."""
_SOURCES = wording.phrase_sources()
_OF_FINDINGS = wording.wrapped({"estate.domain.scald": _SOURCES["estate.domain.scald"]})
_PHRASES = wording.wrapped(_SOURCES) - _AS_KEPT - _OF_FINDINGS
_OWN = (wording.literals(wording.window_sources()) - _AS_KEPT) | _PHRASES
_PIECES = wording.longest_pieces(_PHRASES)
"""What stands in sentences made below the window, whatever is put into them and they into."""


@pytest.fixture(scope="module")
def speaking(qapp: QApplication) -> Iterator[QApplication]:
    """The application, speaking that language."""
    translator = Pseudo(qapp)
    assert qapp.installTranslator(translator)
    yield qapp
    qapp.removeTranslator(translator)


@pytest.fixture(scope="module")
def stage(
    speaking: QApplication, tmp_path_factory: pytest.TempPathFactory, small_estate: Path
) -> Iterator[Stage]:
    """The window over the sample estate, in that language."""
    place = tmp_path_factory.mktemp("spoken")
    register = place / "sample.db"
    shutil.copyfile(small_estate, register)
    with Straight() as executor:
        built = staged(speaking, executor, register, "light", 1280, 800)
        yield Stage(built.window, round_for(register, place / "round.csv"))
        put_away(built)


def _rows(stage: Stage, query: str) -> list[str]:
    with closing(sqlite3.connect(stage.sheet.with_name("sample.db"))) as register:
        return [str(text) for (text,) in register.execute(query)]


def _places(stage: Stage) -> frozenset[str]:
    """What the estate's places are called."""
    return frozenset(_rows(stage, "SELECT name FROM site UNION SELECT name FROM building"))


def _cells(stage: Stage) -> frozenset[str]:
    """What stands in the sheet, and what stood in the one that the sample's visits were read from."""
    kept = _rows(stage, "SELECT source_cells FROM visit WHERE source_cells IS NOT NULL LIMIT 1")
    read = (cell for lines in kept for line in json.loads(lines) for cell in line)
    return frozenset((*stage.sheet.read_text("utf-8").replace("\n", ";").split(";"), *read))


def english(shown: QWidget, data: frozenset[str]) -> list[str]:
    """Texts in which words of the window's own source stand as they are; a sheet's data may say the same."""
    found = dict.fromkeys(text for _, text in texts_of(shown))
    return [
        text
        for text in found
        if _has_piece(text) or any(_is_own(part, data) for part in left_over(text).split("\x00"))
    ]


@cache
def _has_piece(text: str) -> bool:
    return any(piece in text for piece in _PIECES)


def _is_own(part: str, data: frozenset[str]) -> bool:
    plain = part.strip(" .,:;…()“”\n")
    return any(each in _OWN and each not in data for each in (plain, *plain.split("\n")))


def test_that_english_words_and_cut_off_words_are_named(qtbot: QtBot) -> None:
    shown = QWidget()
    qtbot.addWidget(shown)
    row = QHBoxLayout(shown)
    for words in ("Due list", spoken("Due list"), "T. A. Person", f"{spoken('Late')}: Due list"):
        row.addWidget(QLabel(words))
    narrow = QPushButton(spoken("The overdue list on paper…"))
    narrow.setFixedWidth(40)
    row.addWidget(narrow)
    shown.show()
    assert english(shown, frozenset()) == ["Due list", f"{spoken('Late')}: Due list"]
    assert english(shown, frozenset({"Due list"})) == []
    assert [each.split()[0] for each in clipped(shown)] == ["QPushButton"]


def test_that_a_new_register_greets_in_that_language(speaking: QApplication, tmp_path: Path) -> None:
    register = tmp_path / "new.db"
    new_register(register, "Withy End Care Home", at=NOW, who="E. Marlow").close()
    with Straight() as executor:
        built = staged(speaking, executor, register, "light", 1280, 800)
        settle()
        faults = [*english(built.window, frozenset()), *clipped(built.window)]
        put_away(built)
    assert faults == []


def test_that_the_tree_takes_its_room_as_text_grows_in_that_language(stage: Stage) -> None:
    before = stage.window.panel.width()
    stage.window.actions_["text-200"].trigger()
    settle()
    after = stage.window.panel.width()
    stage.window.actions_["text-100"].trigger()
    settle()
    assert before < after


@pytest.mark.parametrize("sight", [*PAGES, *DIALOGS], ids=lambda sight: sight.name)
def test_that_no_words_stay_english_and_none_are_cut_off(stage: Stage, sight: Sight) -> None:
    shown = sight.scene(stage)
    settle()
    data = _places(stage) | (_cells(stage) if sight.name in _OF_SHEETS else frozenset())
    faults = [*(f"English: {each}" for each in english(shown, data)), *clipped(shown)]
    close_all(stage)
    sight.after(stage)
    assert not faults, "\n".join(faults)
