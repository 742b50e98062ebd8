"""From the start of the program to a window that can be used: a large estate beside an empty register.

.venv/bin/python -m tests.benchmarks.test_window_start 20000
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from estate.domain.estate_reading import EstateReading
from estate.domain.seeking import Seeker
from estate.domain.things import things_of
from estate.operations.open_register import open_register
from estate.operations.read_estate import read_estate
from tests.benchmarks.window_estate import LAST, make

STARTED = """
import sys
from time import perf_counter
began = perf_counter()
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from estate.app import composing

build = composing.build

def watched(application, around):
    built = build(application, around)
    timer = QTimer(built.window)
    timer.timeout.connect(lambda: look(built.window, timer))
    timer.start(5)
    return built

def look(window, timer):
    reading, shown = window.showing.reading, window.showing.stack.currentWidget()
    first = window.today.page if reading is not None and reading.tree else window.pages.start
    if reading is not None and shown is first:
        timer.stop()
        QApplication.processEvents()
        print(perf_counter() - began)
        QApplication.quit()

composing.build = watched
sys.exit(composing.run({where!r}, ["estate"]))
"""
LETTERS = ("m", "mx-1", "MX 199", "bay 1", "invented", "s-mx-50", "main block", "1", "zz")


def start_s(where: Path) -> float:
    """Seconds from the first line of the program to the first page shown, list and tree filled."""
    script = STARTED.format(where=str(where))
    own = dict.fromkeys(("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"), str(where.parent))
    ended = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        timeout=300,
        check=True,
        env={**os.environ, **own, "QT_QPA_PLATFORM": "offscreen"},
    )
    return float(ended.stdout.strip())


def ratio(folder: Path, outlets: int, times: int) -> tuple[float, float, float]:
    """Seconds of an empty register and of a large one, and the one over the other; in turn, the medians."""
    empty, large = folder / "empty.db", folder / "large.db"
    make(empty, 0)
    make(large, outlets)
    pairs = [(start_s(empty), start_s(large)) for _ in range(times)]
    one, other = median(each for each, _ in pairs), median(each for _, each in pairs)
    return one, other, other / one


def reading_of(register: Path) -> EstateReading:
    """What a window reads."""
    opened = open_register(register)
    try:
        return read_estate(opened, LAST.date())
    finally:
        opened.close()


def key_s(reading: EstateReading) -> float:
    """The longest that finding takes after a key, in seconds, the best of three; letter by letter."""
    seeker = Seeker(things_of(reading))
    typed = [text[:end] for text in LETTERS for end in range(1, len(text) + 1)]
    passes = [[_took_s(seeker, text) for text in typed] for _ in range(3)]
    longest: float = max(min(each) for each in zip(*passes, strict=True))
    return longest


def _took_s(seeker: Seeker, text: str) -> float:
    began = perf_counter()
    seeker.seek(text)
    return perf_counter() - began


def test_that_a_large_estate_is_soon_ready_and_found_in_at_each_key(tmp_path: Path) -> None:
    _, _, share = ratio(tmp_path, 1000, 1)
    assert share < 2.0
    reading = reading_of(tmp_path / "large.db")
    began = perf_counter()
    plain = [each for each in reading.outlets if "mx1" in each.reference.casefold().replace("-", "")]
    once = perf_counter() - began
    assert len(plain) > 100
    assert key_s(reading) < 40 * once


def main() -> None:
    """Build, start, print."""
    outlets = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    with tempfile.TemporaryDirectory() as folder:
        one, other, share = ratio(Path(folder), outlets, 3)
        longest = key_s(reading_of(Path(folder) / "large.db"))
    sys.stdout.write(f"empty {one:.2f} s, {outlets:,} outlets {other:.2f} s, ratio {share:.2f}\n")
    sys.stdout.write(f"the slowest key in the box {longest * 1000:.1f} ms\n")


if __name__ == "__main__":
    main()
