"""Word of a new revision: PostgreSQL passes it on to every process that listens, once the revision is kept."""

from sqlalchemy import Connection, text

CHANNEL = "portwright_revision"
"""One for a whole database: who hears something there looks for itself, so that a word too many does no harm."""


def tell_of_revision(connection: Connection) -> None:
    """Tell all who listen, at the commit of this transaction; where the database cannot, they look now and then."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_notify(:channel, '')"), {"channel": CHANNEL})
