"""Takes the pictures of the window that the documentation shows, and that are looked at."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from estate.domain.standing import OutletState
from estate.domain.visits import VisitKind
from estate.errors import ReportFault
from estate.window.dialogs.backups import BackupsDialog
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.dialogs.restoring import RestoreDialog
from estate.window.main_window import MainWindow
from estate.window.models.drift_rows import chance_of
from estate.window.models.due_rows import Wanted
from estate.window.shades import Tone, shades_of

_TYPED = {
    "hot_c": "60,4",
    "cold_c": "12.8",
    "found_c": "43.6",
    "cold_isolated.shut_s": "1.8",
    "cold_isolated.residual_ml_min": "0",
    "cold_isolated.max_c": "42.9",
    "left_c": "41.2",
}


@dataclass(frozen=True)
class Stage:
    """An open window to take pictures of.

    Attributes:
        sheet: a contractor's sheet, for the preview.
    """

    window: MainWindow
    sheet: Path


Scene = Callable[[Stage], QWidget]


def settle() -> None:
    """Let everything be laid out and painted."""
    for _ in range(4):
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def _dialog(stage: Stage) -> QDialog:
    settle()
    return next(each for each in stage.window.findChildren(QDialog) if each.isVisible())


def due(stage: Stage) -> QWidget:
    """What is overdue."""
    stage.window.showing.show_due(Wanted.OVERDUE)
    stage.window.pages.due.listing.selectRow(1)
    return stage.window


def outlet(stage: Stage) -> QWidget:
    """An outlet whose last visit asks for something, with its history."""
    reading = stage.window.showing.reading
    lines = reading.lines if reading is not None else ()
    wanted = [line for line in lines if line.found is OutletState.PUT_RIGHT]
    stage.window.showing.show_outlet((wanted or list(lines))[0].outlet_id)
    stage.window.pages.outlet.go_to_visits()
    return stage.window


def chart(stage: Stage) -> QWidget:
    """The chart of the valve that is likeliest to reach its ceiling."""
    lines = drift(stage).pages.drift.listing.ordered.shown()
    if lines:
        below = [line for line in lines if (chance_of(line) or 0) < 0.9]
        stage.window.showing.show_outlet((below or list(lines))[0].outlet_id)
        settle()
    else:
        outlet(stage)
    stage.window.pages.outlet.go_to_chart()
    return stage.window


def drift(stage: Stage) -> MainWindow:
    """Valves by their chance to reach the ceiling."""
    stage.window.showing.show_drift()
    settle()
    return stage.window


def place(stage: Stage) -> QWidget:
    """The outlets of a building."""
    reading = stage.window.showing.reading
    if reading is not None:
        building = reading.tree[0].children[0]
        stage.window.panel.choose((building.kind, building.id))
    return stage.window


def found(stage: Stage) -> QWidget:
    """The tree with only what is looked for."""
    due(stage)
    stage.window.panel.search.setText("shower")
    return stage.window


def rules(stage: Stage) -> QWidget:
    """The rules in force."""
    stage.window.panel.search.clear()
    stage.window.showing.show_rules()
    stage.window.pages.rules.listing.selectRow(1)
    return stage.window


def tried(stage: Stage) -> QWidget:
    """A rule value tried on the whole estate before it is adopted."""
    rules(stage)
    settle()
    shown = stage.window.pages.rules
    shown.sought.setText("policy.risk.patients")
    shown.listing.selectRow(0)
    shown.override_button.click()
    dialog = _dialog(stage)
    if isinstance(dialog, OverrideDialog):
        QTest.keyClicks(dialog.value, "0.02")
        dialog.try_first.click()
    shown.sought.clear()
    return dialog


def record(stage: Stage) -> QWidget:
    """A visit being typed."""
    outlet(stage)
    settle()
    stage.window.actions_["record"].trigger()
    dialog = _dialog(stage)
    if isinstance(dialog, RecordVisitDialog):
        for path, text in _TYPED.items():
            QTest.keyClicks(dialog.form.fields[path], text)
        dialog.form.fields["found_c"].setFocus()
    return dialog


def confirm(stage: Stage) -> QWidget:
    """The step before a visit is entered."""
    dialog = record(stage)
    if isinstance(dialog, RecordVisitDialog):
        dialog.go_on.click()
    return dialog


def bring_in(stage: Stage) -> QWidget:
    """Where a sheet is dropped."""
    stage.window.actions_["bring-in"].trigger()
    return _dialog(stage)


def preview(stage: Stage) -> QWidget:
    """A contractor's sheet before it is taken."""
    dialog = bring_in(stage)
    if isinstance(dialog, BringInDialog):
        dialog.bring(stage.sheet)
    return dialog


def columns(stage: Stage) -> QWidget:
    """What each column of a sheet is taken for."""
    dialog = preview(stage)
    if isinstance(dialog, BringInDialog):
        dialog.preview.tabs.setCurrentIndex(1)
    return dialog


def questions(stage: Stage) -> QWidget:
    """A question about a sheet being answered."""
    dialog = preview(stage)
    if isinstance(dialog, BringInDialog):
        shown = dialog.preview.questions
        asked = [each.code for each in shown.ordered.shown()]
        shown.selectRow(asked.index("unknown-outlet") if "unknown-outlet" in asked else 0)
        offered = dialog.preview.panel.group.buttons()
        if offered:
            offered[0].click()
    return dialog


