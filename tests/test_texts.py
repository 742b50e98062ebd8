"""What the texts point to is there, and the commands that they name exist."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

TEXTS = ["README.md", "DEVELOPERS.md", "docs/command-line.md"]
LINK = re.compile(r"\]\(([^)#:]+)\)")
COMMAND = re.compile(r"^\| `(?:estate )?([a-z-]+)", re.MULTILINE)


@pytest.mark.parametrize("name", TEXTS)
def test_that_every_link_leads_to_a_file(checkout: Path, name: str) -> None:
    text = (checkout / name).read_text("utf-8")
    missing = [link for link in LINK.findall(text) if not (checkout / name).parent.joinpath(link).exists()]
    assert missing == []


def test_that_the_readme_shows_the_window_and_leads_on(checkout: Path) -> None:
    links = LINK.findall((checkout / "README.md").read_text("utf-8"))
    assert {"docs/command-line.md", "DEVELOPERS.md"} <= set(links)
    assert any(link.startswith("docs/pictures/") for link in links)


@pytest.mark.parametrize("name", ["README.md", "docs/command-line.md"])
def test_that_every_command_told_of_exists(checkout: Path, name: str) -> None:
    line = [sys.executable, "-m", "estate", "--help"]
    told = subprocess.run(line, cwd=checkout, capture_output=True, text=True, check=True).stdout
    known = set(re.findall(r"^  ([a-z-]+)  ", told, re.MULTILINE))
    named = set(COMMAND.findall((checkout / name).read_text("utf-8")))
    assert len(named) >= 8
    assert named <= known
