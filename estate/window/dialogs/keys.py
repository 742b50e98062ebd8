"""Keys at the window: make one's own, hand out its public half, add a person's to the register."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QCheckBox, QLineEdit, QPlainTextEdit, QWidget

from estate.domain.signatures import OwnKey, shown_fingerprint
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.sizes import fixed_font
from estate.window.translating import tr
from estate.window.widgets.text import label


class NewKeyDialog(Shell):
    """Takes a name and a new passphrase, twice.

    Attributes:
        given: (name, passphrase). The dialog stays until the key is made.
    """

    given = Signal(str, str)

    def __init__(self, name: str, parent: QWidget | None) -> None:
        super().__init__(tr("Make your signing key"), parent)
        self.setMinimumWidth(580)
        said = tr(
            "Its private half stays in your profile on this machine, locked by a passphrase that only you "
            "know. Take several words that nobody would guess. A lost passphrase can't be found again: you "
            "then make a new key, and the officer withdraws this one."
        )
        self.body.addWidget(label(said, wraps=True))
        self.name = self._line(tr("Your name, as it stands beside signatures"), name)
        self.passphrase = self._line(tr("Passphrase"), hidden=True)
        self.again = self._line(tr("The passphrase once more"), hidden=True)
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Make the key"), self._on_act, main=True)
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
        self.wrong.setText(tr("The two passphrases differ.") if other and one != other else "")
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
        super().__init__(tr("Your signing key"), parent)
        self.setMinimumWidth(760)
        self.body.addWidget(
            label(tr("{person}, made {day}", person=own.person, day=words.day(own.made_at.date())), "strong")
        )
        said = tr(
            "Send this text to the officer, then read the fingerprint to them by phone. They add the key "
            "to the register when it is the same. Nothing of it is secret."
        )
        self.body.addWidget(label(said, wraps=True))
        self.fingerprint = label(shown_fingerprint(own.fingerprint), "large")
        self.fingerprint.setAccessibleName(
            tr("Fingerprint {fingerprint}", fingerprint=self.fingerprint.text())
        )
        self.body.addWidget(self.fingerprint)
        self.text = QPlainTextEdit(text)
        self.text.setReadOnly(True)
        self.text.setAccessibleName(tr("Public half of the key"))
        self.text.setFont(fixed_font())
        self.text.setMinimumHeight(self.text.fontMetrics().lineSpacing() * (text.count("\n") + 6))
        self.body.addWidget(self.text, 1)
        self.another = self.button(tr("Make another…"), self._on_another)
        self.copy = self.button(tr("Copy"), self._on_copy)
        self.save = self.button(tr("Save as text…"), self.save_asked.emit)
        self.button(tr("Close"), self.accept, main=True)

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
        super().__init__(tr("Add a person's key"), parent)
        self.setMinimumWidth(580)
        self.body.addWidget(
            label(
                tr("{person}, made {moment}", person=own.person, moment=words.moment(own.made_at)),
                "strong",
            )
        )
        self.fingerprint = label(shown_fingerprint(own.fingerprint), "large")
        self.fingerprint.setAccessibleName(
            tr("Fingerprint {fingerprint}", fingerprint=self.fingerprint.text())
        )
        self.body.addWidget(self.fingerprint)
        said = tr(
            "Call {person} on a number that you know and let them read their fingerprint to "
            "you. From then on what this key signs counts as signed by them.",
            person=own.person,
        )
        self.body.addWidget(label(said, "caution", wraps=True))
        self.compared = QCheckBox(tr("They read the same fingerprint to me"))
        self.body.addWidget(self.compared)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the key"), self.added.emit, main=True)
        self.act.setEnabled(False)
        self.compared.toggled.connect(self.act.setEnabled)
