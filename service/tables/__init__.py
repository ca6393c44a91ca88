"""The catalog as tables: a table a section, child tables for its lists, out to XLSX and CSV and back into objects.

All of it is derived from the JSON Schema of the catalog document: names, kinds, choices, units.
"""
