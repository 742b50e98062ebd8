"""Roles where there are none: a file has no accounts."""

from pathlib import Path

import pytest

from estate.domain.roles import Deed, Role, why_not
from estate.errors import RegisterFault
from estate.operations.make_roles import add_account, make_roles, may, my_role
from estate.operations.open_register import new_register
from estate.operations.watch_register import watch
from tests.operations.conftest import NOW, WHO


def test_that_everyone_owns_a_file_which_has_no_accounts_and_tells_nobody(tmp_path: Path) -> None:
    register = new_register(tmp_path / "a.db", "Marlpit Cross", at=NOW, who=WHO)
    assert my_role(register) is Role.OWNER
    assert [may(register, each) for each in Deed] == [None] * len(Deed)
    with pytest.raises(RegisterFault, match="A file has no accounts"):
        make_roles(register, who=WHO, at=NOW)
    with pytest.raises(RegisterFault, match="A file has no accounts"):
        add_account(register, "x", Role.READER, who=WHO, at=NOW)
    with pytest.raises(RegisterFault, match="A file tells nobody"):
        next(watch(register, 0.1))
    register.close()


def test_that_a_role_is_told_why_it_may_not() -> None:
    assert why_not(Role.READER, Deed.RECORD) == (
        "Your account is reader; only recorder or officer or keeper or owner may record visits."
    )
    assert why_not(Role.RECORDER, Deed.RECORD) is None
