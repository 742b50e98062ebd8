"""The picture book: every page and every dialog, each a line of one list."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from estate.window.pictures import edit_scenes as edits
from estate.window.pictures import finding_scenes as finding
from estate.window.pictures import outlet_scenes as outlets
from estate.window.pictures import place_scenes as places
from estate.window.pictures import rule_scenes as rules
from estate.window.pictures import sheet_scenes as sheets
from estate.window.pictures import trust_scenes as trust
from estate.window.pictures import visit_scenes as visits
from estate.window.pictures import work_scenes as work
from estate.window.pictures.stage import Scene, dialog_of, page_of


@dataclass(frozen=True)
class Sight:
    """One thing to be seen.

    Attributes:
        name: of its pictures.
        words: what it is.
        after: puts the window back where the next one expects it.
    """

    name: str
    words: str
    scene: Scene
    after: Scene = places.as_it_stands


PAGES: Final = (
    Sight("today", "Today", page_of("today")),
    Sight("due-list", "What is overdue", places.due),
    Sight("due-list-grouped", "What is overdue, by state", finding.grouped, finding.grouped_no_more),
    Sight("found", "What a few letters find", finding.found, finding.box_left),
    Sight("nothing-found", "Letters that find nothing", finding.nothing_found, finding.box_left),
    Sight("shown-of-late", "What was shown of late", finding.shown_of_late, finding.box_left),
    Sight("outlet", "An outlet and its visits", places.outlet),
    Sight("chart", "Chart and drift of an outlet", places.chart),
    Sight("what-may-be-wrong", "What may be wrong at an outlet", places.causes),
    Sight("documents", "Papers kept with an outlet", outlets.kept_papers, outlets.no_papers),
    Sight(
        "documents-none",
        "An outlet with which no paper is kept",
        places.outlet_tab(lambda page: page.documents),
    ),
    Sight("why", "Why a limit and a date are what they are", outlets.why, outlets.why_no_more),
    Sight("findings-of-an-entry", "The findings of an entry under its row", outlets.expanded),
    Sight("actions-of-an-outlet", "The actions of an outlet", places.outlet_tab(lambda page: page.to_do)),
    Sight("service-record", "The service record of an outlet", places.outlet_tab(lambda page: page.record)),
    Sight("floors-as-a-chart", "The floors of a site", outlets.floors_drawn),
    Sight("floors-of-a-building", "The floors of a building", outlets.building_drawn),
    Sight("floors", "The floors of a site as a table", outlets.floors, outlets.floors_no_more),
    Sight("documents-of-a-place", "Papers kept with a building", outlets.papers),
    Sight("drift", "Drift of the estate", places.drift),
    Sight("place", "The outlets of a building", places.place),
    Sight("search", "Looking for places in the tree", places.found, places.found_no_more),
    Sight("rules", "Rules in force", places.rules),
    Sight("actions", "Actions", page_of("actions")),
    Sight("out-of-use", "Outlets out of use", places.out_of_use),
    Sight("upkeep", "Upkeep", page_of("upkeep")),
    Sight("people", "People", page_of("people")),
    Sight("instruments", "Instruments", page_of("instruments")),
    Sight("year-ahead", "The year ahead", page_of("forecast")),
    Sight("batches", "Sheets brought in", places.batches),
    Sight("trail", "Trail of changes", places.trail),
    Sight("notice", "A notice above the pages", places.banner, places.no_banner),
    Sight("past", "As known at a past moment", finding.past, finding.past_no_more),
)

DIALOGS: Final = (
    Sight("record-a-visit", "Recording a visit", visits.record),
    Sight("confirm", "Before a visit is entered", visits.confirm),
    Sight("commissioning", "Recording a commissioning", visits.commissioning),
    Sight("void", "Making an entry void", visits.of_entry("void")),
    Sight("sign", "Signing an entry", visits.of_entry("sign")),
    Sight("certificate", "A certificate before it is printed", visits.of_entry("certificate")),
    Sight("overdue-list", "A report before it is printed", dialog_of("write-overdue")),
    Sight("source-sheet", "The sheet that an entry came from", outlets.sheet),
    Sight("add-document", "Adding a document", visits.add_document),
    Sight("open-document", "Before a document is opened", visits.open_document),
    Sight("void-document", "Making a document void", visits.void_document),
    Sight("replace-valve", "Replacing a valve", visits.of_outlet("replace-valve")),
    Sight("take-out-of-use", "Taking an outlet out of use", visits.of_outlet("take-out")),
    Sight("open-action", "Opening an action", visits.of_outlet("open-action")),
    Sight("action-step", "Taking an action a step on", work.action_step),
    Sight("suitability", "Would a valve work there?", rules.suitability),
    Sight("suitability-figures", "Would a valve work with these figures?", dialog_of("suitable-figures")),
    Sight("own-value", "A rule value of the site's own", rules.override),
    Sight("try-it-first", "A rule value tried first", rules.tried),
    Sight("choose-rules", "Choosing another rule set", rules.choose_rules),
    Sight("add-instrument", "Adding an instrument", rules.add_instrument),
    Sight("calibrate", "Adding a calibration", rules.calibrate),
    Sight("add-person", "Adding a person", work.add_person),
    Sight("amend-person", "Changing a person", work.amend_person),
    Sight("competence", "Adding a competence", work.competence),
    Sight("care", "Recording upkeep", work.care),
    Sight("still-needed", "Is a valve still needed?", work.review),
    Sight("add-site", "Adding a site", dialog_of("add-site")),
    Sight("add-below", "Adding a place", edits.add_below),
    Sight("add-outlet", "Adding an outlet", edits.add_outlet),
    Sight("rename", "Renaming a place", edits.rename),
    Sight("move", "Moving a place", edits.move),
    Sight("change-outlets", "Changing several outlets", edits.change_outlets),
    Sight("take-outlets-out", "Taking several outlets out of use", edits.take_out),
    Sight("edit-outlet", "Changing an outlet", visits.of_outlet("edit-outlet")),
    Sight("edit-valve", "Changing a valve", visits.of_outlet("edit-valve")),
    Sight("fit-valve", "Fitting a valve", edits.fit_valve),
    Sight("list-columns", "The columns of a list", edits.list_columns),
    Sight("list-on-paper", "A list on paper", finding.on_paper),
    Sight("bring-in", "Bringing in a sheet", sheets.bring_in),
    Sight("preview", "A sheet before it is taken", sheets.preview),
    Sight("columns", "The columns of a sheet", sheets.columns),
    Sight("questions", "A question about a sheet", sheets.questions),
    Sight("verified", "What verifying came to", dialog_of("verify")),
    Sight("checkpoint", "A checkpoint", dialog_of("checkpoint")),
    Sight("kept-checkpoint", "Comparing a kept checkpoint", trust.kept_checkpoint),
    Sight("backups", "Backups", trust.backups),
    Sight("restoring", "Before a backup is restored", trust.restoring),
    Sight("new-key", "Making a signing key", trust.new_key),
    Sight("own-key", "One's own signing key", trust.own_key),
    Sight("known-key", "Adding a person's key", trust.known_key),
    Sight("closing", "Backing up before closing", trust.closing),
    Sight("no-backup", "No backup could be made", trust.no_backup),
    Sight("fault", "A fault", trust.fault),
    Sight("defect", "A defect", trust.defect),
    Sight("conflict", "Two people changed the same", trust.conflict),
    Sight("connect", "A register on a server", trust.connecting),
    Sight("past-moment", "Which past moment is to be shown", dialog_of("as-known")),
    Sight("name", "The name beside entries", dialog_of("who")),
    Sight("keys", "Every action and its key", dialog_of("keys")),
    Sight("cautions", "Cautions", dialog_of("cautions")),
    Sight("about", "About the register", dialog_of("about")),
)

EMPTY: Final = (
    Sight("start", "A new register", places.as_it_stands),
    Sight("today", "Today", page_of("today")),
    Sight("due-list", "What is overdue", places.due),
    Sight("drift", "Drift of the estate", places.drift),
    Sight("rules", "Rules in force", places.rules),
    Sight("actions", "Actions", page_of("actions")),
    Sight("upkeep", "Upkeep", page_of("upkeep")),
    Sight("people", "People", page_of("people")),
    Sight("instruments", "Instruments", page_of("instruments")),
    Sight("year-ahead", "The year ahead", page_of("forecast")),
    Sight("batches", "Sheets brought in", places.batches),
    Sight("trail", "Trail of changes", places.trail),
    Sight("register-gone", "The register opened last is gone", finding.gone),
)

_SHOWN_FIRST: Final = frozenset({"today", "due-list", "outlet", "chart", "record-a-visit", "preview"})
"""What is also shown in high contrast."""
_IN_DOCUMENTS: Final = frozenset(
    {
        *("today", "due-list", "outlet", "chart", "actions", "trail"),
        *("record-a-visit", "questions", "backups", "start"),
    }
)
"""What the documents show."""


def first_sights(sights: Iterable[Sight]) -> Iterator[Sight]:
    """Those that stand for the others."""
    return (each for each in sights if each.name in _SHOWN_FIRST)


@dataclass(frozen=True)
class Setting:
    """How a window is set up for a row of pictures.

    Attributes:
        percent: size of text.
        width, height: of the window, logical pixels.
        empty: whether its register is.
    """

    scheme: str
    percent: int
    width: int
    height: int
    sights: tuple[Sight, ...]
    empty: bool = False

    @property
    def ending(self) -> str:
        """What the names of its pictures end in."""
        return f"{'empty-' if self.empty else ''}{self.scheme}-{self.width}-{self.percent}"


_SMALL: Final = (1280, 800)
_LARGE: Final = (1920, 1080)
_ALL: Final = (*PAGES, *DIALOGS)
SETTINGS: Final = (
    Setting("light", 100, *_SMALL, _ALL),
    Setting("dark", 100, *_SMALL, _ALL),
    Setting("light", 200, *_SMALL, _ALL),
    Setting("light", 100, *_LARGE, PAGES),
    Setting("dark", 200, *_LARGE, PAGES),
    Setting("contrast-light", 100, *_SMALL, tuple(first_sights(_ALL))),
    Setting("contrast-dark", 150, *_SMALL, tuple(first_sights(_ALL))),
    Setting("light", 100, *_SMALL, EMPTY, empty=True),
    Setting("dark", 100, *_SMALL, EMPTY, empty=True),
    Setting("light", 200, *_SMALL, EMPTY, empty=True),
)


def in_documents(setting: Setting, sight: Sight) -> bool:
    """Whether the documents show this, and like this."""
    plain = (setting.scheme, setting.percent, setting.width) == ("light", 100, 1280)
    return plain and sight.name in _IN_DOCUMENTS and setting.empty == (sight.name == "start")


def index(made: Iterable[tuple[Setting, Sight, str]]) -> str:
    """The book's table of contents, in Markdown: a row a sight, a column a setting."""
    pictures = list(made)
    settings = list(dict.fromkeys(setting.ending for setting, _, _ in pictures))
    named: dict[str, dict[str, str]] = {}
    for setting, sight, file in pictures:
        named.setdefault(sight.words, {})[setting.ending] = file
    head = ["What", *settings]
    rows = [
        [words, *(f"[see]({files[each]})" if each in files else "" for each in settings)]
        for words, files in named.items()
    ]
    lines = [head, ["---"] * len(head), *rows]
    table = "\n".join(f"| {' | '.join(cells)} |" for cells in lines)
    return f"{_INTRODUCTION}\n{table}\n"


_INTRODUCTION: Final = """# Picture book of the window

Every page and every dialog over the invented sample estate. A column's name says the scheme, the width of the
window in logical pixels, and the size of text in per cent; `empty` is a new register. Made by

    python3 dev.py run -- pictures docs
"""
