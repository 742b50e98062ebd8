"""The pages of a window, one of which is shown; where there is little room it scrolls."""

from PySide6.QtWidgets import QStackedWidget, QWidget
from typing_extensions import override

from estate.window.translating import tr
from estate.window.widgets.scrolled import KeyArea


class PageArea(KeyArea):
    """Shows a page as large as there is room, never smaller than the page needs."""

    def __init__(self, page: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        page.setProperty("kind", "page")
        self.setAccessibleName(tr("The page"))
        self.setWidget(page)


class PageStack(QStackedWidget):
    """Pages, each in an area of its own; whoever uses it sees the pages alone."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._areas: dict[QWidget, PageArea] = {}

    @override
    def addWidget(self, w: QWidget) -> int:
        self._areas[w] = PageArea(w)
        return super().addWidget(self._areas[w])

    @override
    def currentWidget(self) -> QWidget:
        return self.widget(self.currentIndex())

    @override
    def setCurrentWidget(self, w: QWidget) -> None:
        super().setCurrentWidget(self._areas[w])

    @override
    def widget(self, index: int, /) -> QWidget:
        area = super().widget(index)
        pages = (page for page, around in self._areas.items() if around is area)
        return next(pages, self)
