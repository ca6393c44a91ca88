"""Roles, rights and keys: who may do what."""
