"""What is told of a defect of the program: enough to find it, nothing of whose machine it was."""

import platform
import re
import sys
import traceback
from typing import Final

from PySide6.QtCore import QCoreApplication, qVersion

_PATH: Final = re.compile(
    r"(?<![\w/\\:])(?:[A-Za-z]:[\\/]|\\\\|/)(?:[^\\/\n\"'<>|]+[\\/])+[^\\/\n\"'<>|:,;)]+"
)
_KNOWN: Final = re.compile(r"(?:site-packages|lib[\\/]python[\d.]+)[\\/](.+)|[\\/](estate[\\/][\w\\/]+\.py)$")
_ADDRESS: Final = re.compile(r"(\w+(?:\+\w+)?://)\S+")


def defect_report(error: BaseException) -> str:
    """Versions and the trace of an exception, ready to send.

    Of the program's files the part inside it is told, of others the last name; of servers nothing.
    """
    trace = "".join(traceback.format_exception(error))
    system = f"{platform.system()} {platform.release()}, {platform.machine()}"
    program = f"Estate register {QCoreApplication.applicationVersion() or 'of no known version'}"
    versions = f"{program}, Python {sys.version.split()[0]}, Qt {qVersion()}, {system}"
    return f"{versions}\n\n{without_places(trace)}"


def without_places(text: str) -> str:
    """A text without the folders of whoever's machine it comes from, and without addresses of servers."""
    return _PATH.sub(_shortened, _ADDRESS.sub(r"\1…", text))


def _shortened(found: re.Match[str]) -> str:
    path = found.group()
    known = _KNOWN.search(path)
    if known is not None:
        return known.group(1) or known.group(2)
    return "…/" + re.split(r"[\\/]", path)[-1]
