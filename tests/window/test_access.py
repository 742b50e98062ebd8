"""For everyone: every page and dialog at text of 200 %, by keyboard, and as a screen reader reads it."""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QWidget

from estate.app.exhibits import put_away, round_for, staged
from estate.errors import EntryFault
from estate.window.dialogs import shell
from estate.window.main_window import MainWindow
from estate.window.pictures import book
from estate.window.pictures.book import Sight
from estate.window.pictures.stage import Stage, close_all, settle
from estate.window.tasks import Straight
from tests.architecture import sources_in
from tests.habits import Sources
from tests.window import walking
from tests.window.conftest import Seat

ROOT = Path(__file__).parents[2]
WIDE, HIGH = 1280, 800
"""The smallest window that everything is made for, logical pixels."""


@dataclass
class Walked:
    """What was found on a walk through everything, by rule."""

    shown: set[str] = field(default_factory=set)
    faults: dict[str, list[str]] = field(default_factory=dict)

    def add(self, rule: str, sight: str, faults: list[str]) -> None:
        """Keep what was found at one sight."""
        self.faults.setdefault(rule, []).extend(f"{sight}: {each}" for each in faults)


@pytest.fixture(scope="module")
def walked(
    qapp: QApplication, small_estate: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Walked]:
    """A walk through every sight of the picture book, in the smallest window, text at 200 %."""
    place = tmp_path_factory.mktemp("walk")
    register = place / "copy.db"
    shutil.copyfile(small_estate, register)
    sheet = round_for(register, place / "round.csv")
    found, known = Walked(), set[str]()
    with Straight() as executor:
        built = staged(qapp, executor, register, "light", WIDE, HIGH, 200)
        stage = Stage(built.window, sheet)
        for sight in (*book.PAGES, *book.DIALOGS):
            look_at(stage, sight, found, known)
        built.look.size_text(100)
        put_away(built)
    yield found


def look_at(stage: Stage, sight: Sight, found: Walked, known: set[str]) -> None:
    """Show one sight, and keep what is wrong with it."""
    shown = sight.scene(stage)
    shown.activateWindow()
    settle()
    found.shown |= {type(shown).__name__, type(stage.window.showing.stack.currentWidget()).__name__}
    large = shown.width() > WIDE or shown.height() > HIGH
    found.add("large", sight.name, [f"is {shown.size().toTuple()}"] if large else [])
    found.add("silent", sight.name, walking.silent(shown))
    found.add("unspoken", sight.name, walking.unspoken(shown))
    found.add("clipped", sight.name, walking.clipped(shown))
    open_ = [each for each in walking.controls(shown) if each.isEnabled()]
    been, faults = walking.stepped(shown, known)
    found.add("keys", sight.name, faults)
    found.add("unreached", sight.name, walking.unreached(open_, been))
    sight.after(stage)
    close_all(stage)


def classes(sources: Sources, package: str, ending: str) -> set[str]:
    """Classes of a package whose names end in something."""
    found = set()
    for module, text in sources.items():
        if module.startswith(package):
            lines = (line for line in text.splitlines() if line.startswith("class "))
            names = (line.removeprefix("class ").split("(")[0].rstrip(":") for line in lines)
            found |= {name for name in names if name.endswith(ending) and not name.startswith("_")}
    return found


def test_that_the_picture_book_shows_every_page_and_every_dialog(walked: Walked) -> None:
    sources = sources_in(ROOT / "estate")
    pages = classes(sources, "estate.window.pages", "View") - {"StartView"}
    dialogs = classes(sources, "estate.window.dialogs", "Dialog")
    assert len(pages) >= 13
    assert len(dialogs) >= 35
    assert pages - walked.shown == set()
    assert dialogs - walked.shown == set()


@pytest.mark.parametrize(
    "rule",
    [
        pytest.param("large", id="nothing is larger than the smallest window"),
        pytest.param("clipped", id="no words are cut off"),
        pytest.param("silent", id="every control has a name, its role and its state"),
        pytest.param("unspoken", id="what is painted is told in words"),
        pytest.param("keys", id="where the keys are can be seen"),
        pytest.param("unreached", id="the keyboard reaches everything"),
    ],
)
def test_that_at_twice_the_size_of_text_everybody_can_use_everything(walked: Walked, rule: str) -> None:
    assert len(walked.shown) > 40
    assert walked.faults[rule] == []


