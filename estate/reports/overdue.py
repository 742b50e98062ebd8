"""The overdue list: every valve whose test window has passed, in walking order."""

from collections import Counter
from collections.abc import Sequence

from estate.domain.dates import day_words
from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.register import AsAt
from estate.reports.document import Document, Fact, Section
from estate.reports.due_table import due_table
from estate.reports.wording import (
    CAUTIONS,
    basis,
    counted,
    identity_facts,
    number_words,
    share_words,
)

_FAILED = (Verdict.PUT_RIGHT, Verdict.OUT_OF_USE)

_PARTS = (
    (Verdict.OUT_OF_USE, "to be taken out of use"),
    (Verdict.PUT_RIGHT, "to be put right"),
    (None, "never tested"),
    (Verdict.NOT_TESTED, "not fully tested at the last visit"),
)


def overdue(lines: Sequence[DueLine], as_at: AsAt) -> Document:
    """Say which valves are overdue on a day.

    Args:
        lines: every valve in place, so that "n of N" can be said; those in date are left off the list.
        as_at: the day and the register.

    Returns:
        The list grouped by building and level; an empty one says what that means and what it does not.
    """
    late = [line for line in lines if line.overdue]
    return Document(
        title="Overdue tests of thermostatic mixing valves",
        register=as_at.register.name,
        as_at=as_at.today,
        basis=basis(as_at),
        facts=(*_counts(lines, late), *identity_facts(as_at)),
        cautions=CAUTIONS,
        sections=(_list_of(late) if late else _nothing(lines, as_at),),
        known_at=as_at.known_at,
    )


def _counts(lines: Sequence[DueLine], late: Sequence[DueLine]) -> tuple[Fact, ...]:
    overdue_now = Fact("Overdue", share_words(len(late), len(lines), "valves"))
    waiting = sum(line.verdict in _FAILED and not line.overdue for line in lines)
    failed = Fact("Failed, not listed here", f"{counted(waiting, 'valve')} with a retest not yet overdue")
    parts = (Fact("Of these", _parts(late)),) if late else ()
    return (overdue_now, *parts, failed)


def _parts(late: Sequence[DueLine]) -> str:
    counts = Counter(line.verdict for line in late)
    named = [(counts.pop(verdict, 0), words) for verdict, words in _PARTS]
    named.append((sum(counts.values()), "satisfactory when last tested"))
    return ", ".join(f"{number_words(count)} {words}" for count, words in named)


def _list_of(late: Sequence[DueLine]) -> Section:
    words = ("In walking order. A value that was not measured is not tested: it is never counted as a pass.",)
    return Section("Overdue, by building and level", words, due_table("Overdue", late))


def _nothing(lines: Sequence[DueLine], as_at: AsAt) -> Section:
    if not lines:
        nothing_known = (
            "The register holds no valve in place, so it can say nothing about what is overdue.",
            "This is no assurance. Bring in the asset list first, then the test results.",
        )
        return Section("No valve in the register", nothing_known)
    words = (
        f"No test window of the {counted(len(lines), 'valve')} in the register had passed on"
        f" {day_words(as_at.today)}.",
        "It means that no valve in the register is past the last day for its next test.",
        "It does not mean that every valve works: a valve can fail between two tests without showing it in"
        " use; valves that failed and wait for a retest are not listed here until that is late; and a valve"
        " that was never entered in the register is not counted.",
    )
    return Section("Nothing is overdue", words)
