"""What Alembic runs: the steps over the connection that `service.storage.migrate` hands in, in its transaction."""

from alembic import context

from service.storage.tables import METADATA

context.configure(connection=context.config.attributes["connection"], target_metadata=METADATA, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
