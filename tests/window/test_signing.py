"""Keys and signing at the window."""

from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from estate.domain.signatures import OwnKey, Signature, SignedNoun, SignerRole, Signing, SigningState, signing
from estate.store import keys as crypto
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.keys import KnownKeyDialog, NewKeyDialog, PublicKeyDialog
from estate.window.dialogs.signing import SigningDialog, ToSign
from estate.window.marks import Mark
from estate.window.models.signed_facts import signing_cell, visit_facts
from estate.window.pictures import settle
from tests.window import builders
from tests.window.builders import NOW
from tests.window.conftest import Seat

WORDS = "seven grey herons wade"
THORNE, MARLOW = "a" * 64, "b" * 64


@pytest.fixture(autouse=True)
def profile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "profile"))
    monkeypatch.setattr(crypto, "WORK", 2**10)


def made(number: int, fingerprint: str, covers: int | None = None, fault: str = "") -> Signature:
    role = SignerRole.SIGNED if covers is None else SignerRole.COUNTERSIGNED
    person = "A. Thorne" if fingerprint == THORNE else "E. Marlow"
    return Signature(number, role, person, fingerprint, NOW, person, fault, covers=covers)


def to_sign(*signatures: Signature, counts: bool = True) -> ToSign:
    facts = visit_facts(builders.visit())
    return ToSign(SignedNoun.VISIT, 1, "In-service test of 9 May 2026", facts, signing(signatures), counts)


def own(fingerprint: str = THORNE) -> OwnKey:
    person = "A. Thorne" if fingerprint == THORNE else "E. Marlow"
    return OwnKey(person, "00", fingerprint, NOW, "00", Path("x.key"))


def offered(dialog: SigningDialog) -> tuple[bool, bool]:
    return dialog.sign.isEnabled(), dialog.countersign.isEnabled()


def test_that_a_history_says_how_each_entry_stands() -> None:
    assert signing_cell(Signing()).text == "unsigned"
    assert signing_cell(signing([made(1, THORNE)])).text == "signed"
    cell = signing_cell(signing([made(1, THORNE), made(2, MARLOW, covers=1)]))
    assert (cell.text, cell.mark, len(cell.tip.splitlines())) == ("countersigned", None, 2)
    odd = signing_cell(signing([made(1, THORNE, fault="it was changed")]))
    assert (odd.text, odd.mark) == ("does not fit", Mark.BARRED)
    assert "it was changed" in odd.tip


def test_that_only_what_makes_sense_is_offered(qtbot: QtBot) -> None:
    cases = [
        (to_sign(), THORNE, (True, False)),
        (to_sign(made(1, THORNE)), THORNE, (False, False)),
        (to_sign(made(1, THORNE)), MARLOW, (True, True)),
        (to_sign(made(1, THORNE), made(2, MARLOW, covers=1)), MARLOW, (True, False)),
        (to_sign(made(1, THORNE), counts=False), MARLOW, (False, False)),
    ]
    for what, fingerprint, expected in cases:
        dialog = SigningDialog(what, [own(fingerprint)], None)
        qtbot.addWidget(dialog)
        assert offered(dialog) == (False, False)
        dialog.passphrase.setText(WORDS)
        assert offered(dialog) == expected
        assert dialog.countersign.isDefault() == expected[1]
    assert "does not count any more" in dialog.why_not.text()


def test_that_the_dialog_says_what_is_signed_and_what_a_signature_does_not_say(qtbot: QtBot) -> None:
    dialog = SigningDialog(to_sign(), [], None)
    qtbot.addWidget(dialog)
    said = " ".join(each.text() for each in dialog.findChildren(type(dialog.heading)))
    for words in ("Mixed as left, °C", "41.4", "round.xlsx, Main, row 12", "So far: unsigned."):
        assert words in said
    assert "It does not say that the reading is true" in said
    assert "no key in your profile that this register knows" in said
    assert offered(dialog) == (False, False)


def outlet_shown(seat: Seat) -> None:
    reading = seat.window.showing.reading
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    seat.window.pages.outlet.history.selectRow(0)


