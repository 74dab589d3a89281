"""The words of the texts of listings, indexed for search and kept in step by the database itself.

Revision 0009, after 0008. SQLite alone has this index; on a server the texts are searched without one.
"""

from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

_ADD = "INSERT INTO sighting_text(rowid, title, text) VALUES (new.id, new.title, new.text);"
_DROP = "INSERT INTO sighting_text(sighting_text, rowid, title, text) VALUES ('delete', old.id, old.title, old.text);"
_TRIGGERS = {
    "sighting_text_added": f"AFTER INSERT ON sighting BEGIN {_ADD} END",
    "sighting_text_dropped": f"AFTER DELETE ON sighting BEGIN {_DROP} END",
    "sighting_text_changed": f"AFTER UPDATE OF title, text ON sighting BEGIN {_DROP} {_ADD} END",
}


def upgrade() -> None:
    if op.get_bind().dialect.name != "sqlite":
        return
    op.execute(
        "CREATE VIRTUAL TABLE sighting_text USING fts5"
        "(title, text, content='sighting', content_rowid='id', tokenize='unicode61 remove_diacritics 2', prefix='3')"
    )
    op.execute("CREATE VIRTUAL TABLE sighting_text_words USING fts5vocab('sighting_text', 'row')")
    for name, body in _TRIGGERS.items():
        op.execute(f"CREATE TRIGGER {name} {body}")
    op.execute("INSERT INTO sighting_text(sighting_text) VALUES ('rebuild')")


def downgrade() -> None:
    if op.get_bind().dialect.name != "sqlite":
        return
    for name in _TRIGGERS:
        op.execute(f"DROP TRIGGER {name}")
    op.execute("DROP TABLE sighting_text_words")
    op.execute("DROP TABLE sighting_text")
