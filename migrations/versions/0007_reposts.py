"""By what the text of a listing is found again when its axle is advertised anew.

Revision 0007, after 0006.
"""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "repost_count",
        sa.Column("slot", sa.Integer(), nullable=False),
        sa.Column("adverts", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("slot", name=op.f("pk_repost_count")),
    )
    op.create_table(
        "repost_anchor",
        sa.Column("anchor", sa.BigInteger(), nullable=False),
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["sighting_id"], ["sighting.id"], name=op.f("fk_repost_anchor_sighting_id_sighting"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("anchor", "sighting_id", name=op.f("pk_repost_anchor")),
    )
    op.create_index(op.f("ix_repost_anchor_sighting_id"), "repost_anchor", ["sighting_id"])
    op.create_table(
        "repost_sketch",
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.Column("words", sa.LargeBinary(), nullable=False),
        sa.Column("telling", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["sighting_id"], ["sighting.id"], name=op.f("fk_repost_sketch_sighting_id_sighting"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("sighting_id", name=op.f("pk_repost_sketch")),
    )


def downgrade() -> None:
    op.drop_table("repost_sketch")
    op.drop_table("repost_anchor")
    op.drop_table("repost_count")
