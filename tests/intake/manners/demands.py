"""What is demanded of the reading of sheets, as faults in words; none where all holds."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from estate.domain.visits import measured
from estate.operations.register import Register
from tests.intake.manners.kept import kept
from tests.intake.manners.manner import MANNERS, made
from tests.intake.manners.paper import Sheet
from tests.intake.manners.same import told_alike
from tests.intake.manners.scoring import Score, proposed, scored

LEAST = 0.95
"""Share of the entries that are taken rightly and wholly, unasked."""
COLUMNS = ("due", "right", "short", "asked", "wrong", "lost", "noise")


def scores(
    held: Mapping[str, Register], seeds: Iterable[int], manners: Iterable[str] = MANNERS
) -> dict[str, Score]:
    """The score of each manner over all seeds."""
    found: dict[str, Score] = {}
    for manner in manners:
        total = found.setdefault(manner, Score())
        for seed in seeds:
            sheet = made(manner, seed)
            total.add(scored(held[sheet.style], sheet))
    return found


def kept_scores(held: Mapping[str, Register]) -> dict[str, Score]:
    """The score of each sheet that another program saved, by the file's name."""
    return {file[0]: scored(held[sheet.style], sheet, file) for sheet, file in kept()}


def table(found: Mapping[str, Score]) -> str:
    """The scores as lines of text, the sum below."""
    lines = [f"{'manner':32}" + "".join(f"{name:>7}" for name in COLUMNS) + "  share"]
    return "\n".join(
        [*lines, *[_line(name, score) for name, score in found.items()], _line("all", total(found))]
    )


def _line(name: str, score: Score) -> str:
    return f"{name:32}" + "".join(f"{getattr(score, each):7}" for each in COLUMNS) + f"{score.share:7.1%}"


def total(found: Mapping[str, Score]) -> Score:
    """All scores in one."""
    whole = Score()
    for score in found.values():
        whole.add(score)
    return whole


def wrongly_taken(found: Mapping[str, Score]) -> list[str]:
    """Everything that was taken and is not true, or went missing without a question."""
    return [note for score in found.values() for note in score.notes if "WRONG" in note or "LOST" in note]


def too_often_asked(found: Mapping[str, Score]) -> list[str]:
    """Manners of which too few entries were taken unasked, the whole among them."""
    shares = {name: score.share for name, score in found.items()} | {"all": total(found).share}
    return [f"{name}: {share:.1%}" for name, share in shares.items() if share < LEAST]


Told = dict[tuple[str, date], dict[str, float | bool]]


def told_otherwise(held: Mapping[str, Register], seeds: Sequence[int]) -> list[str]:
    """Sheets that tell the same tests as the first of their seed and are not read alike."""
    faults = []
    for seed in seeds:
        first: Told | None = None
        for sheet in told_alike(seed):
            read = _read(held[sheet.style], sheet)
            first = read if first is None else first
            if len(read) < len(sheet.entries) or _difference(first, read):
                where = f"{sheet.manner}, {sheet.saver}, seed {seed}"
                faults.append(f"{where}: {len(read)} visits, {_difference(first, read)}")
    return faults


def _read(register: Register, sheet: Sheet) -> Told:
    found = proposed(register, sheet)
    return {(each.ref, each.draft.on): measured(each.draft.readings) for each in found}


def _difference(first: Told, second: Told) -> str:
    for key in sorted({*first, *second}):
        one, other = first.get(key), second.get(key)
        if one is None or other is None or set(one) != set(other):
            return f"{key}: {one} / {other}"
        if any(abs(one[name] - other[name]) > 0.0051 for name in one):
            return f"{key}: {one} / {other}"
    return ""
