"""The first version, a table a part of a catalog. Nothing leads to it: a new database is made as the newest."""

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Change nothing: whatever has this version was made by the service of its time."""
