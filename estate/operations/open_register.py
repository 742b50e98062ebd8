"""Make a new register, or open one that exists."""

import secrets
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from pathlib import Path

from estate import assets
from estate.domain.phrases import phrase
from estate.domain.rules.loading import parse_every
from estate.domain.rules.values import RuleSet
from estate.errors import RuleFault
from estate.operations.register import Register, Stamp
from estate.store import addresses, upgrade
from estate.store.database import normal_url, shown

DEFAULT_RULE_SET = "uk-healthcare"


@cache
def published_rule_sets() -> Mapping[str, RuleSet]:
    """The rule sets that the program brings with it, by id; read once.

    Raises:
        RuleFault: a rule file is not valid.
    """
    folder = assets.resource("rules")
    return parse_every({each.name: each.read_text("utf-8") for each in sorted(folder.glob("*.toml"))})


def new_register(
    where: str | Path,
    name: str,
    rule_set: str = DEFAULT_RULE_SET,
    *,
    at: datetime,
    who: str,
    identifier: str | None = None,
    stamp: Stamp | None = None,
) -> Register:
    """Make an empty register.

    Args:
        where: a file that does not exist yet, or a ``postgresql+psycopg://`` URL.
        name: the estate's name, for the heading of every report.
        rule_set: id of the estate's rule set.
        at: now, UTC.
        who: who makes it.
        identifier: tells two registers of one name apart; made up when None.
        stamp: what the ledger tells of program and clock; this program's and machine's when None.

    Raises:
        RegisterFault: it can't be made there.
        RuleFault: there is no such rule set.
    """
    published = published_rule_sets()
    if rule_set not in published:
        known = ", ".join(sorted(published))
        raise RuleFault(
            "No such rule set",
            phrase('"{rule_set}" is not known.', rule_set=rule_set),
            phrase("Choose one of: {known}.", known=known),
        )
    made = identifier or secrets.token_hex(8)
    database = upgrade.create(normal_url(where), name, made, at, rule_set=rule_set, who=who, stamp=stamp)
    return Register(database, published)


def part_address(where: str) -> tuple[str, str]:
    """A register's address without its password, and the password (empty where there is none).

    Raises:
        RegisterFault: that is no address.
    """
    if "://" not in where:
        return where, ""
    return shown(normal_url(where)), addresses.password_of(normal_url(where))


def open_register(where: str | Path, *, backups: Path | None = None, password: str = "") -> Register:
    """Open a register, bringing an older one up to date after a backup.

    Args:
        where: a file or a URL.
        backups: the folder for that backup; beside the register when None.
        password: for a server's login; empty leaves it to the address, or to the server's passfile.

    Raises:
        RegisterFault: it is missing, not a register, newer than this program, or damaged.
        PasswordFault: the server asks for a password.
    """
    url = addresses.with_password(normal_url(where), password)
    return Register(upgrade.open_existing(url, backups=backups), published_rule_sets())
