"""How entries run through the window: recorded, corrected, void, signed, by whom; papers kept with them."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.documents import Document
from estate.domain.roles import Deed
from estate.window.desk import Desk
from estate.window.document_doings import DocumentDoings
from estate.window.documents import owner_of_place
from estate.window.doings import Doings, Walk
from estate.window.models.outlet_facts import visit_heading
from estate.window.showing import Showing
from estate.window.signing_doings import SigningDoings


class EntryFlow:
    """Joins the page of an outlet to what is done about its entries and papers.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        doings, signing, documents: what is done.
        may: whether the account may do something; says why not.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        doings: Doings,
        signing: SigningDoings,
        documents: DocumentDoings,
        may: Callable[[Deed], bool],
    ) -> None:
        self._window, self._showing, self._may = window, showing, may
        self._doings, self._signing, self._documents = doings, signing, documents
        outlet, place = showing.pages.outlet, showing.pages.place
        outlet.past.record_asked.connect(self._on_record)
        outlet.past.correct_asked.connect(lambda key: self._on_correct())
        outlet.past.void_asked.connect(lambda key: self._on_void())
        outlet.past.sign_asked.connect(lambda key: self._on_sign())
        outlet.past.trail_asked.connect(lambda key: self._on_trail())
        outlet.told.connect(self._on_told)
        outlet.drift.chart.print_asked.connect(lambda: doings.print_chart(outlet.drift, window))
        place.told.connect(self._on_place_told)
        for papers, add in ((outlet.documents, self._on_add), (place.documents, self._on_add_to_place)):
            papers.add_asked.connect(add)
            papers.open_asked.connect(lambda paper: self._on_paper(documents.open, paper))
            papers.take_out_asked.connect(lambda paper: self._on_paper(documents.take_out, paper))
            papers.void_asked.connect(lambda paper: self._on_paper(documents.void, paper))

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        outlet = self._showing.pages.outlet
        return {
            "record": self._on_record,
            "correct": self._on_correct,
            "void": self._on_void,
            "sign": self._on_sign,
            "entry-trail": self._on_trail,
            "who": lambda: self._doings.ask_name(self._window),
            "own-key": lambda: self._at_desk(self._signing.own_key),
            "add-key": lambda: self._at_desk(self._signing.add_key),
            "history": outlet.go_to_history,
            "chart": outlet.go_to_chart,
        }

    def _at_desk(self, do: Callable[[Desk, QWidget], None]) -> None:
        if self._showing.desk is not None:
            do(self._showing.desk, self._window)

    def writing_buttons(self) -> tuple[QWidget, ...]:
        """Buttons that write."""
        outlet = self._showing.pages.outlet
        past = outlet.past
        entries = (past.record_button, past.correct_button, past.void_button, past.sign_button)
        papers = (outlet.documents, self._showing.pages.place.documents)
        return (*entries, *(each for held in papers for each in (held.add_button, held.void_button)))

    @property
    def chosen(self) -> HistoryLine | None:
        """The entry of the history that is chosen."""
        page = self._showing.outlet
        key = self._showing.pages.outlet.history.current_key()
        lines = page.history if page is not None else ()
        return next((line for line in lines if line.visit.id == key), None)

    def _on_record(self) -> None:
        desk, page, reading = self._showing.desk, self._showing.outlet, self._showing.reading
        if desk is not None and page is not None and page.valve is not None:
            lines = reading.lines if reading is not None else ()
            self._doings.record(desk, page, self._window, Walk(lines, self._showing.show_outlet))

    def _on_correct(self) -> None:
        desk, page, entry = self._showing.desk, self._showing.outlet, self.chosen
        if desk is not None and page is not None and entry is not None and entry.visit.counts:
            self._doings.correct(desk, page, entry, self._window)

    def _on_void(self) -> None:
        desk, page, entry = self._showing.desk, self._showing.outlet, self.chosen
        if desk is not None and page is not None and entry is not None and entry.visit.counts:
            self._doings.void(desk, entry, page.outlet.reference, self._window)

    def _on_sign(self) -> None:
        desk, page, entry = self._showing.desk, self._showing.outlet, self.chosen
        if desk is not None and page is not None and entry is not None:
            self._signing.sign_visit(desk, entry, page.outlet.reference, self._window)

    def _on_trail(self) -> None:
        page, entry = self._showing.outlet, self.chosen
        if page is not None and entry is not None:
            said = f"{visit_heading(entry)}, {page.outlet.reference}"
            self._showing.show_trail_of(("visit", entry.visit.id), said)

    def _on_told(self) -> None:
        desk, page = self._showing.desk, self._showing.pages.outlet.page
        if desk is not None and page is not None:
            self._documents.read(desk, page, self._showing.pages.outlet.documents)

    def _on_place_told(self) -> None:
        desk, place = self._showing.desk, self._showing.pages.place
        if desk is not None and place.node is not None:
            self._documents.read_of(desk, (owner_of_place(place.node),), place.documents)

    def _on_add_to_place(self, files: list[Path]) -> None:
        desk, node = self._showing.desk, self._showing.pages.place.node
        if desk is not None and node is not None and self._may(Deed.RECORD):
            self._documents.add_to(desk, (owner_of_place(node),), files, self._window)

    def _on_add(self, files: list[Path]) -> None:
        desk, page = self._showing.desk, self._showing.outlet
        if desk is not None and page is not None and self._may(Deed.RECORD):
            self._documents.add(desk, page, files, self._window)

    def _on_paper(self, run: Callable[[Desk, Document, QWidget], None], paper: Document | None) -> None:
        if self._showing.desk is not None and paper is not None:
            run(self._showing.desk, paper, self._window)
