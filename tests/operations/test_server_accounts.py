"""The program itself under each role of a server."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from estate.domain.browsing import PlaceKind
from estate.domain.editing import PlaceNames
from estate.domain.questions import Answer, Choice
from estate.domain.roles import Deed, Role
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import EntryFault, RegisterFault
from estate.operations import browse
from estate.operations.add_place import add_place
from estate.operations.bring_in import commit, look
from estate.operations.make_roles import add_account, make_roles, may, my_role, withdraw_account
from estate.operations.record_visit import record_visit, void_visit
from estate.operations.register import Register
from estate.operations.set_rules import choose
from estate.operations.undo_batch import undo_batch
from estate.operations.verify_register import verify
from estate.store import places
from estate.store.transaction import writing
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, OTHERS, Team, ids_at, team

SHEET = "Asset ref,Date,Visit,Hot °C,Cold °C,Mixed as found °C,Mixed as left °C,Residual flow ml/min\n"


@pytest.fixture
def our_team(tmp_path: Path) -> Iterator[Team]:
    with team(tmp_path) as made:
        yield made


def drafted(register: Register, reference: str) -> VisitDraft:
    ids = ids_at(register, reference)
    return VisitDraft(
        ids["valve"], ids["outlet"], VisitKind.IN_SERVICE, TODAY, Readings(left_c=41.0), "A. Thorne"
    )


def test_that_every_login_is_told_its_role_and_why_it_may_not(our_team: Team) -> None:
    assert my_role(our_team.register) is Role.OWNER
    for role in (Role.READER, Role.RECORDER, Role.OFFICER, Role.KEEPER):
        register = our_team.opened(role)
        assert my_role(register) is role
        refused = may(register, Deed.SET_RULES)
        assert (refused is None) == (role is Role.KEEPER)
        register.close()


def test_that_a_recorder_records_voids_brings_in_and_undoes_in_their_building_alone(
    our_team: Team, tmp_path: Path
) -> None:
    register = our_team.opened(Role.RECORDER)
    recorded = record_visit(register, drafted(register, MINE), who="R", at=NOW, today=TODAY)
    void_visit(register, recorded.visit.id, reason="wrong basin", who="R", at=NOW)
    brought = bring(
        register, tmp_path, SHEET + f"{MINE},2026-04-01,In-service,60,13,41.0,41.0,0\n", "mine.csv"
    )
    assert brought.accepted == 1
    assert brought.batch_id is not None
    undo_batch(register, brought.batch_id, why="wrong round", who="R", at=NOW, today=TODAY)
    with pytest.raises(RegisterFault, match="can't be written"):
        record_visit(register, drafted(register, OTHERS), who="R", at=NOW, today=TODAY)
    with pytest.raises(RegisterFault, match="can't be written"):
        bring(register, tmp_path, SHEET + f"{OTHERS},2026-04-01,In-service,60,13,41.0,41.0,0\n", "not.csv")
    register.close()
    assert verify(our_team.register).misfits == ()


def test_that_an_officer_amends_and_a_keeper_sets_rules(our_team: Team) -> None:
    officer, keeper = our_team.opened(Role.OFFICER), our_team.opened(Role.KEEPER)
    outlet_id = ids_at(officer, MINE)["outlet"]
    with writing(officer.database, "O", "amended", NOW) as tx:
        places.amend_outlet(tx, outlet_id, name="Basin by the door")
    with pytest.raises(RegisterFault, match="can't be written"):
        choose(officer, "estate", "uk-healthcare", who="O", at=NOW)
    choose(keeper, "estate", "uk-healthcare", who="K", at=NOW)
    for each in (officer, keeper):
        each.close()
    assert verify(our_team.register).misfits == ()


def test_that_an_officer_moves_an_outlet_by_an_asset_list_and_undoes_it(
    our_team: Team, tmp_path: Path
) -> None:
    officer = our_team.opened(Role.OFFICER)
    before = str(browse.find_outlet(officer, MINE).path)
    line = next(each for each in ASSETS.splitlines() if each.startswith(MINE))
    moved = f"{ASSETS.splitlines()[0]}\n{line.replace(',G,G01,Utility,', ',2,201,Store,')}\n"
    path = tmp_path / "moved.csv"
    path.write_text(moved, encoding="utf-8")
    answers = (Answer("differs-from-register", Choice.SHEET),)
    brought = commit(officer, look(officer, path, None, TODAY, answers=answers), who="O", at=NOW)
    assert " · 2 · 201 Store · " in str(browse.find_outlet(officer, MINE).path)
    assert brought.batch_id is not None
    undo_batch(officer, brought.batch_id, why="wrong list", who="O", at=NOW, today=TODAY)
    assert str(browse.find_outlet(officer, MINE).path) == before
    officer.close()
    assert verify(our_team.register).misfits == ()


def test_that_only_the_owner_makes_roles_and_accounts(our_team: Team) -> None:
    keeper = our_team.opened(Role.KEEPER)
    with pytest.raises(RegisterFault, match="only owner may make the roles"):
        make_roles(keeper, who="K", at=NOW)
    with pytest.raises(RegisterFault, match="only owner may keep accounts"):
        add_account(keeper, "x", Role.READER, who="K", at=NOW)
    with pytest.raises(RegisterFault, match="only owner may keep accounts"):
        withdraw_account(keeper, "x", who="K", at=NOW)
    keeper.close()
    make_roles(our_team.register, who=WHO, at=NOW)  # again: nothing is in the way


def test_that_an_account_is_taken_as_it_can_be_or_not_at_all(our_team: Team) -> None:
    register = our_team.register
    for name, role, building_id, title in (
        (" ", Role.READER, None, "No such account"),
        ("x", Role.OWNER, None, "No such account"),
        ("x", Role.READER, 1, "A role of the whole estate"),
        ("x", Role.RECORDER, 999, "No such building"),
        ("x", Role.RECORDER, 0, "No such building"),
        (our_team.login(Role.READER), Role.OFFICER, None, "The account has another role"),
    ):
        with pytest.raises(EntryFault, match=title):
            add_account(register, name, role, building_id, who=WHO, at=NOW)


def test_that_a_recorder_may_be_held_to_a_building_that_has_no_rooms_yet(our_team: Team) -> None:
    register = our_team.register
    site = add_place(register, None, PlaceNames("Marlpit Lodge"), who=WHO, at=NOW).added_id
    assert site is not None
    lodge = add_place(register, (PlaceKind.SITE, site), PlaceNames("Lodge"), who=WHO, at=NOW).added_id
    name = our_team.login(Role.RECORDER)
    assert lodge is not None
    add_account(register, name, Role.RECORDER, lodge, who=WHO, at=NOW)
    withdraw_account(register, name, who=WHO, at=NOW)


def test_that_a_second_building_is_a_second_row_and_a_withdrawn_account_does_nothing(our_team: Team) -> None:
    name = our_team.login(Role.RECORDER)
    second = ids_at(our_team.register, OTHERS)["building"]
    add_account(our_team.register, name, Role.RECORDER, second, who=WHO, at=NOW)
    register = our_team.opened(Role.RECORDER)
    record_visit(register, drafted(register, OTHERS), who="R", at=NOW, today=TODAY)
    withdraw_account(our_team.register, name, who=WHO, at=NOW)
    with pytest.raises(RegisterFault, match="can't be written"):
        record_visit(register, drafted(register, MINE), who="R", at=NOW, today=TODAY)
    register.close()
    with pytest.raises(EntryFault, match="No such account"):
        withdraw_account(our_team.register, name, who=WHO, at=NOW)
