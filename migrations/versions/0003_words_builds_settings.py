"""What is the user's own, and what the database knows of itself.

Revision 0003, after 0002.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "build",
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("toml", sqlmodel.AutoString(), nullable=False),
        sa.Column("made_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("changed_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_build")),
    )
    op.create_table(
        "setting",
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("value", sqlmodel.AutoString(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_setting")),
    )
    op.create_table(
        "word",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("origin", sqlmodel.AutoString(), nullable=False),
        sa.Column("phrase", sqlmodel.AutoString(), nullable=False),
        sa.Column("meaning", sqlmodel.AutoString(), nullable=False),
        sa.Column("note", sqlmodel.AutoString(), nullable=False),
        sa.Column("language", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis", sqlmodel.AutoString(), nullable=False),
        sa.Column("added_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.CheckConstraint("\"origin\" IN ('shipped', 'user')", name=op.f("ck_word_origin_word")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_word")),
        sa.UniqueConstraint("origin", "language", "phrase", name=op.f("uq_word_origin_language_phrase")),
    )


def downgrade() -> None:
    op.drop_table("word")
    op.drop_table("setting")
    op.drop_table("build")
