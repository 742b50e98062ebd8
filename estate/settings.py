"""What a person prefers: one frozen value, loaded and saved as JSON; no Qt."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from platformdirs import user_config_path, user_data_path

_FILE = "settings.json"


@dataclass(frozen=True, slots=True)
class ListLook:
    """How a person likes one list; columns go by their ids.

    Attributes:
        order: of the columns, from the left; empty for the usual one.
        hidden, shown: what the person hid, and what was hidden at first and the person wants to see.
        widths: in logical pixels, of the columns that the person made wider or narrower.
        sort: the column by which lines are ordered; empty for none.
        group: the column by which lines are gathered; empty for none.
    """

    order: tuple[str, ...] = ()
    hidden: tuple[str, ...] = ()
    shown: tuple[str, ...] = ()
    widths: Mapping[str, int] = field(default_factory=dict)
    sort: str = ""
    descending: bool = False
    group: str = ""


@dataclass(frozen=True, slots=True)
class Settings:
    """Preferences.

    Attributes:
        scheme: ``system``, ``light``, ``dark``, ``contrast-light`` or ``contrast-dark``.
        who: name kept beside entries; empty takes the name of the account.
        register: the register opened last.
        width, height: size of the window in logical pixels.
        due_weeks: how many weeks the due list looks ahead.
        backup_folder: where backups go; empty for the folder beside the register.
        temperatures: ``C`` or ``F``: how temperatures are shown; they are kept and judged in °C.
        second_backup_folder: where each backup is copied as well; empty for nowhere.
        backup_all_days: every backup of so many days is kept.
        backup_daily_days: then the last one of each day, for so many days.
        backup_monthly_years: then the last one of each month, for so many years.
        backup_on_closing: whether one is made on closing a register.
        backup_before_batches: whether one is made before a batch is taken or undone.
        text_percent: size of text in the window, of the system's own: 100, 125, 150 or 200.
        largest_document_mb: greatest size of a document that is kept, MB; every backup copies it.
        lists: how the person likes each list, by the list's name.
        registers: those opened of late, the newest first; no passwords.
        windows: how each window stood when the program was left, as the window keeps it.
        spots: what was shown of late, by the identifier of the register, as the window keeps it.
    """

    scheme: str = "system"
    who: str = ""
    register: str = ""
    width: int = 1280
    height: int = 800
    due_weeks: int = 8
    backup_folder: str = ""
    second_backup_folder: str = ""
    backup_all_days: int = 1
    backup_daily_days: int = 31
    backup_monthly_years: int = 10
    backup_on_closing: bool = True
    backup_before_batches: bool = True
    largest_document_mb: int = 20
    temperatures: str = "C"
    text_percent: int = 100
    lists: Mapping[str, ListLook] = field(default_factory=dict)
    registers: Sequence[str] = field(default_factory=list)
    windows: Sequence[Any] = field(default_factory=list)
    spots: Mapping[str, Any] = field(default_factory=dict)


def usual_place() -> Path:
    """The file in which the platform keeps a person's preferences."""
    return user_config_path("estate-register", appauthor=False) / _FILE


def sample_place() -> Path:
    """The file in which a person's own copy of the sample estate is kept."""
    return user_data_path("estate-register", appauthor=False) / "sample_estate.db"


def seen_place() -> Path:
    """The file in which the newest ledger entry of each register seen on this machine is kept."""
    return user_data_path("estate-register", appauthor=False) / "seen.json"


def keys_place() -> Path:
    """The folder in which a person's own keys are kept."""
    return user_data_path("estate-register", appauthor=False) / "keys"


def load(path: Path) -> Settings:
    """Read preferences; what is missing, unknown or of the wrong kind takes its usual value."""
    try:
        read = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Settings()
    if not isinstance(read, dict):
        return Settings()
    good = _of_kind(read, asdict(Settings()))
    if "lists" in good:
        good["lists"] = _lists(good["lists"])
    if "registers" in good:
        good["registers"] = [each for each in good["registers"] if isinstance(each, str)]
    return Settings(**good)


def _of_kind(read: Mapping[str, Any], usual: Mapping[str, Any]) -> dict[str, Any]:
    """What was read of known names, where it is of the same kind as the usual value."""
    return {name: value for name, value in read.items() if name in usual and type(value) is type(usual[name])}


def _lists(read: Mapping[str, Any]) -> dict[str, ListLook]:
    """How each list is liked; of a list that is told wrongly, what is told rightly."""
    return {name: _look(each) for name, each in read.items() if isinstance(each, dict)}


def _look(read: Mapping[str, Any]) -> ListLook:
    usual = {**asdict(ListLook()), "order": [], "hidden": [], "shown": []}
    good = _of_kind(read, usual)
    for name in ("order", "hidden", "shown"):
        good[name] = tuple(each for each in good.get(name, ()) if isinstance(each, str))
    widths = good.get("widths", {})
    good["widths"] = {column: wide for column, wide in widths.items() if type(wide) is int and wide > 0}
    return ListLook(**good)


def save(settings: Settings, path: Path) -> bool:
    """Write preferences; whether that was possible (a full or read-only disk must stop no work)."""
    beside = path.with_suffix(".part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(asdict(settings), indent=2), encoding="utf-8")
        beside.replace(path)
    except OSError:
        return False
    return True
