"""States are told apart by shape and by word, not by colour alone."""

from itertools import combinations

import pytest
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.standing import OutletState
from estate.window import marks
from estate.window.marks import OF_STATE, OF_VERDICT, TONES, Mark, of_finding

INK = QColor("black")


def drawn(mark: Mark) -> list[bool]:
    image = marks.pixmap(mark, INK, 24).toImage().convertToFormat(QImage.Format.Format_ARGB32)
    return [image.pixelColor(x, y).alpha() > 128 for y in range(24) for x in range(24)]


def test_that_every_state_has_a_shape_of_its_own() -> None:
    assert set(OF_STATE) == set(OutletState)
    assert len(set(OF_STATE.values())) == len(OutletState)


def test_that_every_verdict_has_a_shape_of_its_own() -> None:
    assert set(OF_VERDICT) == set(Verdict)
    assert len(set(OF_VERDICT.values())) == len(Verdict)


def test_that_shapes_differ_without_their_colour(qtbot: QtBot) -> None:
    shapes = {mark: drawn(mark) for mark in Mark}
    for one, other in combinations(Mark, 2):
        different = sum(a != b for a, b in zip(shapes[one], shapes[other], strict=True))
        assert different >= 20, (one, other)


def test_that_every_shape_has_a_tone_and_leaves_a_mark(qtbot: QtBot) -> None:
    assert set(TONES) == set(Mark)
    assert all(any(drawn(mark)) for mark in Mark)


@pytest.mark.parametrize("severity", [None, *Severity])
def test_that_what_was_not_tested_never_looks_like_a_pass(severity: Severity | None) -> None:
    assert of_finding(Outcome.NOT_TESTED, severity) is Mark.HALF
    assert of_finding(Outcome.MET, severity) is Mark.TICK
    assert of_finding(Outcome.NOT_MET, severity) is not Mark.TICK
