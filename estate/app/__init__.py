"""The composition root: the window, the demonstration and the pictures, each loaded when asked for."""

from collections.abc import Collection, Iterator
from pathlib import Path


def run(register_url: str | None, argv: list[str]) -> int:
    """Open the window and stay until it is closed; the exit status."""
    from estate.app import composing  # noqa: PLC0415 - only what is asked for is loaded

    return composing.run(register_url, argv)


def demonstrate(folder: Path) -> Iterator[str]:
    """Do the main job on the sample estate without a display; lines that say what was done."""
    from estate.app import demonstration  # noqa: PLC0415 - only what is asked for is loaded

    return demonstration.demonstrate(folder)


def take_pictures(folder: Path, only: Collection[str] = ()) -> Iterator[Path]:
    """Take the pictures for the documentation, or only some of them; each as it is written."""
    from estate.app import exhibits  # noqa: PLC0415 - only what is asked for is loaded

    return exhibits.take_pictures(folder, only)
