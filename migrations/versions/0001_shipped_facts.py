"""Shipped facts: families, gear sets, what fits, converts and wears, donor lines, works.

Revision 0001, after nothing.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "basis",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("confidence", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis", sqlmodel.AutoString(), nullable=False),
        sa.CheckConstraint("\"confidence\" IN ('high', 'medium', 'low')", name=op.f("ck_basis_confidence_word")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_basis")),
        sa.UniqueConstraint("confidence", "basis", name=op.f("uq_basis_confidence_basis")),
    )
    op.create_table(
        "donor_line",
        sa.Column("line", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("basis", sqlmodel.AutoString(), nullable=False),
        sa.PrimaryKeyConstraint("line", name=op.f("pk_donor_line")),
    )
    op.create_table(
        "sight_note",
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis", sqlmodel.AutoString(), nullable=False),
        sa.CheckConstraint("\"kind\" IN ('sight_order', 'trap')", name=op.f("ck_sight_note_kind_word")),
        sa.PrimaryKeyConstraint("place", name=op.f("pk_sight_note")),
    )
    op.create_table(
        "donor_sight",
        sa.Column("line", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("heading", sqlmodel.AutoString(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.ForeignKeyConstraint(
            ["line"], ["donor_line.line"], name=op.f("fk_donor_sight_line_donor_line"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("line", "place", name=op.f("pk_donor_sight")),
    )
    op.create_table(
        "family",
        sa.Column("family", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("position", sqlmodel.AutoString(), nullable=False),
        sa.Column("donor_ok", sa.Boolean(), nullable=False),
        sa.Column("housing", sqlmodel.AutoString(), nullable=False),
        sa.Column("pinion_support", sqlmodel.AutoString(), nullable=False),
        sa.Column("torque_class", sqlmodel.AutoString(), nullable=False),
        sa.Column("tire_guide_in", sa.Float(), nullable=True),
        sa.Column("refuse_reason", sqlmodel.AutoString(), nullable=False),
        sa.Column("ring_gear_in", sa.Float(), nullable=True),
        sa.Column("cover_bolts", sa.Integer(), nullable=True),
        sa.Column("cover_shape", sqlmodel.AutoString(), nullable=True),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("\"position\" IN ('front', 'rear')", name=op.f("ck_family_position_word")),
        sa.ForeignKeyConstraint(["basis_id"], ["basis.id"], name=op.f("fk_family_basis_id_basis"), ondelete="RESTRICT"),
        sa.PrimaryKeyConstraint("family", name=op.f("pk_family")),
    )
    with op.batch_alter_table("family", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_family_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "gear_set",
        sa.Column("gear_set", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("position", sqlmodel.AutoString(), nullable=False),
        sa.Column("ring_gear_in", sa.Float(), nullable=True),
        sa.Column("cut", sqlmodel.AutoString(), nullable=False),
        sa.Column("deepest", sa.Float(), nullable=True),
        sa.Column("carrier_split", sqlmodel.AutoString(), nullable=False),
        sa.Column("needs", sqlmodel.AutoString(), nullable=False),
        sa.Column("note", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["basis_id"], ["basis.id"], name=op.f("fk_gear_set_basis_id_basis"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("gear_set", name=op.f("pk_gear_set")),
    )
    with op.batch_alter_table("gear_set", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_gear_set_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "interchange",
        sa.Column("id", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("part", sqlmodel.AutoString(), nullable=False),
        sa.Column("source", sqlmodel.AutoString(), nullable=False),
        sa.Column("target", sqlmodel.AutoString(), nullable=False),
        sa.Column("fits", sqlmodel.AutoString(), nullable=False),
        sa.Column("condition", sqlmodel.AutoString(), nullable=False),
        sa.Column("parts_needed", sqlmodel.AutoString(), nullable=False),
        sa.Column("cost_low_usd", sa.Integer(), nullable=True),
        sa.Column("cost_high_usd", sa.Integer(), nullable=True),
        sa.Column("labor_low_h", sa.Float(), nullable=True),
        sa.Column("labor_high_h", sa.Float(), nullable=True),
        sa.Column("note", sqlmodel.AutoString(), nullable=False),
        sa.Column("work", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "\"fits\" IN ('yes', 'no', 'with parts', 'conversion', 'see note')", name=op.f("ck_interchange_fits_word")
        ),
        sa.CheckConstraint("\"kind\" IN ('fit', 'conversion', 'availability')", name=op.f("ck_interchange_kind_word")),
        sa.CheckConstraint("cost_low_usd <= cost_high_usd", name=op.f("ck_interchange_cost_low_usd_order")),
        sa.CheckConstraint("labor_low_h <= labor_high_h", name=op.f("ck_interchange_labor_low_h_order")),
        sa.ForeignKeyConstraint(
            ["basis_id"], ["basis.id"], name=op.f("fk_interchange_basis_id_basis"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_interchange")),
    )
    with op.batch_alter_table("interchange", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_interchange_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "wear_point",
        sa.Column("id", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("part", sqlmodel.AutoString(), nullable=False),
        sa.Column("applies_to", sqlmodel.AutoString(), nullable=False),
        sa.Column("what_to_measure", sqlmodel.AutoString(), nullable=False),
        sa.Column("new_value", sqlmodel.AutoString(), nullable=False),
        sa.Column("limit", sqlmodel.AutoString(), nullable=False),
        sa.Column("unit", sqlmodel.AutoString(), nullable=False),
        sa.Column("tool", sqlmodel.AutoString(), nullable=False),
        sa.Column("how", sqlmodel.AutoString(), nullable=False),
        sa.Column("meaning_if_out", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["basis_id"], ["basis.id"], name=op.f("fk_wear_point_basis_id_basis"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wear_point")),
    )
    with op.batch_alter_table("wear_point", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_wear_point_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "work",
        sa.Column("word", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("title", sqlmodel.AutoString(), nullable=False),
        sa.Column("cost_low_usd", sa.Integer(), nullable=True),
        sa.Column("cost_high_usd", sa.Integer(), nullable=True),
        sa.Column("labor_low_h", sa.Float(), nullable=True),
        sa.Column("labor_high_h", sa.Float(), nullable=True),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("cost_low_usd <= cost_high_usd", name=op.f("ck_work_cost_low_usd_order")),
        sa.CheckConstraint("labor_low_h <= labor_high_h", name=op.f("ck_work_labor_low_h_order")),
        sa.ForeignKeyConstraint(["basis_id"], ["basis.id"], name=op.f("fk_work_basis_id_basis"), ondelete="RESTRICT"),
        sa.PrimaryKeyConstraint("word", name=op.f("pk_work")),
    )
    with op.batch_alter_table("work", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_work_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "family_note",
        sa.Column("family", sqlmodel.AutoString(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.CheckConstraint(
            "\"kind\" IN ('recognise', 'strength', 'weakness', 'fault', 'carrier-split')",
            name=op.f("ck_family_note_kind_word"),
        ),
        sa.ForeignKeyConstraint(
            ["family"], ["family.family"], name=op.f("fk_family_note_family_family"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("family", "kind", "place", name=op.f("pk_family_note")),
    )
    op.create_table(
        "gear_ratio",
        sa.Column("gear_set", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("ratio", sa.Float(), nullable=False),
        sa.CheckConstraint("ratio > 0", name=op.f("ck_gear_ratio_ratio_positive")),
        sa.ForeignKeyConstraint(
            ["gear_set"], ["gear_set.gear_set"], name=op.f("fk_gear_ratio_gear_set_gear_set"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("gear_set", "place", name=op.f("pk_gear_ratio")),
    )


def downgrade() -> None:
    op.drop_table("gear_ratio")
    op.drop_table("family_note")
    with op.batch_alter_table("work", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_work_basis_id"))

    op.drop_table("work")
    with op.batch_alter_table("wear_point", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_wear_point_basis_id"))

    op.drop_table("wear_point")
    with op.batch_alter_table("interchange", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_interchange_basis_id"))

    op.drop_table("interchange")
    with op.batch_alter_table("gear_set", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_gear_set_basis_id"))

    op.drop_table("gear_set")
    with op.batch_alter_table("family", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_family_basis_id"))

    op.drop_table("family")
    op.drop_table("donor_sight")
    op.drop_table("sight_note")
    op.drop_table("donor_line")
    op.drop_table("basis")
