"""What a person prefers: one frozen value, loaded and saved as JSON; no Qt."""

import json
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from platformdirs import user_config_path, user_data_path

_FILE = "settings.json"


@dataclass(frozen=True, slots=True)
class Settings:
    """Preferences.

    Attributes:
        scheme: ``system``, ``light`` or ``dark``.
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
        largest_document_mb: greatest size of a document that is kept, MB; every backup copies it.
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
    usual = asdict(Settings())
    known = {each.name for each in fields(Settings)}
    good = {name: value for name, value in read.items() if name in known and type(value) is type(usual[name])}
    return Settings(**good)


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
