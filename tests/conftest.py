"""What holds for every test: no screen, nobody's own settings, no stray log line, nothing skipped."""

import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from collections.abc import Generator, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("at leisure", deadline=None)
settings.register_profile("the same each time", derandomize=True, deadline=None)
settings.load_profile("the same each time" if os.environ.get("CI") else "at leisure")

SETTINGS_OF_THE_PERSON = ("ESTATE_REGISTER", "COLUMNS", "FORCE_COLOR", "NO_COLOR")
FOLDERS_OF_THE_PERSON = ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")


@pytest.fixture(autouse=True)
def _apart_from_the_person(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """A test neither reads nor writes the settings of whoever runs it."""
    for name in SETTINGS_OF_THE_PERSON:
        monkeypatch.delenv(name, raising=False)
    own = tmp_path_factory.getbasetemp() / "person"
    for name in FOLDERS_OF_THE_PERSON:
        monkeypatch.setenv(name, str(own / name.lower()))


def stray_lines(caplog: pytest.LogCaptureFixture) -> list[str]:
    """Log lines that the test left behind; a test that expects some reads them and calls `caplog.clear()`."""
    phases = (caplog.get_records("setup"), caplog.get_records("call"))
    return [f"{record.name}: {record.getMessage()}" for records in phases for record in records]


@pytest.fixture(autouse=True)
def _no_stray_log_line(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    yield
    assert stray_lines(caplog) == []


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """A skipped test proves nothing, so it fails."""
    report = yield
    if report.skipped:
        report.outcome = "failed"
        report.longrepr = f"{report.nodeid} was skipped: {report.longrepr}"
    return report


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds the whole project."""
    return Path(__file__).resolve().parent.parent
