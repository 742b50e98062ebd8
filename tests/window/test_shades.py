"""Every pair of colours that meets on the screen can be read, in each scheme (WCAG 2.2, level AA)."""

import re
from itertools import combinations

import pytest
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QSpinBox, QWidget
from pytestqt.qtbot import QtBot

from estate import assets
from estate.domain.standing import OutletState
from estate.window.look import Look, Scheme
from estate.window.marks import OF_STATE, Mark
from estate.window.pictures import settle
from estate.window.schemes import ALL, CONTRAST_DARK, CONTRAST_LIGHT, palette_of, shades_of
from estate.window.shades import Shades, Tone, contrast
from estate.window.style import style_sheet
from estate.window.widgets.chart_marks import level_ink
from estate.window.widgets.focus_ring import FocusRings
from estate.window.widgets.text import Chip
from tests.window.colour_blindness import SIGHTS, apart, seen

EACH = pytest.mark.parametrize("shades", ALL, ids=lambda shades: shades.name)
TEMPLATE = assets.resource("style", "window.qss").read_text("utf-8")
SHAPE = 3.0
TOLD_APART = 10.0
"""How far two colours are apart (CIE 1976) that may be relied on to look different."""


def ratio(one: str | QColor, other: str | QColor) -> float:
    return contrast(QColor(one), QColor(other))


def pairs(found: list[str]) -> list[tuple[str, str]]:
    return list(zip(found[::2], found[1::2], strict=True))


def least_for_text(shades: Shades) -> float:
    return 7.0 if shades.stark else 4.5


def least_for_lines(shades: Shades) -> float:
    return 4.5 if shades.stark else 3.0


