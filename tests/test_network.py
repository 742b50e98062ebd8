"""No network use but the database: nothing in the program could open another connection, and nothing does."""

import ast
import socket
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from estate.operations.as_known_at import as_known_at
from estate.operations.back_up import back_up
from estate.operations.export_tables import export_tables
from estate.operations.open_register import new_register
from estate.operations.plan_retests import due_lines
from estate.operations.verify_register import verify
from estate.operations.write_report import write_summary
from tests.architecture import arrows, sources_in
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring

ESTATE = sources_in(Path(__file__).parent.parent / "estate")
REACHING_OUT = frozenset(
    {
        *(
            "socket",
            "ssl",
            "http",
            "urllib",
            "ftplib",
            "smtplib",
            "poplib",
            "imaplib",
            "telnetlib",
            "nntplib",
        ),
        *("xmlrpc", "socketserver", "asyncio", "webbrowser", "selectors", "multiprocessing", "wsgiref"),
        *("requests", "httpx", "aiohttp", "urllib3", "websockets", "paramiko"),
    }
)
READS_ADDRESSES = "urllib.parse"
REACHING_OUT_IN_QT = ("QtNetwork", "QtWeb", "QtRemoteObjects", "QtHttpServer", "QtDBus", "QtQml", "QtQuick")


def reaching_out(sources: Mapping[str, str]) -> list[str]:
    """Imports of what could open a connection."""
    return [
        str(each)
        for each in arrows(sources)
        if (each.imported.split(".")[0] in REACHING_OUT and each.imported != READS_ADDRESSES)
        or any(part.startswith(REACHING_OUT_IN_QT) for part in each.imported.split(".")[1:])
        or (each.imported == "PySide6" and any(name in sources[each.importer] for name in REACHING_OUT_IN_QT))
    ]


def opening_addresses(sources: Mapping[str, str]) -> list[str]:
    """Calls that hand an address to the system which may not be a file of this machine."""
    return [
        f"{module}:{node.lineno}"
        for module, text in sources.items()
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "openUrl"
        and "fromLocalFile" not in ast.unparse(node)
    ]


def test_that_no_module_imports_what_could_open_a_connection() -> None:
    assert reaching_out(ESTATE) == []
    assert opening_addresses(ESTATE) == []


@pytest.mark.parametrize(
    "bad",
    [
        "import socket",
        "from urllib.request import urlopen",
        "def f() -> None:\n    import http.client",
        "from PySide6.QtNetwork import QNetworkAccessManager",
        "from PySide6 import QtNetwork",
    ],
)
def test_that_the_rule_bites_on_imports(bad: str) -> None:
    assert len(reaching_out({"estate.window.made_up": bad})) == 1


def test_that_the_rule_bites_on_addresses() -> None:
    good = "QDesktopServices.openUrl(QUrl.fromLocalFile(path))"
    bad = "QDesktopServices.openUrl(QUrl(address))"
    assert opening_addresses({"a": good, "b": bad}) == ["b:1"]


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Any]]:
    """Every attempt to connect or to look a name up is noted and refused."""
    tried: list[Any] = []

    def refuse(*arguments: Any, **_: Any) -> None:
        tried.append(arguments)
        raise OSError("no network in this test")

    for name in ("connect", "connect_ex", "sendto", "bind"):
        monkeypatch.setattr(socket.socket, name, refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    yield tried


def test_that_the_work_on_a_file_connects_to_nothing(no_network: list[Any], tmp_path: Path) -> None:
    register = new_register(tmp_path / "r.db", "Marlpit Cross", at=NOW, who=WHO)
    bring(register, tmp_path, ASSETS, "assets.csv")
    bring(register, tmp_path, VISITS, "visits.csv")
    assert len(due_lines(register, TODAY)) == 4
    write_summary(register, tmp_path / "s.pdf", TODAY)
    write_summary(register, tmp_path / "s.xlsx", TODAY)
    export_tables(register, tmp_path / "tables")
    as_known_at(register, NOW).close()
    assert verify(register).fits
    assert back_up(register, "by hand", at=NOW).made
    register.close()
    with pytest.raises(OSError, match="no network"):
        socket.create_connection(("localhost", 1))
    assert len(no_network) == 1
