"""Mutated files: whatever comes, a reading or a known fault."""

import random
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estate.domain.intake import SheetReading
from estate.errors import IntakeFault
from estate.intake.reading import read
from tests.intake.making import SHEETS, text_file

ROUNDS = 60


def outcome(path: Path) -> SheetReading | IntakeFault:
    try:
        return read(path)
    except IntakeFault as fault:
        return fault


def mutated(content: bytes, chance: random.Random) -> bytes:
    """Some bytes changed, cut out, doubled or the end cut off."""
    changed = bytearray(content)
    for _ in range(chance.randint(1, 8)):
        at = chance.randrange(len(changed))
        span = chance.randint(1, 40)
        match chance.randrange(4):
            case 0:
                changed[at] = chance.randrange(256)
            case 1:
                del changed[at : min(at + span, len(changed) - 1)]
            case 2:
                changed[at:at] = changed[at : at + span]
            case _:
                changed[at] ^= 1 << chance.randrange(8)
    return bytes(changed)


@pytest.mark.parametrize("file", ["round-messy.xlsx", "round-titled.xlsx"])
def test_that_a_damaged_container_is_read_or_refused(tmp_path: Path, file: str) -> None:
    original = (SHEETS / file).read_bytes()
    path = tmp_path / file
    refused = 0
    for seed in range(ROUNDS):
        path.write_bytes(mutated(original, random.Random(seed)))
        refused += isinstance(outcome(path), IntakeFault)
    assert refused > ROUNDS // 4


@pytest.mark.parametrize("file", ["round-messy.xlsx", "round-titled.xlsx"])
def test_that_damaged_parts_in_a_sound_container_are_read_or_refused(tmp_path: Path, file: str) -> None:
    with zipfile.ZipFile(SHEETS / file) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    names = [
        name
        for name in parts
        if "sheet" in name or "workbook" in name or "shared" in name or "styles" in name
    ]
    path = tmp_path / file
    kinds = set()
    for seed in range(ROUNDS):
        chance = random.Random(seed)
        chosen = chance.choice(names)
        packed = BytesIO()
        with zipfile.ZipFile(packed, "w") as archive:
            for name, part in parts.items():
                archive.writestr(name, mutated(part, chance) if name == chosen else part)
        path.write_bytes(packed.getvalue())
        kinds.add(type(outcome(path)))
    assert kinds == {SheetReading, IntakeFault}


def test_that_damaged_text_is_read_or_refused(tmp_path: Path) -> None:
    original = (SHEETS / "round-csv.csv").read_bytes()
    path = tmp_path / "round.csv"
    for seed in range(ROUNDS):
        path.write_bytes(mutated(original, random.Random(seed)))
        assert isinstance(outcome(path), SheetReading | IntakeFault)


CELL = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters=';"'), max_size=12)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(CELL, min_size=1, max_size=8), max_size=8))
def test_that_every_row_met_is_taken_or_asked_about(tmp_path: Path, rows: list[list[str]]) -> None:
    with_header = [["Ref", "Date", "Hot", "Cold", "Found", "Left", "Remarks"], *rows]
    path = text_file(tmp_path, with_header)
    reading = read(path)
    rows_asked = {question.row for question in reading.questions}
    rows_taken = {visit.source.row for visit in reading.visits}
    assert not rows_asked & rows_taken
    assert len(rows_asked) + len(rows_taken) == reading.read