def test_that_contrast_is_measured_as_published() -> None:
    assert ratio("#000000", "#ffffff") == pytest.approx(21.0)
    assert ratio("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)
    assert ratio("#ffffff", "#777777") == ratio("#777777", "#ffffff")


@EACH
def test_that_words_can_be_read_on_every_ground(shades: Shades) -> None:
    for ground in (shades.window, shades.base, shades.stripe):
        for ink in (shades.text, shades.muted, shades.accent, *shades.tones.values()):
            assert ratio(ink, ground) >= least_for_text(shades), (ink, ground)


@EACH
def test_that_words_can_be_read_on_what_is_chosen(shades: Shades) -> None:
    assert ratio(shades.on_chosen, shades.chosen) >= 7
    assert ratio(shades.on_accent, shades.accent) >= least_for_text(shades)
    for tone in Tone:
        assert ratio(shades.tone(tone), shades.chosen) >= least_for_text(shades), tone


@EACH
def test_that_a_state_can_be_read_on_its_own_tint(shades: Shades) -> None:
    for tone in Tone:
        assert contrast(shades.tone(tone), shades.tint(tone)) >= least_for_text(shades), tone


@EACH
def test_that_what_is_shut_can_still_be_read(shades: Shades, qtbot: QtBot) -> None:
    palette = palette_of(shades)
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        shut = palette.color(QPalette.ColorGroup.Disabled, role)
        assert min(ratio(shut, shades.window), ratio(shut, shades.base)) >= SHAPE
    assert min(ratio(shades.edge, ground) for ground in (shades.window, shades.base)) >= SHAPE


@EACH
def test_that_edges_focus_and_chart_lines_stand_out_from_what_they_touch(shades: Shades) -> None:
    least = least_for_lines(shades)
    for ground in (shades.window, shades.base, shades.stripe):
        for line in (shades.edge, shades.accent, shades.text):
            assert ratio(line, ground) >= least, (line, ground)
    assert ratio(shades.accent, shades.chosen) >= least  # the lines round a chosen row
    assert ratio(shades.on_accent, shades.accent) >= least  # the ring inside the main button
    assert ratio(level_ink(shades), shades.base) >= SHAPE
    if shades.stark:
        assert ratio(shades.line, shades.base) >= 4.5


def test_that_high_contrast_is_high_and_the_others_are_not_taken_for_it() -> None:
    assert [each for each in ALL if each.stark] == [CONTRAST_LIGHT, CONTRAST_DARK]
    assert all((each.outline is not None) == each.stark for each in ALL)


@EACH
def test_that_a_palette_is_known_for_the_scheme_it_is(shades: Shades, qtbot: QtBot) -> None:
    palette = palette_of(shades)
    assert shades_of(palette) is shades
    assert palette.color(QPalette.ColorRole.Text) == QColor(shades.text)


def test_that_a_palette_of_no_scheme_is_judged_by_its_ground(qtbot: QtBot) -> None:
    strange = QPalette(QColor("#223344"))
    strange.setColor(QPalette.ColorRole.Base, QColor("#101010"))
    assert shades_of(strange).name == "dark"
    strange.setColor(QPalette.ColorRole.Base, QColor("#fafafa"))
    assert shades_of(strange).name == "light"


@EACH
def test_that_the_style_sheet_names_only_colours_that_there_are(shades: Shades) -> None:
    assert "@" not in style_sheet(TEMPLATE, shades)
    with pytest.raises(KeyError):
        style_sheet("QLabel { color: @mauve@; }", shades)


@EACH
def test_that_words_in_the_style_sheet_can_be_read_on_its_grounds(shades: Shades) -> None:
    told = 0
    for _, body in re.findall(r"([^{}]+)\{([^}]*)\}", style_sheet(TEMPLATE, shades)):
        inks = re.findall(r"(?<![-\w])color: (#\w+)", body)
        grounds = re.findall(r"(?<![-\w])background(?:-color)?: (#\w+)", body)
        chosen = re.findall(r"selection(?:-background)?-color: (#\w+)", body)
        for ink, ground in (*((ink, ground) for ink in inks for ground in grounds), *pairs(chosen)):
            told += 1
            assert ratio(ink, ground) >= least_for_text(shades), body
    assert told >= 6


def test_that_lengths_and_sizes_of_the_style_sheet_grow_and_what_a_border_takes_is_given_back() -> None:
    said = "QLabel { font-size: @8.5pt@; padding: @6-1px@ @14px@; border: 1px solid red; }"
    assert style_sheet(said, ALL[0], 2.0) == (
        "QLabel { font-size: 17.00pt; padding: 11px 28px; border: 1px solid red; }"
    )


@pytest.mark.parametrize("scheme", [each for each in Scheme if each is not Scheme.SYSTEM])
def test_that_hints_in_empty_fields_can_be_read(qapp: QApplication, qtbot: QtBot, scheme: Scheme) -> None:
    look = Look(qapp, TEMPLATE, assets.resource("icons"))
    look.wear(scheme)
    field = QLineEdit()
    qtbot.addWidget(field)
    field.setPlaceholderText("███ only lines with these words")
    field.resize(300, 30)
    painted = field.grab().toImage()
    inks = [painted.pixelColor(x, 15) for x in range(10, 40)]
    assert max(ratio(ink, look.shades.base) for ink in inks) >= least_for_text(look.shades)
    look.wear(Scheme.LIGHT)


@pytest.mark.parametrize("scheme", [each for each in Scheme if each is not Scheme.SYSTEM])
def test_that_what_is_painted_is_as_the_scheme_says(qapp: QApplication, qtbot: QtBot, scheme: Scheme) -> None:
    look = Look(qapp, TEMPLATE, assets.resource("icons"))
    look.wear(scheme)
    rings = FocusRings(qapp)
    held, shades = QWidget(), look.shades
    field, count, chip = QComboBox(held), QSpinBox(held), Chip(Mark.WEDGE, "put right", parent=held)
    for place, each in enumerate((field, count, chip)):
        each.setGeometry(20, 20 + 50 * place, 160, 30)
    qtbot.addWidget(held)
    held.resize(200, 170)
    held.show()
    held.activateWindow()
    settle()
    field.clearFocus()
    bare = held.grab().toImage()
    field.setFocus()
    settle()
    ringed = held.grab().toImage()
    assert bare.pixelColor(5, 5) == QColor(shades.window)
    inks = [bare.pixelColor(x, y) for x in range(20, 180) for y in range(120, 150)]
    assert max(ratio(ink, shades.window) for ink in inks) >= least_for_text(shades)
    edges = [bare.pixelColor(100, y) for y in range(66, 74)]
    assert max(ratio(edge, shades.window) for edge in edges) >= SHAPE  # the outline of a count
    ring = {ringed.pixelColor(100, y).name() for y in range(14, 26)}
    before = {bare.pixelColor(100, y).name() for y in range(14, 26)}
    assert shades.accent in ring
    assert shades.accent not in before
    rings.deleteLater()
    settle()
    look.wear(Scheme.LIGHT)


def test_that_simulated_sight_leaves_greys_alone_and_takes_red_from_green() -> None:
    for sight in SIGHTS:
        _, a, b = seen(QColor("#888888"), sight)
        assert abs(a) < 0.1
        assert abs(b) < 0.1
    red, green = QColor("#b02020"), QColor("#607000")
    assert apart(red, green) > 60
    assert apart(red, green, "deuteranopia") < apart(red, green) / 2


@EACH
@pytest.mark.parametrize("sight", SIGHTS)
def test_that_danger_never_looks_like_good_order_to_colour_blind_eyes(shades: Shades, sight: str) -> None:
    for tone in (Tone.DANGER, Tone.MEND, Tone.LATE, Tone.UNKNOWN):
        assert apart(shades.tone(tone), shades.tone(Tone.GOOD), sight) >= TOLD_APART, tone


def test_that_states_whose_colours_come_close_are_told_by_shape_and_word() -> None:
    close = {
        pair
        for shades in ALL
        for sight in SIGHTS
        for pair in combinations(Tone, 2)
        if apart(shades.tone(pair[0]), shades.tone(pair[1]), sight) < TOLD_APART
    }
    assert close  # seven tones cannot all stay apart, which is why no state is told by its colour
    shapes = [OF_STATE[state] for state in OutletState]
    assert len(set(shapes)) == len(shapes)
    assert len({state.value for state in OutletState}) == len(shapes)
