"""Keys, signing and countersigning by command."""

import json
import os
from pathlib import Path
from typing import Any

import pytest

from estate import settings
from estate.cli import passphrase
from estate.cli.commands import Doors, main
from estate.operations import keep_keys
from estate.store import keys as crypto
from estate.store.key_files import open_key
from tests.journeys.test_command_line import ON, SHEETS, Run, filled, run, with_history  # noqa: F401 - fixtures
from tests.journeys.test_trust import changed_behind

WORDS = "seven grey herons wade"
LIGHT = 2**10


@pytest.fixture(autouse=True)
def profile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A profile of the test's own, in which a guess at a passphrase costs little."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "profile"))
    monkeypatch.setattr(crypto, "WORK", LIGHT)
    (tmp_path / "words").write_text(f"{WORDS}\n", encoding="utf-8")
    return tmp_path / "profile"


def key_of(filled: Run, folder: Path, person: str) -> tuple[str, list[str]]:
    """A key made and added; its fingerprint, and the words that sign with it."""
    file, secret = folder / f"{person}.pem", ["--passphrase-file", str(folder / "words")]
    assert filled("key", "new", "--person", person, "--to", str(file), *secret)[0] == 0
    assert filled("key", "add", str(file), "--compared", "--who", "E. Marlow")[0] == 0
    known = json.loads(filled("keys", "--json")[1])["register"]
    fingerprint = next(each["fingerprint"] for each in known if each["person"] == person)
    return fingerprint, ["--key", fingerprint[:12], *secret]


def history(filled: Run) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(filled("history", "MM/G/G01/WHB1", *ON, "--json")[1])
    return found


def test_that_a_visit_is_signed_countersigned_and_checked_by_command(filled: Run, tmp_path: Path) -> None:
    _, thorne = key_of(filled, tmp_path, "A. Thorne")
    _, marlow = key_of(filled, tmp_path, "E. Marlow")
    visit = str(history(filled)[0]["visit"])
    assert "unsigned" in filled("signatures", "visit", visit)[1]
    status, out, _ = filled("sign", "visit", visit, *thorne)
    assert status == 0
    assert out.startswith("1 signature added by A. Thorne. A signature says who vouches")
    assert "0 signatures added by A. Thorne, 1 there already" in filled("sign", "visit", visit, *thorne)[1]
    assert filled("countersign", "visit", visit, *thorne)[0] == 3
    assert "1 countersignature added by E. Marlow" in filled("countersign", "visit", visit, *marlow)[1]
    (told,) = json.loads(filled("signatures", "visit", visit, "--json")[1])
    assert (told["visit"], told["state"]) == (int(visit), "signed and countersigned")
    assert [each["person"] for each in told["signatures"]] == ["A. Thorne", "E. Marlow"]
    assert history(filled)[0]["signed"]["state"] == "signed and countersigned"
    shown = filled("history", "MM/G/G01/WHB1", *ON)[1]
    assert "signed by A. Thorne" in shown
    assert "unsigned" in shown
    assert filled("verify")[0] == 0
    changed_behind(tmp_path / "register.db", f"UPDATE visit SET remarks = 'x' WHERE id = {visit}")
    status, out, _ = filled("signatures", "visit", visit)
    assert (status, "does not fit" in out) == (4, True)
    assert "signature 1 (visit" in filled("verify")[1]


def test_that_a_batch_is_signed_and_its_proof_written(filled: Run, tmp_path: Path) -> None:
    _, thorne = key_of(filled, tmp_path, "A. Thorne")
    assert filled("sign", "batch", "2", *thorne)[0] == 0
    assert "signed by A. Thorne" in filled("batch", "2")[1]
    listed = filled("batches")[1].splitlines()
    assert (listed[0].endswith("; unsigned"), "; signed by A. Thorne" in listed[1]) == (True, True)
    told = json.loads(filled("batches", "--json")[1])
    assert [each["signed"]["state"] for each in told] == ["unsigned", "signed"]
    assert json.loads(filled("batch", "2", "--json")[1])["signed"]["state"] == "signed"
    proof = tmp_path / "proof"
    _, _, err = filled("signatures", "batch", "2", "--proof", str(proof))
    assert len(err.splitlines()) == 3
    assert {each.suffix for each in proof.iterdir()} == {".json", ".bin", ".pem"}
    assert filled("signatures", "batch", "99")[0] == 3


