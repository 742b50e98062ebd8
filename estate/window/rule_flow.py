"""How the rules run through the window: the page of rules joined to what is done about them."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from estate.domain.roles import Deed
from estate.window.rule_doings import RuleDoings
from estate.window.showing import Showing
from estate.window.translating import tr


class RuleFlow:
    """Joins the page of rules to what is done about them.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        doings: what is done.
        may: whether the account may do something; says why not.
    """

    def __init__(
        self, window: QWidget, showing: Showing, doings: RuleDoings, may: Callable[[Deed], bool]
    ) -> None:
        self._window, self._showing, self._doings, self._may = window, showing, doings, may
        showing.pages.rules.override_asked.connect(self._on_override)
        showing.pages.rules.choose_asked.connect(self._on_choose)

    def _on_override(self, key: str) -> None:
        rules = self._showing.pages.rules.rules
        if self._showing.desk is not None and rules is not None and self._may(Deed.SET_RULES):
            self._doings.override(self._showing.desk, rules, key, self._window)

    def _on_choose(self) -> None:
        rules, desk, reading = self._showing.pages.rules.rules, self._showing.desk, self._showing.reading
        if desk is None or rules is None or reading is None or not self._may(Deed.SET_RULES):
            return
        places = [(tr("The whole estate"), "estate")]
        for site in reading.tree:
            places += [(f"{site.label}: {each.label}", f"building:{each.id}") for each in site.children]
        if self._showing.outlet is not None:
            outlet = self._showing.outlet.outlet
            places.append((tr("Outlet {reference}", reference=outlet.reference), f"outlet:{outlet.id}"))
        self._doings.choose_rules(desk, rules, places, self._window)
