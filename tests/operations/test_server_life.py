"""What a recorder may do about actions and outlets: in their own buildings, and nowhere else."""

from pathlib import Path

import pytest

from estate.domain.life.actions import ActionState, Step
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.domain.roles import Role
from estate.errors import RegisterFault
from estate.operations.justify_visit import justify_visit
from estate.operations.open_action import open_action
from estate.operations.verify_register import verify
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.team import MINE, OTHERS, ids_at, team
from tests.operations.test_actions import HOT, mended, move, only, out_of_date, record, stands, use


def test_that_a_recorder_takes_a_fault_the_whole_way_in_their_buildings_alone(tmp_path: Path) -> None:
    with team(tmp_path) as ours:
        mine = ours.opened(Role.RECORDER)
        record(mine, HOT, ref=MINE)
        use(mine, UseStep.TAKE_OUT, MINE)
        move(mine, Step.PUT_RIGHT, MINE)
        assert only(mine, MINE).state is ActionState.PUT_RIGHT
        mended(mine, MINE)
        use(mine, UseStep.PUT_BACK, MINE)
        move(mine, Step.CLOSE, MINE)
        assert (only(mine, MINE).state, stands(mine, MINE)) == (ActionState.CLOSED, OutletUse.IN_USE)
        with pytest.raises(RegisterFault):
            use(mine, UseStep.TAKE_OUT, OTHERS)
        others = ids_at(ours.register, OTHERS)["outlet"]
        with pytest.raises(RegisterFault):
            open_action(mine, others, words="Clear the access.", on=TODAY, who=WHO, at=NOW)
        mine.close()
        assert verify(ours.register).fits


def test_that_only_an_officer_justifies_a_visit(tmp_path: Path) -> None:
    with team(tmp_path) as ours:
        visit_id = out_of_date(ours.register)
        mine, officer = ours.opened(Role.RECORDER), ours.opened(Role.OFFICER)
        with pytest.raises(RegisterFault):
            justify_visit(mine, visit_id, why="compared the same day", who=WHO, at=NOW)
        justify_visit(officer, visit_id, why="compared the same day", who=WHO, at=NOW)
        mine.close()
        officer.close()
