"""The page that lists every rule set: values, sources, how sure they are, and what is blank."""

from collections.abc import Iterable, Sequence

from estate.domain.rules.catalogue import describe
from estate.domain.rules.checking import OWN_DEFAULT
from estate.domain.rules.listing import blanks, days, how_sure, listed, sureness, told
from estate.domain.rules.values import TO_BE_FILLED_IN, Remark, RuleSet, RuleValue

_HEAD = f"""# Rule sets

This page is written from the rule files by `estate rules-page docs/rules.md`; a test holds it to them.
Nothing in it is a permission. Local codes and the authority having jurisdiction, the maker's
instructions, the site's own risk assessment and competent, licensed people come before every figure; hot
water can scald, and warm water breeds legionella.

- **How sure.** *Seen in the source itself*: a reader found the value in the body's own text.
  *Second-hand*: it was found only where others quote it, and is not verified; look it up before relying
  on it. *Common practice, no source* and *this register's own default, no published source* mean what
  they say. The id in the column *Fact* names the fact in the project's table of trade facts; `OWN` stands
  for a default of this register.
- **Blank** is {TO_BE_FILLED_IN}. Until then nothing is judged by it: a test says "no limit is known", and
  a visit whose mixed temperature has no limit is never satisfactory.
- **Days.** A value applies from its first day on. Where the day on which the valve was *fitted* decides,
  a rule is for new work: a valve fitted before the change keeps the rule of its day, a valve whose day is
  not known takes the strictest, and each finding says which applied. An old visit is judged by the rule
  of its day.
- **°F.** A value published in °F is kept so and judged after exact conversion.
- **Choosing.** `estate rule-sets` lists them, `estate choose-rules ID --place PLACE` chooses one for the
  estate, a building or an outlet, and `estate override` lays the site's own value over one, with who and
  why.
- Sources that **disagree** are named with what is applied; they are never averaged.
"""


def rules_page(sets: Iterable[RuleSet]) -> str:
    """The page as Markdown."""
    ordered = sorted(sets, key=lambda each: (each.place, each.id))
    parts = [_HEAD, _overview(ordered), *(_section(each) for each in ordered), _own_defaults(ordered)]
    return "\n".join(parts)


def _overview(sets: Sequence[RuleSet]) -> str:
    rows = [
        (f"`{each.id}`", each.place, each.title, sure.seen, sure.second_hand, sure.without_source, sure.blank)
        for each in sets
        for sure in (how_sure(each),)
    ]
    head = ("Rule set", "Place", "Title", "Seen", "Second-hand", "No source", "Blank")
    return _table(head, rows)


def _section(rules: RuleSet) -> str:
    values = [each for each in listed(rules) if each.source.document != OWN_DEFAULT]
    lines = [
        f"## {rules.title}",
        "",
        f"`{rules.id}`, {rules.place}, edition {rules.edition}. {rules.scope}",
        "",
    ]
    lines.append(_table(_COLUMNS, _rows(values)))
    empty = [f"{describe(each.key)} (`{each.key}`)" for each in blanks(rules)]
    if empty:
        lines += [f"**Blank, {TO_BE_FILLED_IN}:** {'; '.join(empty)}.", ""]
    lines += _remarks("Where sources disagree", rules.disagreements)
    lines += _remarks("Asked for by the sources, not judged here", rules.not_judged)
    return "\n".join(lines)


_COLUMNS = ("Value for", "Key", "Value", "How sure", "Fact", "Source", "Applies", "Note")


def _rows(values: Iterable[RuleValue]) -> list[tuple[str, ...]]:
    """One row a value; keys that have all in common share a row."""
    shared: dict[tuple[str, ...], list[str]] = {}
    for each in values:
        alike = (told(each), sureness(each), each.fact, str(each.source), days(each), each.note)
        shared.setdefault(alike, []).append(each.key)
    return [
        ("<br>".join(describe(key) for key in keys), "<br>".join(f"`{key}`" for key in keys), *alike)
        for alike, keys in shared.items()
    ]


def _remarks(heading: str, remarks: Sequence[Remark]) -> list[str]:
    if not remarks:
        return []
    return [f"**{heading}:**", "", *(_remark(each) for each in remarks), ""]


def _remark(remark: Remark) -> str:
    applied = f" *Applied:* {remark.applied}" if remark.applied else ""
    return f"- {remark.words}{applied} ({', '.join(remark.facts)})"


def _own_defaults(sets: Sequence[RuleSet]) -> str:
    """One table for all rule sets: what this register chose where nobody publishes anything."""
    holders: dict[tuple[str, str, str], list[str]] = {}
    for rules in sets:
        for each in listed(rules):
            if each.source.document == OWN_DEFAULT:
                holders.setdefault((each.key, told(each), each.note), []).append(rules.id)
    rows = [
        (describe(key), f"`{key}`", value, _holders(ids, len(sets)), note)
        for (key, value, note), ids in sorted(holders.items())
    ]
    words = f"Each is {OWN_DEFAULT}: the site's water safety group decides."
    head = ("Value for", "Key", "Value", "In", "Note")
    return "\n".join(["## This register's own defaults", "", words, "", _table(head, rows)])


def _holders(ids: Sequence[str], every: int) -> str:
    return "all rule sets" if len(ids) == every else ", ".join(f"`{each}`" for each in ids)


def _table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    lines = [_line(head), _line(["---"] * len(head)), *(_line([str(each) for each in row]) for row in rows)]
    return "\n".join([*lines, ""])


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(each.replace("|", "\\|") for each in cells) + " |"
