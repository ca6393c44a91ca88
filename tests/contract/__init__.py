"""Tests of the partner's test."""
