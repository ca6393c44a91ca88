"""Tests of the use cases, on a real SQLite file."""
