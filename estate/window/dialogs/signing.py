"""Sign or countersign one entry: what is signed in words, with which key, and what a signature says."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QPushButton, QScrollArea, QWidget

from estate.domain.signatures import (
    CAUTION,
    OwnKey,
    Signature,
    SignedNoun,
    SignerRole,
    Signing,
    same_person,
    shown_fingerprint,
)
from estate.window.dialogs.shell import Shell
from estate.window.translating import said, tr
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import Facts, label

_FACTS_HIGH = 300
_COVERED = {
    SignedNoun.VISIT: (
        said(
            "Signed is the entry as it stands: every figure and tick, the day, the tester, the instrument, "
            "remarks and where it came from. The verdict is not part of it, because a rule may change."
        )
    ),
    SignedNoun.BATCH: (
        said(
            "Signed are the file as it came, byte for byte, and every row that was taken "
            "of it, each with all that was entered. Verdicts are not part of it, because "
            "a rule may change."
        )
    ),
}
_NO_KEY = said(
    "There is no key in your profile that this register knows. Make one with “Your signing key…” in the "
    "register's menu, and give its public half to the officer, who adds it."
)


@dataclass(frozen=True)
class ToSign:
    """What is signed.

    Attributes:
        named: it in a line.
        facts: what it holds, by name.
        counts: whether it is neither void, corrected nor undone.
    """

    noun: SignedNoun
    row_id: int
    named: str
    facts: Sequence[tuple[str, str]]
    signing: Signing
    counts: bool


class SigningDialog(Shell):
    """Takes the key and its passphrase.

    Attributes:
        sign_asked, countersign_asked: (key, passphrase). The dialog stays until that is kept.
    """

    sign_asked = Signal(object, str)
    countersign_asked = Signal(object, str)

    def __init__(self, what: ToSign, own: Sequence[OwnKey], parent: QWidget | None) -> None:
        super().__init__(
            tr("Sign this {words}", words=tr("entry") if what.noun is SignedNoun.VISIT else tr("batch")),
            parent,
        )
        self._what, self._own = what, tuple(own)
        self.setMinimumWidth(620)
        self._say()
        self.key = QComboBox()
        self.key.setAccessibleName(tr("Your key"))
        for each in self._own:
            self.key.addItem(f"{each.person}   {shown_fingerprint(each.fingerprint)}")
        self.passphrase = QLineEdit()
        self.passphrase.setEchoMode(QLineEdit.EchoMode.Password)
        self.passphrase.setAccessibleName(tr("Passphrase of the key"))
        self.why_not = label("" if self._own else tr(_NO_KEY), "caution", wraps=True)
        self._ask()
        self.button(tr("Leave"), self.reject)
        self.countersign = self.button(tr("Countersign"), self._on_countersign)
        self.sign = self.button(tr("Sign"), self._on_sign, main=True)
        self.key.currentIndexChanged.connect(self._settle)
        self.passphrase.textChanged.connect(self._settle)
        self.passphrase.setFocus()
        self._settle()

    def _say(self) -> None:
        what = self._what
        self.body.addWidget(label(what.named, "strong", wraps=True))
        facts = Facts()
        facts.tell([(name, value, "") for name, value in what.facts])
        self.body.addWidget(_scrolled(facts), 1)
        self.body.addWidget(label(tr(_COVERED[what.noun]), "small", wraps=True))
        self.so_far = label(tr("So far: {signing}.", signing=what.signing.words), wraps=True)
        self.body.addWidget(self.so_far)
        self.body.addWidget(
            label(
                tr("{caution} Sign what you have looked at yourself.", caution=CAUTION), "caution", wraps=True
            )
        )

    def _ask(self) -> None:
        if self._own:
            for name, widget in ((tr("Your key"), self.key), (tr("Its passphrase"), self.passphrase)):
                self.body.addWidget(label(name, "heading"))
                self.body.addWidget(widget)
        self.body.addWidget(self.why_not)

    def _chosen(self) -> OwnKey | None:
        place = self.key.currentIndex()
        return self._own[place] if 0 <= place < len(self._own) else None

    def _settle(self) -> None:
        own = self._chosen()
        if own is None:
            self.sign.setEnabled(False)
            self.countersign.setEnabled(False)
            return
        not_sign, not_countersign = self._why_not_sign(own), self._why_not_countersign(own)
        typed = bool(self.passphrase.text())
        self.sign.setEnabled(typed and not not_sign)
        self.countersign.setEnabled(typed and not not_countersign)
        self.sign.setToolTip(not_sign)
        self.countersign.setToolTip(not_countersign)
        self._lead(self.sign if not_countersign else self.countersign)
        self.why_not.setText(not_sign if not_sign and not_countersign else "")

    def _lead(self, main: QPushButton) -> None:
        """Let Enter do what the person most likely came for."""
        main.setDefault(True)
        for button in (self.sign, self.countersign):
            button.setProperty("kind", "main" if button is main else "")
            button.style().unpolish(button)
            button.style().polish(button)

    def _why_not_sign(self, own: OwnKey) -> str:
        if not self._what.counts:
            return tr("It does not count any more; sign the entry that stands in its place.")
        mine = [each for each in self._direct() if each.fingerprint == own.fingerprint]
        return (
            tr("This key has signed it already.") if SignerRole.SIGNED in {each.role for each in mine} else ""
        )

    def _why_not_countersign(self, own: OwnKey) -> str:
        if not self._what.counts:
            return tr("It does not count any more.")
        others = {
            each.id
            for each in self._direct()
            if each.role is SignerRole.SIGNED and each.good and not same_person(each.person, own.person)
        }
        done = {each.covers for each in self._direct() if each.fingerprint == own.fingerprint}
        if not others:
            return tr(
                "Nobody else has signed it yet: a countersignature covers the signature of another person."
            )
        return "" if others - done else tr("This key has countersigned it already.")

    def _direct(self) -> list[Signature]:
        return [each for each in self._what.signing.signatures if each.batch_id is None]

    def _on_sign(self) -> None:
        self.sign_asked.emit(self._chosen(), self.passphrase.text())

    def _on_countersign(self) -> None:
        self.countersign_asked.emit(self._chosen(), self.passphrase.text())


def _scrolled(facts: QWidget) -> QScrollArea:
    """All that is signed, however much it is, within a dialog that fits the screen."""
    area = in_scroll_area(facts)
    area.setMinimumHeight(min(facts.sizeHint().height(), _FACTS_HIGH))
    return area
