"""Tests of the documents that cross the edge."""
