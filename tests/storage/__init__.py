"""Tests of the storage, over SQLite files and over a real PostgreSQL."""