@pytest.fixture
def heard(monkeypatch: pytest.MonkeyPatch) -> list[tuple[QObject, QAccessible.Event, str]]:
    """What a screen reader is told."""
    told: list[tuple[QObject, QAccessible.Event, str]] = []

    def listen(event: QAccessible) -> None:
        words = event.message() if hasattr(event, "message") else ""
        told.append((event.object(), event.type(), words))  # type: ignore[attr-defined]

    monkeypatch.setattr(QAccessible, "updateAccessibility", listen)
    return told


def words_of(heard: list[tuple[QObject, QAccessible.Event, str]]) -> list[str]:
    return [words for _, _, words in heard if words]


def test_that_what_was_done_is_said_aloud(
    seat: Seat, heard: list[tuple[QObject, QAccessible.Event, str]]
) -> None:
    seat.built.notices.say("Kept: basin before.jpg.")
    seat.built.notices.say("")
    assert words_of(heard) == ["Kept: basin before.jpg."]


def test_that_a_fault_is_read_out_with_its_remedy(
    seat: Seat, heard: list[tuple[QObject, QAccessible.Event, str]]
) -> None:
    seat.built.notices.report(EntryFault("It can't be kept", "The disk is full.", "Make room."))
    dialog = seat.dialog()
    assert (dialog, QAccessible.Event.Alert, "") in heard
    told = walking.spoken(dialog)
    assert told.text(QAccessible.Text.Name) == "It can't be kept"
    assert told.text(QAccessible.Text.Description) == "The disk is full. Make room."


def test_that_what_is_wrong_with_a_form_is_said_once_as_it_appears(
    seat: Seat, heard: list[tuple[QObject, QAccessible.Event, str]]
) -> None:
    seat.window.actions_["connect"].trigger()
    dialog = seat.dialog()
    wrong = next(each for each in dialog.findChildren(QLabel) if each.property("kind") == "wrong")
    for _ in range(2):
        wrong.setText("The server can't be reached.")
    assert words_of(heard) == ["The server can't be reached."]


def test_that_a_notice_above_the_pages_is_said_aloud(
    seat: Seat, heard: list[tuple[QObject, QAccessible.Event, str]]
) -> None:
    seat.window.trust.banner.tell("The trail does not fit", "Two rows differ.")
    assert words_of(heard) == ["The trail does not fit. Two rows differ."]


def test_that_getting_the_keys_alone_leads_nowhere(seat: Seat) -> None:
    seat.window.actions_["today"].trigger()
    settle()
    page = seat.window.showing.stack.currentWidget()
    seat.window.panel.tree.setFocus()
    settle()
    assert seat.window.panel.tree.currentIndex().isValid()
    assert seat.window.showing.stack.currentWidget() is page


def test_that_the_walk_finds_what_is_wrong(qapp: QApplication, seat: Seat) -> None:
    window: MainWindow = seat.window
    seat.window.actions_["today"].trigger()
    settle()
    assert walking.silent(window) == []
    window.panel.tree.setAccessibleName("")
    assert [each for each in walking.silent(window) if "no name" in each]
    cut = QLabel("Words that need more room than they have", window)
    cut.setGeometry(0, 0, 40, 10)
    cut.show()
    assert [each for each in walking.clipped(window) if "Words that need" in each]
    bare = QWidget(window)
    bare.setProperty("spoken", "Chart")
    bare.setGeometry(0, 0, 10, 10)
    bare.show()
    assert walking.unspoken(window)


def test_that_a_dialog_never_outgrows_the_screen(seat: Seat) -> None:
    dialog = shell.Shell("A long matter", seat.window)
    for number in range(90):
        dialog.body.addWidget(QLabel(f"Line {number} of what has to be read"))
    last = dialog.button("Close", dialog.accept, main=True)
    dialog.show_modal()
    settle()
    assert isinstance(dialog, QDialog)
    assert dialog.height() <= HIGH
    assert not last.visibleRegion().isEmpty()
    assert dialog.area.verticalScrollBar().maximum() > 0
