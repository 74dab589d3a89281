"""Run the migrations on the connection that the store hands over."""

from alembic import context
from sqlalchemy import Connection

from donorbase.store.schema import declared, metadata


def run(connection: Connection) -> None:
    context.configure(connection=connection, target_metadata=metadata(), render_as_batch=True, include_name=declared)
    with context.begin_transaction():
        context.run_migrations()


run(context.config.attributes["connection"])
