"""Tests of what people write."""
