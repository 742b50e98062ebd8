"""What `conftest.py` promises is kept: skips, stray log lines, warnings and Qt's own warnings fail a test."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

LENIENT = """
import logging, os, warnings
import pytest
from PySide6.QtCore import qWarning

def test_that_it_is_let_off():
    pytest.skip("not today")

@pytest.mark.xfail
def test_that_it_may_fail():
    assert False

def test_that_it_logs():
    logging.getLogger("somewhere").warning("a stray line")

def test_that_it_reads_its_log(caplog):
    logging.getLogger("somewhere").warning("a line that is looked for")
    assert caplog.messages == ["a line that is looked for"]
    caplog.clear()

def test_that_it_warns():
    warnings.warn("old way", DeprecationWarning)

def test_that_qt_warns(qtbot):
    qWarning("something is wrong")

def test_that_nothing_of_the_person_is_seen():
    assert "ESTATE_REGISTER" not in os.environ
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What pytest says of lenient tests under the project's own settings."""
    folder = tmp_path_factory.mktemp("lenient")
    project = Path(__file__).resolve().parent.parent
    shutil.copy(project / "pyproject.toml", folder)
    (folder / "tests").mkdir()
    shutil.copy(project / "tests" / "conftest.py", folder / "tests")
    (folder / "tests" / "test_lenient.py").write_text(LENIENT, "utf-8")
    line = [sys.executable, "-m", "pytest", "-v", "-p", "no:cacheprovider", "--color=no"]
    return subprocess.run(line, cwd=folder, capture_output=True, text=True, check=False).stdout


@pytest.mark.parametrize(
    ("name", "outcome"),
    [
        ("it_is_let_off", "FAILED"),
        ("it_may_fail", "FAILED"),
        ("it_logs", "ERROR"),
        ("it_reads_its_log", "PASSED"),
        ("it_warns", "FAILED"),
        ("qt_warns", "FAILED"),
        ("nothing_of_the_person_is_seen", "PASSED"),
    ],
)
def test_that_a_lenient_test_does_not_pass(told: str, name: str, outcome: str) -> None:
    lines = [line for line in told.splitlines() if line.startswith("tests/") and f"test_that_{name} " in line]
    assert any(outcome in line for line in lines), told
