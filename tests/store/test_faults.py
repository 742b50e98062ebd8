import sqlite3

import pytest
from sqlalchemy.exc import IntegrityError, OperationalError, ProgrammingError

from estate.errors import RegisterFault
from estate.store.faults import fault_of, told_plainly

WHERE = "/estates/register.db"


@pytest.mark.parametrize(
    ("said", "title"),
    [
        ("database is locked", "The register is in use"),
        ("canceling statement due to lock timeout", "The register is in use"),
        ("database or disk is full", "There is no room on the disk"),
        ("could not extend file: No space left on device", "There is no room on the disk"),
        ("attempt to write a readonly database", "The register can't be written"),
        ("cannot execute INSERT in a read-only transaction", "The register can't be written"),
        ("unable to open database file", "The register can't be opened"),
        ("database disk image is malformed", "The register is damaged"),
        ("file is not a database", "The register is damaged"),
    ],
)
def test_that_what_a_person_can_mend_is_told_with_where_and_what_to_do(said: str, title: str) -> None:
    fault = fault_of(OperationalError("SELECT 1", {}, sqlite3.OperationalError(said)), WHERE)
    assert fault is not None
    assert fault.title == title
    assert WHERE in fault.detail
    assert said in fault.detail
    assert "SELECT" not in fault.detail


def test_that_a_lost_server_is_told_and_a_file_is_never_called_a_server() -> None:
    lost = OperationalError("SELECT 1", {}, Exception("server closed the connection unexpectedly"))
    fault = fault_of(lost, "server")
    assert fault is not None
    assert fault.title == "The register's server can't be reached"
    assert fault_of(sqlite3.OperationalError("no such connection"), WHERE) is None


@pytest.mark.parametrize(
    "said",
    ["permission denied for table outlet", 'new row violates row-level security policy for table "visit"'],
)
def test_that_on_a_server_who_gives_out_accounts_is_asked_and_nobody_for_a_file(said: str) -> None:
    fault = fault_of(ProgrammingError("INSERT", {}, Exception(said)), "server")
    assert fault is not None
    assert fault.title == "The register can't be written"
    assert "gives out the accounts" in fault.remedy
    assert "file" not in fault.remedy
    of_a_file = fault_of(OperationalError("INSERT", {}, sqlite3.OperationalError("permission denied")), WHERE)
    assert of_a_file is not None
    assert "to the file and to its folder" in of_a_file.remedy


def test_that_a_defect_stays_a_defect() -> None:
    defect = IntegrityError("INSERT", {}, sqlite3.IntegrityError("FOREIGN KEY constraint failed"))
    assert fault_of(defect, WHERE) is None
    with pytest.raises(IntegrityError), told_plainly(WHERE):
        raise defect


def test_that_the_driver_s_own_word_is_kept_as_the_cause() -> None:
    cause = sqlite3.DatabaseError("file is not a database")
    with pytest.raises(RegisterFault) as caught, told_plainly(WHERE):
        raise cause
    assert caught.value.__cause__ is cause
