"""The window as a person starts it: its own process, its own event loop, its own worker thread."""

import subprocess
import sys
from pathlib import Path

from estate.sample import build_sample

STARTED = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from estate.app import composing

build = composing.build

def watched(application, around):
    built = build(application, around)
    timer = QTimer(built.window)
    timer.timeout.connect(lambda: look(built.window.showing.reading, timer))
    timer.start(20)
    return built

def look(reading, timer):
    if reading is not None or {nothing}:
        timer.stop()
        print(len(reading.lines) if reading else "start")
        QApplication.quit()

composing.build = watched
sys.exit(composing.run({where!r}, ["estate"]))
"""


def started(where: str | None) -> str:
    """What a started window says before it is closed; its errors are the test's."""
    script = STARTED.format(where=where, nothing=where is None)
    ended = subprocess.run(
        [sys.executable, "-W", "error", "-c", script], capture_output=True, text=True, timeout=60, check=False
    )
    said = [line for line in ended.stderr.splitlines() if "This plugin does not support" not in line]
    assert (ended.returncode, said) == (0, [])
    return ended.stdout.strip()


def test_that_the_window_opens_the_register_it_is_given(tmp_path: Path) -> None:
    register = tmp_path / "estate.db"
    build_sample(register, outlets=12)
    assert int(started(str(register))) >= 10


def test_that_the_window_opens_without_a_register() -> None:
    assert started(None) == "start"
