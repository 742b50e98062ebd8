"""Changes by hand on a server: an officer makes and takes back all of them, nobody below any."""

from collections.abc import Callable, Iterator

import pytest

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, OutletChange, PlaceNames, ValveChange
from estate.domain.life.outlet_use import UseStep
from estate.domain.roles import Role
from estate.errors import EntryFault, RegisterFault
from estate.operations.amend_outlets import amend_outlets
from estate.operations.amend_valve import amend_valve
from estate.operations.fit_valve import fit_valve
from estate.operations.move_places import move_places
from estate.operations.register import Register
from estate.operations.remove_empty import remove_empty
from estate.operations.rename_place import rename_place
from estate.operations.use_outlets import use_outlets
from tests.builders import TODAY
from tests.operations.by_hand import BODY, Rows, added, back, outlet_id, place, rows, sound, with_outlet
from tests.operations.conftest import NOW, WHO
from tests.operations.team import MINE, OTHERS, Team, team

HOUSE = ("Withy End", "Withy End House", "G")
MAIN = ("Marlpit Cross", "Main Block", "G")
Doing = Callable[[Register], Edited]


def _rename(register: Register) -> Edited:
    return rename_place(register, place(register, *HOUSE), PlaceNames("Ground"), who=WHO, at=NOW)


def _move(register: Register) -> Edited:
    chosen = [place(register, *MAIN, "G01")]
    return move_places(register, chosen, place(register, *HOUSE[:2], "Ground"), who=WHO, at=NOW)


def _move_outlet(register: Register) -> Edited:
    room = place(register, *MAIN, "G02")
    return move_places(register, [place(register, MINE)], room, who=WHO, at=NOW)


def _amend(register: Register) -> Edited:
    change = OutletChange(reference="WE/1", pipe_m=2.5, little_used=True)
    return amend_outlets(register, [outlet_id(register, MINE)], change, who=WHO, at=NOW)


def _amend_valve(register: Register) -> Edited:
    return amend_valve(register, 1, ValveChange(serial="S-1", set_c=40.0), who=WHO, at=NOW)


def _retire(register: Register) -> Edited:
    return use_outlets(
        register, [outlet_id(register, OTHERS)], UseStep.RETIRE, on=TODAY, why="gone", who=WHO, at=NOW
    )


def _add_outlet(register: Register) -> Edited:
    return with_outlet(register, place(register, *MAIN, "G02"))


def _add(register: Register) -> Edited:
    return added(register, place(register, "Withy End"), "Annexe")


DOINGS: list[Doing] = [_add, _rename, _move_outlet, _amend_valve, _retire, _add_outlet, _amend]


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Team]:
    with team(tmp_path_factory.mktemp("team")) as made:
        yield made


def test_that_an_officer_makes_every_change_and_takes_it_back(ours: Team) -> None:
    officer = ours.opened(Role.OFFICER)
    before: list[tuple[Rows, Edited]] = []
    for doing in (*DOINGS[:2], _move, *DOINGS[2:]):
        held = rows(officer)
        before.append((held, doing(officer)))
    for held, edited in reversed(before):
        back(officer, edited)
        assert rows(officer) == held
    officer.close()
    assert sound(ours.register)


def test_that_an_officer_removes_a_place_that_comes_back_under_its_number(ours: Team) -> None:
    officer = ours.opened(Role.OFFICER)
    room = (PlaceKind.ROOM, added(officer, place(officer, *MAIN), "Store", "G09").added_id or 0)
    outlet = (PlaceKind.OUTLET, with_outlet(officer, room).added_id or 0)
    held = rows(officer)
    removed = [remove_empty(officer, each, who=WHO, at=NOW) for each in (outlet, room)]
    for each in reversed(removed):
        back(officer, each)
    assert rows(officer) == held
    fitted = fit_valve(officer, outlet[1], BODY, on=TODAY, who=WHO, at=NOW)
    back(officer, fitted)
    again = fit_valve(officer, outlet[1], BODY, on=TODAY, who=WHO, at=NOW)
    assert again.added_id == fitted.added_id
    officer.close()
    assert sound(ours.register)


def test_that_only_a_keeper_gives_outlets_rules_of_their_own(ours: Team) -> None:
    change = OutletChange(rule_set="uk-type2")
    officer, keeper = ours.opened(Role.OFFICER), ours.opened(Role.KEEPER)
    number = [outlet_id(officer, OTHERS)]
    with pytest.raises(EntryFault, match="only keeper or owner may change rules"):
        amend_outlets(officer, number, change, who=WHO, at=NOW)
    back(keeper, amend_outlets(keeper, number, change, who=WHO, at=NOW))
    officer.close()
    keeper.close()


@pytest.mark.parametrize("role", [Role.READER, Role.RECORDER])
def test_that_nobody_below_an_officer_changes_places(ours: Team, role: Role) -> None:
    held = rows(ours.register)
    theirs = ours.opened(role)
    for doing in DOINGS:
        with pytest.raises(RegisterFault):
            doing(theirs)
    theirs.close()
    assert rows(ours.register) == held


def test_that_a_recorder_takes_outlets_of_their_buildings_out_of_use_and_back(ours: Team) -> None:
    mine = ours.opened(Role.RECORDER)
    told = {"on": TODAY, "why": "flood", "who_told": "Sister Ash", "who": WHO, "at": NOW}
    edited = use_outlets(mine, [outlet_id(mine, MINE)], UseStep.TAKE_OUT, **told)  # type: ignore[arg-type]
    back(mine, edited)
    mine.close()
