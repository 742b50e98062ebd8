"""Without a display: the main job from a contractor's sheet to paper, and the pictures of the window."""

import subprocess
import sys
from pathlib import Path

from openpyxl import load_workbook
from pypdf import PdfReader
from PySide6.QtGui import QImage


def run(*arguments: str) -> list[str]:
    """What the program says on the way; it says nothing of faults."""
    ended = subprocess.run(
        [sys.executable, "-m", "estate", *arguments], capture_output=True, text=True, timeout=300, check=False
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    return ended.stdout.splitlines()


def test_that_a_contractors_sheet_becomes_an_overdue_list_without_a_display(tmp_path: Path) -> None:
    for _ in ("first", "again, over the files of the first"):
        said = "\n".join(run("demo", str(tmp_path)))
    assert "37 rows taken, 4 questioned" in said
    for code in ("unknown-outlet", "future-date", "no-access", "duplicate-row"):
        assert code in said
    paper = " ".join(page.extract_text() for page in PdfReader(tmp_path / "overdue.pdf").pages)
    assert "Marlpit" in paper
    assert load_workbook(tmp_path / "overdue.xlsx").active is not None
    assert QImage(str(tmp_path / "window.png")).width() == 1280


def test_that_the_pictures_show_light_and_dark_empty_and_full(tmp_path: Path) -> None:
    some = ("start", "due-list", "confirm")
    taken = [Path(line) for line in run("pictures", str(tmp_path), *[f"--only={name}" for name in some])]
    sizes = {(image.width(), image.height()) for image in map(QImage, map(str, taken))}
    assert {(1280, 800), (1920, 1080)} <= sizes
    names = {each.name for each in taken}
    assert all(name.startswith(some) for name in names)
    book = {"start-empty-dark-1280-100.webp", "due-list-dark-1920-200.webp", "confirm-light-1280-200.webp"}
    assert {"start-light-1280.png", *book} <= names
    assert all(each.stat().st_size > 2_000 for each in taken)
