"""Runs migrations: on the connection that the program hands in, or by hand on ``-x register=ADDRESS``."""

from alembic import context
from sqlalchemy import Connection, create_engine


def _migrate(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=context.config.attributes.get("metadata"),
        render_as_batch=connection.dialect.name == "sqlite",
    )
    with context.begin_transaction():
        context.run_migrations()


def _migrate_by_hand() -> None:
    address = context.get_x_argument(as_dictionary=True).get("register")
    if not address:
        raise SystemExit("Say which register: alembic -x register=sqlite:///FILE upgrade head")
    engine = create_engine(address)
    with engine.begin() as connection:
        _migrate(connection)
    engine.dispose()


_given = context.config.attributes.get("connection")
if _given is None:
    _migrate_by_hand()
else:
    _migrate(_given)
