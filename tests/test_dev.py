"""The set-up does what is missing, says what it can't do, and then keeps out of the way."""

import sys
from pathlib import Path

import pytest

import dev


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Programs that would have run; none does."""
    made: list[list[str]] = []

    def note(command: list[str | Path], *_: object, **__: object) -> int:
        made.append([str(part) for part in command])
        return 0

    monkeypatch.setattr(dev, "call", note)
    return made


@pytest.fixture
def fresh(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A clone in which nothing is set up yet, on a machine that has what it needs."""
    monkeypatch.setattr(dev, "HERE", tmp_path)
    monkeypatch.setattr(dev, "OUT", tmp_path / "out")
    monkeypatch.setattr(dev, "SAMPLE", tmp_path / "sample_estate.db")
    monkeypatch.setattr(dev, "PYTHON", tmp_path / "python")
    monkeypatch.setattr(dev, "STAMP", tmp_path / "set-up-for")
    monkeypatch.setattr(dev, "can_load", lambda library: True)
    for name in ("pyproject.toml", "constraints.txt", "sample_estate.db"):
        (tmp_path / name).write_text(name, "utf-8")
    return tmp_path


def test_that_an_unknown_command_tells_the_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main(["walk"]) == 2
    assert dev.main([]) == 2
    assert capsys.readouterr().out.count("python3 dev.py run") == 2


def test_that_the_set_up_is_made_once(fresh: Path, calls: list[list[str]]) -> None:
    dev.set_up()
    assert [line[1:3] for line in calls] == [["-m", "venv"], ["-m", "pip"], ["-c", calls[2][2]]]
    calls.clear()
    dev.set_up()
    assert calls == []


@pytest.mark.parametrize("name", ["pyproject.toml", "constraints.txt"])
def test_that_changed_packages_are_set_up_again(fresh: Path, calls: list[list[str]], name: str) -> None:
    dev.set_up()
    calls.clear()
    (fresh / name).write_text("changed", "utf-8")
    dev.set_up()
    assert any("pip" in line for line in calls)


def test_that_a_failed_installation_is_tried_again(fresh: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dev, "call", lambda command, *_, **__: int("pip" in command))
    for _ in range(2):
        with pytest.raises(dev.SetUpFault, match="network"):
            dev.set_up()


def test_that_a_person_gets_the_exact_line_to_type(monkeypatch: pytest.MonkeyPatch, fresh: Path) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(dev, "can_load", lambda library: library != "libEGL.so.1")
    monkeypatch.setattr(dev, "missing_venv", lambda: ["python3.11-venv"])
    monkeypatch.setattr(dev, "is_debian", lambda: True)
    monkeypatch.setattr(dev, "is_root_on_debian", lambda: False)
    with pytest.raises(dev.SetUpFault) as fault:
        dev.set_up()
    assert "sudo apt-get install --no-install-recommends python3.11-venv libegl1" in str(fault.value)


def test_that_a_screen_asks_for_more_libraries(monkeypatch: pytest.MonkeyPatch, fresh: Path) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(dev, "can_load", lambda library: "xcb" not in library)
    monkeypatch.delenv("DISPLAY", raising=False)
    assert dev.missing_qt_libraries() == []
    monkeypatch.setenv("DISPLAY", ":0")
    assert "libxcb-cursor0" in dev.missing_qt_libraries()
    monkeypatch.setattr(sys, "platform", "win32")
    assert dev.missing_qt_libraries() == []


def test_that_a_library_that_is_not_there_is_noticed() -> None:
    assert not dev.can_load("libthere-is-none-of-this-name.so.0")


def test_that_what_follows_the_dashes_is_passed_on(fresh: Path, calls: list[list[str]]) -> None:
    dev.set_up()
    calls.clear()
    assert dev.main(["run", "--", "due", "--overdue"]) == 0
    assert calls == [[str(fresh / "python"), "-m", "estate", "due", "--overdue"]]


def test_that_the_window_opens_a_copy_and_keeps_it(
    fresh: Path, calls: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dev, "has_screen", lambda: True)
    dev.run([])
    copy = fresh / "out" / "sample_estate.db"
    assert calls[-1][2:] == ["estate", "window", str(copy)]
    copy.write_text("worked in", "utf-8")
    dev.run([])
    assert copy.read_text("utf-8") == "worked in"
    assert (fresh / "sample_estate.db").read_text("utf-8") == "sample_estate.db"


def test_that_without_a_screen_the_main_job_is_done(
    fresh: Path, calls: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dev, "has_screen", lambda: False)
    dev.run([])
    assert calls[-1][2:] == ["estate", "demo", str(fresh / "out")]


def test_that_every_check_runs_and_the_first_failure_is_told(
    monkeypatch: pytest.MonkeyPatch, checkout: Path
) -> None:
    statuses = iter([0, 4, 1, 5])
    monkeypatch.chdir(checkout)
    monkeypatch.setattr(dev, "with_postgresql", lambda: [])
    monkeypatch.setattr(dev, "call", lambda *_: next(statuses))
    assert dev.test([]) == 4
    assert list(statuses) == []


@pytest.mark.parametrize(
    ("automatic", "root", "installed"), [("true", True, True), ("true", False, False), ("", True, False)]
)
def test_that_postgresql_is_installed_only_where_nobody_minds(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    automatic: str,
    root: bool,
    installed: bool,
) -> None:
    asked: list[str] = []
    monkeypatch.setenv("CI", automatic)
    monkeypatch.setattr(dev, "is_root_on_debian", lambda: root)
    monkeypatch.setattr(dev, "apt_install", asked.extend)
    monkeypatch.setattr(dev, "postgresql_is_here", lambda: bool(asked))
    assert bool(dev.with_postgresql()) is installed
    assert ("NOT run" in capsys.readouterr().out) is not installed
