"""Who signs, countersigns and keeps keys under each role of a server; the database enforces it."""

import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import DBAPIError

from estate.domain.roles import Role
from estate.domain.signatures import SignedNoun, SigningState
from estate.errors import RegisterFault
from estate.operations.browse_signatures import signing_of
from estate.operations.keep_keys import add_key, find_key, key_text, withdraw_key
from estate.operations.move_register import move
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.operations.verify_register import verify
from estate.store import visits
from estate.store.trust_schema import PersonKeyRow, SignatureRow
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.conftest import VISITS as SMALL_VISITS
from tests.operations.signers import Signer, signer
from tests.operations.team import MINE, OTHERS, REFUSED, Team, ids_at, own_schema, team

VISITS = "Asset ref,Date,Visit,Mixed as left °C\n"


@pytest.fixture(scope="module")
def our_team(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Team]:
    folder = tmp_path_factory.mktemp("team")
    with team(folder) as made:
        bring(made.register, folder, VISITS + f"{MINE},2026-04-01,In-service,41.0\n", "first.csv")
        yield made


@pytest.fixture(scope="module")
def contractor(our_team: Team, tmp_path_factory: pytest.TempPathFactory) -> Signer:
    """Has a key; it is the officer who added it."""
    made = signer(None, tmp_path_factory.mktemp("contractor"), "A. Thorne")
    register = our_team.opened(Role.OFFICER)
    add_key(register, key_text(made.own), who=WHO, at=NOW)
    register.close()
    return made


def visits_at(register: Register, reference: str) -> list[int]:
    valve_id = ids_at(register, reference)["valve"]
    with register.database.reading() as session:
        return [each.id for each in visits.visits(session, [valve_id])]


def test_that_a_recorder_signs_in_their_building_alone_and_the_officer_countersigns(
    our_team: Team, contractor: Signer, tmp_path: Path
) -> None:
    recorder, officer = our_team.opened(Role.RECORDER), our_team.opened(Role.OFFICER)
    text = VISITS + f"{MINE},2026-05-01,In-service,41.0\n{MINE},2026-06-01,In-service,41.0\n"
    brought = bring(recorder, tmp_path, text, "mine.csv")
    assert brought.batch_id is not None
    # One refused row at a time: of several the driver logs, now and then, that it ends the others too.
    mine, others = visits_at(recorder, MINE), visits_at(recorder, OTHERS)[:1]
    assert contractor.signs(recorder, *mine).signed == len(mine)
    assert contractor.signs(recorder, brought.batch_id, noun=SignedNoun.BATCH).signed == 1
    refused = [(SignedNoun.VISIT, others), (SignedNoun.VISIT, [*mine, *others]), (SignedNoun.BATCH, [2])]
    for noun, ids in refused:
        before = signing_of(recorder, noun, ids)
        with pytest.raises(RegisterFault, match="The register can't be written"):
            contractor.signs(recorder, *ids, noun=noun)
        assert signing_of(recorder, noun, ids) == before
    marlow = signer(officer, tmp_path, "E. Marlow")
    marlow.countersigns(officer, *mine)
    assert {each.state for each in signing_of(recorder, SignedNoun.VISIT, mine).values()} == {
        SigningState.COUNTERSIGNED
    }
    assert verify(our_team.register).fits
    recorder.close()
    officer.close()


@pytest.mark.parametrize("role", [Role.READER, Role.RECORDER])
def test_that_only_an_officer_keeps_keys_and_countersigns(
    our_team: Team, contractor: Signer, role: Role, tmp_path: Path
) -> None:
    register = our_team.opened(role)
    key = find_key(register, contractor.own.fingerprint)
    doings: dict[str, Callable[[], object]] = {
        "add and withdraw keys": lambda: withdraw_key(register, key, why="x", who=WHO, at=NOW),
        "add and withdraw": lambda: signer(register, tmp_path, "A. Stranger"),
        "countersign": lambda: contractor.countersigns(register, 1),
    }
    for words, doing in doings.items():
        with pytest.raises(RegisterFault, match=f"only officer or keeper or owner may {words}"):
            doing()
    register.close()


def test_that_an_auditor_signs_nothing(our_team: Team, contractor: Signer) -> None:
    register = our_team.opened(Role.READER)
    with pytest.raises(RegisterFault, match="Your account is reader"):
        contractor.signs(register, 1)
    register.close()


@pytest.mark.parametrize("role", [Role.READER, Role.RECORDER])
def test_that_the_server_itself_refuses_keys_and_countersignatures(
    our_team: Team, contractor: Signer, role: Role
) -> None:
    mine = visits_at(our_team.register, MINE)[0]
    told = {"digest": "00", "person_key_id": 1, "signature": "00", "at": NOW, "who": "R"}
    key = {"person": "R", "key": "00", "fingerprint": "00", "made_at": NOW, "added_by": "R", "at": NOW}
    raw = [
        insert(SignatureRow).values(noun="visit", row_id=mine, role="countersigned", **told),
        insert(SignatureRow).values(noun="signature", row_id=1, role="countersigned", **told),
        insert(SignatureRow).values(noun="signature", row_id=1, role="signed", **told),
        insert(PersonKeyRow).values(**key),
    ]
    with our_team.connected(role) as connection:
        for statement in raw:
            with pytest.raises(DBAPIError) as caught:
                connection.execute(statement)
            connection.rollback()
            assert getattr(caught.value.orig, "sqlstate", "") == REFUSED


def test_that_signatures_fit_after_a_move_to_a_server_and_back(tmp_path: Path) -> None:
    register = new_register(tmp_path / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(register, tmp_path, ASSETS, "assets.csv")
    bring(register, tmp_path, SMALL_VISITS, "visits.csv")
    thorne, marlow = signer(register, tmp_path, "A. Thorne"), signer(register, tmp_path, "E. Marlow")
    thorne.signs(register, 1, 2, 3, 4)
    marlow.countersigns(register, 1)
    thorne.signs(register, 1, 2, noun=SignedNoun.BATCH)
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        for where in (address, tmp_path / "back.db"):
            move(register, str(where), who=WHO, at=NOW)
            register.close()
            register = open_register(where)
            assert verify(register).fits
            states = {each.state for each in signing_of(register, SignedNoun.VISIT, [2, 3, 4]).values()}
            assert states == {SigningState.SIGNED}
            assert signing_of(register, SignedNoun.VISIT, [1])[1].state is SigningState.COUNTERSIGNED
        register.close()
