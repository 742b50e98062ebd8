"""What a register says of itself."""

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from estate.store.schema import RegisterRow


def name(session: Session) -> str:
    """The register's name."""
    return session.execute(select(RegisterRow.name)).scalar_one()


def identifier(session: Session) -> str:
    """The identifier made once with the register; tells two registers of one name apart."""
    return session.execute(select(RegisterRow.identifier)).scalar_one()


def revision(session: Session) -> str:
    """The schema revision."""
    return str(session.execute(text("SELECT version_num FROM alembic_version")).scalar_one())
