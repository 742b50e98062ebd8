"""Where a register lies on a server, and as whom it is opened."""

import sys
from urllib.parse import parse_qs, quote, unquote, urlsplit

from PySide6.QtCore import Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QWidget

from estate.errors import KnownFault
from estate.window.dialogs.shell import Shell
from estate.window.translating import said, tr
from estate.window.widgets.text import label

_PORT = "5432"


class ConnectingDialog(Shell):
    """Takes the parts of an address; a password, if it is given here, is never part of that.

    Args:
        address: as it was last opened, without a password; empty for none.
        said: what went wrong before; empty for nothing.

    Attributes:
        given: (address without a password, password or empty). The dialog stays until that is open.
    """

    given = Signal(str, str)

    def __init__(self, address: str, said: str, parent: QWidget | None) -> None:
        super().__init__(tr("Open a register on a server"), parent)
        self.setMinimumWidth(560)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(14)
        self._grid.setVerticalSpacing(8)
        self._grid.setColumnStretch(1, 1)
        parts = urlsplit(address)
        self._query = {key: each[-1] for key, each in parse_qs(parts.query).items()}
        self.server = self._line(tr("Server"), parts.hostname or "", tr("its name or number in the network"))
        self.port = self._line(tr("Port"), str(parts.port or _PORT))
        self.port.setValidator(QIntValidator(1, 65535, self))
        self.database = self._line(tr("Database"), unquote(parts.path.lstrip("/")))
        self.login = self._line(tr("Login"), unquote(parts.username or ""), tr("your account on the server"))
        self.password = self._line(tr("Password"), "", tr("leave empty to use the passfile"))
        self.password.setEchoMode(QLineEdit.EchoMode.Password)
        self.encrypted = QCheckBox(tr("Only over an encrypted connection (TLS)"))
        self.encrypted.setChecked(not address or self._query.get("sslmode") == "require")
        self._grid.addWidget(self.encrypted, self._grid.rowCount(), 1)
        self.body.addLayout(self._grid)
        self.body.addWidget(label(tr(_COMES_FROM, passfile=_passfile()), "small", wraps=True))
        self.wrong = label(said, "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Open"), self._on_act, main=True)
        self._on_typed()
        (self.password if address else self.server).setFocus()

    def _line(self, name: str, text: str, hint: str = "") -> QLineEdit:
        line = QLineEdit(text)
        line.setAccessibleName(name)
        line.setPlaceholderText(hint)
        line.textChanged.connect(self._on_typed)
        row = self._grid.rowCount()
        self._grid.addWidget(label(name), row, 0)
        self._grid.addWidget(line, row, 1)
        return line

    def _on_typed(self) -> None:
        if hasattr(self, "act"):
            needed = (self.server, self.port, self.database, self.login)
            self.act.setEnabled(all(each.text().strip() for each in needed))

    def address(self) -> str:
        """The address as typed, without the password."""
        server = self.server.text().strip()
        server = f"[{server}]" if ":" in server else server
        login, database = (quote(each.text().strip(), safe="") for each in (self.login, self.database))
        query = {key: value for key, value in self._query.items() if key != "sslmode"}
        query |= {"sslmode": "require"} if self.encrypted.isChecked() else {}
        rest = "&".join(f"{key}={quote(value, safe='')}" for key, value in query.items())
        return f"postgresql://{login}@{server}:{self.port.text()}/{database}" + (f"?{rest}" if rest else "")

    def _on_act(self) -> None:
        self.wrong.setText("")
        self.given.emit(self.address(), self.password.text())

    def refuse(self, fault: KnownFault) -> None:
        """Say why it could not be opened; what was typed stays."""
        self.release()
        self.wrong.setText(f"{tr(fault.title)}. {tr(fault.detail)} {tr(fault.remedy)}")
        self.password.setFocus()
        self._fit()


def _passfile() -> str:
    return r"%APPDATA%\postgresql\pgpass.conf" if sys.platform == "win32" else "~/.pgpass"


_COMES_FROM = said(
    "The password is taken from the server's own passfile ({passfile}), where your entry in it fits. "
    "One typed here is kept in memory until the window is closed, and written nowhere."
)
