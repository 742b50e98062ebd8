"""Dialogs that only tell: keys, cautions, what the program is."""

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from estate.domain.register import RegisterIdentity
from estate.window.commands.command import Command, Menu
from estate.window.dialogs.shell import Shell
from estate.window.translating import said, tr
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import label

CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        said("Hot water scalds"),
        said(
            "Isolating a supply, adjusting a valve or testing a worn one can bring water "
            "far above its set temperature. Keep people away from the outlet, keep skin "
            "out of the stream, and take an outlet out of use at once if it can't be "
            "made safe."
        ),
    ),
    (
        said("Isolation"),
        said(
            "Know which supply each isolating valve shuts before you turn it, open both again afterwards, "
            "and refit the cap so that the setting can't be changed by hand."
        ),
    ),
    (
        said("Hygiene"),
        said(
            "Strainers, hoses and shower heads can hold bacteria. Avoid making spray, clean and disinfect "
            "what you opened, and flush an outlet that has stood unused before it is tested or used."
        ),
    ),
    (
        said("What comes first"),
        said(
            "Local codes, the maker's instructions and the site's own risk assessment come before any figure "
            "shown here. The work is for competent and, where the law asks for it, licensed people. Figures "
            "marked as not verified were not checked in the source itself."
        ),
    ),
)


def keys_dialog(commands: Iterable[Command], parent: QWidget | None = None) -> Shell:
    """Every action and its key."""
    dialog = Shell(tr("Keys"), parent)
    held = QWidget()
    held.setProperty("kind", "page")
    grid = QGridLayout(held)
    grid.setHorizontalSpacing(22)
    grid.setVerticalSpacing(4)
    grid.setColumnStretch(2, 1)
    kept = tuple(commands)
    row = 0
    for menu in Menu:
        grid.addWidget(label(tr(menu.value).replace("&", ""), "heading"), row, 0, 1, 3)
        row += 1
        for command in (each for each in kept if each.menu is menu):
            grid.addWidget(label(command.plain_words), row, 0)
            grid.addWidget(label(command.key or "–", "strong"), row, 1)
            grid.addWidget(label(tr(command.tip), "muted", wraps=True), row, 2)
            row += 1
    area = in_scroll_area(held)
    area.setAccessibleName(tr("Every action and its key"))
    dialog.body.addWidget(area)
    dialog.resize(860, 620)
    dialog.button(tr("Close"), dialog.accept, main=True)
    return dialog


def cautions_dialog(rule_cautions: Iterable[str], parent: QWidget | None = None) -> Shell:
    """What can hurt, and what comes before this program; then the rule sets' own cautions."""
    dialog = Shell(tr("Cautions"), parent)
    dialog.setMinimumWidth(640)
    for heading, caution in CAUTIONS:
        dialog.body.addWidget(label(tr(heading), "heading"))
        dialog.body.addWidget(label(tr(caution), wraps=True))
    for caution in rule_cautions:
        dialog.body.addWidget(label(caution, "small", wraps=True))
    dialog.body.addStretch(1)
    dialog.button(tr("Close"), dialog.accept, main=True)
    return dialog


def about_dialog(version: str, identity: RegisterIdentity | None, parent: QWidget | None = None) -> Shell:
    """What the program is, its version, and the register that is open."""
    dialog = Shell(tr("About this register"), parent)
    dialog.setMinimumWidth(560)
    said = tr(
        "Keeps the register of thermostatic mixing valves of hospitals and care homes: judges each test, "
        "plans the next one, and shows why. Entries are never changed or deleted; they are corrected by a "
        "later entry or made void with a reason."
    )
    dialog.body.addWidget(label(said, wraps=True))
    dialog.body.addWidget(label(tr("Version {version}", version=version), "strong"))
    if identity is not None:
        dialog.body.addWidget(
            label(
                tr("{name}, register {identifier}", name=identity.name, identifier=identity.identifier),
                "strong",
                wraps=True,
            )
        )
        for each in identity.rule_sets:
            dialog.body.addWidget(
                label(
                    tr(
                        "Rule set {id}: {title}, {edition}",
                        id=each.id,
                        title=each.title,
                        edition=each.edition,
                    ),
                    wraps=True,
                )
            )
    dialog.body.addWidget(label(tr("It gives no permission: see Cautions."), "muted"))
    dialog.body.addStretch(1)
    dialog.button(tr("Close"), dialog.accept, main=True)
    dialog.setWindowFlag(Qt.WindowType.WindowContextHelpButtonHint, False)
    return dialog
