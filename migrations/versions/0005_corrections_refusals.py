"""What the user put right in readings, and the phrases he would not have learned from it.

Revision 0005, after 0004.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "correction",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("digest", sqlmodel.AutoString(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.Column("item", sa.Integer(), nullable=False),
        sa.Column("attribute", sqlmodel.AutoString(), nullable=False),
        sa.Column("meaning", sqlmodel.AutoString(), nullable=False),
        sa.Column("noted_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.CheckConstraint("item > 0", name=op.f("ck_correction_item_counted_from_one")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_correction")),
        sa.UniqueConstraint("digest", "item", "attribute", name=op.f("uq_correction_digest_item_attribute")),
    )
    op.create_table(
        "refused_phrase",
        sa.Column("phrase", sqlmodel.AutoString(), nullable=False),
        sa.Column("refused_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("phrase", name=op.f("pk_refused_phrase")),
    )


def downgrade() -> None:
    op.drop_table("refused_phrase")
    op.drop_table("correction")
