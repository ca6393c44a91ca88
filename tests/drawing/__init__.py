"""Tests of the drawings."""
