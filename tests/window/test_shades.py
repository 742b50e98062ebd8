"""Light and dark: every pair of colours that meets on the screen can be read (WCAG 2.2, level AA)."""

import pytest
from PySide6.QtGui import QColor, QPalette
from pytestqt.qtbot import QtBot

from estate import assets
from estate.window.shades import DARK, LIGHT, Shades, Tone, contrast, palette_of, shades_of
from estate.window.style import style_sheet

TEXT, SHAPE = 4.5, 3.0
BOTH = pytest.mark.parametrize("shades", [LIGHT, DARK], ids=lambda shades: shades.name)


def ratio(one: str | QColor, other: str | QColor) -> float:
    return contrast(QColor(one), QColor(other))


def test_that_contrast_is_measured_as_published() -> None:
    assert ratio("#000000", "#ffffff") == pytest.approx(21.0)
    assert ratio("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)
    assert ratio("#ffffff", "#777777") == ratio("#777777", "#ffffff")


@BOTH
def test_that_words_can_be_read_on_every_ground(shades: Shades) -> None:
    for ground in (shades.window, shades.base, shades.stripe):
        for ink in (shades.text, shades.muted, shades.accent, *shades.tones.values()):
            assert ratio(ink, ground) >= TEXT, (ink, ground)


@BOTH
def test_that_words_can_be_read_on_what_is_chosen(shades: Shades) -> None:
    assert ratio(shades.on_chosen, shades.chosen) >= 7
    assert ratio(shades.on_accent, shades.accent) >= TEXT
    for tone in Tone:
        assert ratio(shades.tone(tone), shades.chosen) >= TEXT, tone


@BOTH
def test_that_a_state_can_be_read_on_its_own_tint(shades: Shades) -> None:
    for tone in Tone:
        assert contrast(shades.tone(tone), shades.tint(tone)) >= TEXT, tone


@BOTH
def test_that_the_edge_of_a_field_can_be_seen(shades: Shades) -> None:
    assert ratio(shades.edge, shades.base) >= SHAPE
    assert ratio(shades.edge, shades.window) >= SHAPE


@BOTH
def test_that_a_palette_is_known_for_the_scheme_it_is(shades: Shades, qtbot: QtBot) -> None:
    palette = palette_of(shades)
    assert shades_of(palette) is shades
    assert palette.color(QPalette.ColorRole.Text) == QColor(shades.text)


@BOTH
def test_that_the_style_sheet_names_only_colours_that_there_are(shades: Shades) -> None:
    template = assets.resource("style", "window.qss").read_text("utf-8")
    assert "@" not in style_sheet(template, shades)
    with pytest.raises(KeyError):
        style_sheet("QLabel { color: @mauve@; }", shades)
