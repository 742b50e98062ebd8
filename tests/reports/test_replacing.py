from pathlib import Path

import pytest

from estate.errors import ReportFault
from estate.reports import pdf, xlsx
from estate.reports.content import overdue
from estate.reports.replacing import replacing
from tests.reports.builders import as_at, estate


def test_that_a_finished_file_takes_its_place(tmp_path: Path) -> None:
    target = tmp_path / "a.txt"
    target.write_text("old", encoding="utf-8")
    with replacing(target) as written:
        written.write_text("new", encoding="utf-8")
        assert target.read_text(encoding="utf-8") == "old"
    assert target.read_text(encoding="utf-8") == "new"
    assert list(tmp_path.iterdir()) == [target]


def test_that_a_failure_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    target = tmp_path / "a.txt"
    target.write_text("old", encoding="utf-8")
    with pytest.raises(ZeroDivisionError), replacing(target) as written:
        written.write_text("half", encoding="utf-8")
        raise ZeroDivisionError
    assert target.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [target]


def test_that_a_missing_folder_is_a_fault_with_a_remedy(tmp_path: Path) -> None:
    document = overdue(estate(1), as_at())
    for write, name in ((pdf.write, "a.pdf"), (xlsx.write, "a.xlsx")):
        with pytest.raises(ReportFault) as caught:
            write(document, tmp_path / "nowhere" / name)
        assert "nowhere" in caught.value.detail
        assert "Make the folder" in caught.value.remedy


def test_that_a_folder_for_a_target_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(ReportFault, match="is a folder"), replacing(tmp_path):
        raise AssertionError("nothing may be written")


def test_that_a_target_held_by_another_program_is_a_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, target: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(ReportFault, match="open in another program"):
        pdf.write(overdue(estate(1), as_at()), tmp_path / "a.pdf")
    assert list(tmp_path.iterdir()) == []


def test_that_a_full_disk_is_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(ReportFault, match="No space left"):
        xlsx.write(overdue(estate(1), as_at()), tmp_path / "a.xlsx")
    assert list(tmp_path.iterdir()) == []