def batches(stage: Stage) -> QWidget:
    """What was brought in."""
    stage.window.showing.show_batches()
    settle()
    return stage.window


def trail(stage: Stage) -> QWidget:
    """Who changed what, and why."""
    stage.window.showing.show_trail()
    return stage.window


def backups(stage: Stage) -> QWidget:
    """The backups of the register, with one just made."""
    stage.window.actions_["backups"].trigger()
    dialog = _dialog(stage)
    if isinstance(dialog, BackupsDialog):
        dialog.make.click()
        settle()
        dialog.say("")
    return dialog


def restoring(stage: Stage) -> QWidget:
    """What restoring would change."""
    over = backups(stage)
    settle()
    if isinstance(over, BackupsDialog):
        over.restore.click()
    settle()
    return next(each for each in stage.window.findChildren(RestoreDialog) if each.isVisible())


def verified(stage: Stage) -> QWidget:
    """What verifying everything came to."""
    stage.window.actions_["verify"].trigger()
    return _dialog(stage)


def _page_of(name: str) -> Scene:
    """A page that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        stage.window.actions_[name].trigger()
        settle()
        return stage.window

    return scene


def causes(stage: Stage) -> QWidget:
    """What may be wrong at an outlet that was found too hot."""
    outlet(stage)
    desk = stage.window.showing.desk
    actions = desk.work.action_lines(True) if desk is not None else ()
    hot = [each.outlet.id for each in actions if "found-above-ceiling" in each.action.opening.codes]
    if hot:
        stage.window.showing.show_outlet(hot[0])
        settle()
    stage.window.pages.outlet.go_to_diagnosis()
    return stage.window


def commissioning(stage: Stage) -> QWidget:
    """A commissioning being typed, its steps first."""
    outlet(stage)
    settle()
    stage.window.actions_["record"].trigger()
    dialog = _dialog(stage)
    if isinstance(dialog, RecordVisitDialog):
        form = dialog.form
        form.kind.setCurrentIndex(form.kind.findData(VisitKind.COMMISSIONING))
        for answer in form.steps.answers.values():
            QTest.keyClicks(answer, "y")
        form.kind.setFocus()
    return dialog


def suitability(stage: Stage) -> QWidget:
    """An outlet held against the rules."""
    outlet(stage)
    settle()
    stage.window.actions_["suitable"].trigger()
    return _dialog(stage)


def as_it_stands(stage: Stage) -> QWidget:
    """Whatever is shown."""
    return stage.window


def take(stage: Stage, scene: Scene, to: Path) -> Path:
    """Take one picture, with few colours so that the file stays small."""
    shown = scene(stage)
    settle()
    shades = shades_of(shown.palette())
    states = [shades.tone(tone).rgb() for tone in Tone]
    picture = _with_few_colours(shown.grab().toImage(), states)
    to.parent.mkdir(parents=True, exist_ok=True)
    if not picture.save(str(to), quality=0):
        raise ReportFault("A picture can't be written", f"{to}.", "Choose a folder that can be written to.")
    if isinstance(shown, QDialog):
        shown.done(QDialog.DialogCode.Rejected)
        settle()
    return to


def _with_few_colours(image: QImage, kept: list[int]) -> QImage:
    """The image in 256 colours: those to be kept, and its own most frequent ones."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    counted = Counter(memoryview(plain.constBits()).cast("I"))
    colours = [*kept, *(colour for colour, _ in counted.most_common(256 - len(kept)))]
    nearest = Qt.ImageConversionFlag.ThresholdDither | Qt.ImageConversionFlag.AvoidDither
    return plain.convertToFormat(QImage.Format.Format_Indexed8, colours, nearest)


FULL: tuple[tuple[str, Scene], ...] = (
    ("today", _page_of("today")),
    ("due-list", due),
    ("outlet", outlet),
    ("chart", chart),
    ("drift", drift),
    ("place", place),
    ("search", found),
    ("rules", rules),
    ("try-it-first", tried),
    ("record-a-visit", record),
    ("confirm", confirm),
    ("bring-in", bring_in),
    ("preview", preview),
    ("columns", columns),
    ("questions", questions),
    ("batches", batches),
    ("trail", trail),
    ("backups", backups),
    ("actions", _page_of("actions")),
    ("people", _page_of("people")),
    ("upkeep", _page_of("upkeep")),
    ("instruments", _page_of("instruments")),
    ("year-ahead", _page_of("forecast")),
    ("what-may-be-wrong", causes),
    ("commissioning", commissioning),
    ("suitability", suitability),
)
WIDE: tuple[tuple[str, Scene], ...] = (
    ("today", _page_of("today")),
    ("actions", _page_of("actions")),
    ("due-list", due),
    ("outlet", outlet),
    ("chart", chart),
    ("drift", drift),
)
BARE: tuple[tuple[str, Scene], ...] = (("start", as_it_stands),)


def take_all(
    stage: Stage, scenes: tuple[tuple[str, Scene], ...], folder: Path, ending: str
) -> Iterator[Path]:
    """Take several pictures of one window."""
    for name, scene in scenes:
        yield take(stage, scene, folder / f"{name}-{ending}.png")
