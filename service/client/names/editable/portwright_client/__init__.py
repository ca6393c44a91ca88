"""The typed client by its own name, where Portwright is installed to be edited; a wheel has it here itself."""

from service.client import *  # noqa: F403  all that it offers
from service.client import __all__ as __all__
