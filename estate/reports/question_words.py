"""What each question of a sheet is about and what is expected, in words for whoever wrote the sheet."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class QuestionWords:
    """A question in words: a title, and what the cell or row is expected to hold."""

    title: str
    expected: str


_OTHER = QuestionWords("Not understood", "A row that can be read like the others.")
_NUMBER = "One number that a valve of this kind can give, in the unit of its heading; empty if not measured."
_DAY = "The day of the visit."
_OUTLET = "The reference of one outlet, as the register has it."

_WORDS = {
    "unreadable-value": QuestionWords("Value not understood", "One value of the kind its heading names."),
    "implausible-value": QuestionWords("Value hardly possible", _NUMBER),
    "formula-without-value": QuestionWords("Formula without a value", "The value itself."),
    "contradiction": QuestionWords("Cells contradict each other", "Cells of one row that agree."),
    "unsure-unit": QuestionWords("Unit not plain", "The unit, in the heading or in the cell."),
    "unreadable-date": QuestionWords("Date not understood", f"{_DAY} Such as 25 Nov 2026."),
    "missing-date": QuestionWords("No date", _DAY),
    "ambiguous-date": QuestionWords("Day or month first?", "A date that can be read in one way only."),
    "future-date": QuestionWords("Date in the future", "A day not after the day the sheet was brought in."),
    "missing-reference": QuestionWords("No reference", _OUTLET),
    "unknown-outlet": QuestionWords("Outlet not known", _OUTLET),
    "several-outlets": QuestionWords("More than one outlet fits", _OUTLET),
    "retired-outlet": QuestionWords(
        "Outlet no longer in use", "An outlet in use on that day, or another day."
    ),
    "other-register": QuestionWords("Key of another register", "A row of a round sheet of this register."),
    "no-valve-then": QuestionWords("No valve there on that day", "A day on which a valve was in place."),
    "before-fitting": QuestionWords("Before the valve was fitted", "A day on which this valve was in place."),
    "before-later-visit": QuestionWords("Before a visit already known", "The day on which it was tested."),
    "duplicate-row": QuestionWords("Twice in the sheet", "One row for each outlet and day."),
    "conflicts-with-register": QuestionWords(
        "Differs from what is recorded", "The readings of that day, once."
    ),
    "unlikely-reading": QuestionWords("Unlikely for this valve", "What was read, looked at once more."),
    "unknown-instrument": QuestionWords("Instrument not known", "The reference of the thermometer used."),
    "out-of-calibration": QuestionWords(
        "Instrument out of calibration", "An instrument in calibration on the day."
    ),
    "hidden-row": QuestionWords("Row out of sight", "A row that is shown, if it is to count."),
    "no-access": QuestionWords("Not tested: no access", "Nothing to correct; another visit is needed."),
    "nothing-measured": QuestionWords("Nothing measured", "At least one measurement."),
    "unknown-use": QuestionWords("Use not known", "What the outlet is for, such as basin or shower."),
    "unknown-user-group": QuestionWords("Users not known", "Who uses the outlet, such as patients or staff."),
    "missing-place": QuestionWords("No place", "Building and room of the outlet."),
    "serial-elsewhere": QuestionWords("Valve recorded elsewhere", "The serial number on the valve's body."),
    "differs-from-register": QuestionWords("Differs from the register", "What holds now."),
    "not-in-sheet": QuestionWords("Not in the sheet", "A row for each outlet in use."),
    "unreadable-sheet": QuestionWords("Sheet not read", "Headings in one or two rows above the rows."),
    "hidden-sheet": QuestionWords("Sheet out of sight", "A sheet that is shown, if it is to count."),
}


def question_words(code: str) -> QuestionWords:
    """The words of a question's code."""
    return _WORDS.get(code, _OTHER)
