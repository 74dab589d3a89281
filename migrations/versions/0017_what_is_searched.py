"""By what kept listings are found: sets of sightings by value, words, and on a server the letters of the texts.

Revision 0017, after 0015. The tables are filled when they are first used.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0017"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "search_bits",
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("value", sqlmodel.AutoString(), nullable=False),
        sa.Column("item", sa.Integer(), nullable=False),
        sa.Column("piece", sa.Integer(), nullable=False),
        sa.Column("bits", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("name", "value", "item", "piece", name=op.f("pk_search_bits")),
    )
    op.create_index(op.f("ix_search_bits_piece"), "search_bits", ["piece"])
    op.create_table(
        "search_due",
        sa.Column("sighting_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("sighting_id", name=op.f("pk_search_due")),
    )
    op.create_table(
        "search_word",
        sa.Column("word", sqlmodel.AutoString(), nullable=False),
        sa.PrimaryKeyConstraint("word", name=op.f("pk_search_word")),
    )


def downgrade() -> None:
    op.drop_table("search_word")
    op.drop_table("search_due")
    op.drop_table("search_bits")
