"""Scenes of pages about places, outlets and what is due."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from estate.domain.standing import OutletState
from estate.window.main_window import MainWindow
from estate.window.models.drift_rows import chance_of
from estate.window.models.due_rows import Wanted
from estate.window.pages.outlet_page import OutletView
from estate.window.pictures.stage import Scene, Stage, settle
from estate.window.translating import tr


def as_it_stands(stage: Stage) -> QWidget:
    """Whatever is shown."""
    return stage.window


def due(stage: Stage) -> QWidget:
    """What is overdue."""
    stage.window.showing.show_due(Wanted.OVERDUE)
    stage.window.pages.due.listing.selectRow(1)
    return stage.window


def outlet(stage: Stage) -> QWidget:
    """An outlet whose last visit asks for something, with its history."""
    reading = stage.window.showing.reading
    lines = reading.lines if reading is not None else ()
    wanted = [line for line in lines if line.found is OutletState.PUT_RIGHT]
    stage.window.showing.show_outlet((wanted or list(lines))[0].outlet_id)
    settle()
    stage.window.pages.outlet.go_to_visits()
    return stage.window


def chart(stage: Stage) -> QWidget:
    """The chart of the valve that is likeliest to reach its ceiling."""
    lines = drift(stage).pages.drift.listing.ordered.shown()
    if lines:
        below = [line for line in lines if (chance_of(line) or 0) < 0.9]
        stage.window.showing.show_outlet((below or list(lines))[0].outlet_id)
        settle()
    else:
        outlet(stage)
    stage.window.pages.outlet.go_to_chart()
    return stage.window


def outlet_tab(of: Callable[[OutletView], QWidget]) -> Scene:
    """One of the tabs of an outlet."""

    def scene(stage: Stage) -> QWidget:
        outlet(stage)
        page = stage.window.pages.outlet
        page.tabs.setCurrentWidget(of(page))
        return stage.window

    return scene


def causes(stage: Stage) -> QWidget:
    """What may be wrong at an outlet that was found too hot."""
    outlet(stage)
    desk = stage.window.showing.desk
    actions = desk.work.action_lines(True) if desk is not None else ()
    hot = [each.outlet.id for each in actions if "found-above-ceiling" in each.action.opening.codes]
    if hot:
        stage.window.showing.show_outlet(hot[0])
        settle()
    stage.window.pages.outlet.go_to_diagnosis()
    return stage.window


def drift(stage: Stage) -> MainWindow:
    """Valves by their chance to reach the ceiling."""
    stage.window.showing.show_drift()
    settle()
    return stage.window


def out_of_use(stage: Stage) -> QWidget:
    """Outlets from which nobody draws."""
    stage.window.today.show_out_of_use()
    settle()
    return stage.window


def place(stage: Stage) -> QWidget:
    """The outlets of a building."""
    reading = stage.window.showing.reading
    if reading is not None:
        site = reading.tree[0]
        for node in (site, site.children[0]):  # the building may have been chosen before, and left
            stage.window.panel.choose((node.kind, node.id))
            settle()
    return stage.window


def found(stage: Stage) -> QWidget:
    """The tree with only what is looked for."""
    due(stage)
    stage.window.panel.search.setText("shower")
    return stage.window


def found_no_more(stage: Stage) -> QWidget:
    """The tree whole again."""
    stage.window.panel.search.clear()
    return stage.window


def rules(stage: Stage) -> QWidget:
    """The rules in force."""
    stage.window.panel.search.clear()
    stage.window.showing.show_rules()
    settle()
    stage.window.pages.rules.listing.selectRow(1)
    return stage.window


def batches(stage: Stage) -> QWidget:
    """What was brought in."""
    stage.window.showing.show_batches()
    settle()
    return stage.window


def trail(stage: Stage) -> QWidget:
    """Who changed what, and why."""
    stage.window.showing.show_trail()
    settle()
    return stage.window


def banner(stage: Stage) -> QWidget:
    """A notice above the pages."""
    stage.window.trust.banner.tell(
        "The trail does not agree with the register",
        "Two rows were changed by something other than this program. Verify everything to see which.",
        [(tr("Verify everything"), lambda: None)],
    )
    due(stage)
    return stage.window


def no_banner(stage: Stage) -> QWidget:
    """The notice is put away."""
    stage.window.trust.banner.hide()
    return stage.window
