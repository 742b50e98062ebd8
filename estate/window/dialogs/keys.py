"""Keys at the window: make one's own, hand out its public half, add a person's to the register."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QCheckBox, QLineEdit, QPlainTextEdit, QWidget

from estate.domain.signatures import OwnKey, shown_fingerprint
from estate.window.dialogs.shell import Shell
from estate.window.widgets.text import label


class NewKeyDialog(Shell):
    """Takes a name and a new passphrase, twice.

    Attributes:
        given: (name, passphrase). The dialog stays until the key is made.
    """

    given = Signal(str, str)

    def __init__(self, name: str, parent: QWidget | None) -> None:
        super().__init__("Make your signing key", parent)
        self.setMinimumWidth(580)
        said = (
            "Its private half stays in your profile on this machine, locked by a passphrase that only you "
            "know. Take several words that nobody would guess. A lost passphrase can't be found again: you "
            "then make a new key, and the officer withdraws this one."
        )
        self.body.addWidget(label(said, wraps=True))
        self.name = self._line("Your name, as it stands beside signatures", name)
        self.passphrase = self._line("Passphrase", hidden=True)
        self.again = self._line("The passphrase once more", hidden=True)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addStretch(1)
        self.button("Leave", self.reject)
        self.act = self.button("Make the key", self._on_act, main=True)
        for line in (self.name, self.passphrase, self.again):
            line.textChanged.connect(lambda text: self._settle())
        self._settle()

    def _line(self, name: str, words: str = "", hidden: bool = False) -> QLineEdit:
        line = QLineEdit(words)
        line.setAccessibleName(name)
        if hidden:
            line.setEchoMode(QLineEdit.EchoMode.Password)
        self.body.addWidget(label(name, "heading"))
        self.body.addWidget(line)
        return line

    def _settle(self) -> None:
        one, other = self.passphrase.text(), self.again.text()
        self.wrong.setText("The two passphrases differ." if other and one != other else "")
        self.act.setEnabled(bool(self.name.text().strip() and one) and one == other)

    def _on_act(self) -> None:
        self.given.emit(self.name.text().strip(), self.passphrase.text())


class PublicKeyDialog(Shell):
    """Shows the public half of a key of one's own.

    Attributes:
        save_asked, another_asked: what the person wants done.
    """

    save_asked = Signal()
    another_asked = Signal()

    def __init__(self, own: OwnKey, text: str, parent: QWidget | None) -> None:
        super().__init__("Your signing key", parent)
        self.setMinimumWidth(760)
        self.body.addWidget(label(f"{own.person}, made {own.made_at:%d %b %Y}", "strong"))
        said = (
            "Send this text to the officer, then read the fingerprint to them by phone. They add the key "
            "to the register when it is the same. Nothing of it is secret."
        )
        self.body.addWidget(label(said, wraps=True))
        self.fingerprint = label(shown_fingerprint(own.fingerprint), "large")
        self.fingerprint.setAccessibleName(f"Fingerprint {self.fingerprint.text()}")
        self.body.addWidget(self.fingerprint)
        self.text = QPlainTextEdit(text)
        self.text.setReadOnly(True)
        self.text.setAccessibleName("Public half of the key")
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.text.setMinimumHeight(self.text.fontMetrics().lineSpacing() * (text.count("\n") + 6))
        self.body.addWidget(self.text, 1)
        self.another = self.button("Make another…", self._on_another)
        self.copy = self.button("Copy", self._on_copy)
        self.save = self.button("Save as text…", self.save_asked.emit)
        self.button("Close", self.accept, main=True)

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())

    def _on_another(self) -> None:
        self.accept()
        self.another_asked.emit()


class KnownKeyDialog(Shell):
    """Shows the fingerprint of a person's key, to be compared before the register knows it.

    Attributes:
        added: the officer compared it. The dialog stays until the key is added.
    """

    added = Signal()

    def __init__(self, own: OwnKey, parent: QWidget | None) -> None:
        super().__init__("Add a person's key", parent)
        self.setMinimumWidth(580)
        self.body.addWidget(label(f"{own.person}, made {own.made_at:%d %b %Y %H:%M} UTC", "strong"))
        self.fingerprint = label(shown_fingerprint(own.fingerprint), "large")
        self.fingerprint.setAccessibleName(f"Fingerprint {self.fingerprint.text()}")
        self.body.addWidget(self.fingerprint)
        said = (
            f"Call {own.person} on a number that you know and let them read their fingerprint to you. From "
            "then on what this key signs counts as signed by them."
        )
        self.body.addWidget(label(said, "caution", wraps=True))
        self.compared = QCheckBox("They read the same fingerprint to me")
        self.body.addWidget(self.compared)
        self.body.addStretch(1)
        self.button("Leave", self.reject)
        self.act = self.button("Add the key", self.added.emit, main=True)
        self.act.setEnabled(False)
        self.compared.toggled.connect(self.act.setEnabled)
