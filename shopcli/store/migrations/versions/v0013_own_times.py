"""How long a job takes here may be taken over from what was clocked: one factor a template, and kept with each task."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "own_time",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("template", sa.String(), nullable=False),
        sa.Column("per_mille", sa.Integer(), nullable=False),
        sa.Column("cases", sa.Integer(), nullable=False),
        sa.Column("why", sa.String(), nullable=False),
        sa.Column("set_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("set_at", sa.BigInteger(), nullable=False),
        sa.Column("replaced_at", sa.BigInteger(), nullable=True),
        sa.Column("replaced_by", sa.Integer(), sa.ForeignKey("person.id"), nullable=True),
    )
    op.create_index(
        "ix_one_standing_time",
        "own_time",
        ["template"],
        unique=True,
        sqlite_where=sa.text("replaced_at IS NULL"),
        postgresql_where=sa.text("replaced_at IS NULL"),
    )
    op.add_column("task", sa.Column("own_per_mille", sa.Integer(), nullable=False, server_default="1000"))
