"""Visits and batches signed and countersigned, and what can't be."""

import shutil
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from estate.domain.roles import Role
from estate.domain.signatures import SignedNoun, Signing, SigningState
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import EntryFault, KeyFault, KnownFault, NotFoundFault, RegisterFault
from estate.operations import browse
from estate.operations.as_known_at import as_known_at
from estate.operations.browse_signatures import signing_of
from estate.operations.keep_keys import add_key, find_key, key_text, keys, make_key, withdraw_key
from estate.operations.record_visit import correct_visit, void_visit
from estate.operations.register import Register
from estate.operations.sign_entries import sign
from estate.operations.undo_batch import undo_batch
from estate.operations.verify_register import verify
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.signers import LIGHT, PASSPHRASE, Signer, signer

VISIT, BATCH = SignedNoun.VISIT, SignedNoun.BATCH


@pytest.fixture
def thorne(register: Register, tmp_path: Path) -> Signer:
    return signer(register, tmp_path, "A. Thorne")


@pytest.fixture
def officer(register: Register, tmp_path: Path) -> Signer:
    return signer(register, tmp_path, "E. Marlow")


def standing(register: Register, row_id: int, noun: SignedNoun = VISIT) -> Signing:
    return signing_of(register, noun, [row_id])[row_id]


def test_that_what_nobody_signed_says_so(register: Register) -> None:
    assert standing(register, 1).words == "unsigned"
    assert standing(register, 2, BATCH).state is SigningState.UNSIGNED
    assert verify(register).fits


def test_that_a_signed_visit_says_by_whom_and_when(register: Register, thorne: Signer) -> None:
    done = thorne.signs(register, 1, 2)
    assert (done.person, done.signed, done.already) == ("A. Thorne", 2, 0)
    assert done.changes.visits == {1, 2}
    assert done.changes.outlets == {1}
    found = standing(register, 1)
    assert found.state is SigningState.SIGNED
    assert found.words == "signed by A. Thorne, 25 Nov 2026 10:30 UTC"
    assert found.people == ("A. Thorne",)
    assert standing(register, 3).state is SigningState.UNSIGNED
    assert verify(register).fits


def test_that_signing_again_adds_only_what_is_missing(register: Register, thorne: Signer) -> None:
    thorne.signs(register, 1)
    done = thorne.signs(register, 1, 2)
    assert (done.signed, done.already) == (1, 1)
    assert len(standing(register, 1).signatures) == 1


def test_that_a_signed_batch_covers_its_visits(register: Register, thorne: Signer, officer: Signer) -> None:
    thorne.signs(register, 2, noun=BATCH)
    assert standing(register, 2, BATCH).state is SigningState.SIGNED
    found = standing(register, 1)
    assert found.words == "signed with batch 2 by A. Thorne, 25 Nov 2026 10:30 UTC"
    officer.countersigns(register, 2, noun=BATCH)
    assert standing(register, 1).state is SigningState.COUNTERSIGNED
    assert verify(register).fits


def test_that_the_officer_countersigns_what_another_person_signed(
    register: Register, thorne: Signer, officer: Signer
) -> None:
    thorne.signs(register, 1, 2)
    done = officer.countersigns(register, 1)
    assert (done.signed, done.already) == (1, 0)
    found = standing(register, 1)
    assert found.state is SigningState.COUNTERSIGNED
    assert found.words.endswith("; countersigned by E. Marlow, 25 Nov 2026 10:30 UTC")
    again = officer.countersigns(register, 1, 2)
    assert (again.signed, again.already) == (1, 1)
    assert standing(register, 2).state is SigningState.COUNTERSIGNED
    assert verify(register).fits


def test_that_nobody_countersigns_their_own_signature(
    register: Register, thorne: Signer, tmp_path: Path
) -> None:
    thorne.signs(register, 1)
    second = signer(register, tmp_path, "a.  THORNE")
    for each in (thorne, second):
        with pytest.raises(EntryFault, match="Not signed by another person: visit 1"):
            each.countersigns(register, 1)
    with pytest.raises(EntryFault, match="Not signed by another person: visit 3"):
        thorne.countersigns(register, 3)


def test_that_a_visit_that_only_its_batch_signs_is_countersigned_by_batch(
    register: Register, thorne: Signer, officer: Signer
) -> None:
    thorne.signs(register, 2, noun=BATCH)
    with pytest.raises(EntryFault, match="Not signed by another person"):
        officer.countersigns(register, 1)


