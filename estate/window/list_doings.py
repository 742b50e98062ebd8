"""What is done with any list: its columns chosen, its lines saved as a file or shown as pages to print."""

from pathlib import Path
from typing import Any, Final

from PySide6.QtWidgets import QWidget

from estate.domain.dates import day_words, moment_words
from estate.domain.progress import Progress
from estate.domain.shown_list import ShownList
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.list_columns import ColumnsDialog
from estate.window.notices import Notices
from estate.window.paper_doings import PaperDoings
from estate.window.tasks import Tasks
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_ink import About
from estate.window.widgets.listing import Listing

_KINDS: Final = said("Spreadsheet (*.xlsx);;Delimited text (*.csv)")


class ListDoings:
    """Saves and prints lists.

    Args:
        tasks: where they are written.
        notices: where it is said what was done.
        asking: how files and printers are asked for.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking) -> None:
        self._tasks, self._notices, self._asking = tasks, notices, asking
        self._papers = PaperDoings(tasks, notices, asking)

    def choose_columns(self, listing: Listing[Any], parent: QWidget) -> None:
        """Ask which columns are shown."""
        liked = listing.liked
        columns = [(place, liked.columns[place]) for place in liked.places()]
        told = [(each.key, each.plain_title, place in liked.places_shown()) for place, each in columns]
        dialog = ColumnsDialog(listing.accessibleName(), told, parent)
        dialog.given.connect(liked.choose)
        dialog.at_first.connect(liked.as_at_first)
        dialog.show_modal()

    def copy(self, listing: Listing[Any]) -> None:
        """Copy every line shown."""
        lines = listing.copy_all()
        self._notices.say(
            tr_count(lines, "{n:,} line was copied", "{n:,} lines were copied")
            if lines
            else tr("There is no line to copy.")
        )

    def save(self, listing: Listing[Any], desk: Desk, parent: QWidget) -> None:
        """Ask for a file, write what is shown, and open it."""
        shown = listing.shown_list()
        title = tr("Save the list")
        to = self._asking.file_to_write(title, f"{_file(shown, desk)}.xlsx", tr(_KINDS), parent)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(tr("Written: {path}", path=path))
            self._asking.show_file(path)

        self._tasks.run_long(
            tr("Writing {file}", file=to.name), lambda progress: desk.write_list(shown, to, progress), done
        )

    def print(self, listing: Listing[Any], desk: Desk, register: str, parent: QWidget) -> None:
        """Show what is shown as pages, to be printed or saved.

        Args:
            listing: the list.
            desk: of the register.
            register: its name.
            parent: the window.
        """
        from estate.window.widgets import list_paper  # noqa: PLC0415 - printing is rare

        shown, family = listing.shown_list(), list_paper.paper_family()
        as_at = tr("as at {day}", day=day_words(desk.today))
        if desk.known_at is not None:
            as_at = tr("{as_at}, as known at {moment}", as_at=as_at, moment=moment_words(desk.known_at))

        def write(to: Path, progress: Progress) -> Path:
            if to.suffix.lower() != ".pdf":
                return desk.write_list(shown, to, progress)
            about = About(register, as_at)
            return list_paper.write_pages(shown, about, family, to, progress)

        self._papers.show(shown.title, _file(shown, desk), write, parent)


def _file(shown: ShownList, desk: Desk) -> str:
    """A name for a file that every system takes."""
    words = "".join(each if each.isalnum() else " " for each in shown.title)
    return f"{' '.join(words.split())} {desk.today:%Y-%m-%d}"
