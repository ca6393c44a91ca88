"""Portwright: what a car needs to run its fuel, answered from a catalog of ports that mate."""

from importlib.metadata import version

__version__ = version("portwright")