def test_that_a_corrected_visit_keeps_its_signature_and_the_correction_has_none(
    register: Register, thorne: Signer
) -> None:
    thorne.signs(register, 1, 2, 3)
    draft = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, Readings(left_c=41.0), "A. Thorne")
    fresh = correct_visit(register, 2, draft, who=WHO, at=NOW, today=TODAY).visit.id
    void_visit(register, 3, reason="wrong basin", who=WHO, at=NOW)
    states = [standing(register, each).state for each in (1, 2, 3, fresh)]
    assert states == [SigningState.SIGNED] * 3 + [SigningState.UNSIGNED]
    page = browse.outlet_page(register, 1, TODAY)
    shown = {line.visit.id: line.signing.state for line in page.history}
    assert (shown[2], shown[fresh]) == (SigningState.SIGNED, SigningState.UNSIGNED)
    assert verify(register).fits


def test_that_a_batch_keeps_its_signature_when_it_is_undone(register: Register, thorne: Signer) -> None:
    thorne.signs(register, 2, noun=BATCH)
    undo_batch(register, 2, why="wrong round", who=WHO, at=NOW, today=TODAY)
    assert standing(register, 2, BATCH).state is SigningState.SIGNED
    with pytest.raises(EntryFault, match="It does not count any more: batch 2"):
        thorne.signs(register, 2, noun=BATCH)
    assert verify(register).fits


def test_that_entries_not_there_and_void_ones_are_not_signed(register: Register, thorne: Signer) -> None:
    void_visit(register, 1, reason="wrong basin", who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="It does not count any more: visit 1"):
        thorne.signs(register, 1, 2)
    with pytest.raises(NotFoundFault, match=r"visit 900, 901.* and 3 more"):
        thorne.signs(register, 2, *range(900, 915))
    assert standing(register, 2).state is SigningState.UNSIGNED


def test_that_a_key_must_be_known_to_the_register(register: Register, tmp_path: Path) -> None:
    stranger = signer(None, tmp_path, "A. Stranger")
    with pytest.raises(KeyFault, match="The register does not know the key") as caught:
        stranger.signs(register, 1)
    assert "the officer" in caught.value.remedy


def test_that_a_wrong_passphrase_signs_nothing(register: Register, thorne: Signer) -> None:
    with pytest.raises(KeyFault, match="The passphrase is wrong") as caught:
        sign(register, VISIT, [1], thorne.own, "seven grey herons fly", who=WHO, at=NOW)
    assert "make a new key" in caught.value.remedy
    assert "herons" not in str(caught.value)
    assert standing(register, 1).state is SigningState.UNSIGNED


def test_that_a_withdrawn_key_signs_no_more_and_its_earlier_signatures_stay_good(
    register: Register, thorne: Signer
) -> None:
    thorne.signs(register, 1)
    key = find_key(register, thorne.own.fingerprint[:8])
    withdraw_key(register, key, why="left the trust", who=WHO, at=NOW + timedelta(days=1))
    assert standing(register, 1).state is SigningState.SIGNED
    with pytest.raises(KeyFault, match=r"The key was withdrawn.*left the trust"):
        thorne.signs(register, 2)
    assert verify(register).fits
    (kept,) = keys(register)
    assert kept.withdrawal is not None
    assert kept.withdrawn_at(NOW + timedelta(days=1))
    assert not kept.withdrawn_at(NOW)


def test_that_a_key_stolen_before_it_signed_does_not_count_from_then_on(
    register: Register, thorne: Signer, officer: Signer
) -> None:
    thorne.signs(register, 1)
    officer.signs(register, 2)
    thorne.countersigns(register, 2)
    key = find_key(register, thorne.own.fingerprint)
    since, later = NOW - timedelta(days=1), NOW + timedelta(days=1)
    changes = withdraw_key(register, key, why="stolen", who=WHO, at=later, since=since)
    assert changes.everything
    found = standing(register, 1)
    assert found.state is SigningState.WITHDRAWN
    assert found.words.endswith("key withdrawn before the signing")
    assert standing(register, 2).state is SigningState.SIGNED
    officer.signs(register, 1)
    assert standing(register, 1).state is SigningState.SIGNED
    assert verify(register).fits


