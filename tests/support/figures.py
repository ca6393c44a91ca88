"""What a float of an answer carries."""

SIX_DIGITS = 1e-5
"""Relative tolerance: figures of six significant digits, and a sum or product of a few of them, agree within it."""
