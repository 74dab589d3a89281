"""The only home of SQLModel, SQLAlchemy and alembic: tables, rows, migrations, queries, backup.

Stands beside the pure rooms, under services, which alone commit. ``rows``, ``picture`` and ``revision`` need
none of those libraries, so that a command on an up-to-date database starts without them.
"""