def test_that_a_key_is_added_once_and_withdrawn_once(
    register: Register, thorne: Signer, tmp_path: Path
) -> None:
    text = key_text(thorne.own)
    with pytest.raises(EntryFault, match="in the register already"):
        add_key(register, text, who=WHO, at=NOW)
    key = find_key(register, thorne.own.fingerprint)

    def withdraw(why: str = "lost", **more: timedelta) -> None:
        since = NOW + more["ahead"] if more else None
        withdraw_key(register, key, why=why, who=WHO, at=NOW, since=since)

    with pytest.raises(EntryFault, match="A reason is needed"):
        withdraw(" ")
    with pytest.raises(EntryFault, match="That moment lies ahead"):
        withdraw(ahead=timedelta(seconds=1))
    withdraw()
    with pytest.raises(EntryFault, match="That key is withdrawn already"):
        withdraw()
    with pytest.raises(EntryFault, match=r"That key was withdrawn.*lost"):
        add_key(register, text, who=WHO, at=NOW)


def test_that_a_key_is_found_by_the_beginning_of_its_fingerprint(
    register: Register, thorne: Signer, officer: Signer
) -> None:
    start = thorne.own.fingerprint
    assert find_key(register, f"{start[:4]} {start[4:12].upper()}").person == "A. Thorne"
    for none in ("", "xyz"):
        with pytest.raises(NotFoundFault, match="No such key"):
            find_key(register, none)
    while not any(each.fingerprint[0] == start[0] for each in keys(register) if each.person == "B. Other"):
        own = make_key("B. Other", PASSPHRASE, officer.own.file.parent, at=NOW, work=LIGHT)
        add_key(register, key_text(own), who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="Several keys begin so"):
        find_key(register, start[0])


def test_that_a_public_key_comes_through_the_mail_and_is_refused_when_changed(
    register: Register, tmp_path: Path
) -> None:
    text = key_text(signer(None, tmp_path, "A. Thorne").own)
    quoted = "\r\n".join(f"> {line}" for line in text.splitlines())
    wrong: list[Callable[[str], str]] = [
        lambda told: told.replace("A. Thorne", "A. Other"),
        lambda told: told.replace("2026-11-25", "2026-11-24"),
        lambda told: told.replace("Proof: ", "Proof: x"),
        lambda told: told.replace("PUBLIC KEY", "CERTIFICATE"),
        lambda told: told[:120],
        lambda told: "",
    ]
    for each in wrong:
        with pytest.raises(EntryFault, match="That is not a public key"):
            add_key(register, each(text), who=WHO, at=NOW)
    assert add_key(register, quoted, who=WHO, at=NOW).person == "A. Thorne"


def test_that_a_name_and_a_long_passphrase_are_asked_for(tmp_path: Path) -> None:
    for person, passphrase, title in ((" ", PASSPHRASE, "A name is needed"), ("A", "short", "too short")):
        with pytest.raises(EntryFault, match=title):
            make_key(person, passphrase, tmp_path / "none", at=NOW, work=LIGHT)
    assert not (tmp_path / "none").exists()


def test_that_a_lost_key_is_told_with_the_way_on(register: Register, thorne: Signer) -> None:
    shutil.rmtree(thorne.own.file.parent)
    with pytest.raises(KnownFault, match="The key is not there") as caught:
        thorne.signs(register, 1)
    assert "let the officer withdraw" in caught.value.remedy


def test_that_a_role_that_may_not_is_told_before_the_passphrase_is_used(
    register: Register, thorne: Signer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estate.store.roles.role_of_login", lambda session: Role.READER)
    with pytest.raises(RegisterFault, match=r"Your account is reader.*may record visits"):
        thorne.signs(register, 1)
    with pytest.raises(RegisterFault, match=r"Your account is reader.*may countersign"):
        thorne.countersigns(register, 1)
    with pytest.raises(RegisterFault, match=r"Your account is reader.*may add and withdraw keys"):
        add_key(register, key_text(thorne.own), who=WHO, at=NOW)


def test_that_a_past_register_shows_who_had_signed_by_then(register: Register, thorne: Signer) -> None:
    later = NOW + timedelta(days=1)
    sign(register, VISIT, [1], thorne.own, PASSPHRASE, who=WHO, at=later)
    then = as_known_at(register, NOW + timedelta(hours=1))
    assert standing(then, 1).state is SigningState.UNSIGNED
    then.close()
    now = as_known_at(register, later)
    assert standing(now, 1).state is SigningState.SIGNED
    now.close()
