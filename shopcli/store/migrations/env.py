"""Alembic's entry: the connection is handed in, never made here."""

from alembic import context

connection = context.config.attributes["connection"]
context.configure(connection=connection, transaction_per_migration=False, render_as_batch=True)
context.run_migrations()
