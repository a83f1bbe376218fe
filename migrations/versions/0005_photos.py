"""Fifth file format: photographs of stations, their bytes by digest, own checks by choice."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Two tables come, and two columns of own checks; nothing that is there changes."""
    _photo()
    _photo_content()
    kept = {"sqlite_autoincrement": True}  # without it the ids of removed rows would come back
    with op.batch_alter_table("own_check", recreate="always", table_kwargs=kept) as batch:
        batch.add_column(_word("options"))
        batch.add_column(_word("good"))


def _word(name: str, default: str = "") -> sa.Column[Any]:
    return sa.Column(name, sa.String(), nullable=False, server_default=sa.text(f"'{default}'"))


def _photo() -> None:
    op.create_table(
        "photo",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        _word("shows", "other"),
        _word("caption"),
        _word("taken_at"),
        _word("person"),
        _word("added_at"),
        sa.Column("width_px", sa.Integer()),
        sa.Column("height_px", sa.Integer()),
        sa.Column("size_bytes", sa.Integer()),
        _word("sha256"),
        sa.PrimaryKeyConstraint("id", name="pk_photo"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_photo_station_id_station",
            ondelete="RESTRICT",
        ),
        *(
            sa.CheckConstraint(f"{name} >= 1", name=op.f(f"ck_photo_{name}_bounds"))
            for name in ("width_px", "height_px", "size_bytes")
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_photo_station_id", "photo", ["station_id"])


def _photo_content() -> None:
    op.create_table(
        "photo_content",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_photo_content"),
        sa.UniqueConstraint("sha256", name="uq_photo_content_sha256"),
        sqlite_autoincrement=True,
    )
