"""Tests of the catalog as tables."""
