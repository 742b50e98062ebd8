"""Where the data files lie that travel with the program: in a wheel inside the package, else beside it."""

import tomllib
from importlib.resources import files
from pathlib import Path


def _folder(name: str) -> Path:
    package = Path(str(files("estate")))
    packed = package / f"_{name}"
    return packed if packed.is_dir() else package.parent / name


def resource(*parts: str) -> Path:
    """The path of a data file or folder.

    Args:
        parts: names below the resources folder, such as ``"rules", "uk-healthcare.toml"``.

    Returns:
        The path, whether or not the file exists: its reader says what is missing.
    """
    return _folder("resources").joinpath(*parts)


def checkout_version() -> str:
    """The version that a checkout says it is; empty where the package lies in none."""
    project = Path(str(files("estate"))).parent / "pyproject.toml"
    if not project.is_file():
        return ""
    return str(tomllib.loads(project.read_text("utf-8"))["project"]["version"])


def migrations() -> Path:
    """The folder that holds the steps from one schema revision to the next."""
    return _folder("migrations")
