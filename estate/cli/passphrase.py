"""How a passphrase comes in: asked at the terminal, or read from a file; never a word of the command."""

import sys
import warnings
from getpass import GetPassWarning, getpass
from pathlib import Path
from typing import Annotated

import typer

from estate.errors import EntryFault, KeyFault

PassphraseOption = Annotated[
    Path | None,
    typer.Option(
        "--passphrase-file",
        help="Its first line, also of an open one such as /dev/fd/3. Asked for without.",
    ),
]


def passphrase_of(file: Path | None, *, fresh: bool = False) -> str:
    """The passphrase.

    Args:
        file: read from it; None asks at the terminal.
        fresh: a new one, which is asked for twice.

    Raises:
        KeyFault: the file can't be read, or there is no terminal to ask at.
        EntryFault: the second time it was another.
    """
    if file is not None:
        return _first_line(file)
    given = _asked("Passphrase: ")
    if fresh and _asked("Once more: ") != given:
        raise EntryFault("The passphrases differ", "The second is another.", "Do it again; no key was made.")
    return given


def _first_line(file: Path) -> str:
    try:
        with file.open(encoding="utf-8") as stream:
            return stream.readline().rstrip("\r\n")
    except (OSError, UnicodeDecodeError) as fault:
        raise KeyFault(
            "The passphrase can't be read", f"{file}: {fault}.", "Check the file's name."
        ) from fault


def _asked(words: str) -> str:
    # Without a terminal `getpass` would show what is typed, and only warn of it.
    with warnings.catch_warnings():
        warnings.simplefilter("error", GetPassWarning)
        try:
            return getpass(words, stream=sys.stderr)
        except (GetPassWarning, EOFError) as fault:
            remedy = "Run it at a terminal, or give --passphrase-file."
            raise KeyFault("The passphrase can't be asked for", "There is no terminal.", remedy) from fault
