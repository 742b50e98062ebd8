"""The start of the program: hands the command line what lies beside it."""

from collections.abc import Collection, Iterable
from pathlib import Path

from estate.cli.commands import Doors
from estate.cli.commands import main as run_command_line
from estate.domain.progress import Progress


def _open_window(register: str | None) -> int:
    from estate.app import run  # noqa: PLC0415 - Qt is loaded only when a window is asked for

    return run(register, ["estate"])


def _build_sample(dest: Path, progress: Progress) -> None:
    from estate.sample import build_sample  # noqa: PLC0415 - only this command needs it

    build_sample(dest, progress)


def _demonstrate(folder: Path) -> Iterable[str]:
    from estate.app import demonstrate  # noqa: PLC0415 - Qt is loaded only where it is needed

    return demonstrate(folder)


def _take_pictures(folder: Path, only: Collection[str]) -> Iterable[Path]:
    from estate.app import take_pictures  # noqa: PLC0415 - Qt is loaded only where it is needed

    return take_pictures(folder, only)


def main() -> None:
    """Run the program."""
    run_command_line(Doors(_open_window, _build_sample, _demonstrate, _take_pictures))


if __name__ == "__main__":
    main()