def typed_key(seat: Seat, person: str) -> None:
    """Make a key at the window, save its public half and add it."""
    dialog = seat.dialog()
    assert isinstance(dialog, NewKeyDialog)
    dialog.name.setText(person)
    dialog.passphrase.setText(WORDS)
    dialog.again.setText(f"{WORDS}x")
    assert (dialog.wrong.text(), dialog.act.isEnabled()) == ("The two passphrases differ.", False)
    dialog.again.setText(WORDS)
    dialog.act.click()
    shown = seat.dialog()
    assert isinstance(shown, PublicKeyDialog)
    shown.copy.click()
    assert QGuiApplication.clipboard().text().startswith("Public key for signing")
    shown.save.click()
    settle()
    fingerprint = shown.fingerprint.text()
    shown.accept()
    settle()
    seat.answers.to_open = seat.answers.to_write
    seat.window.actions_["add-key"].trigger()
    known = seat.dialog()
    assert isinstance(known, KnownKeyDialog)
    assert known.fingerprint.text() == fingerprint
    assert not known.act.isEnabled()
    known.compared.setChecked(True)
    known.act.click()
    settle()


def signed_with(seat: Seat, key: str) -> SigningDialog:
    dialog = seat.dialog()
    assert isinstance(dialog, SigningDialog)
    place = next(each for each in range(dialog.key.count()) if dialog.key.itemText(each).startswith(key))
    dialog.key.setCurrentIndex(place)
    dialog.passphrase.setText(WORDS)
    return dialog


def state(seat: Seat) -> SigningState:
    page = seat.window.showing.outlet
    assert page is not None
    return page.history[0].signing.state


def test_that_an_entry_is_signed_and_countersigned_at_the_window(seat: Seat, tmp_path: Path) -> None:
    seat.answers.to_write = tmp_path / "thorne.pem"
    seat.window.actions_["own-key"].trigger()
    typed_key(seat, "A. Thorne")
    seat.window.actions_["own-key"].trigger()
    mine = seat.dialog()
    assert isinstance(mine, PublicKeyDialog)
    seat.answers.to_write = tmp_path / "marlow.pem"
    mine.another.click()
    typed_key(seat, "E. Marlow")
    outlet_shown(seat)
    seat.window.pages.outlet.past.sign_button.click()
    dialog = signed_with(seat, "A. Thorne")
    dialog.passphrase.setText("wrong words, all")
    dialog.sign.click()
    settle()
    (fault,) = [each for each in seat.dialogs() if isinstance(each, FaultDialog)]
    assert fault.windowTitle() == "The passphrase is wrong"
    fault.accept()
    dialog.passphrase.setText(WORDS)
    dialog.sign.click()
    settle()
    assert seat.dialogs() == []
    assert state(seat) is SigningState.SIGNED
    seat.window.pages.outlet.history.selectRow(0)
    seat.window.actions_["sign"].trigger()
    signed_with(seat, "E. Marlow").countersign.click()
    settle()
    assert state(seat) is SigningState.COUNTERSIGNED
    assert "countersigned by E. Marlow" in seat.window.pages.outlet.cards.signed.text()


def test_that_a_sheet_is_signed_with_all_its_rows(seat: Seat, tmp_path: Path) -> None:
    seat.answers.to_write = tmp_path / "thorne.pem"
    seat.window.actions_["own-key"].trigger()
    typed_key(seat, "A. Thorne")
    seat.window.actions_["batches"].trigger()
    settle()
    page = seat.window.pages.batches
    assert "Signing: unsigned." in page.said.text()
    page.sign.click()
    signed_with(seat, "A. Thorne").sign.click()
    settle()
    assert "Signing: signed by A. Thorne" in page.said.text()


def test_that_files_that_cannot_be_used_are_told(seat: Seat, tmp_path: Path) -> None:
    seat.window.actions_["add-key"].trigger()
    assert seat.dialogs() == []
    seat.answers.to_open = tmp_path / "nowhere.pem"
    seat.window.actions_["add-key"].trigger()
    assert isinstance(seat.dialog(), FaultDialog)
    seat.dialog().accept()
    seat.answers.to_write = tmp_path / "nowhere" / "x.pem"
    seat.window.actions_["own-key"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, NewKeyDialog)
    dialog.name.setText("A. Thorne")
    dialog.passphrase.setText(WORDS)
    dialog.again.setText(WORDS)
    dialog.act.click()
    shown = seat.dialog()
    assert isinstance(shown, PublicKeyDialog)
    shown.save.click()
    settle()
    assert any(isinstance(each, FaultDialog) for each in seat.dialogs())
