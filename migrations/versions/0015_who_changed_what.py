"""Who changed words, builds, rates and corrections, and when.

Revision 0015, after 0009.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0015"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "change",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("noted_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("who", sqlmodel.AutoString(), nullable=False),
        sa.Column("login", sqlmodel.AutoString(), nullable=False),
        sa.Column("of_table", sqlmodel.AutoString(), nullable=False),
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("before", sqlmodel.AutoString(), nullable=False),
        sa.Column("after", sqlmodel.AutoString(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change")),
    )
    op.create_index(op.f("ix_change_name"), "change", ["name"])


def downgrade() -> None:
    op.drop_table("change")
