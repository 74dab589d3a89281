"""Variants: a column for each attribute, values where there are several, bases, notes.

Revision 0002, after 0001.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "variant",
        sa.Column("variant", sqlmodel.AutoString(), nullable=False),
        sa.Column("family", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("title", sqlmodel.AutoString(), nullable=False),
        sa.Column("brake_note", sqlmodel.AutoString(), nullable=False),
        sa.Column("hub_note", sqlmodel.AutoString(), nullable=False),
        sa.Column("position", sqlmodel.AutoString(), nullable=True),
        sa.Column("years_first", sa.Integer(), nullable=True),
        sa.Column("years_last", sa.Integer(), nullable=True),
        sa.Column("donor_line", sqlmodel.AutoString(), nullable=True),
        sa.Column("rear_wheels", sqlmodel.AutoString(), nullable=True),
        sa.Column("drop", sqlmodel.AutoString(), nullable=True),
        sa.Column("pinion", sqlmodel.AutoString(), nullable=True),
        sa.Column("suspension", sqlmodel.AutoString(), nullable=True),
        sa.Column("locating", sqlmodel.AutoString(), nullable=True),
        sa.Column("ring_gear_in", sa.Float(), nullable=True),
        sa.Column("gear_set", sqlmodel.AutoString(), nullable=True),
        sa.Column("pinion_splines", sa.Integer(), nullable=True),
        sa.Column("inner_splines", sa.Integer(), nullable=True),
        sa.Column("outer_splines", sa.Integer(), nullable=True),
        sa.Column("splines", sa.Integer(), nullable=True),
        sa.Column("shaft_dia_in", sa.Float(), nullable=True),
        sa.Column("joint", sqlmodel.AutoString(), nullable=True),
        sa.Column("disconnect", sqlmodel.AutoString(), nullable=True),
        sa.Column("knuckle", sqlmodel.AutoString(), nullable=True),
        sa.Column("hub_bearing", sqlmodel.AutoString(), nullable=True),
        sa.Column("lugs", sa.Integer(), nullable=True),
        sa.Column("bolt_circle_mm", sa.Float(), nullable=True),
        sa.Column("stud", sqlmodel.AutoString(), nullable=True),
        sa.Column("hub_bore_mm", sa.Float(), nullable=True),
        sa.Column("float", sqlmodel.AutoString(), nullable=True),
        sa.Column("caliper_pistons", sa.Integer(), nullable=True),
        sa.Column("caliper_piston_mm", sa.Float(), nullable=True),
        sa.Column("rotor_dia_mm", sa.Float(), nullable=True),
        sa.Column("rotor_new_mm", sa.Float(), nullable=True),
        sa.Column("rotor_min_mm", sa.Float(), nullable=True),
        sa.Column("drum_dia_in", sa.Float(), nullable=True),
        sa.Column("drum_max_in", sa.Float(), nullable=True),
        sa.Column("parking_brake", sqlmodel.AutoString(), nullable=True),
        sa.Column("min_wheel_in", sa.Float(), nullable=True),
        sa.Column("width_in", sa.Float(), nullable=True),
        sa.Column("width_range_low_in", sa.Float(), nullable=True),
        sa.Column("width_range_high_in", sa.Float(), nullable=True),
        sa.Column("tube_in", sa.Float(), nullable=True),
        sa.Column("tube_wall_in", sa.Float(), nullable=True),
        sa.Column("perch_pad_in", sa.Float(), nullable=True),
        sa.Column("gawr_low_lb", sa.Float(), nullable=True),
        sa.Column("gawr_high_lb", sa.Float(), nullable=True),
        sa.Column("weight_low_lb", sa.Float(), nullable=True),
        sa.Column("weight_high_lb", sa.Float(), nullable=True),
        sa.Column("price_range_low_usd", sa.Integer(), nullable=True),
        sa.Column("price_range_high_usd", sa.Integer(), nullable=True),
        sa.Column("cover_bolts", sa.Integer(), nullable=True),
        sa.Column("cover_shape", sqlmodel.AutoString(), nullable=True),
        sa.CheckConstraint(
            "\"donor_line\" IN ('line-A', 'line-B', 'line-C', 'line-D', 'line-E', 'military')",
            name=op.f("ck_variant_donor_line_word"),
        ),
        sa.CheckConstraint("\"drop\" IN ('driver', 'passenger', 'center')", name=op.f("ck_variant_drop_word")),
        sa.CheckConstraint("\"float\" IN ('full', 'semi')", name=op.f("ck_variant_float_word")),
        sa.CheckConstraint(
            "\"hub_bearing\" IN ('serviceable', 'unit-bearing')", name=op.f("ck_variant_hub_bearing_word")
        ),
        sa.CheckConstraint("\"knuckle\" IN ('kingpin', 'ball-joint', 'closed')", name=op.f("ck_variant_knuckle_word")),
        sa.CheckConstraint("\"pinion\" IN ('high', 'low')", name=op.f("ck_variant_pinion_word")),
        sa.CheckConstraint("\"position\" IN ('front', 'rear')", name=op.f("ck_variant_position_word")),
        sa.CheckConstraint("\"rear_wheels\" IN ('single', 'dual')", name=op.f("ck_variant_rear_wheels_word")),
        sa.CheckConstraint("\"suspension\" IN ('leaf', 'coil', 'link')", name=op.f("ck_variant_suspension_word")),
        sa.CheckConstraint("gawr_low_lb <= gawr_high_lb", name=op.f("ck_variant_gawr_low_lb_order")),
        sa.CheckConstraint(
            "price_range_low_usd <= price_range_high_usd", name=op.f("ck_variant_price_range_low_usd_order")
        ),
        sa.CheckConstraint("weight_low_lb <= weight_high_lb", name=op.f("ck_variant_weight_low_lb_order")),
        sa.CheckConstraint(
            "width_range_low_in <= width_range_high_in", name=op.f("ck_variant_width_range_low_in_order")
        ),
        sa.CheckConstraint("years_first <= years_last", name=op.f("ck_variant_years_first_order")),
        sa.ForeignKeyConstraint(
            ["family"], ["family.family"], name=op.f("fk_variant_family_family"), ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["gear_set"], ["gear_set.gear_set"], name=op.f("fk_variant_gear_set_gear_set"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("variant", name=op.f("pk_variant")),
    )
    with op.batch_alter_table("variant", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_variant_bolt_circle_mm"), ["bolt_circle_mm"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_donor_line"), ["donor_line"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_family"), ["family"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_gear_set"), ["gear_set"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_outer_splines"), ["outer_splines"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_position"), ["position"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_ring_gear_in"), ["ring_gear_in"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_splines"), ["splines"], unique=False)
        batch_op.create_index(batch_op.f("ix_variant_years_first"), ["years_first"], unique=False)

    op.create_table(
        "variant_basis",
        sa.Column("variant", sqlmodel.AutoString(), nullable=False),
        sa.Column("attribute", sqlmodel.AutoString(), nullable=False),
        sa.Column("basis_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["basis_id"], ["basis.id"], name=op.f("fk_variant_basis_basis_id_basis"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["variant"], ["variant.variant"], name=op.f("fk_variant_basis_variant_variant"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("variant", "attribute", name=op.f("pk_variant_basis")),
    )
    with op.batch_alter_table("variant_basis", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_variant_basis_basis_id"), ["basis_id"], unique=False)

    op.create_table(
        "variant_note",
        sa.Column("variant", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.ForeignKeyConstraint(
            ["variant"], ["variant.variant"], name=op.f("fk_variant_note_variant_variant"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("variant", "place", name=op.f("pk_variant_note")),
    )
    op.create_table(
        "variant_value",
        sa.Column("variant", sqlmodel.AutoString(), nullable=False),
        sa.Column("attribute", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=True),
        sa.Column("number", sa.Float(), nullable=True),
        sa.CheckConstraint(
            "attribute <> 'brakes' OR text IN ('disc', 'drum')", name=op.f("ck_variant_value_brakes_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'differential' OR text IN ('open', 'limited-slip', 'selectable-locker', 'automatic-locker', 'spool', 'welded', 'locker')",  # noqa: E501
            name=op.f("ck_variant_value_differential_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'donor_line' OR text IN ('line-A', 'line-B', 'line-C', 'line-D', 'line-E', 'military')",
            name=op.f("ck_variant_value_donor_line_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'drop' OR text IN ('driver', 'passenger', 'center')", name=op.f("ck_variant_value_drop_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'float' OR text IN ('full', 'semi')", name=op.f("ck_variant_value_float_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'hub_bearing' OR text IN ('serviceable', 'unit-bearing')",
            name=op.f("ck_variant_value_hub_bearing_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'hubs' OR text IN ('manual-locking', 'automatic-locking', 'unit-bearing', 'drive-flange', 'locking')",  # noqa: E501
            name=op.f("ck_variant_value_hubs_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'knuckle' OR text IN ('kingpin', 'ball-joint', 'closed')",
            name=op.f("ck_variant_value_knuckle_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'load_class' OR text IN ('half-ton', 'three-quarter-ton', 'one-ton', 'over-one-ton')",
            name=op.f("ck_variant_value_load_class_word"),
        ),
        sa.CheckConstraint(
            "attribute <> 'pinion' OR text IN ('high', 'low')", name=op.f("ck_variant_value_pinion_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'position' OR text IN ('front', 'rear')", name=op.f("ck_variant_value_position_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'rear_wheels' OR text IN ('single', 'dual')", name=op.f("ck_variant_value_rear_wheels_word")
        ),
        sa.CheckConstraint(
            "attribute <> 'suspension' OR text IN ('leaf', 'coil', 'link')",
            name=op.f("ck_variant_value_suspension_word"),
        ),
        sa.CheckConstraint("(text IS NULL) <> (number IS NULL)", name=op.f("ck_variant_value_one_value")),
        sa.ForeignKeyConstraint(
            ["variant"], ["variant.variant"], name=op.f("fk_variant_value_variant_variant"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("variant", "attribute", "place", name=op.f("pk_variant_value")),
    )


def downgrade() -> None:
    op.drop_table("variant_value")
    op.drop_table("variant_note")
    with op.batch_alter_table("variant_basis", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_variant_basis_basis_id"))

    op.drop_table("variant_basis")
    with op.batch_alter_table("variant", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_variant_years_first"))
        batch_op.drop_index(batch_op.f("ix_variant_splines"))
        batch_op.drop_index(batch_op.f("ix_variant_ring_gear_in"))
        batch_op.drop_index(batch_op.f("ix_variant_position"))
        batch_op.drop_index(batch_op.f("ix_variant_outer_splines"))
        batch_op.drop_index(batch_op.f("ix_variant_gear_set"))
        batch_op.drop_index(batch_op.f("ix_variant_family"))
        batch_op.drop_index(batch_op.f("ix_variant_donor_line"))
        batch_op.drop_index(batch_op.f("ix_variant_bolt_circle_mm"))

    op.drop_table("variant")
