"""The storage of revisions in SQLite or PostgreSQL: rows never leave this folder, documents do."""
