"""The engineering functions against handbooks, standards and reference libraries."""
