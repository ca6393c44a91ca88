"""Tests of the words: whole answers, extras, cautions, units in texts."""
