"""What the user has found out: how common axles are around him, claims against measurements.

Revision 0004, after 0003.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "own_prior",
        sa.Column("pattern", sqlmodel.AutoString(), nullable=False),
        sa.Column("weight", sa.Float(), nullable=False),
        sa.CheckConstraint("weight > 0", name=op.f("ck_own_prior_weight_positive")),
        sa.PrimaryKeyConstraint("pattern", name=op.f("pk_own_prior")),
    )
    op.create_table(
        "claim",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("axle", sqlmodel.AutoString(), nullable=False),
        sa.Column("attribute", sqlmodel.AutoString(), nullable=False),
        sa.Column("claimed", sqlmodel.AutoString(), nullable=False),
        sa.Column("measured", sqlmodel.AutoString(), nullable=False),
        sa.Column("agrees", sa.Boolean(), nullable=False),
        sa.Column("noted_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claim")),
    )
    op.create_index(op.f("ix_claim_axle"), "claim", ["axle"])
    op.create_index(op.f("ix_claim_attribute"), "claim", ["attribute"])


def downgrade() -> None:
    op.drop_table("claim")
    op.drop_table("own_prior")