def test_that_a_key_is_shown_before_it_is_added_and_withdrawn_with_a_reason(
    filled: Run, tmp_path: Path
) -> None:
    fingerprint, thorne = key_of(filled, tmp_path, "A. Thorne")
    made = tmp_path / "other.pem"
    words = ["--passphrase-file", str(tmp_path / "words")]
    out = filled("key", "new", "--person", "B. Other", *words)[1]
    made.write_text(out, encoding="utf-8")
    status, out, _ = filled("key", "add", str(made))
    assert (status, "Nothing was added. Call B. Other" in out) == (0, True)
    assert "B. Other" not in str(json.loads(filled("keys", "--json")[1])["register"])
    assert filled("key", "withdraw", fingerprint[:8], "--why", "left", "--since", "2026-01-01")[0] == 0
    assert "withdrawn from" in filled("keys")[1]
    known = json.loads(filled("keys", "--json")[1])
    assert known["register"][0]["withdrawn"]["why"] == "left"
    assert {each["person"] for each in known["own"]} == {"A. Thorne", "B. Other"}
    assert filled("sign", "visit", "1", *thorne)[0] == 3


def test_that_one_of_several_keys_has_to_be_said(filled: Run, tmp_path: Path) -> None:
    words = ["--passphrase-file", str(tmp_path / "words")]
    status, _, err = filled("sign", "visit", "1", *words)
    assert (status, err.splitlines()[0]) == (3, "There is no key of yours")
    key_of(filled, tmp_path, "A. Thorne")
    shown = filled("key", "show")[1]
    assert "Person: A. Thorne" in shown
    assert filled("sign", "visit", "1", *words)[0] == 0
    key_of(filled, tmp_path, "A. Thorne")
    status, _, err = filled("sign", "visit", "2", *words)
    assert (status, err.splitlines()[0]) == (3, "There are several keys")
    assert filled("key", "show", "--key", "zz")[0] == 3
    for file in settings.keys_place().iterdir():
        file.chmod(0o644)
    status, out, _ = filled("keys")
    assert (status, "The key can be read by others" in out) == (0, True)
    assert filled("sign", "visit", "2", *words)[2].startswith("The key can be read by others")


def test_that_files_that_cannot_be_used_are_told(filled: Run, tmp_path: Path) -> None:
    nowhere, words = str(tmp_path / "nowhere" / "x"), ["--passphrase-file", str(tmp_path / "words")]
    assert filled("key", "add", nowhere)[2].startswith("The public key can't be read")
    assert filled("key", "new", "--person", "A", "--passphrase-file", nowhere)[0] == 3
    assert filled("key", "new", "--person", "A", "--to", nowhere, *words)[2].startswith(
        "The public key can't"
    )
    assert filled("key", "show")[0] == 0
    (tmp_path / "words").write_text("wrong words, all", encoding="utf-8")
    assert filled("sign", "visit", "1", *words)[2].startswith("The passphrase is wrong")


def test_that_ones_own_keys_are_listed_without_a_register(capsys: pytest.CaptureFixture[str]) -> None:
    doors = Doors(
        lambda register: 0, lambda dest, progress: None, lambda folder: (), lambda folder, names: ()
    )
    with pytest.raises(SystemExit) as left:
        main(doors, ["keys"])
    assert not left.value.code
    told = capsys.readouterr().out.splitlines()
    assert told == ["No key of yours is here.", "No register is named, or it has no key."]


def test_that_a_passphrase_is_asked_for_twice_when_it_is_new(
    filled: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    given = iter([WORDS, WORDS, WORDS, "other", "short", "short"])
    asked: list[str] = []

    def answer(words: str, stream: object) -> str:
        asked.append(words)
        return next(given)

    monkeypatch.setattr(passphrase, "getpass", answer)
    assert filled("key", "new", "--person", "A. Thorne")[0] == 0
    assert asked == ["Passphrase: ", "Once more: "]
    assert filled("key", "new", "--person", "A. Thorne")[2].startswith("The passphrases differ")
    assert filled("key", "new", "--person", "A. Thorne")[2].startswith("The passphrase is too short")
    assert len(list(settings.keys_place().iterdir())) == 1


def test_that_no_passphrase_is_asked_for_without_a_terminal(
    filled: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def gone(words: str, stream: object) -> str:
        raise EOFError

    monkeypatch.setattr(passphrase, "getpass", gone)
    status, _, err = filled("key", "new", "--person", "A. Thorne")
    assert (status, err.splitlines()[0]) == (3, "The passphrase can't be asked for")
    assert "--passphrase-file" in err


def test_that_a_passphrase_comes_through_an_open_file(filled: Run, tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.write(writing, f"{WORDS}\r\n".encode())
    os.close(writing)
    through = ["--passphrase-file", f"/dev/fd/{reading}"]
    assert filled("key", "new", "--person", "A. Thorne", *through)[0] == 0
    os.close(reading)
    (own,), _ = keep_keys.own_keys(settings.keys_place())
    assert crypto.public_of(open_key(own, WORDS)).hex() == own.public
