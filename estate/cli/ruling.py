"""The commands about the rule sets that the program brings with it; they need no register."""

from pathlib import Path

import typer

from estate.cli import rule_words, shapes
from estate.cli.terminal import (
    JsonOption,
    app,
    show,
    show_json,
)
from estate.operations import write_rules_page
from estate.operations.open_register import published_rule_sets


@app.command("rule-sets")
def rule_sets(as_json: JsonOption = False) -> None:
    """List the rule sets that can be chosen, and how sure their values are; needs no register."""
    sets = published_rule_sets().values()
    if as_json:
        show_json([shapes.rule_set_shape(each) for each in sets])
    else:
        show(rule_words.rule_sets_words(sets))


@app.command("rules-page")
def rules_page(to: Path) -> None:
    """Write the page that lists every rule set with its sources (docs/rules.md); needs no register."""
    typer.echo(str(write_rules_page.write_rules_page(to)))
