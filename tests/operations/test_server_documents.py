"""On a server a recorder keeps documents of their buildings, and of no others."""

from pathlib import Path

import pytest

from estate.domain.roles import Role
from estate.errors import RegisterFault
from estate.operations.keep_documents import add_document, content, documents, owner_named, void_document
from estate.operations.verify_register import verify
from tests.files import PDF
from tests.operations.conftest import NOW, WHO
from tests.operations.team import MINE, OTHERS, team


def test_that_a_recorder_keeps_documents_of_their_buildings_alone(tmp_path: Path) -> None:
    paper = tmp_path / "certificate.pdf"
    paper.write_bytes(PDF)
    with team(tmp_path) as our_team:
        recorder = our_team.opened(Role.RECORDER)
        made = add_document(
            recorder, owner_named(recorder, f"outlet:{MINE}"), paper, who=WHO, at=NOW
        ).document
        void_document(recorder, made.id, why="another outlet", who=WHO, at=NOW)
        for owner in (f"outlet:{OTHERS}", "building:1", "register"):
            with pytest.raises(RegisterFault, match="The register can't be written"):
                add_document(recorder, owner_named(recorder, owner), paper, who=WHO, at=NOW)
        recorder.close()
        reader = our_team.opened(Role.READER)
        assert [each.name for each in documents(reader)] == ["certificate.pdf"]
        assert content(reader, made.id) == PDF
        with pytest.raises(RegisterFault, match="The register can't be written"):
            add_document(reader, made.owner, paper, who=WHO, at=NOW)
        reader.close()
        assert verify(our_team.register).fits
