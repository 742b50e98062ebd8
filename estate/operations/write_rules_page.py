"""Write the page that lists every rule set the program brings with it."""

from pathlib import Path

from estate.errors import ReportFault
from estate.operations.open_register import published_rule_sets
from estate.reports.rules_page import rules_page


def write_rules_page(to: Path) -> Path:
    """Write the page as Markdown over the file that is there.

    Raises:
        ReportFault: it can't be written.
    """
    try:
        to.write_text(rules_page(published_rule_sets().values()), encoding="utf-8")
    except OSError as error:
        raise ReportFault(
            "The page can't be written",
            f"{to.name}: {error.strerror}.",
            "Choose a folder that can be written to.",
        ) from error
    return to
