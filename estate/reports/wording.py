"""Words that all reports share: dates, counts, shares, marks and cautions."""

from estate.domain.dates import day_words, moment_words
from estate.domain.findings import Verdict
from estate.domain.register import AsAt
from estate.domain.standing import OutletState
from estate.reports.document import Caution, Fact, Mark, Marked

_VERDICT_MARKS = {
    Verdict.SATISFACTORY: Mark.GOOD,
    Verdict.NOTE: Mark.GOOD,
    Verdict.WATCH: Mark.WATCH,
    Verdict.NOT_TESTED: Mark.PARTLY,
    Verdict.PUT_RIGHT: Mark.MEND,
    Verdict.OUT_OF_USE: Mark.STOP,
}

_STATE_MARKS = {
    OutletState.OUT_OF_USE: Mark.STOP,
    OutletState.PUT_RIGHT: Mark.MEND,
    OutletState.TAKEN_OUT: Mark.STOP,
    OutletState.OVERDUE: Mark.LATE,
    OutletState.NEVER_TESTED: Mark.UNKNOWN,
    OutletState.NOT_TESTED: Mark.PARTLY,
    OutletState.NO_VALVE: Mark.UNKNOWN,
    OutletState.ACTION_OPEN: Mark.MEND,
    OutletState.OPEN_NOW: Mark.OPEN,
    OutletState.WATCH: Mark.WATCH,
    OutletState.IN_ORDER: Mark.GOOD,
    OutletState.RETIRED: Mark.UNKNOWN,
}

CAUTIONS = (
    Caution(
        "Scald",
        "Hot water can injure within seconds; children, older people and people who can't draw away, sooner"
        " still. Where a line says take out of use, keep people from the outlet until a competent person"
        " has made it safe and tested it. Never test with a hand.",
    ),
    Caution(
        "Isolation",
        "Testing shuts supplies off and on again. Agree it with the people in charge of the area, keep"
        " users away while it lasts, and leave every isolating valve as it was found.",
    ),
    Caution(
        "Hygiene",
        "Standing, lukewarm or sprayed water can carry bacteria. Flush, clean and disinfect as the site's"
        " written scheme says, and make as little spray as can be.",
    ),
    Caution(
        "What comes first",
        "Local codes, the maker's instructions and the site's own risk assessment come before this report."
        " The work is for competent people, licensed where the law asks for it.",
    ),
)


def number_words(number: int) -> str:
    """A whole number with its thousands set apart: ``5,000``."""
    return f"{number:,}"


def counted(number: int, one: str, many: str = "") -> str:
    """A count with its noun: ``1 valve``, ``5,000 valves``."""
    return f"{number_words(number)} {one if number == 1 else many or one + 's'}"


def share_down(part: int, of: int) -> float | None:
    """A share to a tenth of a per cent, rounded down so that only a full count reads 100 %.

    Returns:
        0 to 1; None where there is nothing to take a share of.
    """
    return part * 1000 // of / 1000 if of else None


def share_words(part: int, of: int, noun: str) -> str:
    """A share that never stands without its counts: ``241 of 300 valves (80.3 %)``."""
    share = share_down(part, of)
    counts = f"{number_words(part)} of {number_words(of)} {noun}"
    return counts if share is None else f"{counts} ({share * 100:.1f} %)"


def verdict_words(verdict: Verdict | None) -> Marked:
    """The last verdict with its shape; None is a valve that was never tested."""
    if verdict is None:
        return Marked("never tested", Mark.UNKNOWN)
    return Marked(verdict.value, _VERDICT_MARKS[verdict])


def state_words(state: OutletState) -> Marked:
    """A state with its shape."""
    return Marked(state.value, _STATE_MARKS[state])


def rule_set_words(as_at: AsAt) -> str:
    """Every rule set in force with its edition."""
    sets = as_at.register.rule_sets
    return "; ".join(f"{each.title} ({each.id}, edition {each.edition})" for each in sets) or "none chosen"


def identity_facts(as_at: AsAt) -> tuple[Fact, ...]:
    """What the report speaks of: day, register and rule sets."""
    register = as_at.register
    known = (Fact("As known at", moment_words(as_at.known_at)),) if as_at.known_at is not None else ()
    return (
        Fact("As at", day_words(as_at.today)),
        *known,
        Fact("Register", f"{register.name} ({register.identifier})"),
        Fact("Rule sets", rule_set_words(as_at)),
    )


def basis(as_at: AsAt) -> str:
    """Register identity and rule sets in one line, for the foot of each page."""
    sets = ", ".join(f"{each.id} {each.edition}" for each in as_at.register.rule_sets) or "none"
    return f"Register {as_at.register.identifier} · rule sets: {sets}"
