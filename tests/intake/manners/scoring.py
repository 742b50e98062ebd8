"""Brings sheets before the register and scores what would be taken against what is true."""

import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from estate.domain.instruments import Calibration
from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.domain.visits import measured
from estate.errors import KnownFault
from estate.operations.bring_in import Proposal, ProposedVisit, commit, look
from estate.operations.keep_instruments import add_instrument
from estate.operations.open_register import new_register
from estate.operations.register import Register
from tests.intake.manners.lives import INSTRUMENTS, history, past
from tests.intake.manners.paper import Between, Due, Entry, Sheet
from tests.intake.manners.places import STYLES, asset_list, estate
from tests.intake.manners.savers import saved

TODAY = date(2026, 11, 25)
BUILT = datetime(2025, 12, 31, 9, 0, tzinfo=UTC)
CLOSE = 0.0051
TEXT = (".csv", ".tsv", ".txt")


@dataclass(slots=True)
class Score:
    """What became of the entries of some sheets.

    Attributes:
        due: entries that a reader should take unasked.
        right: of those, taken with the right outlet, date and every value.
        short: taken rightly as far as it goes, but with a value lost.
        asked: of those, asked about.
        wrong: anything taken that is not true.
        lost: entries neither taken nor asked about.
        noise: questions about rows that hold no entry.
        codes: how many questions of each code the entries due got.
        notes: one line for each thing that is not as it should be.
    """

    due: int = 0
    right: int = 0
    short: int = 0
    asked: int = 0
    wrong: int = 0
    lost: int = 0
    noise: int = 0
    codes: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)

    def add(self, other: "Score") -> None:
        """Count another sheet's score in."""
        for name in ("due", "right", "short", "asked", "wrong", "lost", "noise"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.codes += other.codes
        self.notes += other.notes

    @property
    def share(self) -> float:
        """Share of the entries due that were taken rightly and wholly, unasked."""
        return self.right / self.due if self.due else 1.0


@contextmanager
def registers() -> Iterator[Mapping[str, Register]]:
    """A register of each estate with its past, by style; gone afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        found = {style: _register(Path(folder), style) for style in STYLES}
        yield found
        for register in found.values():
            register.close()


def _register(folder: Path, style: str) -> Register:
    register = new_register(folder / f"{style}.db", "Marlpit and Withy End", at=BUILT, who="E. Marlow")
    for instrument in INSTRUMENTS:
        add_instrument(
            register,
            instrument,
            specification="digital thermometer",
            standard_uncertainty_k=0.25,
            calibration=Calibration(date(2026, 1, 5), date(2027, 1, 4), "CAL"),
            who="E. Marlow",
            at=BUILT,
        )
    for name, content, kind in (
        ("assets.csv", asset_list(estate(style)), SheetKind.ASSETS),
        ("history.csv", history(past(style)[0]), SheetKind.VISITS),
    ):
        path = folder / name
        path.write_bytes(content)
        proposal = look(register, path, kind, date(2025, 12, 31))
        if kind is SheetKind.ASSETS and proposal.questions:
            raise AssertionError(f"the invented estate is questioned: {proposal.questions[:3]}")
        commit(register, proposal, who="E. Marlow", at=BUILT)
    return register


def scored(register: Register, sheet: Sheet, file: tuple[str, bytes] | None = None) -> Score:
    """Bring a sheet before its register and score it.

    Args:
        register: of the sheet's estate.
        sheet: with its truth.
        file: name and bytes; None saves the sheet as it says.
    """
    name, content = file or saved(sheet)
    try:
        proposal = _looked(register, name, content)
    except KnownFault as fault:
        return _refused(sheet, name, fault)
    return Judge(sheet, name, proposal).score()


def _looked(register: Register, name: str, content: bytes) -> Proposal:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(content)
        return look(register, path, SheetKind.VISITS, TODAY)


def proposed(register: Register, sheet: Sheet) -> tuple[ProposedVisit, ...]:
    """The visits that a sheet would bring; none where it is refused."""
    try:
        return _looked(register, *saved(sheet)).visits
    except KnownFault:
        return ()


def _refused(sheet: Sheet, name: str, fault: KnownFault) -> Score:
    due = sum(entry.due is Due.TAKE for entry in sheet.entries)
    score = Score(due=due, asked=due)
    score.codes["refused"] += due
    score.notes.append(f"{name}: refused: {fault.title} {fault.detail}")
    return score


class Judge:
    """Scores one sheet.

    Args:
        sheet: with its truth.
        name: of the file.
        proposal: what the register would take.
    """

    def __init__(self, sheet: Sheet, name: str, proposal: Proposal) -> None:
        self._entries, self._name, self._proposal = sheet.entries, name, proposal
        pages = {entry.page for entry in sheet.entries}
        # A text file has no sheet of its own; its only one is named after the file.
        self._only_page = pages.pop() if name.endswith(TEXT) and len(pages) == 1 else None
        self._score = Score()
        self._by_key: dict[tuple[str, date | None], list[Entry]] = {}
        for entry in sheet.entries:
            if entry.due in (Due.TAKE, Due.EITHER):
                self._by_key.setdefault((entry.ref, entry.on), []).append(entry)
        self._taken: set[int] = set()
        self._mistaken: set[tuple[str, int]] = set()

    def score(self) -> Score:
        """Score everything that was taken, then everything that was not."""
        for visit in self._proposal.visits:
            self._judge(visit)
        about = self._questions()
        for entry in self._entries:
            self._see_to(entry, about)
        self._look_for_noise()
        return self._score

    def _judge(self, visit: ProposedVisit) -> None:
        there = self._by_key.get((visit.ref, visit.draft.on), [])
        entry = next((each for each in there if id(each) not in self._taken), None)
        if entry is None:
            self._wrong(visit, f"taken as {visit.ref} on {visit.draft.on}", self._truth_at(visit))
            return
        self._taken.add(id(entry))
        differing, missing = _compare(entry, visit)
        if entry.kind != visit.draft.kind.value:
            differing.append(f"kind {visit.draft.kind.value}, truly {entry.kind}")
        if differing:
            self._wrong(visit, f"{visit.ref} on {visit.draft.on}: {'; '.join(differing)}", entry.why)
            self._score.due += entry.due is Due.TAKE
        elif missing:
            self._score.due += entry.due is Due.TAKE
            self._score.short += 1
            self._note(visit, f"short: {visit.ref} lacks {', '.join(missing)}")
        elif entry.due is Due.TAKE:
            self._score.due += 1
            self._score.right += 1

    def _page(self, sheet: str) -> str:
        return self._only_page or sheet

    def _truth_at(self, visit: ProposedVisit) -> str:
        source = visit.draft.source
        if source is None:
            return "without a source"
        there = [
            f"truly {each.ref} on {each.on}, to {each.due.value} ({each.why})"
            for each in self._entries
            if each.page == self._page(source.sheet) and each.first <= source.row <= each.last
        ]
        return " or ".join(there[:2]) or "no entry is there"

    def _wrong(self, visit: ProposedVisit, what: str, truth: str) -> None:
        self._score.wrong += 1
        if visit.draft.source:
            self._mistaken.add((self._page(visit.draft.source.sheet), visit.draft.source.row))
        cells = visit.draft.source.cells if visit.draft.source else ()
        self._note(visit, f"WRONG: {what} [{truth}] {list(cells)}")

    def _note(self, visit: ProposedVisit, what: str) -> None:
        source = visit.draft.source
        where = f"{source.sheet}!{source.row}" if source else "?"
        self._score.notes.append(f"{self._name} {where} {what}")

    def _questions(self) -> dict[str, list[Question]]:
        found: dict[str, list[Question]] = {}
        for question in self._proposal.questions:
            found.setdefault(self._page(question.sheet), []).append(question)
        return found

    def _see_to(self, entry: Entry, about: dict[str, list[Question]]) -> None:
        if id(entry) in self._taken:
            return
        page = about.get(entry.page, [])
        asked = [each for each in page if entry.first <= each.row <= entry.last]
        asked = asked or [each for each in page if each.row == 0 or each.code == "unreadable-sheet"]
        self._score.due += entry.due is Due.TAKE
        mistaken = any((entry.page, row) in self._mistaken for row in range(entry.first, entry.last + 1))
        if not asked and mistaken:
            return
        if not asked:
            self._score.lost += 1
            self._score.notes.append(
                f"{self._name} {entry.page}!{entry.first} LOST: {entry.ref} on {entry.on}"
            )
        elif entry.due is Due.TAKE:
            self._score.asked += 1
            self._score.codes[asked[0].code] += 1
            told = f"{asked[0].code} at {asked[0].cell}: {asked[0].found!r}"
            self._score.notes.append(f"{self._name} {entry.page}!{entry.first} asked: {entry.ref}: {told}")
        elif entry.due is Due.ATTEMPT:
            self._see_to_attempt(entry, asked)

    def _see_to_attempt(self, entry: Entry, asked: Sequence[Question]) -> None:
        if all(each.code != "no-access" for each in asked):
            told = ", ".join(each.code for each in asked)
            self._score.notes.append(f"{self._name} {entry.page}!{entry.first} no attempt, but {told}")

    def _look_for_noise(self) -> None:
        for question in self._proposal.questions:
            if not any(
                entry.page == self._page(question.sheet) and entry.first <= question.row <= entry.last
                for entry in self._entries
            ):
                self._score.noise += 1
                told = f"{question.code} {question.found!r}"
                self._score.notes.append(f"{self._name} {question.sheet}!{question.row} noise: {told}")


def _compare(entry: Entry, visit: ProposedVisit) -> tuple[list[str], list[str]]:
    """Readings that differ from the truth, and readings that are missing."""
    got = measured(visit.draft.readings)
    true = dict(entry.values)
    if {"found_c", "left_c"} <= set(true) and "adjusted" not in true and true["found_c"] != true["left_c"]:
        true["adjusted"] = True
    differing = [
        f"{name} {value}, truly {true.get(name, 'not told')}"
        for name, value in got.items()
        if name not in entry.free
        and not (name == "adjusted" and name not in true)
        and not _same(true.get(name), value)
    ]
    missing = [name for name in true if name not in got and name not in entry.free]
    if entry.instrument and entry.instrument != visit.draft.instrument_words:
        missing.append("instrument")
    return differing, missing


def _same(true: float | bool | Between | None, value: Any) -> bool:
    if true is None:
        return False
    if isinstance(true, tuple):
        return bool(true[0] <= value <= true[1])
    if isinstance(true, bool) or isinstance(value, bool):
        return true is value
    return bool(abs(true - value) <= CLOSE)
