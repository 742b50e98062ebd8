"""A register is moved by command; what needs a server is told where there is none."""

from pathlib import Path

from tests.journeys.test_command_line import Run, filled, run, run_on, with_history  # noqa: F401 - fixtures


def test_that_a_register_is_moved_whole_into_another_file(filled: Run, tmp_path: Path) -> None:
    whole = filled("due", "--json")[1]
    status, out, _ = filled("move", str(tmp_path / "moved.db"), "--who", "E. Marlow")
    assert (status, "each the same as before" in out) == (0, True)
    assert filled("due", "--json")[1] == whole
    assert filled("move", str(tmp_path / "moved.db"))[0] == 3
    assert run_on(tmp_path / "moved.db", "verify") == 0


def test_that_a_file_has_no_accounts(filled: Run) -> None:
    for words in (
        ("make-roles",),
        ("account", "t.velde", "--role", "recorder"),
        ("account", "x", "--withdraw"),
    ):
        status, _, err = filled(*words)
        assert (status, "A file has no accounts" in err) == (3, True)
    assert filled("account", "t.velde")[0] == 2
