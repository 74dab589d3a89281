"""The texts of listings indexed on a server, as they are in a file; where no extension may be made, they are not.

Revision 0018, after 0017. SQLite is not touched.
"""

from alembic import op

from donorbase.store.text_letters import INDEX, index_letters

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None


def upgrade() -> None:
    index_letters(op.get_bind())


def downgrade() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(f"DROP INDEX IF EXISTS {INDEX}")
