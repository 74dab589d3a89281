"""Listings as they were seen and read, candidates with their events, yards; how surely a correction is known.

Revision 0006, after 0005.
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "gathering",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("form", sqlmodel.AutoString(), nullable=False),
        sa.Column("begun_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("ended_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.Column("added", sa.Integer(), nullable=False),
        sa.Column("known", sa.Integer(), nullable=False),
        sa.Column("faulty", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gathering")),
    )
    op.create_table(
        "listing",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("first_seen_on", sa.Date(), nullable=False),
        sa.Column("last_seen_on", sa.Date(), nullable=False),
        sa.Column("price_usd", sa.Float(), nullable=True),
        sa.Column("distance_mi", sa.Float(), nullable=True),
        sa.Column("zip", sqlmodel.AutoString(), nullable=True),
        sa.Column("merged_into", sa.Integer(), nullable=True),
        sa.Column("made_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.CheckConstraint("first_seen_on <= last_seen_on", name=op.f("ck_listing_first_seen_on_order")),
        sa.ForeignKeyConstraint(
            ["merged_into"], ["listing.id"], name=op.f("fk_listing_merged_into_listing"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_listing")),
    )
    op.create_index(op.f("ix_listing_last_seen_on"), "listing", ["last_seen_on"])
    op.create_index(op.f("ix_listing_merged_into"), "listing", ["merged_into"])
    op.create_index(op.f("ix_listing_price_usd"), "listing", ["price_usd"])

    op.create_table(
        "yard",
        sa.Column("name", sqlmodel.AutoString(), nullable=False),
        sa.Column("zip", sqlmodel.AutoString(), nullable=True),
        sa.Column("distance_mi", sa.Float(), nullable=True),
        sa.Column("listed_on", sa.Date(), nullable=False),
        sa.Column("made_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.CheckConstraint("distance_mi >= 0", name=op.f("ck_yard_distance_not_negative")),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_yard")),
    )
    op.create_table(
        "candidate",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("listing_id", sa.Integer(), nullable=False),
        sa.Column("build", sqlmodel.AutoString(), nullable=False),
        sa.Column("state", sqlmodel.AutoString(), nullable=False),
        sa.Column("made_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("changed_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("verdict", sqlmodel.AutoString(), nullable=True),
        sa.Column("chance", sa.Float(), nullable=True),
        sa.Column("landed_low_usd", sa.Float(), nullable=True),
        sa.Column("landed_likely_usd", sa.Float(), nullable=True),
        sa.Column("landed_high_usd", sa.Float(), nullable=True),
        sa.Column("taken_for", sqlmodel.AutoString(), nullable=True),
        sa.Column("why", sqlmodel.AutoString(), nullable=True),
        sa.Column("judged_with", sqlmodel.AutoString(), nullable=True),
        sa.Column("judged_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.CheckConstraint(
            "\"state\" IN ('watching', 'asked', 'visiting', 'bought', 'passed', 'gone')",
            name=op.f("ck_candidate_state_word"),
        ),
        sa.CheckConstraint(
            "\"verdict\" IN ('fits', 'fits with work', 'unclear', 'does not fit')",
            name=op.f("ck_candidate_verdict_word"),
        ),
        sa.CheckConstraint("landed_low_usd <= landed_high_usd", name=op.f("ck_candidate_landed_low_usd_order")),
        sa.ForeignKeyConstraint(
            ["listing_id"], ["listing.id"], name=op.f("fk_candidate_listing_id_listing"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_candidate")),
        sa.UniqueConstraint("listing_id", "build", name=op.f("uq_candidate_listing_id_build")),
    )
    op.create_index(op.f("ix_candidate_build"), "candidate", ["build"])

    op.create_table(
        "sighting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("listing_id", sa.Integer(), nullable=False),
        sa.Column("digest", sqlmodel.AutoString(), nullable=False),
        sa.Column("url", sqlmodel.AutoString(), nullable=False),
        sa.Column("source", sqlmodel.AutoString(), nullable=False),
        sa.Column("title", sqlmodel.AutoString(), nullable=False),
        sa.Column("zip", sqlmodel.AutoString(), nullable=True),
        sa.Column("distance_mi", sa.Float(), nullable=True),
        sa.Column("first_seen_on", sa.Date(), nullable=False),
        sa.Column("last_seen_on", sa.Date(), nullable=False),
        sa.Column("gathering_id", sa.Integer(), nullable=True),
        sa.Column("added_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.CheckConstraint("first_seen_on <= last_seen_on", name=op.f("ck_sighting_first_seen_on_order")),
        sa.ForeignKeyConstraint(
            ["gathering_id"], ["gathering.id"], name=op.f("fk_sighting_gathering_id_gathering"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["listing_id"], ["listing.id"], name=op.f("fk_sighting_listing_id_listing"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sighting")),
        sa.UniqueConstraint("digest", "url", name=op.f("uq_sighting_digest_url")),
    )
    op.create_index(op.f("ix_sighting_listing_id"), "sighting", ["listing_id"])

    op.create_table(
        "yard_vehicle",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("yard", sqlmodel.AutoString(), nullable=False),
        sa.Column("digest", sqlmodel.AutoString(), nullable=False),
        sa.Column("row", sqlmodel.AutoString(), nullable=False),
        sa.Column("space", sqlmodel.AutoString(), nullable=False),
        sa.Column("stock", sqlmodel.AutoString(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=False),
        sa.Column("year", sa.Integer(), nullable=True),
        sa.Column("donor_line", sqlmodel.AutoString(), nullable=True),
        sa.Column("load_class", sqlmodel.AutoString(), nullable=True),
        sa.Column("rear_wheels", sqlmodel.AutoString(), nullable=True),
        sa.Column("set_on", sa.Date(), nullable=True),
        sa.Column("first_seen_on", sa.Date(), nullable=False),
        sa.Column("last_seen_on", sa.Date(), nullable=False),
        sa.Column("gone_on", sa.Date(), nullable=True),
        sa.CheckConstraint("first_seen_on <= last_seen_on", name=op.f("ck_yard_vehicle_first_seen_on_order")),
        sa.ForeignKeyConstraint(["yard"], ["yard.name"], name=op.f("fk_yard_vehicle_yard_yard"), ondelete="RESTRICT"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_yard_vehicle")),
        sa.UniqueConstraint("yard", "digest", name=op.f("uq_yard_vehicle_yard_digest")),
    )
    op.create_index(op.f("ix_yard_vehicle_yard"), "yard_vehicle", ["yard"])

    op.create_table(
        "asked_price",
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.Column("seen_on", sa.Date(), nullable=False),
        sa.Column("price_usd", sa.Float(), nullable=False),
        sa.CheckConstraint("price_usd >= 0", name=op.f("ck_asked_price_price_not_negative")),
        sa.ForeignKeyConstraint(
            ["sighting_id"], ["sighting.id"], name=op.f("fk_asked_price_sighting_id_sighting"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("sighting_id", "seen_on", name=op.f("pk_asked_price")),
    )
    op.create_table(
        "candidate_event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("candidate_id", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=False),
        sa.Column("happened_on", sa.Date(), nullable=False),
        sa.Column("noted_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("who", sqlmodel.AutoString(), nullable=False),
        sa.Column("state_from", sqlmodel.AutoString(), nullable=True),
        sa.Column("state_to", sqlmodel.AutoString(), nullable=True),
        sa.Column("note", sqlmodel.AutoString(), nullable=False),
        sa.Column("detail", sqlmodel.AutoString(), nullable=False),
        sa.Column("undoes", sa.Integer(), nullable=True),
        sa.CheckConstraint(
            "\"kind\" IN ('added', 'state', 'note', 'correction', 'price', 'repost', 'merge', 'verdict', 'undo')",
            name=op.f("ck_candidate_event_kind_word"),
        ),
        sa.CheckConstraint(
            "\"state_from\" IN ('watching', 'asked', 'visiting', 'bought', 'passed', 'gone')",
            name=op.f("ck_candidate_event_state_from_word"),
        ),
        sa.CheckConstraint(
            "\"state_to\" IN ('watching', 'asked', 'visiting', 'bought', 'passed', 'gone')",
            name=op.f("ck_candidate_event_state_to_word"),
        ),
        sa.ForeignKeyConstraint(
            ["candidate_id"],
            ["candidate.id"],
            name=op.f("fk_candidate_event_candidate_id_candidate"),
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["undoes"],
            ["candidate_event.id"],
            name=op.f("fk_candidate_event_undoes_candidate_event"),
            ondelete="RESTRICT",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_candidate_event")),
    )
    op.create_index(op.f("ix_candidate_event_candidate_id"), "candidate_event", ["candidate_id"])

    op.create_table(
        "reading",
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.Column("read_with", sqlmodel.AutoString(), nullable=False),
        sa.Column("items", sa.Integer(), nullable=False),
        sa.Column("offer", sqlmodel.AutoString(), nullable=True),
        sa.Column("price_usd", sa.Float(), nullable=True),
        sa.Column("mileage_mi", sa.Integer(), nullable=True),
        sa.Column("vin", sqlmodel.AutoString(), nullable=True),
        sa.Column("distance_mi", sa.Integer(), nullable=True),
        sa.Column("zip", sqlmodel.AutoString(), nullable=True),
        sa.Column("contact", sa.Boolean(), nullable=True),
        sa.CheckConstraint("\"offer\" IN ('for-sale', 'wanted', 'sold', 'trade')", name=op.f("ck_reading_offer_word")),
        sa.ForeignKeyConstraint(
            ["sighting_id"], ["sighting.id"], name=op.f("fk_reading_sighting_id_sighting"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("sighting_id", name=op.f("pk_reading")),
    )
    op.create_index(op.f("ix_reading_read_with"), "reading", ["read_with"])

    op.create_table(
        "listed_item",
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.Integer(), nullable=False),
        sa.Column("kind", sqlmodel.AutoString(), nullable=True),
        sa.Column("part", sqlmodel.AutoString(), nullable=True),
        sa.Column("fits_years_first", sa.Integer(), nullable=True),
        sa.Column("fits_years_last", sa.Integer(), nullable=True),
        sa.Column("rebuilt", sa.Boolean(), nullable=True),
        sa.Column("quantity", sa.Integer(), nullable=True),
        sa.Column("family", sqlmodel.AutoString(), nullable=True),
        sa.Column("variant", sqlmodel.AutoString(), nullable=True),
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
            name=op.f("ck_listed_item_donor_line_word"),
        ),
        sa.CheckConstraint("\"drop\" IN ('driver', 'passenger', 'center')", name=op.f("ck_listed_item_drop_word")),
        sa.CheckConstraint("\"float\" IN ('full', 'semi')", name=op.f("ck_listed_item_float_word")),
        sa.CheckConstraint(
            "\"hub_bearing\" IN ('serviceable', 'unit-bearing')", name=op.f("ck_listed_item_hub_bearing_word")
        ),
        sa.CheckConstraint(
            "\"kind\" IN ('axle', 'housing', 'part', 'vehicle', 'wheels-tires', 'other')",
            name=op.f("ck_listed_item_kind_word"),
        ),
        sa.CheckConstraint(
            "\"knuckle\" IN ('kingpin', 'ball-joint', 'closed')", name=op.f("ck_listed_item_knuckle_word")
        ),
        sa.CheckConstraint(
            "\"part\" IN ('knuckle', 'hub', 'locking-hub', 'caliper', 'caliper-bracket', 'rotor', "
            "'brake-drum', 'outer-shaft', 'inner-shaft', 'axle-shaft', 'ring-and-pinion', 'differential', "
            "'carrier', 'third-member', 'spindle', 'unit-bearing', 'u-joint', 'tie-rod', 'drag-link', "
            "'track-bar', 'diff-cover', 'yoke', 'master-cylinder', 'booster', 'driveshaft', 'axle-tube', "
            "'spring-perch')",
            name=op.f("ck_listed_item_part_word"),
        ),
        sa.CheckConstraint("\"pinion\" IN ('high', 'low')", name=op.f("ck_listed_item_pinion_word")),
        sa.CheckConstraint("\"position\" IN ('front', 'rear')", name=op.f("ck_listed_item_position_word")),
        sa.CheckConstraint("\"rear_wheels\" IN ('single', 'dual')", name=op.f("ck_listed_item_rear_wheels_word")),
        sa.CheckConstraint("\"suspension\" IN ('leaf', 'coil', 'link')", name=op.f("ck_listed_item_suspension_word")),
        sa.CheckConstraint("fits_years_first <= fits_years_last", name=op.f("ck_listed_item_fits_years_first_order")),
        sa.CheckConstraint("gawr_low_lb <= gawr_high_lb", name=op.f("ck_listed_item_gawr_low_lb_order")),
        sa.CheckConstraint("item > 0", name=op.f("ck_listed_item_item_counted_from_one")),
        sa.CheckConstraint(
            "price_range_low_usd <= price_range_high_usd", name=op.f("ck_listed_item_price_range_low_usd_order")
        ),
        sa.CheckConstraint("weight_low_lb <= weight_high_lb", name=op.f("ck_listed_item_weight_low_lb_order")),
        sa.CheckConstraint(
            "width_range_low_in <= width_range_high_in", name=op.f("ck_listed_item_width_range_low_in_order")
        ),
        sa.CheckConstraint("years_first <= years_last", name=op.f("ck_listed_item_years_first_order")),
        sa.ForeignKeyConstraint(
            ["sighting_id"],
            ["reading.sighting_id"],
            name=op.f("fk_listed_item_sighting_id_reading"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("sighting_id", "item", name=op.f("pk_listed_item")),
    )
    op.create_index(op.f("ix_listed_item_bolt_circle_mm"), "listed_item", ["bolt_circle_mm"])
    op.create_index(op.f("ix_listed_item_outer_splines"), "listed_item", ["outer_splines"])
    op.create_index(op.f("ix_listed_item_position"), "listed_item", ["position"])
    op.create_index(op.f("ix_listed_item_years_first"), "listed_item", ["years_first"])

    op.create_table(
        "listed_value",
        sa.Column("sighting_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.Integer(), nullable=False),
        sa.Column("attribute", sqlmodel.AutoString(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("known", sqlmodel.AutoString(), nullable=False),
        sa.Column("text", sqlmodel.AutoString(), nullable=True),
        sa.Column("number", sa.Float(), nullable=True),
        sa.Column("number_high", sa.Float(), nullable=True),
        sa.CheckConstraint(
            "\"known\" IN ('contradicted', 'inferred', 'hedged', 'stated', 'measured')",
            name=op.f("ck_listed_value_known_word"),
        ),
        sa.CheckConstraint("text IS NULL OR number IS NULL", name=op.f("ck_listed_value_one_value")),
        sa.ForeignKeyConstraint(
            ["sighting_id"],
            ["reading.sighting_id"],
            name=op.f("fk_listed_value_sighting_id_reading"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("sighting_id", "item", "attribute", "place", name=op.f("pk_listed_value")),
    )
    with op.batch_alter_table("correction") as batch:
        batch.add_column(sa.Column("known", sqlmodel.AutoString(), server_default="stated", nullable=False))
        batch.create_check_constraint(op.f("ck_correction_known_word"), "\"known\" IN ('stated', 'measured')")


def downgrade() -> None:
    with op.batch_alter_table("correction") as batch:
        batch.drop_constraint(op.f("ck_correction_known_word"), type_="check")
        batch.drop_column("known")
    op.drop_table("listed_value")
    op.drop_table("listed_item")
    op.drop_table("reading")
    op.drop_table("candidate_event")
    op.drop_table("asked_price")
    op.drop_table("yard_vehicle")
    op.drop_table("sighting")
    op.drop_table("candidate")
    op.drop_table("yard")
    op.drop_table("listing")
    op.drop_table("gathering")
