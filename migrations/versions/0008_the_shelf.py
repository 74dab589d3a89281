"""The shelf: pulled parts, their events, what holds each, what each measured.

Revision 0009, after 0007.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("tag", sqlmodel.AutoString(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("side", sqlmodel.AutoString(), nullable=True),
        sa.Column("axle", sqlmodel.AutoString(), nullable=True),
        sa.Column("candidate_id", sa.Integer(), nullable=True),
        sa.Column("out_of", sa.Integer(), nullable=True),
        sa.Column("year", sa.Integer(), nullable=True),
        sa.Column("miles", sa.Integer(), nullable=True),
        sa.Column("place", sqlmodel.AutoString(), nullable=False),
        sa.Column("cost_cents", sa.Integer(), nullable=True),
        sa.Column("condition", sqlmodel.AutoString(), nullable=False),
        sa.Column("made_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.CheckConstraint("\"side\" IN ('left', 'right')", name=op.f("ck_part_side_word")),
        sa.CheckConstraint("cost_cents >= 0", name=op.f("ck_part_cost_not_negative")),
        sa.CheckConstraint("miles >= 0", name=op.f("ck_part_miles_not_negative")),
        sa.ForeignKeyConstraint(
            ["candidate_id"], ["candidate.id"], name=op.f("fk_part_candidate_id_candidate"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(["out_of"], ["part.id"], name=op.f("fk_part_out_of_part"), ondelete="RESTRICT"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sa.UniqueConstraint("tag", name=op.f("uq_part_tag")),
    )
    op.create_index(op.f("ix_part_kind"), "part", ["kind"])
    op.create_index(op.f("ix_part_out_of"), "part", ["out_of"])
    op.create_index(op.f("ix_part_axle"), "part", ["axle"])

    op.create_table(
        "part_event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("happened_on", sa.Date(), nullable=False),
        sa.Column("noted_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("who", sqlmodel.AutoString(), nullable=False),
        sa.Column("note", sqlmodel.AutoString(), nullable=False),
        sa.Column("detail", sqlmodel.AutoString(), nullable=False),
        sa.Column("undoes", sa.Integer(), nullable=True),
        sa.CheckConstraint(
            "\"kind\" IN ('added', 'moved', 'note', 'photo', 'changed', 'measured', 'held', 'released', 'undo')",
            name=op.f("ck_part_event_kind_word"),
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_part_event_part_id_part"), ondelete="RESTRICT"),
        sa.ForeignKeyConstraint(
            ["undoes"], ["part_event.id"], name=op.f("fk_part_event_undoes_part_event"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_event")),
    )
    op.create_index(op.f("ix_part_event_part_id"), "part_event", ["part_id"])

    op.create_table(
        "part_hold",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("build", sqlmodel.AutoString(), nullable=True),
        sa.Column("person", sqlmodel.AutoString(), nullable=True),
        sa.Column("into_part", sa.Integer(), nullable=True),
        sa.Column("price_cents", sa.Integer(), nullable=True),
        sa.Column("begun_by", sa.Integer(), nullable=False),
        sa.Column("ended_by", sa.Integer(), nullable=True),
        sa.CheckConstraint(
            "\"kind\" IN ('reserved', 'lent', 'used', 'sold', 'scrapped', 'split', 'assembled', 'removed')",
            name=op.f("ck_part_hold_kind_word"),
        ),
        sa.CheckConstraint("build IS NULL OR person IS NULL", name=op.f("ck_part_hold_one_holder")),
        sa.CheckConstraint("price_cents >= 0", name=op.f("ck_part_hold_price_not_negative")),
        sa.ForeignKeyConstraint(
            ["begun_by"], ["part_event.id"], name=op.f("fk_part_hold_begun_by_part_event"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["ended_by"], ["part_event.id"], name=op.f("fk_part_hold_ended_by_part_event"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["into_part"], ["part.id"], name=op.f("fk_part_hold_into_part_part"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_part_hold_part_id_part"), ondelete="RESTRICT"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_hold")),
    )
    op.create_index(op.f("ix_part_hold_begun_by"), "part_hold", ["begun_by"])
    op.create_index(op.f("ix_part_hold_ended_by"), "part_hold", ["ended_by"])
    op.create_index(op.f("ix_part_hold_into_part"), "part_hold", ["into_part"])
    op.create_index(op.f("ix_part_hold_part_id"), "part_hold", ["part_id"])
    op.create_index(
        "ux_part_hold_open",
        "part_hold",
        ["part_id"],
        unique=True,
        sqlite_where=sa.text("ended_by IS NULL"),
        postgresql_where=sa.text("ended_by IS NULL"),
    )

    op.create_table(
        "part_reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("event_id", sa.Integer(), nullable=False),
        sa.Column("measure", sqlmodel.AutoString(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=False),
        sa.Column("unit", sqlmodel.AutoString(), nullable=False),
        sa.Column("instrument", sqlmodel.AutoString(), nullable=False),
        sa.Column("cast_limit", sa.Float(), nullable=True),
        sa.Column("judged", sqlmodel.AutoString(), nullable=False),
        sa.Column("because", sqlmodel.AutoString(), nullable=False),
        sa.CheckConstraint(
            "\"judged\" IN ('within', 'at limit', 'out', 'not known')", name=op.f("ck_part_reading_judged_word")
        ),
        sa.ForeignKeyConstraint(
            ["event_id"], ["part_event.id"], name=op.f("fk_part_reading_event_id_part_event"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["part_id"], ["part.id"], name=op.f("fk_part_reading_part_id_part"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_reading")),
    )
    op.create_index(op.f("ix_part_reading_event_id"), "part_reading", ["event_id"])
    op.create_index(op.f("ix_part_reading_part_id"), "part_reading", ["part_id"])


def downgrade() -> None:
    op.drop_table("part_reading")
    op.drop_table("part_hold")
    op.drop_table("part_event")
    op.drop_table("part")
