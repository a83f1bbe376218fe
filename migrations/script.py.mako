"""${message}."""

import sqlalchemy as sa
from alembic import op

revision = "${up_revision}"
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    """Say here what changes for the electrician."""
    ${upgrades if upgrades else "pass"}
