"""Alembic's entry: runs the migrations on the connection that the program hands over."""

from alembic import context

from evaluator.store.schema import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, render_as_batch=True)
context.run_migrations()
