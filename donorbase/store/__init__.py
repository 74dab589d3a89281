"""The only home of SQLModel, SQLAlchemy and alembic: engine, tables, queries, seed."""
