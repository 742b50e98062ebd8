"""Addresses of registers on servers, with and without what must never be written down."""

import re
from typing import Final

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from estate.errors import RegisterFault

_SERVER: Final = "postgresql+psycopg"
_SECRET: Final = re.compile("password|secret", re.IGNORECASE)
_REMEDY: Final = (
    "Give a file, or an address such as postgresql://user@server/database. "
    "A sign of a password that means something in an address is written as %40 and the like; "
    "better leave the password out, and keep it in the server's passfile."
)


def address_of(written: str) -> URL:
    """An address as somebody wrote it.

    Raises:
        RegisterFault: it can't be read, or names another kind of database; without any part that may
            belong to a password.
    """
    end = written.rpartition("@")[2] or written
    authority = written.partition("://")[2].partition("?")[0]
    if authority.count("@") > 1:  # the parser would take the end of the password for the server's name
        raise _not_an_address(end)
    try:
        url = make_url(written)
    except (ArgumentError, ValueError) as error:
        raise _not_an_address(end.partition("?")[0]) from error
    kind = url.get_backend_name()
    if kind == "postgresql":
        return url.set(drivername=_SERVER)
    if kind == "sqlite":
        return url
    raise _not_an_address(without_password(url))


def _not_an_address(shown: str) -> RegisterFault:
    return RegisterFault("That is not a register's address", f"{shown}.", _REMEDY)


def without_password(url: URL | str) -> str:
    """An address as it may be shown and kept: no password, in none of the places where one can stand."""
    parsed = make_url(url)
    query = {key: value for key, value in parsed.query.items() if not _SECRET.search(key)}
    bare = URL.create(
        parsed.drivername, parsed.username, None, parsed.host, parsed.port, parsed.database, query
    )
    return bare.render_as_string(hide_password=False)


def password_of(url: URL | str) -> str:
    """The password that an address holds; empty where it holds none."""
    parsed = make_url(url)
    within = parsed.query.get("password", "")
    return str(parsed.password or (within if isinstance(within, str) else within[-1]))


def with_password(url: URL | str, password: str) -> str:
    """An address with a password, for the connection alone."""
    parsed = make_url(url)
    return (parsed.set(password=password) if password else parsed).render_as_string(hide_password=False)
