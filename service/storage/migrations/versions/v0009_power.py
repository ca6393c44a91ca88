"""Regulators, a reserve of power, injectors without a most duty: told by no older catalog."""

revision = "0009"
down_revision = "0008"


def upgrade() -> None:
    """Change nothing: step 0012 takes a table or a column that is not there for one without anything in it."""
