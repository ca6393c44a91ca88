"""The typed client by its name within the service; in a wheel this stands as `service.client`."""

from portwright_client import *  # noqa: F403  all that it offers
from portwright_client import __all__ as __all__
