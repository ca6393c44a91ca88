"""${message}"""

import sqlalchemy as sa
import sqlmodel
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    """Take the step."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """Take it back."""
    ${downgrades if downgrades else "pass"}
